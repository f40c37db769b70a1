package num

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func TestStudentAgainstGonum(t *testing.T) {
	for _, df := range []int{1, 2, 3, 4, 5, 7, 10, 14, 21, 30, 49, 120} {
		reference := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(df)}
		for x := -12.0; x <= 12; x += 0.37 {
			if got, want := Student(x, df), reference.CDF(x); math.Abs(got-want) > 1e-11 {
				t.Errorf("Student(%v, %d) = %v, want %v", x, df, got, want)
			}
		}
		for _, p := range []float64{0.001, 0.025, 0.05, 0.3, 0.5, 0.8, 0.95, 0.975, 0.9995} {
			got, want := StudentQuantile(p, df), reference.Quantile(p)
			if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
				t.Errorf("StudentQuantile(%v, %d) = %v, want %v", p, df, got, want)
			}
		}
	}
}

func TestStudentAtItsEnds(t *testing.T) {
	inf := math.Inf(1)
	for _, df := range []int{1, 2} {
		if Student(inf, df) != 1 || Student(-inf, df) != 0 || Student(0, df) != 0.5 {
			t.Errorf("df %d: the ends or the middle are off", df)
		}
		if !math.IsNaN(Student(math.NaN(), df)) {
			t.Errorf("df %d: NaN became a chance", df)
		}
	}
	if StudentQuantile(0, 3) != -inf || StudentQuantile(1, 3) != inf {
		t.Error("quantiles of 0 and 1 are not infinite")
	}
}

// The printed five per cent points of the standard table.
func TestStudentQuantileAgainstTheTable(t *testing.T) {
	for df, want := range map[int]float64{1: 12.706, 2: 4.303, 4: 2.776, 14: 2.145, 21: 2.080} {
		if got := StudentQuantile(0.975, df); math.Abs(got-want) > 0.0005 {
			t.Errorf("df %d: %v, want %v", df, got, want)
		}
	}
}
