package risk

import (
	"math"

	"hilum/internal/num"
)

// Live is the distribution of log10 of the live dose that reaches the plants: the sum over products
// of dose times survival, where 0 is one full dose with nothing lost. Cells are even steps of the
// logarithm; a weight stands at the middle of its step.
type Live struct {
	weight []float64 // by step; empty without any product
	small  []small   // of all steps up to each
}

// Steps of the live dose. Twelve logs below a full dose nothing is added any more.
const (
	liveStep  = 0.0625
	liveLeast = -12.0
	liveSteps = 288 // up to log10 dose 6
)

func liveAt(i int) float64 { return liveLeast + float64(liveStep*float64(i)) }

// NewLive adds the products up. Each has its spread and its chance of an outright failure, kept as
// separate parts of its distribution and never drawn.
func NewLive(products []Product, pH float64, seedbed string) Live {
	var l Live
	for _, p := range products {
		one := single(p, pH, seedbed)
		if l.weight == nil {
			l = one
			continue
		}
		l = l.plus(one)
	}
	sum := small{}
	l.small = make([]small, len(l.weight))
	for i, w := range l.weight {
		cells := liveCells[i]
		sum.chance += w
		sum.cells += float64(w * cells)
		sum.square += float64(float64(w*cells) * cells)
		l.small[i] = sum
	}
	return l
}

// single gives one product's distribution, exact at the edges of each step.
func single(p Product, pH float64, seedbed string) Live {
	f := formOf(p.Form)
	centre := Survival(p, pH, seedbed) + num.Log10(math.Min(p.Dose, MostDose))
	w := make([]float64, liveSteps)
	part := func(centre, share float64) {
		below := 0.0
		for i := range w {
			above := 1.0
			if i < liveSteps-1 {
				above = num.Normal((liveAt(i) + liveStep/2 - centre) / f.spread)
			}
			w[i] += float64(share * (above - below))
			below = above
		}
	}
	part(centre, 1-f.failure)
	part(centre+failureDrop, f.failure)
	return Live{weight: w}
}

// lift is what the smaller of two doses adds to the larger: whole steps, and a part of the next.
type lift struct {
	whole int
	part  float64
}

// lifts holds it by the steps between the two.
var lifts = func() (table [liveSteps]lift) {
	for i := range table {
		steps := num.Log10(1+num.Exp10(-float64(liveStep*float64(i)))) / liveStep
		table[i] = lift{int(steps), steps - math.Floor(steps)}
	}
	return table
}()

// plus gives the distribution of the sum of two independent doses. A sum's weight is shared between
// the two steps around it.
func (l Live) plus(other Live) Live {
	w := make([]float64, liveSteps)
	for i, a := range l.weight {
		if a < dust {
			continue
		}
		for j, b := range other.weight {
			if b < dust {
				continue
			}
			top := max(i, j)
			up := lifts[top-min(i, j)]
			low, upper := top+up.whole, float64(float64(a*b)*up.part)
			if low > liveSteps-2 {
				low, upper = liveSteps-2, float64(a*b)
			}
			w[low] += float64(a*b) - upper
			w[low+1] += upper
		}
	}
	return Live{weight: w}
}

// dust is the weight below which a step changes no chance that is shown.
const dust = 1e-9

// livePlace gives the place of log10 of a live dose in the steps, from the lower edge of the first.
func livePlace(x float64) float64 { return (x-liveLeast)/liveStep + 0.5 }

// under gives the chance that the live dose lies under a place in the steps.
func (l Live) under(place float64) float64 {
	switch {
	case place <= 0:
		return 0
	case place >= liveSteps || l.weight == nil:
		return 1
	}
	k := int(place)
	return l.small[k].chance - float64(l.weight[k]*(1-(place-float64(k))))
}
