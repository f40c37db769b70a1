package strip

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func TestOnePairGivesNoTest(t *testing.T) {
	if r := Analyse([]Pair{{42, 40}}); r.Mean != 2 || r.Spread || r.P != 0 || r.Low != 0 {
		t.Errorf("%+v", r)
	}
	if r := Analyse(nil); r.Pairs != 0 || r.Spread {
		t.Errorf("%+v", r)
	}
	if _, ok := Flipped([]Pair{{42, 40}}); ok {
		t.Error("one pair has a flip test")
	}
}

func TestEqualDifferencesGiveNoTest(t *testing.T) {
	if r := Analyse([]Pair{{42.1, 40}, {31.1, 29}, {50.1, 48}}); r.Spread || r.T != 0 {
		t.Errorf("%+v", r)
	}
}

func anyPairs() *rapid.Generator[[]Pair] {
	yield := rapid.Custom(func(t *rapid.T) float64 {
		return float64(rapid.IntRange(0, 2000).Draw(t, "tenths")) / 10
	})
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Pair {
		return Pair{yield.Draw(t, "with"), yield.Draw(t, "without")}
	}), 2, 12)
}

func TestAnalyseAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := anyPairs().Draw(t, "pairs")
		var off []float64
		for _, p := range pairs {
			off = append(off, p.With-p.Without)
		}
		r := Analyse(pairs)
		if !r.Spread {
			return
		}
		mean, deviation := stat.MeanStdDev(off, nil)
		err := stat.StdErr(deviation, float64(len(off)))
		student := distuv.StudentsT{Mu: mean, Sigma: err, Nu: float64(len(off) - 1)}
		tail := 2 * student.CDF(mean-math.Abs(mean))
		for name, pair := range map[string][2]float64{"mean": {r.Mean, mean},
			"error": {r.Error, err}, "p": {r.P, tail}, "low": {r.Low, student.Quantile(0.025)},
			"high": {r.High, student.Quantile(0.975)}} {
			if math.Abs(pair[0]-pair[1]) > 1e-8*math.Max(1, math.Abs(pair[1])) {
				t.Fatalf("%s is %v, want %v", name, pair[0], pair[1])
			}
		}
	})
}

// Swapping the strips turns the sign and nothing else; scaling the unit leaves the test alone.
func TestAnalyseIsFairAndUnitFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := anyPairs().Draw(t, "pairs")
		var back, scaled []Pair
		for _, p := range pairs {
			back = append(back, Pair{p.Without, p.With})
			scaled = append(scaled, Pair{p.With * 67.25, p.Without * 67.25})
		}
		a, b, c := Analyse(pairs), Analyse(back), Analyse(scaled)
		if math.Abs(a.Mean+b.Mean) > 1e-9 || math.Abs(a.P-b.P) > 1e-9 {
			t.Fatalf("%+v and swapped %+v", a, b)
		}
		if a.Spread && math.Abs(a.P-c.P) > 1e-7 {
			t.Fatalf("p %v in one unit, %v in the other", a.P, c.P)
		}
		if p, ok := Flipped(pairs); ok && (p < 0 || p > 1) {
			t.Fatalf("flip test gives %v", p)
		}
	})
}
