package calibration

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"hilum/internal/fault"
)

func TestBadChanceIsRefused(t *testing.T) {
	for _, bad := range []float64{-0.1, 1.1, math.NaN(), math.Inf(1)} {
		_, err := Of([]Pair{{0.2, true}, {bad, false}})
		var f *fault.Error
		if !errors.As(err, &f) || f.Kind != fault.Invalid {
			t.Errorf("%v: %v, want an Invalid fault", bad, err)
		}
	}
	if r, err := Of(nil); err != nil || r.Pairs != 0 || r.Rows != nil {
		t.Errorf("no forecasts: %+v, %v", r, err)
	}
}

func TestForecastsAreAccountedFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Pair {
			return Pair{rapid.Float64Range(0, 1).Draw(t, "chance"), rapid.Bool().Draw(t, "failed")}
		}), 1, 60).Draw(t, "pairs")
		r, err := Of(pairs)
		if err != nil || r.Brier < 0 || r.Brier > 1 {
			t.Fatalf("%+v, %v", r, err)
		}
		count := 0
		for _, row := range r.Rows {
			count += row.Pairs
			if row.Mean < row.Low || row.Mean > row.High || row.FailedLow > row.Failed ||
				row.Failed > row.FailedHigh {
				t.Fatalf("row %+v", row)
			}
		}
		if count != len(pairs) {
			t.Fatalf("%d of %d forecasts are in the table", count, len(pairs))
		}
	})
}

// The ends of Wilson's interval are the shares that a score test just refuses.
func TestWilsonAgainstItsDefinition(t *testing.T) {
	z := distuv.UnitNormal.Quantile(0.975)
	for _, n := range []float64{1, 7, 30, 200} {
		for _, share := range []float64{0, 0.3, 0.7, 1} {
			low, high := wilson(share, n)
			for _, end := range []float64{low, high} {
				off := math.Abs(share-end) / math.Sqrt(end*(1-end)/n)
				if end > 1e-9 && end < 1-1e-9 && math.Abs(off-z) > 1e-9 {
					t.Errorf("share %v of %v: %v is %v deviations off", share, n, end, off)
				}
			}
		}
	}
}

// Digs drawn with a known correlation give it back on average.
func TestCorrelationIsFound(t *testing.T) {
	const rho, share, digs = 0.2, 0.6, 600
	state := uint64(1)
	next := func() float64 { // a fixed low-quality sequence is enough here
		state = state*6364136223846793005 + 1442695040888963407
		return float64(state>>11) / (1 << 53)
	}
	var all [][]Spot
	for range digs {
		var d []Spot
		for range 5 {
			// Polya's urn: each plant is like one before it with a chance that rises with rho.
			k, weight := 0, rho/(1-rho)
			for i := range 5 {
				if next() < (share+float64(k)*weight)/(1+float64(i)*weight) {
					k++
				}
			}
			d = append(d, Spot{5, k})
		}
		all = append(all, d)
	}
	a := Correlation(all)
	if !a.Known || math.Abs(a.Rho-rho) > 0.03 || a.Low > rho || a.High < rho {
		t.Errorf("%+v, want rho %v", a, rho)
	}
}

func TestCorrelationIsBounded(t *testing.T) {
	spot := rapid.Custom(func(t *rapid.T) Spot {
		n := rapid.IntRange(0, 10).Draw(t, "plants")
		return Spot{n, rapid.IntRange(0, n).Draw(t, "adequate")}
	})
	digs := rapid.SliceOf(rapid.SliceOfN(spot, 0, 8))
	rapid.Check(t, func(t *rapid.T) {
		a := Correlation(digs.Draw(t, "digs"))
		if !(a.Rho >= 0 && a.Rho <= 1 && a.Low <= a.Rho && a.High >= a.Rho) {
			t.Fatalf("%+v", a)
		}
	})
}
