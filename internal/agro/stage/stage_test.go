package stage

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func anyTemp() *rapid.Generator[Temp] {
	return rapid.Custom(func(t *rapid.T) Temp {
		low := rapid.Float64Range(-30, 30).Draw(t, "min")
		return Temp{low + rapid.Float64Range(0, 25).Draw(t, "span"), low}
	})
}

func TestTheTwoReadingsDifferOnlyAcrossTheBase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, base := anyTemp().Draw(t, "day"), rapid.Float64Range(-5, 12).Draw(t, "base")
		mean, floor := d.Heat(MeanThenFloor, base), d.Heat(FloorThenMean, base)
		across := d.Min < base && base < d.Max
		if mean < 0 || floor < mean-1e-12 || !across && math.Abs(floor-mean) > 1e-9 {
			t.Fatalf("%+v above %v: %v by the mean, %v by the floor", d, base, mean, floor)
		}
	})
}

func TestMoreHeatIsNeverReachedEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfN(anyTemp(), 1, 120).Draw(t, "days")
		c := Clock{rapid.SampledFrom([]string{MeanThenFloor, FloorThenMean}).Draw(t, "m"), 4.5}
		want := rapid.Float64Range(0, 900).Draw(t, "want")
		more := want + rapid.Float64Range(0, 100).Draw(t, "more")
		a, okA := c.Reach(days, want)
		b, okB := c.Reach(days, more)
		if okB && (!okA || a > b+1e-9) {
			t.Fatalf("%v on day %v (%v), %v on day %v", want, a, okA, more, b)
		}
		if okA && float64(int(a)) > 0 && c.Sum(days[:int(a)]) > want+1e-9 {
			t.Fatalf("sum passed %v before day %v", want, a)
		}
	})
}

func TestSeasonStopsAtAGapUnlessAnotherYearFillsIt(t *testing.T) {
	var now, past Season
	for d := range 30 {
		if d != 20 {
			now.Set(DayOf(5, 1)+d, Temp{20, 10})
		}
		past.Set(DayOf(5, 1)+d, Temp{15, 5})
	}
	first := DayOf(5, 1)
	if n := len(now.Days(first, nil)); n != 20 {
		t.Errorf("%d days before the gap, want 20", n)
	}
	days := now.Days(first, &past)
	if len(days) != 30 || days[20].Max != 15 {
		t.Errorf("%d days with the other year, want 30 with its day 20", len(days))
	}
}

func TestLeapDayAndNonsenseHaveNoDay(t *testing.T) {
	for _, d := range [][2]int{{2, 29}, {13, 1}, {0, 5}, {4, 0}} {
		if got := DayOf(d[0], d[1]); got != -1 {
			t.Errorf("DayOf(%v) = %d, want -1", d, got)
		}
	}
	if DayOf(1, 1) != 0 || DayOf(12, 31) != 364 {
		t.Error("the year does not run from 0 to 364")
	}
}

func TestSpreadKeepsItsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Spread(rapid.SliceOfN(rapid.IntRange(0, 400), 1, 60).Draw(t, "days"))
		if s.From > s.Middle || s.Middle > s.To {
			t.Fatalf("dates %+v out of order", s)
		}
	})
}
