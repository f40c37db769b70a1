package outline

import (
	"cmp"
	"math"
	"slices"
)

// The areas that an outline may have (ours): the same as those of an area that is typed, 0.01 to
// 100,000 ac. Outside it the outline is of something else, or its positions are wrong.
const (
	LeastM2 = 40.0
	MostM2  = 4.05e8
)

// The codes of findings.
const (
	Crossing = "crossing" // two sides cross, at the place
	Small    = "small"    // less than LeastM2
	Large    = "large"    // more than MostM2
)

// Place is a position in degrees, WGS84.
type Place struct {
	Longitude float64 `json:"longitude"`
	Latitude  float64 `json:"latitude"`
}

// Finding is what is wrong with an outline, and where; for a size the place is its first position.
type Finding struct {
	Code  string `json:"code"`
	Place Place  `json:"place"`
}

// Check looks for sides that cross and for an impossible size. Rings must be closed, with four
// positions at least. Rings and polygons may touch. Sides are straight lines between degrees, so
// an outline must not reach over the date line.
func Check(polygons [][][][]float64) []Finding {
	first := polygons[0][0][0]
	at := Place{first[0], first[1]}
	var found []Finding
	if place, yes := crossing(sidesOf(polygons)); yes {
		found = append(found, Finding{Crossing, place})
	}
	switch area := Of(polygons); {
	case area < LeastM2:
		found = append(found, Finding{Small, at})
	case area > MostM2:
		found = append(found, Finding{Large, at})
	}
	return found
}

// point is a position as x and y, in degrees or metres.
type point struct{ x, y float64 }

// side is a side of a ring, its western end first.
type side struct{ a, b point }

func sidesOf(polygons [][][][]float64) []side {
	var sides []side
	for _, rings := range polygons {
		for _, ring := range rings {
			for i := 1; i < len(ring); i++ {
				a, b := point{ring[i-1][0], ring[i-1][1]}, point{ring[i][0], ring[i][1]}
				if a.x > b.x {
					a, b = b, a
				}
				sides = append(sides, side{a, b})
			}
		}
	}
	return sides
}

// crossing gives one place where two sides cross. It goes from west to east and compares only
// sides that overlap that way: a ring of ten thousand short sides takes milliseconds.
func crossing(sides []side) (Place, bool) {
	slices.SortFunc(sides, func(s, t side) int { return cmp.Compare(s.a.x, t.a.x) })
	for i, s := range sides {
		low, high := min(s.a.y, s.b.y), max(s.a.y, s.b.y)
		for _, t := range sides[i+1:] {
			if t.a.x > s.b.x {
				break
			}
			if max(t.a.y, t.b.y) >= low && min(t.a.y, t.b.y) <= high && cross(s, t) {
				return meet(s, t), true
			}
		}
	}
	return Place{}, false
}

// turn is positive where c lies to the left of the way from a to b, negative to the right.
func turn(a, b, c point) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

// cross says whether two sides cross within both; a common end is no crossing.
func cross(s, t side) bool {
	return opposite(turn(s.a, s.b, t.a), turn(s.a, s.b, t.b)) &&
		opposite(turn(t.a, t.b, s.a), turn(t.a, t.b, s.b))
}

func opposite(a, b float64) bool { return a < 0 && b > 0 || a > 0 && b < 0 }

// meet is where two crossing sides meet.
func meet(s, t side) Place {
	from, to := turn(t.a, t.b, s.a), turn(t.a, t.b, s.b)
	along := from / (from - to)
	return Place{s.a.x + along*(s.b.x-s.a.x), s.a.y + along*(s.b.y-s.a.y)}
}

// plane maps degrees near its middle to metres, by the ellipsoid's radii there. Over ten
// kilometres from the middle a distance is off by some metres: enough to walk by.
type plane struct{ middle, perDegree point }

func planeOf(polygons [][][][]float64) plane {
	west, south := math.Inf(1), math.Inf(1)
	east, north := math.Inf(-1), math.Inf(-1)
	for _, rings := range polygons {
		for _, p := range rings[0] {
			west, east = min(west, p[0]), max(east, p[0])
			south, north = min(south, p[1]), max(north, p[1])
		}
	}
	middle := point{(west + east) / 2, (south + north) / 2}
	sine, cosine := math.Sincos(middle.y * math.Pi / 180)
	narrow := 1 - squared*sine*sine
	across := axis / math.Sqrt(narrow)
	along := across * (1 - squared) / narrow
	return plane{middle, point{across * cosine * math.Pi / 180, along * math.Pi / 180}}
}

func (p plane) metres(position []float64) point {
	return point{(position[0] - p.middle.x) * p.perDegree.x,
		(position[1] - p.middle.y) * p.perDegree.y}
}

func (p plane) degrees(at point) Place {
	return Place{p.middle.x + at.x/p.perDegree.x, p.middle.y + at.y/p.perDegree.y}
}
