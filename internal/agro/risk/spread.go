package risk

import (
	"math"

	"hilum/internal/num"
)

// SoilSpread is the standard deviation of log10 cells/g in the soil (ours). It has two parts, which
// make 0.7 together: ModelSpread, how far our model may be off for this kind of ground, and
// fieldSpread, how fields of one kind differ (ours). A chance of failure is taken over both. Its
// range is the chance with the model's part at its 10 and 90 % points and the field's part still
// taken over: how far the chance itself may be off. Tenth is how many standard deviations these
// points lie off the middle.
const (
	SoilSpread  = 0.7
	ModelSpread = 0.5
	fieldSpread = 0.4898979485566356 // sqrt(0.7^2 - 0.5^2)
	Tenth       = 1.2815515655446004
)

// Outcome is the distribution of p over even steps of log10 cells/g. The two published class limits
// fall on edges of steps, so that their chances need no interpolation.
type Outcome struct {
	P      []float64 // p at the middle of each step, the same for all: not to be changed
	Weight []float64 // chance of the step; the ends hold the tails
	below  []float64 // chance below the lower edge of each step
}

// Steps of the outcome: six between the two class limits, log10(7/3)/0.6 apart.
const (
	classGap  = 0.6132946
	edgeStep  = classGap / 6
	goodEdge  = 2.0 // log10 of 100 cells/g
	firstEdge = -56 // log10 -3.7, p 0.01
	edges     = 96  // up to log10 6, p 0.996
	failIndex = -6 - firstEdge
	goodIndex = 0 - firstEdge
)

func edgeAt(k int) float64 { return goodEdge + float64(edgeStep*float64(k+firstEdge)) }

// liveCells holds cells/g of each step of the live dose.
var liveCells = func() (cells [liveSteps]float64) {
	for i := range cells {
		cells[i] = float64(FullDose * num.Exp10(liveAt(i)))
	}
	return cells
}()

// middles holds p at the middle of each step.
var middles = func() []float64 {
	p := make([]float64, edges+1)
	for k := range p {
		p[k] = Adequate(num.Exp10(edgeAt(k) - edgeStep/2))
	}
	return p
}()

func outcome(below []float64) Outcome {
	o := Outcome{P: middles, Weight: make([]float64, edges+1), below: below}
	for k := range o.Weight {
		low, high := 0.0, 1.0
		if k > 0 {
			low = below[k-1]
		}
		if k < edges {
			high = below[k]
		}
		o.Weight[k] = math.Max(0, high-low)
	}
	return o
}

// Fail gives the chance that p is below the published limit of poor.
func (o Outcome) Fail() float64 { return unit01(o.below[failIndex]) }

// Good gives the chance that p reaches the published limit of adequate.
func (o Outcome) Good() float64 { return unit01(1 - o.below[goodIndex]) }

// Mean gives the expected p.
func (o Outcome) Mean() float64 {
	sum, weight := 0.0, 0.0
	for i, w := range o.Weight {
		sum += float64(w * o.P[i])
		weight += w
	}
	return unit01(sum / weight)
}

// Quantile gives the p below which the chance is q.
func (o Outcome) Quantile(q float64) float64 {
	k := 0
	for k < edges && o.below[k] < q {
		k++
	}
	if k == 0 || k == edges {
		return o.P[k]
	}
	part := (q - o.below[k-1]) / (o.below[k] - o.below[k-1])
	return Adequate(num.Exp10(edgeAt(k-1) + float64(edgeStep*part)))
}

// Likely gives p and the chance of the steps that matter: what the others hold together changes no
// figure that is shown.
func (o Outcome) Likely() (p, weight []float64) {
	p, weight = make([]float64, 0, len(o.P)), make([]float64, 0, len(o.P))
	for i, w := range o.Weight {
		if w > dust {
			p, weight = append(p, o.P[i]), append(weight, w)
		}
	}
	return p, weight
}

func unit01(x float64) float64 { return math.Max(0, math.Min(1, x)) }

// Weighted gives the outcome with other weights for the same steps.
func (o Outcome) Weighted(weight []float64) Outcome {
	after := Outcome{P: o.P, Weight: weight, below: make([]float64, edges)}
	sum := 0.0
	for k := range after.below {
		sum += weight[k]
		after.below[k] = math.Min(1, sum)
	}
	return after
}
