package risk

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"
)

// reference draws the model plainly, with the library's functions and many draws. It was
// also run with 2^20; this many keep the suite short, with an error of 0.001 at most.
type reference struct {
	fail, good, mean             float64
	lossMean, loss10, loss50, l9 float64
}

func draw(soil float64, products []Product, pH float64, seedbed string, ratio, cv float64,
) reference {
	const n = 1 << 18
	r := rand.New(rand.NewPCG(1, 2))
	sigma := math.Sqrt(math.Log(1 + cv*cv))
	middle := ratio * math.Exp(-sigma*sigma/2) // the ratio is the mean
	losses := make([]float64, n)
	var out reference
	for i := range losses {
		cells := math.Pow(10, soil+SoilSpread*r.NormFloat64())
		for _, p := range products {
			f := formOf(p.Form)
			s := Survival(p, pH, seedbed) + f.spread*r.NormFloat64()
			if r.Float64() < f.failure {
				s += failureDrop
			}
			cells += FullDose * p.Dose * math.Pow(10, s)
		}
		y := math.Pow(cells/halfCells, slope)
		p := y / (1 + y)
		if p < FailBelow {
			out.fail += 1.0 / n
		}
		if p >= GoodFrom {
			out.good += 1.0 / n
		}
		losses[i] = mostLoss * (1 - p) * (1 - math.Min(1, middle*math.Exp(sigma*r.NormFloat64())))
		out.mean += p / n
		out.lossMean += losses[i] / n
	}
	sort.Float64s(losses)
	out.loss10, out.loss50, out.l9 = losses[n/10], losses[n/2], losses[n*9/10]
	return out
}

func TestChancesAndLossesAgreeWithManyDraws(t *testing.T) {
	const chance, loss = 0.005, 0.003
	one := func(form string) []Product { return []Product{{Form: form, Dose: 1}} }
	for _, tt := range []struct {
		name      string
		soil      float64
		products  []Product
		pH        float64
		seedbed   string
		ratio, cv float64
	}{
		{"native, none", 1, nil, 7, "moist", 0.5, 0.35},
		{"native, liquid, dry", 1, one(Liquid), 7, "dry", 0.5, 0.35},
		{"acid, peat", 0.12, one(Peat), 5.4, "marginal", 0.9, 0.6},
		{"foreign, granular", -1, one(Granular), 7, "hotDry", 0.3, 0.6},
		{"half a dose", -1, []Product{{Form: Peat, Dose: 0.5}}, 6, "marginal", 1.4, 0.35},
		{"host, peat", 2.25, one(Peat), 7, "moist", 0.6, 0.35},
		{"granular and peat", -1, append(one(Granular), one(Peat)...), 7, "dry", 0.5, 0.6},
		{"three", 0, []Product{{Form: Granular, Dose: 1}, {Form: Peat, Dose: 1},
			{Form: Liquid, Dose: 1}}, 5, "dry", 0.5, 0.6},
	} {
		want := draw(tt.soil, tt.products, tt.pH, tt.seedbed, tt.ratio, tt.cv)
		o := NewGround(tt.soil).Outcome(NewLive(tt.products, tt.pH, tt.seedbed))
		l := NewLosses(o, NewShares(tt.ratio, tt.cv))
		for _, v := range []struct {
			name            string
			got, want, near float64
		}{
			{"fail", o.Fail(), want.fail, chance}, {"good", o.Good(), want.good, chance},
			{"mean p", o.Mean(), want.mean, loss}, {"mean loss", l.Mean(), want.lossMean, loss},
			{"loss 10 %", l.Quantile(0.1), want.loss10, loss},
			{"loss 50 %", l.Quantile(0.5), want.loss50, loss},
			{"loss 90 %", l.Quantile(0.9), want.l9, loss},
		} {
			if math.Abs(v.got-v.want) > v.near {
				t.Errorf("%s: %s = %.4f, want %.4f within %v",
					tt.name, v.name, v.got, v.want, v.near)
			}
		}
	}
}

func BenchmarkOutcome(b *testing.B) {
	live := NewLive([]Product{{Form: Liquid, Dose: 1}}, 7, "dry")
	for b.Loop() {
		NewGround(1).Outcome(live)
	}
}
