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
	return Live{w}
}

// lifts holds how many steps the smaller of two doses adds to the larger, by the steps between them.
var lifts = func() (steps [liveSteps]float64) {
	for i := range steps {
		steps[i] = num.Log10(1+num.Exp10(-float64(liveStep*float64(i)))) / liveStep
	}
	return steps
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
			at := float64(top) + lifts[top-min(i, j)]
			low := math.Min(math.Floor(at), liveSteps-2)
			part := math.Min(1, at-low)
			ab := float64(a * b)
			w[int(low)] += float64(ab * (1 - part))
			w[int(low)+1] += float64(ab * part)
		}
	}
	return Live{w}
}

// dust is the weight below which a step changes no chance that is shown.
const dust = 1e-9
