package outline

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestCheckFindsCrossingsAndSizes(t *testing.T) {
	bow := ground([2]float64{0, 0}, [2]float64{400, 300}, [2]float64{400, 0}, [2]float64{0, 300})
	for _, tt := range []struct {
		name  string
		shape [][][][]float64
		want  []string
	}{
		{"a block", [][][][]float64{{block(800, 800)}}, nil},
		{"a bow", [][][][]float64{{bow, bow}}, []string{Crossing, Small}},
		{"parts that touch", [][][][]float64{{block(400, 400)}, {ground([2]float64{400, 0},
			[2]float64{800, 0}, [2]float64{800, 400}, [2]float64{400, 400})}}, nil},
		{"parts that overlap", [][][][]float64{{block(400, 400)}, {ground([2]float64{300, 100},
			[2]float64{800, 100}, [2]float64{800, 200}, [2]float64{300, 200})}}, []string{Crossing}},
		{"a hole that leaves the field", [][][][]float64{{block(400, 400), ground(
			[2]float64{100, 100}, [2]float64{500, 200}, [2]float64{100, 200})}}, []string{Crossing}},
		{"just too small", [][][][]float64{{block(6.3, 6.3)}}, []string{Small}},
		{"just large enough", [][][][]float64{{block(6.4, 6.4)}}, nil},
		{"large", [][][][]float64{{block(20000, 20000)}}, nil},
		{"too large", [][][][]float64{{block(20400, 20400)}}, []string{Large}},
		{"all in a line", [][][][]float64{{{{0, 0}, {0.001, 0.001}, {0.002, 0.002}, {0, 0}}}}, []string{Small}},
	} {
		var got []string
		for _, f := range Check(tt.shape) {
			got = append(got, f.Code)
		}
		if len(got) != len(tt.want) || len(got) > 0 && got[0] != tt.want[0] {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestACrossingIsToldWithItsPlace(t *testing.T) {
	found := Check([][][][]float64{{{{0, 0}, {0.02, 0.01}, {0.02, 0}, {0, 0.01}, {0, 0}}}})
	if len(found) == 0 || math.Abs(found[0].Place.Longitude-0.01) > 1e-9 ||
		math.Abs(found[0].Place.Latitude-0.005) > 1e-9 {
		t.Errorf("%+v, want a crossing at 0.01, 0.005", found)
	}
}

// The same question asked of every two sides.
func TestNoCrossingIsMissed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var ring [][]float64
		for range rapid.IntRange(3, 12).Draw(t, "corners") {
			ring = append(ring, []float64{rapid.Float64Range(0, 1).Draw(t, "x"),
				rapid.Float64Range(0, 1).Draw(t, "y")})
		}
		sides := sidesOf([][][][]float64{{append(ring, ring[0])}})
		want := false
		for i, s := range sides {
			for _, u := range sides[i+1:] {
				want = want || cross(s, u)
			}
		}
		if _, got := crossing(sides); got != want {
			t.Errorf("crossing found: %v, want %v", got, want)
		}
	})
}

func TestAStarIsNoCrossing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if place, yes := crossing(sidesOf([][][][]float64{{star(t)}})); yes {
			t.Errorf("crosses at %v", place)
		}
	})
}

// The plane against the sphere of equal area: two routines that share nothing but the ellipsoid.
func TestThePlaneMeasuresAsTheSphere(t *testing.T) {
	for name, shape := range shapes {
		if name == "far parts" {
			continue
		}
		plain := 0.0
		for _, f := range inMetres(shape, planeOf(shape)) {
			plain += f.size()
		}
		if exact := Of(shape); math.Abs(plain-exact) > 0.01*exact {
			t.Errorf("%s: %.1f m2 by rows, %.1f by area", name, plain, exact)
		}
	}
}

func BenchmarkCheckOfAnOutlineAsLargeAsAccepted(b *testing.B) {
	shape := [][][][]float64{{round(9000, 400)}}
	for range b.N {
		Check(shape)
	}
}

// Sides that all overlap: the slowest there is.
func BenchmarkCheckOfAComb(b *testing.B) {
	var ring [][]float64
	for i := range 9000 {
		ring = append(ring, []float64{float64(i % 2), float64(i) * 1e-6})
	}
	shape := [][][][]float64{{append(ring, ring[0])}}
	for range b.N {
		Check(shape)
	}
}
