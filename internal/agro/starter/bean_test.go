package starter

import (
	"testing"

	"hilum/internal/unit"
	"pgregory.net/rapid"
)

func TestMoreNitrateNeverRaisesBeanNitrogen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom(BeanRules).Draw(t, "rule")
		n := unit.LbPerAcre(rapid.Float64Range(0, 200).Draw(t, "nitrate"))
		more := n + unit.LbPerAcre(rapid.Float64Range(0, 50).Draw(t, "more"))
		planned := unit.LbPerAcre(rapid.Float64Range(0, 60).Draw(t, "planned"))
		rate := func(n unit.LbPerAcre) unit.LbPerAcre {
			c := Case{To24: Range{n, n, true}, Planned: planned,
				Placement: rapid.SampledFrom([]string{"", "sideBand"}).Draw(t, "where")}
			return Bean(rule, 2000, c).Rate
		}
		if low, high := rate(more), rate(n); low > high+1e-9 || low < 0 {
			t.Fatalf("%s: %v lb at %v nitrate, %v at %v", rule, high, n, low, more)
		}
	})
}

func TestSeedRowLimitsOnlyGoDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Bed{Use: rapid.Float64Range(0, 100).Draw(t, "use"), Dry: rapid.Bool().Draw(t, "dry"),
			Coarse: rapid.Bool().Draw(t, "coarse")}
		if got := b.Limit(8.92, 15); got < 0 || got > 8.92 {
			t.Fatalf("limit %v in %+v", got, b)
		}
	})
}
