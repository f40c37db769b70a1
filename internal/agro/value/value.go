// Package value says what knowing is worth before it is known: the gain expected from deciding
// after a dig or a soil test instead of now (Raiffa and Schlaifer 1961: expected value of sample
// and of perfect information). All worths are in dollars for each acre.
package value

import (
	"math"

	"hilum/internal/agro/crop"
)

// Net gives what is left of a gain in bu/ac at a price, after a cost.
func Net(gain, price, cost float64) float64 { return float64(gain*price) - cost }

// Now gives the return of the better of doing it and leaving it, knowing no more than today.
func Now(weight, net []float64) float64 {
	return math.Max(0, sum(weight, net))
}

func sum(weight, net []float64) float64 {
	total := 0.0
	for i, w := range weight {
		total += float64(w * net[i])
	}
	return total
}

// Perfect gives what it would be worth to know the state for certain.
func Perfect(weight, net []float64) float64 {
	best := 0.0
	for i, w := range weight {
		best += float64(w * math.Max(0, net[i]))
	}
	return math.Max(0, best-Now(weight, net))
}

// Sample gives what looking at some spots is worth, and the chance that it ends in doing it.
// spot[k][i] is the chance that k plants of one spot are found adequate in state i; spots are alike
// and independent given the state, so that only how many spots show which count matters.
func Sample(weight, net []float64, spot [][]float64, spots int) (worth, act float64) {
	w := walk{weight: weight, net: net, spot: spot, chance: make([][]float64, len(spot)+1)}
	for i := range w.chance {
		w.chance[i] = make([]float64, len(weight))
	}
	ways := 1.0
	for i := range spots {
		ways = float64(ways * float64(i+1))
	}
	for i := range w.chance[0] {
		w.chance[0][i] = ways
	}
	w.down(0, spots)
	return math.Max(0, w.worth-Now(weight, net)), math.Min(1, w.act)
}

// walk goes through every way in which spots can share out the counts.
type walk struct {
	weight, net []float64
	spot        [][]float64
	chance      [][]float64 // of the counts so far by state, times the ways to see them
	worth, act  float64
}

// down gives 0, 1, ... of the spots that are left the count k, and the rest the counts above it.
func (w *walk) down(k, left int) {
	if k == len(w.spot) {
		if left == 0 {
			w.decide(w.chance[k])
		}
		return
	}
	from, to := w.chance[k], w.chance[k+1]
	copy(to, from)
	for taken := 0; ; taken++ {
		w.down(k+1, left-taken)
		if taken == left {
			return
		}
		part := 1 / float64(taken+1)
		for i, c := range w.spot[k] {
			to[i] = float64(to[i] * float64(c*part))
		}
	}
}

// decide takes the better decision after what was seen.
func (w *walk) decide(chance []float64) {
	seen, net := 0.0, 0.0
	for i, c := range chance {
		both := float64(w.weight[i] * c)
		seen += both
		net += float64(both * w.net[i])
	}
	if net > 0 {
		w.worth += net
		w.act += seen
	}
}

// Bet is a decision between two states: low nitrate, where starter pays, and not.
type Bet struct {
	Low        float64 // chance of the low state
	Paid, Lost float64 // return in the low and in the other state, $/ac
}

// Starter gives the bet of a starter rate by the trials of a crop.
func Starter(t crop.Trial, yield, price, cost float64) Bet {
	at := func(share, gain float64) float64 {
		return Net(float64(float64(share*gain)*yield), price, cost)
	}
	return Bet{Low: t.Low, Paid: at(t.LowShare, t.LowGain), Lost: at(t.OtherShare, t.OtherGain)}
}

// Test gives what a test is worth that names the state rightly with a chance of right, and what one
// that is never wrong would be worth.
func (b Bet) Test(right float64) (worth, perfect float64) {
	weight, net := []float64{b.Low, 1 - b.Low}, []float64{b.Paid, b.Lost}
	shows := [][]float64{{right, 1 - right}, {1 - right, right}}
	worth, _ = Sample(weight, net, shows, 1)
	return worth, Perfect(weight, net)
}
