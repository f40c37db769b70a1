package risk

import (
	"hilum/internal/num"
)

// Gain is the distribution of the share of yield that inoculants keep over none: the soil and the
// nitrogen are the same with and without them, so only what the inoculants add sets them apart
// (ours).
type Gain struct {
	over   [gainSteps + 1]float64 // chance that p rises by more than gainAt(i)
	shares Shares
}

// Steps of the rise in p, finer near zero where costs are weighed, and of the soil's count.
const (
	gainSteps = 64
	soilHalf  = 10   // points to each side of the soil's middle
	soilStep  = 0.35 // standard deviations: 3.5 to each side
)

func gainAt(i int) float64 {
	x := float64(i) / gainSteps
	return float64(x * x)
}

// offset is where Gauss's rule of two points looks to each side of the middle, in steps: the root of
// 1/12.
const offset = 0.2886751345948129

// bareWorth gives the share of yield that a rise is worth without any nitrogen, at a place in the
// steps of the rise.
func bareWorth(at float64) float64 {
	root := at / gainSteps
	return float64(mostLoss * float64(root*root))
}

// risePoints holds the two points of each step.
var risePoints = func() (worth [gainSteps][2]float64) {
	for i := range worth {
		worth[i] = [2]float64{bareWorth(float64(i) + 0.5 - offset), bareWorth(float64(i) + 0.5 + offset)}
	}
	return worth
}()

// NewGain compares inoculants with none on a soil.
func NewGain(soil float64, live Live, s Shares) *Gain { return gain(soil, SoilSpread, live, s) }

// GainAt is NewGain with the model's part of the soil's spread known.
func GainAt(soil float64, live Live, s Shares) *Gain { return gain(soil, fieldSpread, live, s) }

func gain(soil, sd float64, live Live, s Shares) *Gain {
	g := &Gain{shares: s}
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

// steep is the difference within a step from which it is cut into parts.
const (
	steep = 0.1
	parts = 8
)

// Over gives the chance that the yield share kept is more than x >= 0: for each step of the rise, the
// chance that the supply is small enough.
func (g *Gain) Over(x float64) float64 {
	middle := num.Log(g.shares.median)
	small := func(worth float64) float64 {
		most := 1 - x/worth
		if most <= 0 {
			return 0
		}
		return normal((num.Log(most) - middle) / g.shares.sigma)
	}
	sum := 0.0
	for i, points := range risePoints {
		chance := g.over[i] - g.over[i+1]
		if chance < dust {
			continue
		}
		low, high := small(points[0]), small(points[1])
		mean := (low + high) / 2
		if high-low > steep {
			mean = 0
			for part := range parts {
				at := float64(i) + (float64(part)+0.5)/parts
				mean += small(bareWorth(at)) / parts
			}
		}
		sum += float64(chance * mean)
	}
	return unit01(sum)
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
