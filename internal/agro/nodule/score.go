// Package nodule reads a root dig: the score card, whether a plant is adequate, whether enough was
// dug, and what the dig says about the field.
package nodule

import "hilum/internal/num"

// Plant is one dug root in the words of the score card.
type Plant struct {
	Vigour   string // "vigorous", "small", "pale", "yellow"
	Nodules  string // "over5", "3to5", "under3", "none"
	Inside   string // "pink", "white", "green", "brown", "" = not cut
	Position string // "crownAndLateral", "mostlyCrown", "mostlyLateral", "none"
	// Count: nodules of any size, where somebody counted; Pink: of them 2 mm and more, pink inside
	Count, Pink *int
}

// Points are the values of the states. Part A is published (a prairie score card of 13 points);
// parts B and C are from memory and stay marked as unverified.
type Points struct {
	BMost, BMiddle, BLow int // over 5 clusters pink; 3 to 5 pink; fewer, or not pink
	CBoth, CCrown, CSide int // crown and lateral; mostly crown; mostly lateral
}

// Card is the score card used.
var Card = Points{BMost: 5, BMiddle: 3, BLow: 1, CBoth: 3, CCrown: 2, CSide: 1}

// Variants are other plausible readings of the unverified points. Where one of them would change a
// band, the score is near a band's edge.
func Variants() []Points {
	return []Points{
		{5, 4, 1, 3, 2, 1}, {5, 2, 1, 3, 2, 1}, {5, 3, 2, 3, 2, 1},
		{5, 3, 1, 3, 1, 1}, {5, 3, 1, 3, 2, 0}, {5, 3, 1, 3, 1, 0},
	}
}

// A gives the points for growth and vigour.
func (p Plant) A() int {
	switch p.Vigour {
	case "vigorous":
		return 5
	case "small":
		return 3
	case "pale":
		return 2
	}
	return 1
}

// B gives the points for number and colour. Only white or green inside counts as none; brown, or
// nodules nobody cut, count as not pink.
func (v Points) B(p Plant) int {
	switch {
	case p.Nodules == "none", p.Inside == "white", p.Inside == "green":
		return 0
	case p.Inside != "pink":
		return v.BLow
	case p.Nodules == "over5":
		return v.BMost
	case p.Nodules == "3to5":
		return v.BMiddle
	}
	return v.BLow
}

// C gives the points for position.
func (v Points) C(p Plant) int {
	switch p.Position {
	case "crownAndLateral":
		return v.CBoth
	case "mostlyCrown":
		return v.CCrown
	case "mostlyLateral":
		return v.CSide
	}
	return 0
}

// Total gives the plant's score of 13.
func (v Points) Total(p Plant) int { return p.A() + v.B(p) + v.C(p) }

// Bands of the total (Manitoba Pulse & Soybean Growers 2019: 11-13, 7-10, 1-6). A mean is rounded
// to one decimal first and must reach the lower limit of its band (ours: no source says what to do
// with a mean).
const (
	effectiveFrom = 11
	lessFrom      = 7
)

// Band names the band of a total or a mean total.
func Band(total float64) string {
	switch shown := num.Tenth(total); {
	case shown >= effectiveFrom:
		return "effective"
	case shown >= lessFrom:
		return "lessEffective"
	}
	return "poor"
}

// NearEdge says whether another plausible reading of the unverified points would move the mean of
// these plants into another band.
func NearEdge(plants []Plant) bool {
	band := Band(mean(Card, plants))
	for _, v := range Variants() {
		if Band(mean(v, plants)) != band {
			return true
		}
	}
	return false
}

func mean(v Points, plants []Plant) float64 {
	sum := 0
	for _, p := range plants {
		sum += v.Total(p)
	}
	return float64(sum) / float64(len(plants))
}

// When a dig was made. The words of the decision table.
const (
	Early    = "early"    // 14 to 20 days after emergence, to 27 in a cool spring
	Decision = "decision" // from 21 days, 28 in a cool spring, to 6 weeks after seeding
	Scored   = "scored"   // early flower
	Late     = "late"     // more than 8 weeks after emergence: nodules are past their best
)

// Results of one plant.
const (
	Adequate = "adequate"
	NotYet   = "notYet"
	Poor     = "poor"
)

// ripening is the number of days after emergence until which white nodules may still turn pink
// (nodules take 14 days, 3 to 4 weeks in some conditions; published).
const ripening = 28

// Judge says whether a plant is adequate at a dig of this kind; days since emergence is negative
// where unknown. The table is ours, from published minimum counts and the score card.
func Judge(p Plant, when string, days int) string {
	present := p.Nodules != "none"
	young := days < ripening
	if present && p.Inside == "" {
		return NotYet // Nobody looked inside: no verdict on this plant.
	}
	if when == Early {
		switch {
		case !present, p.Inside == "green", p.Inside == "brown":
			return Poor
		case p.Inside == "pink" && p.Nodules != "under3" && p.Position != "mostlyLateral":
			return Adequate
		}
		return NotYet
	}
	place := 1
	if when == Scored || when == Late {
		place = 2
	}
	switch {
	case Card.B(p) >= Card.BMiddle && Card.C(p) >= place:
		return Adequate
	case when == Decision && present && p.Inside == "white" && young:
		return NotYet
	}
	return Poor
}
