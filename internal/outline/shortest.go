package outline

import "math"

// longSide is what makes a side long, in radians on the ground, some 10 km: a shorter one lies on the
// sphere of equal area where it lies on the ellipsoid, to a hundred-millionth of its area.
const longSide = 1.6e-3

// mostPieces keeps a ring of thousands of sides from one end of the world to the other from taking long:
// no field has one.
const mostPieces = 16

// shortest is the shortest line on the ellipsoid between two positions by way of the auxiliary sphere
// (Vincenty 1975, Survey Review 23:88). It serves to find places on it.
type shortest struct {
	sine, cosine   float64 // of the reduced latitude of its beginning
	arc            float64 // on the auxiliary sphere
	azimuth, first float64 // at its beginning; arc from the equator to there
	across         float64 // sine of the azimuth on the equator
	term           float64 // Vincenty's C
}

// solve gives the side; ok is false where the iteration does not settle: nearly opposite places.
func solve(east, from, to float64) (s shortest, ok bool) {
	sinFrom, cosFrom := math.Sincos(reduced(from))
	sinTo, cosTo := math.Sincos(reduced(to))
	s.sine, s.cosine = sinFrom, cosFrom
	angle := east
	for range 100 {
		sin, cos := math.Sincos(angle)
		x, y := cosTo*sin, cosFrom*sinTo-sinFrom*cosTo*cos
		s.arc = math.Atan2(math.Hypot(x, y), sinFrom*sinTo+cosFrom*cosTo*cos)
		s.azimuth = math.Atan2(x, y)
		s.across = cosFrom * math.Sin(s.azimuth)
		s.first = math.Atan2(sinFrom, cosFrom*math.Cos(s.azimuth))
		up := 1 - s.across*s.across
		s.term = flattening / 16 * up * (4 + flattening*(4-3*up))
		next := east + s.lag(s.arc)
		if math.Abs(next-angle) < 1e-14 {
			return s, true
		}
		angle = next
	}
	return s, false
}

// lag is by how much the angle on the auxiliary sphere goes ahead of the longitude over an arc.
func (s shortest) lag(arc float64) float64 {
	c, twice := s.term, math.Cos(2*s.first+arc)
	more := math.Sin(arc) * (twice + c*math.Cos(arc)*(2*twice*twice-1))
	return (1 - c) * flattening * s.across * (arc + c*more)
}

// at gives the place at an arc from the beginning: radians east of it, and degrees of latitude.
func (s shortest) at(arc float64) (east, latitude float64) {
	sinArc, cosArc := math.Sincos(arc)
	sinAz, cosAz := math.Sincos(s.azimuth)
	ahead := s.cosine*cosArc - s.sine*sinArc*cosAz
	beta := math.Atan2(s.sine*cosArc+s.cosine*sinArc*cosAz, math.Hypot(sinArc*sinAz, ahead))
	tangent := math.Tan(beta) / (1 - flattening)
	return math.Atan2(sinArc*sinAz, ahead) - s.lag(arc), math.Atan(tangent) * 180 / math.Pi
}

// reduced gives the reduced latitude in radians for degrees.
func reduced(degrees float64) float64 {
	return math.Atan((1 - flattening) * math.Tan(degrees*math.Pi/180))
}

// under gives the area on the unit sphere between a side and the equator, signed by direction: a long
// side is cut into pieces.
func under(east, from, to float64) float64 {
	high := (math.Abs(to) + math.Abs(from)) / 2 * math.Pi / 180
	if math.Hypot((to-from)*math.Pi/180, east*math.Cos(high)) < longSide {
		return underPiece(east, from, to)
	}
	if east < 0 { // so that there and back leaves nothing
		return -under(-east, to, from)
	}
	s, ok := solve(east, from, to)
	if !ok {
		return underPiece(east, from, to)
	}
	pieces := min(math.Ceil(s.arc/longSide), mostPieces)
	sum, before, latitude := 0.0, 0.0, from
	for i := 1.0; i < pieces; i++ {
		here, up := s.at(s.arc * i / pieces)
		sum += underPiece(math.Remainder(here-before, 2*math.Pi), latitude, up)
		before, latitude = here, up
	}
	return sum + underPiece(math.Remainder(east-before, 2*math.Pi), latitude, to)
}
