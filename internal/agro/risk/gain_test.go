package risk

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"
)

// drawGain draws the gain over none plainly.
func drawGain(soil float64, products []Product, seedbed string, ratio, cv float64) []float64 {
	const n = 1 << 18
	r := rand.New(rand.NewPCG(3, 4))
	sigma := math.Sqrt(math.Log(1 + cv*cv))
	middle := ratio * math.Exp(-sigma*sigma/2) // the ratio is the mean
	share := func(cells float64) float64 {
		y := math.Pow(cells/halfCells, slope)
		return y / (1 + y)
	}
	gains := make([]float64, n)
	for i := range gains {
		have := math.Pow(10, soil+SoilSpread*r.NormFloat64())
		cells := have
		for _, p := range products {
			f := formOf(p.Form)
			s := Survival(p, 7, seedbed) + f.spread*r.NormFloat64()
			if r.Float64() < f.failure {
				s += failureDrop
			}
			cells += FullDose * math.Pow(10, s)
		}
		s := math.Min(1, middle*math.Exp(sigma*r.NormFloat64()))
		gains[i] = mostLoss * (share(cells) - share(have)) * (1 - s)
	}
	sort.Float64s(gains)
	return gains
}

func TestGainsAgreeWithManyDraws(t *testing.T) {
	for _, tt := range []struct {
		name      string
		soil      float64
		form      string
		seedbed   string
		ratio, cv float64
	}{
		{"native, peat", 1, Peat, "moist", 0.5, 0.35}, {"foreign, liquid", -1, Liquid, "dry", 0.3, 0.6},
		{"host, granular", 2.25, Granular, "moist", 0.7, 0.35},
		{"settled, liquid, hot", 2.75, Liquid, "hotDry", 0.9, 0.6},
	} {
		products := []Product{{Form: tt.form, Dose: 1}}
		want := drawGain(tt.soil, products, tt.seedbed, tt.ratio, tt.cv)
		g := NewGround(tt.soil).Gain(NewLive(products, 7, tt.seedbed), NewShares(tt.ratio, tt.cv))
		for _, x := range []float64{0.005, 0.01, 0.03, 0.1, 0.2} {
			at := sort.SearchFloat64s(want, x)
			over := 1 - float64(at)/float64(len(want))
			if math.Abs(g.Over(x)-over) > 0.005 {
				t.Errorf("%s: over %v = %.4f, want %.4f within 0.005", tt.name, x, g.Over(x), over)
			}
		}
		for _, q := range []float64{0.1, 0.5, 0.9} {
			drawn := want[int(q*float64(len(want)))]
			if math.Abs(g.Quantile(q)-drawn) > 0.003 {
				t.Errorf("%s: %v %% = %.4f, want %.4f within 0.003", tt.name, 100*q,
					g.Quantile(q), drawn)
			}
		}
	}
}

// TestSupplyIsReadAsTheMean holds the one reading of the computed supply: far from the limit of 1 its
// spread neither adds nor takes nitrogen.
func TestSupplyIsReadAsTheMean(t *testing.T) {
	for _, cv := range []float64{MeasuredCV, UntestedCV} {
		if got := NewShares(0.1, cv).Mean(); math.Abs(got-0.1) > 1e-4 {
			t.Errorf("mean of a supply of 0.1 spread by %v = %v", cv, got)
		}
	}
}

func BenchmarkGain(b *testing.B) {
	live := NewLive([]Product{{Form: Liquid, Dose: 1}}, 7, "dry")
	for b.Loop() {
		NewGround(1).Gain(live, NewShares(0.5, 0.35))
	}
}
