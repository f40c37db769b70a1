package value

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// anyBet draws weights that sum to one, returns, and the chances of counts of n plants.
func anyBet(t *rapid.T, n int) (weight, net []float64, spot [][]float64) {
	states := rapid.IntRange(1, 6).Draw(t, "states")
	spot = make([][]float64, n+1)
	total := 0.0
	for range states {
		w := rapid.Float64Range(0.01, 1).Draw(t, "weight")
		p := rapid.Float64Range(0.01, 0.99).Draw(t, "share")
		total += w
		weight = append(weight, w)
		net = append(net, rapid.Float64Range(-50, 50).Draw(t, "net"))
		for k := range spot {
			b := distuv.Binomial{N: float64(n), P: p}
			spot[k] = append(spot[k], b.Prob(float64(k)))
		}
	}
	for i := range weight {
		weight[i] /= total
	}
	return weight, net, spot
}

// Looking never costs, more looking is never worth less, and nothing beats knowing for certain.
func TestWorthIsOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weight, net, spot := anyBet(t, 3)
		perfect, before := Perfect(weight, net), 0.0
		for spots := range 5 {
			worth, act := Sample(weight, net, spot, spots)
			if worth < before-1e-9 || worth > perfect+1e-9 || act < 0 || act > 1 {
				t.Fatalf("%d spots: worth %v, before %v, perfect %v, act %v", spots, worth, before,
					perfect, act)
			}
			before = worth
		}
	})
}

// Two spots of one plant are one spot of two plants where plants are independent.
func TestSpotsOfOneAreASpotOfMany(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weight, net, two := anyBet(t, 2)
		one := make([][]float64, 2)
		for i := range weight {
			p := two[2][i] + two[1][i]/2
			one[0], one[1] = append(one[0], 1-p), append(one[1], p)
		}
		a, _ := Sample(weight, net, one, 2)
		b, _ := Sample(weight, net, two, 1)
		if math.Abs(a-b) > 1e-9 {
			t.Fatalf("%v by single plants, %v together", a, b)
		}
	})
}

func TestNothingToDecideIsWorthNothing(t *testing.T) {
	for _, net := range [][]float64{{-1, -2}, {1, 2}, {0, 0}} {
		if got := Perfect([]float64{0.5, 0.5}, net); got != 0 {
			t.Errorf("%v: %v", net, got)
		}
	}
}
