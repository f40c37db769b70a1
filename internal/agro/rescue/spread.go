package rescue

import "math"

// Weights are values with the chance of each; the chances sum to 1.
type Weights struct{ At, Chance []float64 }

// Spread is the gain over what is not known: how many plants have nodules, what the soil still
// supplies, and phi.
type Spread struct {
	Gain, Low, Median, High float64 // bu/ac: expected, 10, 50 and 90 %
	Pays                    float64 // chance that the gain is worth more than the cost
}

// bins is how finely quantiles of the gain are kept: the largest gain over this.
const bins = 512

// phis are even steps over phi's spread, each as likely as the others.
var phis = [...]float64{-0.8, -0.4, 0, 0.4, 0.8}

// dust is the chance below which a point changes nothing that is shown.
const dust = 1e-7

// Over spreads a pass. bare holds the share of yield lost without any soil nitrogen, short the share
// of the need that soil cannot cover: their product is the loss. need is the gain, bu/ac, from which
// the pass pays.
func Over(p Pass, bare, short Weights, need float64) Spread {
	var s Spread
	var chance [bins + 1]float64
	top := math.Min(p.Most(), p.Yield)
	if top <= 0 {
		return s
	}
	total := 0.0
	for _, step := range phis {
		q := p
		q.Phi = math.Max(0, math.Min(1, p.Phi+float64(PhiSpread*step)))
		for i, b := range bare.At {
			wb := bare.Chance[i] / float64(len(phis))
			if wb < dust {
				continue
			}
			for j, x := range short.At {
				w := float64(wb * short.Chance[j])
				gain, _ := q.Gain(float64(b * x))
				total += w
				s.Gain += float64(w * gain)
				if gain > need {
					s.Pays += w
				}
				chance[int(float64(bins*math.Min(1, gain/top)))] += w
			}
		}
	}
	s.Gain, s.Pays = s.Gain/total, math.Min(1, s.Pays/total)
	s.Low = quantile(&chance, float64(0.1*total), top)
	s.Median = quantile(&chance, float64(0.5*total), top)
	s.High = quantile(&chance, float64(0.9*total), top)
	return s
}

// quantile gives the gain up to which the bins hold a chance.
func quantile(chance *[bins + 1]float64, want, top float64) float64 {
	sum := 0.0
	for i, c := range chance {
		if sum+c >= want && c > 0 {
			if i == bins {
				return top
			}
			return float64(top*(float64(i)+(want-sum)/c)) / bins
		}
		sum += c
	}
	return top
}
