package rescue

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func anyPass(t *rapid.T) Pass {
	return Pass{Yield: rapid.Float64Range(1, 200).Draw(t, "yield"),
		N:          rapid.Float64Range(0, 300).Draw(t, "N"),
		Efficiency: Efficiency(Lost(rapid.Float64Range(0, 2).Draw(t, "rain"), false)),
		SeedN:      rapid.Float64Range(1.5, 4).Draw(t, "seedN"),
		Phi:        rapid.Float64Range(0, 1).Draw(t, "phi")}
}

func TestGainStaysWithinWhatIsLostAndWhatNitrogenFills(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, loss := anyPass(t), rapid.Float64Range(0, 0.8).Draw(t, "loss")
		gain, limit := p.Gain(loss)
		if gain < 0 || gain > p.Yield*loss+1e-9 || gain > p.Most()+1e-9 ||
			limit != ByStage && limit != ByNitrogen {
			t.Fatalf("gain %v by %s of %+v at a loss of %v", gain, limit, p, loss)
		}
		p.N = p.Wanted(loss, -1)
		if full, _ := p.Gain(loss); math.Abs(full-p.Yield*loss*p.Phi) > 1e-9 {
			t.Fatalf("the rate wanted brings %v of %v", full, p.Yield*loss*p.Phi)
		}
	})
}

func TestLaterPassNeverBringsMoreBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		week := rapid.Float64Range(0, 12).Draw(t, "week")
		later := week + rapid.Float64Range(0, 4).Draw(t, "later")
		a, inA := AtWeek(week)
		b, inB := AtWeek(later)
		if b > a || inB && !inA {
			t.Fatalf("week %v: %v, week %v: %v", week, a, later, b)
		}
	})
}

// TestSpreadAgreesWithItsPoints holds the grid to the same sums done one by one.
func TestSpreadAgreesWithItsPoints(t *testing.T) {
	p := Pass{Yield: 40, N: 50, Efficiency: Efficiency(0.1), SeedN: 2.34, Phi: 0.75}
	bare := Weights{[]float64{0.72, 0.4, 0.1}, []float64{0.5, 0.3, 0.2}}
	short := Weights{[]float64{0.3, 0.5}, []float64{0.5, 0.5}}
	const need = 4.68
	gain, pays := 0.0, 0.0
	for _, step := range phis {
		q := p
		q.Phi += PhiSpread * step
		for i, b := range bare.At {
			for j, s := range short.At {
				w := bare.Chance[i] * short.Chance[j] / float64(len(phis))
				g, _ := q.Gain(b * s)
				gain += w * g
				if g > need {
					pays += w
				}
			}
		}
	}
	got := Over(p, bare, short, need)
	if math.Abs(got.Gain-gain) > 1e-9 || math.Abs(got.Pays-pays) > 1e-9 {
		t.Errorf("Over = %+v, want gain %v, pays %v", got, gain, pays)
	}
}

func TestSpreadIsBoundedAndOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPass(t)
		share := rapid.Float64Range(0, 0.8)
		bare := Weights{rapid.SliceOfN(share, 3, 3).Draw(t, "bare"), []float64{.2, .5, .3}}
		short := Weights{rapid.SliceOfN(share, 2, 2).Draw(t, "short"), []float64{.6, .4}}
		need := rapid.Float64Range(0, 50).Draw(t, "need")
		s := Over(p, bare, short, need)
		if s.Low > s.Median || s.Median > s.High || s.Pays < 0 || s.Pays > 1 || s.Low < 0 ||
			math.IsNaN(s.Gain) || s.Gain > p.Most()+1e-9 {
			t.Fatalf("%+v from %+v", s, p)
		}
		if dearer := Over(p, bare, short, need+1); dearer.Pays > s.Pays+1e-12 {
			t.Fatalf("a dearer pass pays more often: %v after %v", dearer.Pays, s.Pays)
		}
	})
}
