package outline

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// ground draws a ring in metres about a middle near 51 degrees north.
func ground(metres ...[2]float64) [][]float64 {
	var ring [][]float64
	for _, m := range metres {
		ring = append(ring, []float64{-106 + m[0]/70200, 51 + m[1]/111250})
	}
	return append(ring, ring[0])
}

func block(wide, high float64) [][]float64 {
	return ground([2]float64{0, 0}, [2]float64{wide, 0}, [2]float64{wide, high}, [2]float64{0, high})
}

// shapes are fields as they come, and some that nobody would farm.
var shapes = map[string][][][][]float64{
	"quarter": {{block(805, 805)}},
	"L": {{ground([2]float64{0, 0}, [2]float64{800, 0}, [2]float64{800, 200}, [2]float64{200, 200},
		[2]float64{200, 800}, [2]float64{0, 800})}},
	"U": {{ground([2]float64{0, 0}, [2]float64{800, 0}, [2]float64{800, 800}, [2]float64{650, 800},
		[2]float64{650, 150}, [2]float64{150, 150}, [2]float64{150, 800}, [2]float64{0, 800})}},
	"strip":  {{block(18, 1600)}},
	"sliver": {{ground([2]float64{0, 0}, [2]float64{3000, 2999}, [2]float64{3001, 3001})}},
	"slough": {{block(805, 805), ground([2]float64{300, 300}, [2]float64{500, 300},
		[2]float64{500, 550}, [2]float64{300, 550})}},
	"two parts": {{block(400, 400)}, {ground([2]float64{600, 0}, [2]float64{900, 0},
		[2]float64{900, 700}, [2]float64{600, 700})}},
	"far parts": {{block(100, 100)}, {ground([2]float64{50000, 50000}, [2]float64{50100, 50000},
		[2]float64{50100, 50100}, [2]float64{50000, 50100})}},
	"plot":   {{block(8, 8)}},
	"spike":  {{ground([2]float64{0, 0}, [2]float64{500, 0}, [2]float64{900, 0}, [2]float64{500, 0}, [2]float64{500, 500}, [2]float64{0, 500})}},
	"circle": {{round(2000, 400)}},
}

func round(corners int, radius float64) [][]float64 {
	var metres [][2]float64
	for i := range corners {
		a := 2 * math.Pi * float64(i) / float64(corners)
		metres = append(metres, [2]float64{radius * math.Cos(a), radius * math.Sin(a)})
	}
	return ground(metres...)
}

func TestSpotsLieInsideAndKeepTheirDistance(t *testing.T) {
	for name, shape := range shapes {
		began := time.Now()
		spots, edge := Spots(shape, name, 0)
		if len(spots) < Fewest {
			t.Errorf("%s: %d spots", name, len(spots))
		}
		holdsAll(t, name, shape, spots, edge)
		t.Logf("%s: %d spots, %g m from the edge, %v", name, len(spots), edge, time.Since(began))
	}
}

type failer interface{ Errorf(string, ...any) }

// holdsAll checks by the winding number, which the spots are not made with.
func holdsAll(t failer, name string, shape [][][][]float64, spots []Place, edge float64) {
	p := planeOf(shape)
	sides := allSides(inMetres(shape, p))
	for _, s := range spots {
		at := p.metres([]float64{s.Longitude, s.Latitude})
		if !within(shape, p, at) {
			t.Errorf("%s: %v is outside", name, s)
		}
		if far := nearest(sides, at); far < edge-0.01 {
			t.Errorf("%s: %v is %.2f m from the edge, want %g", name, s, far, edge)
		}
	}
}

func within(shape [][][][]float64, p plane, at point) bool {
	for _, rings := range shape {
		in := around(rings[0], p, at)
		for _, hole := range rings[1:] {
			in = in && !around(hole, p, at)
		}
		if in {
			return true
		}
	}
	return false
}

// around sums the angles under which the sides are seen: about a full turn means inside.
func around(ring [][]float64, p plane, at point) bool {
	sum := 0.0
	for i := 1; i < len(ring); i++ {
		a, b := p.metres(ring[i-1]), p.metres(ring[i])
		from, to := math.Atan2(a.y-at.y, a.x-at.x), math.Atan2(b.y-at.y, b.x-at.x)
		sum += math.Remainder(to-from, 2*math.Pi)
	}
	return math.Abs(sum) > math.Pi
}

func TestTheSameFieldAndYearGiveTheSameSpots(t *testing.T) {
	for name, shape := range shapes {
		one, _ := Spots(shape, "field/2027", 6)
		two, _ := Spots(shape, "field/2027", 6)
		if !slices.Equal(one, two) {
			t.Errorf("%s: %v, then %v", name, one, two)
		}
	}
	a, _ := Spots(shapes["quarter"], "field/2027", 6)
	b, _ := Spots(shapes["quarter"], "field/2028", 6)
	if slices.Equal(a, b) {
		t.Error("another year has the same spots to the last digit")
	}
}

// star draws a ring without crossings: corners at any distance, in the order of their bearing.
func star(t *rapid.T) [][]float64 {
	n := rapid.IntRange(3, 40).Draw(t, "corners")
	size := rapid.Float64Range(15, 4000).Draw(t, "size")
	flat := rapid.Float64Range(0.02, 1).Draw(t, "flat")
	var metres [][2]float64
	for i := range n {
		far := size * rapid.Float64Range(0.15, 1).Draw(t, "far")
		a := 2 * math.Pi * float64(i) / float64(n)
		metres = append(metres, [2]float64{far * math.Cos(a), flat * far * math.Sin(a)})
	}
	return ground(metres...)
}

func TestAnyOutlineHasItsSpots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := [][][][]float64{{star(t)}}
		if len(Check(shape)) > 0 {
			t.Skip("not an outline")
		}
		count := rapid.IntRange(-1, 20).Draw(t, "count")
		spots, edge := Spots(shape, rapid.String().Draw(t, "seed"), count)
		if want := max(Fewest, min(Most, count)); len(spots) != want {
			t.Errorf("%d spots, want %d", len(spots), want)
		}
		holdsAll(t, "a star", shape, spots, edge)
	})
}

// gap is the mean distance from anywhere in the field to its nearest spot.
func gap(all, spots []point) float64 {
	sum := 0.0
	for _, at := range all {
		sum += math.Sqrt(closest(spots, at))
	}
	return sum / float64(len(all))
}

func TestSpotsLieWiderThanDrawnOnes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, name := range []string{"quarter", "L", "U", "slough", "two parts", "circle"} {
		shape := shapes[name]
		p := planeOf(shape)
		all := scatter(inMetres(shape, p), newDraw("grid"))
		var ours []point
		spots, _ := Spots(shape, name, 6)
		for _, s := range spots {
			ours = append(ours, p.metres([]float64{s.Longitude, s.Latitude}))
		}
		better := 0
		const tries = 200
		for range tries {
			var drawn []point
			for range len(ours) {
				drawn = append(drawn, all[random.IntN(len(all))])
			}
			if gap(all, ours) < gap(all, drawn) {
				better++
			}
		}
		if better < tries*97/100 {
			t.Errorf("%s: better than drawn spots in %d of %d", name, better, tries)
		}
	}
}

// Every order of a few places, against the one that is chosen.
func TestTheWalkIsTheShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var places []point
		for range rapid.IntRange(2, 6).Draw(t, "n") {
			places = append(places, point{rapid.Float64Range(0, 800).Draw(t, "x"),
				rapid.Float64Range(0, 800).Draw(t, "y")})
		}
		got := long(point{}, tour(point{}, places))
		permute(places, 0, func(order []point) {
			if long(point{}, order) < got-1e-6 {
				t.Errorf("%v is shorter than %g", order, got)
			}
		})
	})
}

func long(start point, places []point) float64 {
	sum, at := 0.0, start
	for _, next := range append(slices.Clone(places), start) {
		sum, at = sum+math.Sqrt(apart(at, next)), next
	}
	return sum
}

func permute(places []point, from int, each func([]point)) {
	if from == len(places) {
		each(places)
	}
	for i := from; i < len(places); i++ {
		places[from], places[i] = places[i], places[from]
		permute(places, from+1, each)
		places[from], places[i] = places[i], places[from]
	}
}

func TestTheUsualCountGrowsWithTheField(t *testing.T) {
	for _, tt := range []struct {
		acres float64
		want  int
	}{{1, 5}, {160, 5}, {170, 6}, {240, 6}, {320, 7}, {480, 9}, {640, 10}, {6400, 10}} {
		if got := Count(tt.acres * 4046.8564224); got != tt.want {
			t.Errorf("Count(%g ac) = %d, want %d", tt.acres, got, tt.want)
		}
	}
}

func BenchmarkSpotsOfAnOutlineAsLargeAsAccepted(b *testing.B) {
	shape := [][][][]float64{{round(9000, 400)}}
	for i := range b.N {
		Spots(shape, strconv.Itoa(i), Most)
	}
}
