package risk

import (
	"math"

	"hilum/internal/num"
)

// Gain is the distribution of the share of yield that inoculants keep over none: the soil and the
// nitrogen are the same with and without them, so only what the inoculants add sets them apart
// (ours).
type Gain struct {
	over [gainSteps + 1]float64 // chance that p rises by more than gainAt(i)
	most [fine]float64          // share of yield that a rise from 0 to 1 brings, by steps of s
}

// Steps of the rise in p, finer near zero where costs are weighed, and of the soil's count.
const (
	gainSteps = 64
	soilHalf  = 7   // points to each side of the soil's middle
	soilStep  = 0.5 // standard deviations: 3.5 to each side
)

func gainAt(i int) float64 {
	x := float64(i) / gainSteps
	return float64(x * x)
}

// Steps of the nitrogen. Either the rise or the nitrogen may vary little, and a coarse sum over the
// other would then show its steps; these cost no more than a look into the table of rises.
const (
	fine     = 257
	fineStep = 1.0 / 32 // standard deviations: 4 to each side
)

func fineAt(i int) float64 { return float64(fineStep * float64(i-fine/2)) }

// fineWeights is the chance of each step.
var fineWeights = func() (weights [fine]float64) {
	total := 0.0
	for i := range weights {
		weights[i] = num.Density(fineAt(i))
		total += weights[i]
	}
	for i := range weights {
		weights[i] /= total
	}
	return weights
}()

// NewGain compares inoculants with none on a soil.
func NewGain(soil float64, live Live, s Shares) *Gain { return gain(soil, SoilSpread, live, s) }

// GainAt is NewGain with the model's part of the soil's spread known.
func GainAt(soil float64, live Live, s Shares) *Gain { return gain(soil, fieldSpread, live, s) }

func gain(soil, sd float64, live Live, s Shares) *Gain {
	g := &Gain{}
	for i := range g.most {
		g.most[i] = float64(mostLoss * (1 - s.Quantile(fineAt(i))))
	}
	upTo := live.sums()
	total := 0.0
	for k := -soilHalf; k <= soilHalf; k++ {
		z := float64(soilStep * float64(k))
		weight := num.Density(z)
		total += weight
		cells := num.Exp10(soil + float64(sd*z))
		p := Adequate(cells)
		for i := range gainSteps + 1 {
			at := p + gainAt(i)
			if at >= 1 {
				break
			}
			chance := 1.0
			if need := num.Exp10(logCells(at)) - cells; need > 0 {
				chance = 1 - upTo.at(num.Log10(need/FullDose))
			}
			if chance < dust { // and more so for a larger rise
				break
			}
			g.over[i] += float64(weight * chance)
		}
	}
	for i := range g.over {
		g.over[i] /= total
	}
	return g
}

// Over gives the chance that the yield share kept is more than x >= 0.
func (g *Gain) Over(x float64) float64 {
	sum := 0.0
	for i, most := range g.most {
		if most > x {
			sum += float64(fineWeights[i] * g.rise(x/most))
		}
	}
	return unit01(sum)
}

// rise gives the chance that p rises by more than t.
func (g *Gain) rise(t float64) float64 {
	at := float64(math.Sqrt(t) * gainSteps)
	k := min(int(at), gainSteps-1)
	return g.over[k] + float64((g.over[k+1]-g.over[k])*(at-float64(k)))
}

// Quantile gives the yield share kept below which the chance is q.
func (g *Gain) Quantile(q float64) float64 {
	return quantile(q, mostLoss, func(x float64) float64 { return 1 - g.Over(x) })
}

// sums holds the chance that the live dose is under the upper edge of each step.
type sums [liveSteps]float64

func (l Live) sums() sums {
	var s sums
	sum := 0.0
	for i, w := range l.weight {
		sum += w
		s[i] = sum
	}
	if l.weight == nil {
		for i := range s {
			s[i] = 1
		}
	}
	return s
}

// at gives the chance that the live dose is under 10^x full doses.
func (s *sums) at(x float64) float64 {
	at := (x-liveLeast)/liveStep + 0.5
	switch {
	case at <= 0:
		return 0
	case at >= liveSteps:
		return 1
	}
	k := int(at)
	low := 0.0
	if k > 0 {
		low = s[k-1]
	}
	return low + float64((s[k]-low)*(at-float64(k)))
}
