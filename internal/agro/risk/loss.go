package risk

import (
	"math"

	"hilum/internal/num"
)

// Spread of the nitrogen that soil and fertilizer supply, as the coefficient of variation of a
// lognormal whose mean is the computed supply (ours).
const (
	MeasuredCV = 0.35 // nitrate measured to 12 in or deeper
	UntestedCV = 0.60
)

// Shares is the distribution of s, the share of the crop's nitrogen that could be supplied.
type Shares struct {
	s, weight     []float64
	median, sigma float64 // of supply over need, not limited to 1
	middle        float64 // logarithm of the median
}

// NewShares spreads a supply ratio (supply over need, not limited to 1). The computed supply is a sum
// of expected parts, so it is read as the mean; the middle of a lognormal lies below its mean.
func NewShares(mean, cv float64) Shares {
	more := 1 + float64(cv*cv)
	median, sigma := mean/math.Sqrt(more), math.Sqrt(num.Log(more))
	const half, step = 16, 0.25 // four standard deviations to each side
	d := Shares{median: median, sigma: sigma, middle: num.Log(median)}
	total := 0.0
	for i := -half; i <= half; i++ {
		z := float64(step * float64(i))
		w := num.Density(z)
		total += w
		d.s = append(d.s, math.Min(1, float64(median*num.Exp(float64(sigma*z)))))
		d.weight = append(d.weight, w)
	}
	for i := range d.weight {
		d.weight[i] /= total
	}
	return d
}

// Mean gives the expected s.
func (d Shares) Mean() float64 {
	sum := 0.0
	for i, w := range d.weight {
		sum += float64(w * d.s[i])
	}
	return sum
}

// Expect gives the expected value of a function of s.
func (d Shares) Expect(of func(s float64) float64) float64 {
	sum := 0.0
	for i, w := range d.weight {
		sum += float64(w * of(d.s[i]))
	}
	return sum
}

// Points gives the values of s and the chance of each. The caller must not change them.
func (d Shares) Points() (s, chance []float64) { return d.s, d.weight }

// Losses is the distribution of the share of yield lost.
type Losses struct {
	outcome Outcome
	shares  Shares
	curve   curve
}

// NewLosses joins the two: nodulation and nitrogen supply vary independently here.
func NewLosses(o Outcome, s Shares) *Losses { return &Losses{outcome: o, shares: s} }

// Mean gives the expected loss.
func (l *Losses) Mean() float64 { return Loss(l.outcome.Mean(), l.shares.Mean()) }

// Below gives the chance that the loss is at most x: for each step of p, the chance that the supply
// is large enough.
func (l *Losses) Below(x float64) float64 {
	sum, per := 0.0, 1/l.shares.sigma
	for k, w := range l.outcome.Weight {
		if w < dust {
			continue
		}
		need := 1 - x/float64(mostLoss*(1-l.outcome.P[k]))
		if need <= 0 {
			sum += w
			continue
		}
		sum += float64(w * num.Normal(float64((l.shares.middle-num.Log(need))*per)))
	}
	return sum
}

// Quantile gives the loss below which the chance is q.
func (l *Losses) Quantile(q float64) float64 { return l.curve.quantile(q, l.Below) }

// Quantile gives s at z standard deviations of the supply.
func (d Shares) Quantile(z float64) float64 {
	return math.Min(1, float64(d.median*num.Exp(float64(d.sigma*z))))
}
