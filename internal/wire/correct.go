package wire

import (
	"cmp"
	"math"
	"slices"

	"hilum/internal/agro"
)

// visit is a dig with the id of its record.
type visit struct {
	id  string
	dig Dig
}

// correction is a Correction with its place in the account's order of changes.
type correction struct {
	seq int64
	Correction
}

func (b *builder) addCorrection(r Record) error {
	var c Correction
	if err := decode(r.Body, false, &c, readCorrection); err != nil {
		return err
	}
	if c.Field == b.field {
		b.wrongs = append(b.wrongs, correction{cmp.Or(r.Seq, math.MaxInt64), c})
	}
	return nil
}

// corrected gives the digs of the year as the engine sees them, each with what was said of it
// later. Of two corrections of one thing the one accepted last counts; those that are not at the
// server yet count in the order given.
func (b *builder) corrected() []agro.Dig {
	slices.SortStableFunc(b.wrongs, func(x, y correction) int { return cmp.Compare(x.seq, y.seq) })
	last := map[[2]string]Correction{}
	for _, c := range b.wrongs {
		last[[2]string{c.Dig, c.Plant}] = c.Correction
	}
	var digs []agro.Dig
	for _, v := range b.visits {
		if d, counts := v.dig.correct(v.id, last); counts {
			digs = append(digs, d.Engine(v.id))
		}
	}
	return digs
}

// correct applies corrections by (dig, plant). A dig without a plant left does not count.
func (d Dig) correct(id string, last map[[2]string]Correction) (Dig, bool) {
	whole := last[[2]string{id, ""}]
	if whole.Drop {
		return d, false
	}
	d.Date = cmp.Or(whole.Date, d.Date)
	d.Node = cmp.Or(whole.Node, d.Node)
	if whole.Suspicions != nil {
		d.Suspicions = *whole.Suspicions
	}
	var spots []DigSpot
	for _, spot := range d.Spots {
		if spot.Plants = correctPlants(id, spot.Plants, last); len(spot.Plants) > 0 {
			spots = append(spots, spot)
		}
	}
	d.Spots = spots
	return d, len(spots) > 0
}

func correctPlants(dig string, plants []DigPlant, last map[[2]string]Correction) []DigPlant {
	var kept []DigPlant
	for _, p := range plants {
		c := last[[2]string{dig, p.ID}]
		if c.Drop {
			continue
		}
		if c.Right != nil {
			p.Plant = *c.Right
		}
		kept = append(kept, p)
	}
	return kept
}
