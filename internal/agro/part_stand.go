package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// The spans of a count of standing plants: from one long step of a row to a whole pass, from the
// smallest hoop in use to a large frame (ours, to catch slips of the unit).
var (
	rowLengths = []span{{"m", 0.3, 30}, {"ft", 1, 99}}
	rowSpaces  = []span{{"in", 4, 40}, {"cm", 10, 102}}
	hoops      = []span{{"m2", 0.05, 10}, {"ft2", 0.5, 108}}
)

// mostStand is the largest count taken in one place (ours).
const mostStand = 999

// stand demands for each place one way of knowing the ground counted.
func (c *check) stand(path string, counts []Stand) {
	c.count(path, len(counts), 0, 20, "counts")
	for i, s := range counts {
		c.within(at(path, i, "plants"), float64(s.Plants), 0, mostStand, "plants")
		c.optional(at(path, i, "row"), s.Row, rowLengths...)
		c.optional(at(path, i, "spacing"), s.Spacing, rowSpaces...)
		c.optional(at(path, i, "hoop"), s.Hoop, hoops...)
		byRow := s.Row != nil && s.Spacing != nil && s.Hoop == nil
		byHoop := s.Row == nil && s.Spacing == nil && s.Hoop != nil
		if c.err == nil && !byRow && !byHoop {
			c.fail(at(path, i, "row"), "one", "accepted is row and spacing together, or hoop alone")
		}
	}
}

// ground is the area counted, m2.
func (s Stand) ground() float64 {
	if s.Hoop != nil {
		if s.Hoop.Unit == "ft2" {
			return unit.SquareMeters(s.Hoop.Value)
		}
		return s.Hoop.Value
	}
	return float64(meters(*s.Row) * float64(float64(inches(*s.Spacing))*metersPerInch))
}

const metersPerInch = 0.0254 // exact

// densest bounds the interval: the most that one count can say, in plants/m2.
const densest = mostStand / 0.03

// standing is the mean over the places counted, each place alike, with a 95 % interval on places
// where there are two.
func standing(counts []Stand) Figure {
	if len(counts) == 0 {
		return unknown("plants/m2", cite.Derived, tell(code.StandNotCounted))
	}
	var each []float64
	plants, ground := 0, 0.0
	for _, s := range counts {
		each = append(each, float64(s.Plants)/s.ground())
		plants += s.Plants
		ground += s.ground()
	}
	mean, low, high, ok := nodule.MeanInterval(each, 0, densest)
	fig := known(mean, "plants/m2", cite.Derived).
		step(code.StepStandPlants, float64(plants), "plants").
		step(code.StepStandGround, ground, "m2")
	if ok {
		fig = fig.between(low, high)
	}
	return fig
}
