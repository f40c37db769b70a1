package nodule

import (
	"math"

	"hilum/internal/num"
)

// Reading is how sharply a dig reads the field (all ours, anchored as named).
type Reading struct {
	Suppressed float64 // h, the share of good nodulation that nitrate leaves to be seen
	Timing     float64 // g, 0 to 1, weight of the dig by days since emergence
	Sees       float64 // chance that an adequate plant is judged so
	Clears     float64 // chance that a poor plant is judged so
}

// Suppression gives h(X), X = NO3-N 0-12 in plus fertilizer N in lb/ac. Anchors: 25 to 35 reduces
// nodulation, above 50 can prevent it (Saskatchewan Pulse Growers, faba bean).
func Suppression(external float64) float64 {
	const half = 60.0
	r := external / half
	rr := float64(r * r)
	return 1 / (1 + float64(rr*rr))
}

// Timing gives g from the days since emergence: nodules begin at 14 days (published), 21 where mean
// air is below 10 C, and are taken to be all there two weeks later.
func Timing(days int, cool bool) float64 {
	start := 14.0
	if cool {
		start = 21
	}
	return math.Max(0, math.Min(1, (float64(days)-start)/14))
}

// NewReading gives the reading of a dig.
func NewReading(when string, external float64, days int, cool bool) Reading {
	r := Reading{Suppression(external), Timing(days, cool), 0.90, 0.95}
	if when == Scored {
		r.Sees = 0.95
	}
	if when == Late {
		r.Timing = 0
	}
	return r
}

// observed gives the chance that a plant is judged adequate in a field whose share is p.
func (r Reading) observed(p float64) float64 {
	seen := float64(p * r.Suppressed)
	return float64(r.Sees*seen) + float64((1-r.Clears)*(1-seen))
}

// Update gives the weights of the shares after the spots of one dig: weight times likelihood.
// The likelihood depends on the field only through its share p, so this line of shares is the whole
// grid. Weights are scaled to sum to 1.
func Update(shares, weights []float64, spots []Count, r Reading) []float64 {
	return After(weights, r.Logs(shares, spots), 1)
}

// Logs gives the log likelihood of a dig at each share, beta-binomial by spot and times the timing
// weight.
func (r Reading) Logs(shares []float64, spots []Count) []float64 {
	logs := make([]float64, len(shares))
	for i, p := range shares {
		m := r.observed(p)
		for _, s := range spots {
			logs[i] += LogLikelihood(s, m, Rho)
		}
		logs[i] = float64(logs[i] * r.Timing)
	}
	return logs
}

// After gives weights times the likelihood to the power temper, scaled to sum to 1.
func After(weights, logs []float64, temper float64) []float64 {
	after := make([]float64, len(weights))
	best := math.Inf(-1)
	for i, w := range weights {
		if w > 0 {
			best = math.Max(best, float64(logs[i]*temper))
		}
	}
	total := 0.0
	for i, w := range weights {
		after[i] = float64(w * num.Exp(float64(logs[i]*temper)-best))
		total += after[i]
	}
	for i := range after {
		after[i] /= total
	}
	return after
}

// shared is the part of a reading's error that two digs of one season have in common (ours, range 0
// to 0.5): the same eyes, the same nitrate in the ground and the same weather before both.
const shared = 0.25

// Temper gives the power at which several digs of one season count jointly. Given the field's share
// p, digs see different plants, so their likelihoods multiply; what they misread alike they misread
// together, so m equal digs count as m / (1 + (m - 1) shared), as plants of one spot do. weights are
// what each dig has to say, effective plants times timing weight; m is their sum over the largest.
// One dig counts in full, a dig that says nothing takes nothing from the others, and one more dig
// never makes all of them say less.
func Temper(weights []float64) float64 {
	sum, most := 0.0, 0.0
	for _, w := range weights {
		sum += w
		most = math.Max(most, w)
	}
	if most == 0 {
		return 1
	}
	return 1 / (1 + float64((sum/most-1)*shared))
}
