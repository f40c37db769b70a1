// Package strip compares check strips in pairs, one with and one without, by Student's paired test.
package strip

import (
	"math"

	"hilum/internal/num"
)

// Pair is the yields of two neighbouring strips in one unit.
type Pair struct{ With, Without float64 }

// Result is the paired analysis. All but Pairs and Mean need two pairs; Spread says whether the
// pairs differ among each other at all, without which there is no test.
type Result struct {
	Pairs     int
	Mean      float64 // with minus without
	Deviation float64 // standard deviation of the differences
	Error     float64 // standard error of the mean
	Freedom   int     // degrees of freedom
	Spread    bool
	T, P      float64 // P is two-sided
	Low, High float64 // 95 % interval of the mean
}

// Analyse gives the paired analysis (Student 1908).
func Analyse(pairs []Pair) Result {
	r := Result{Pairs: len(pairs), Freedom: len(pairs) - 1}
	if r.Pairs == 0 {
		return r
	}
	n := float64(r.Pairs)
	for _, p := range pairs {
		r.Mean += (p.With - p.Without) / n
	}
	if r.Pairs < 2 {
		return r
	}
	squares := 0.0
	for _, p := range pairs {
		off := p.With - p.Without - r.Mean
		squares += float64(off * off)
	}
	r.Deviation = math.Sqrt(squares / float64(r.Freedom))
	r.Error = r.Deviation / math.Sqrt(n)
	const dust = 1e-9 // differences that are equal but for rounding
	if r.Spread = r.Deviation > dust; !r.Spread {
		return r
	}
	r.T = r.Mean / r.Error
	r.P = TwoSided(r.T, r.Freedom)
	half := float64(num.StudentQuantile(0.975, r.Freedom) * r.Error)
	r.Low, r.High = r.Mean-half, r.Mean+half
	return r
}

// TwoSided gives the chance of a t at least as far from 0 where there is no difference.
func TwoSided(t float64, freedom int) float64 {
	return float64(2 * num.Student(-math.Abs(t), freedom))
}

// Pooled compares two treatments of r strips each that are not paired, by their means and
// variances: t with 2(r-1) degrees of freedom.
func Pooled(r int, mean, variance [2]float64) (t float64, freedom int) {
	pooled := (variance[0] + variance[1]) / 2
	return (mean[1] - mean[0]) / math.Sqrt(float64(pooled*2)/float64(r)), 2 * (r - 1)
}

// Least gives the least significant difference at 5 % of two means of n strips, by the residual
// mean square and its degrees of freedom.
func Least(square float64, n, freedom int) float64 {
	return float64(num.StudentQuantile(0.975, freedom) * math.Sqrt(float64(2*square)/float64(n)))
}

// FlipMost is the most pairs that Flipped goes through: 65,536 ways.
const FlipMost = 16

// Flipped gives the share of all ways to flip the signs of the differences that leave a mean at
// least as far from 0 as the one seen (Fisher 1935): a test that assumes no bell curve. ok is false
// for fewer than two and more than FlipMost pairs.
func Flipped(pairs []Pair) (p float64, ok bool) {
	if len(pairs) < 2 || len(pairs) > FlipMost {
		return 0, false
	}
	seen, sum := 0.0, 0.0
	for _, p := range pairs {
		seen += p.With - p.Without
		sum += math.Abs(p.With - p.Without)
	}
	const slack = 1e-9 // sums that are equal but for rounding
	least := math.Abs(seen) - slack
	ways := 1 << len(pairs)
	hits := 0
	for way := range ways {
		total := sum
		for i, p := range pairs {
			if way>>i&1 == 1 {
				total -= float64(2 * math.Abs(p.With-p.Without))
			}
		}
		if math.Abs(total) >= least {
			hits++
		}
	}
	return float64(hits) / float64(ways), true
}
