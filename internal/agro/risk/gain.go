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
	curve  curve
}

// gainSteps is how many steps of the rise in p there are, finer near zero where costs are weighed.
const gainSteps = 64

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

// Gain compares inoculants with none.
func (g *Ground) Gain(live Live, s Shares) *Gain {
	gain := &Gain{shares: s}
	points := g.points()
	for k := range points {
		point := &points[k]
		for i := range gain.over {
			place, ok := point.dose(i)
			chance := 1 - live.under(place)
			if !ok || chance < dust { // and more so for a larger rise
				break
			}
			gain.over[i] += float64(point.weight * chance)
		}
	}
	return gain
}

// steep is the difference within a step from which it is cut into parts.
const (
	steep = 0.1
	parts = 8
)

// Over gives the chance that the yield share kept is more than x >= 0: for each step of the rise, the
// chance that the supply is small enough.
func (g *Gain) Over(x float64) float64 {
	per := 1 / g.shares.sigma
	small := func(worth float64) float64 {
		most := 1 - x/worth
		if most <= 0 {
			return 0
		}
		return num.Normal(float64((num.Log(most) - g.shares.middle) * per))
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
	return g.curve.quantile(q, func(x float64) float64 { return 1 - g.Over(x) })
}
