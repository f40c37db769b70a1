package nodule

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"

	"hilum/internal/num"
)

// Without likeness in a spot the likelihood is the binomial's.
func TestLikelihoodAgainstTheBinomial(t *testing.T) {
	for n := 1; n <= 12; n++ {
		for k := 0; k <= n; k++ {
			for _, m := range []float64{0.05, 0.3, 0.7, 0.95} {
				got := num.Exp(LogLikelihood(Count{n, k}, m, 0)) * float64(combin.Binomial(n, k))
				want := distuv.Binomial{N: float64(n), P: m}.Prob(float64(k))
				if math.Abs(got-want) > 1e-12 {
					t.Errorf("%d of %d at %v: %v, want %v", k, n, m, got, want)
				}
			}
		}
	}
}

// The chances of all counts of a spot sum to one, whatever the field.
func TestExpectedCountsAreAllThereAre(t *testing.T) {
	shares := []float64{0, 0.2, 0.5, 0.9, 1}
	for plants := 1; plants <= 10; plants++ {
		chance := NewReading(Decision, 20, 30, false).Expected(plants, shares)
		for i, p := range shares {
			sum := 0.0
			for k := range chance {
				sum += chance[k][i]
			}
			if len(chance) != plants+1 || math.Abs(sum-1) > 1e-12 {
				t.Errorf("%d plants at share %v: %d counts sum to %v", plants, p, len(chance), sum)
			}
		}
	}
}

// The ends of Wilson's interval are the shares that a score test just refuses.
func TestWilsonAgainstTheNormal(t *testing.T) {
	z := distuv.UnitNormal.Quantile(0.975)
	for _, n := range []float64{5, 15.8, 30, 200} {
		low, high := Wilson(0.7, n)
		for _, end := range []float64{low, high} {
			if off := math.Abs(0.7-end) / math.Sqrt(end*(1-end)/n); math.Abs(off-z) > 1e-9 {
				t.Errorf("0.7 of %v: %v is %v deviations off", n, end, off)
			}
		}
	}
}
