package balance

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hilum/internal/agro/crop"
	"hilum/internal/unit"
)

// What is fixed, what leaves and what is left add up, and roots only ever add to what is fixed.
func TestNitrogenIsAccountedFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom(crop.Records()).Draw(t, "crop")
		c := Crop{Yield: unit.BushelPerAcre(rapid.Float64Range(1, 200).Draw(t, "yield")),
			Uptake: r.Uptake.Mid, Removal: SeedN(rapid.Float64Range(5, 50).Draw(t, "protein"))}
		ndfa, last := rapid.Float64Range(0, 1).Draw(t, "ndfa"), math.Inf(-1)
		for _, rule := range Roots {
			root := RootFactor(rule)
			net := float64(c.Net(ndfa, root))
			if math.Abs(float64(c.Fixed(ndfa, root)-c.Removed())-net) > 1e-9 || net < last {
				t.Fatalf("%s: net %v after %v", rule, net, last)
			}
			last = net
		}
	})
}

func TestFewNodulesNeverFixMore(t *testing.T) {
	span := crop.Span{Low: 0.5, Mid: 0.55, High: 0.8}
	last := Scaled(span, 0)
	for p := 0.0; p <= 1; p += 0.01 {
		now := Scaled(span, p)
		if now.Mid < last.Mid || now.High > span.High || now.Low > now.High {
			t.Fatalf("%v at a share of %v, %v before", now, p, last)
		}
		last = now
	}
	if last != span {
		t.Errorf("all plants adequate give %v, want %v", last, span)
	}
}

// Every credit of every crop stands on one row, with a kind and a source.
func TestCreditsAreWhole(t *testing.T) {
	for _, r := range crop.Records() {
		for _, c := range r.Credits {
			n, row, why := Credit(r, c.Rule, c.Zone, 40)
			if why != "" || row != c || n.Low > n.Mid || n.Mid > n.High || row.Source == "" {
				t.Errorf("%s %s %s: %v %v %q", r.Key, c.Rule, c.Zone, n, row, why)
			}
		}
	}
}
