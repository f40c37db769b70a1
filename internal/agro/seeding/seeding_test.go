package seeding

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTimesTenIsAlwaysFourPercentOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stand := rapid.Float64Range(1, 500).Draw(t, "stand")
		tkw := rapid.Float64Range(10, 2500).Draw(t, "tkw")
		s := Survival(rapid.Float64Range(1, 100).Draw(t, "germination"),
			rapid.Float64Range(0, 80).Draw(t, "losses"))
		if r := TimesTen(stand, tkw, s) / Exact(stand, tkw, s); math.Abs(r-1.0413) > 0.0001 {
			t.Fatalf("the rule of ten is %v of the exact rate, want 1.0413", r)
		}
	})
}

func TestEveryFootOfRowGetsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.Float64Range(0.1, 100).Draw(t, "rate")
		label := rapid.Float64Range(4, 40).Draw(t, "label")
		row := rapid.Float64Range(4, 40).Draw(t, "row")
		a, b := rate/RowFeet(label), Granular(rate, label, row)/RowFeet(row)
		if math.Abs(a-b) > 1e-12*a {
			t.Fatalf("%v lb/ft by the label, %v on the drill", a, b)
		}
	})
}
