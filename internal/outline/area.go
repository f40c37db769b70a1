// Package outline measures and checks the outlines of fields and says where in them to dig. Server
// and phone share it. The rules of the crop never see it: they take an area as it was entered.
package outline

import "math"

// The WGS84 ellipsoid (NGA.STND.0036, 2014: semi-major axis and flattening are its definition).
const (
	axis       = 6378137.0 // m
	flattening = 1 / 298.257223563
	squared    = flattening * (2 - flattening) // eccentricity squared
)

// Area gives the area in square metres within a closed ring of WGS84 positions, longitude first, in
// degrees, whichever way it winds. Latitudes are mapped to the sphere of equal area (Snyder 1987,
// formulas 3-11 to 3-13), where the ring's sides are great circles. Those are not quite the shortest
// lines of the ellipsoid, so a long side goes through places on its shortest line: a field is exact to
// a hundredth of a square metre, and so is a ring 220 km wide to one part in a hundred million. A ring
// around a pole is measured on the pole's side. Fewer than three positions have no area.
func Area(ring [][]float64) float64 {
	excess, turn := 0.0, 0.0
	for i := 1; i < len(ring); i++ {
		east := math.Remainder(ring[i][0]-ring[i-1][0], 360) * math.Pi / 180
		excess += under(east, ring[i-1][1], ring[i][1])
		turn += east
	}
	excess = math.Abs(excess)
	if math.Abs(turn) > math.Pi {
		excess = 2*math.Pi - excess
	}
	return excess * radiusSquared
}

// Of gives the area of GeoJSON polygons: each one's outer ring less its holes.
func Of(polygons [][][][]float64) float64 {
	sum := 0.0
	for _, rings := range polygons {
		for i, ring := range rings {
			if i == 0 {
				sum += Area(ring)
			} else {
				sum -= Area(ring)
			}
		}
	}
	return sum
}

// underPiece gives the area on the unit sphere between a great circle and the equator, signed by
// direction.
func underPiece(east, from, to float64) float64 {
	a, b := math.Tan(authalic(from)/2), math.Tan(authalic(to)/2)
	return 2 * math.Atan2(math.Tan(east/2)*(a+b), 1+a*b)
}

// poleQ is Snyder's q at the pole, and radiusSquared the square of the radius of the sphere that
// has the ellipsoid's surface.
var (
	poleQ         = q(1)
	radiusSquared = axis * axis * poleQ / 2
)

// q is proportional to the area between the equator and a latitude, given by its sine.
func q(sine float64) float64 {
	e := math.Sqrt(squared)
	return (1 - squared) * (sine/(1-squared*sine*sine) + math.Atanh(e*sine)/e)
}

// authalic gives the latitude in radians on the sphere of equal area for degrees on the ellipsoid.
func authalic(degrees float64) float64 {
	return math.Asin(max(-1, min(1, q(math.Sin(degrees*math.Pi/180))/poleQ)))
}

// tolerance is how far an entered area may lie from the outline's before somebody should look
// again (ours): a quarter section less its roads and sloughs is well within it.
const tolerance = 0.10

// Differs says whether an entered area is more than a tenth off the outline's, both in one unit.
func Differs(entered, drawn float64) bool {
	return math.Abs(entered-drawn) > tolerance*drawn
}
