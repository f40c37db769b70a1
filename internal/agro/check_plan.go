package agro

import (
	"strings"

	"hilum/internal/agro/code"
)

func (c *check) plan(p Plan, cropYear int) {
	c.optional("plan.yield", p.Yield, span{"bu/ac", 1, 200}, span{"kg/ha", 67, 13451})
	c.optional("plan.price", p.Price, span{"$/bu", 0, 1000}, span{"$/t", 0, 40000})
	c.optional("plan.nitrogenPrice", p.NitrogenPrice, span{"$/lb N", 0, 20}, span{"$/kg N", 0, 45})
	c.count("plan.fertilizers", len(p.Fertilizers), 0, 20, "products")
	for i, f := range p.Fertilizers {
		path := at("plan.fertilizers", i, "")
		c.word(path+".product", f.Product, false,
			"map", "ammoniumSulphate", "urea", "uan", "coatedUrea")
		c.quantity(path+".rate", f.Rate, span{"lb/ac", 0, 300}, span{"kg/ha", 0, 336})
		c.word(path+".placement", f.Placement, false, allPlacements...)
	}
	c.word("plan.placement", p.Placement, true, rowPlacements...)
	c.optional("plan.openerSpread", p.OpenerSpread, span{"in", 0.25, 12}, span{"cm", 0.6, 31})
	c.optional("plan.rowSpacing", p.RowSpacing, span{"in", 4, 40}, span{"cm", 10, 102})
	if c.err == nil && p.OpenerSpread != nil && p.RowSpacing != nil &&
		inches(*p.OpenerSpread) > inches(*p.RowSpacing) {
		c.fail("plan.openerSpread", "range", "is wider than the row spacing, accepted is up to "+
			number(p.RowSpacing.Value)+" "+p.RowSpacing.Unit)
	}
	c.word("plan.seedbed", p.Seedbed, true, "moist", "marginal", "dry", "hotDry")
	c.word("plan.season", p.Season, true, "dry", "normal", "moist")
	c.count("plan.inoculants", len(p.Inoculants), 0, 4, "products")
	for i, inoculant := range p.Inoculants {
		c.inoculant(at("plan.inoculants", i, ""), inoculant)
	}
	c.planDates(p, cropYear)
}

func (c *check) planDates(p Plan, cropYear int) {
	from, to := year(cropYear-1)+"-09-01", year(cropYear)+"-12-31"
	if p.Seeded != "" {
		c.date("plan.seeded", p.Seeded, from, to)
		from = p.Seeded
	}
	if p.Emerged != "" {
		c.date("plan.emerged", p.Emerged, from, to)
	}
}

func (c *check) inoculant(path string, i Inoculant) {
	c.word(path+".form", i.Form, false, "liquid", "peat", "granular")
	if i.CellsPerSeed != nil {
		c.within(path+".cellsPerSeed", *i.CellsPerSeed, 100, 1e9, "cells per seed")
	}
	if i.TreatmentClass != nil {
		c.within(path+".treatmentClass", float64(*i.TreatmentClass), 0, 2, "")
	}
	if i.HoursOnSeed != nil {
		c.within(path+".hoursOnSeed", *i.HoursOnSeed, 0, 2000, "h")
	}
	if i.LabelHours != nil {
		c.within(path+".labelHours", *i.LabelHours, 0, 2000, "h")
	}
	c.word(path+".state", i.State, true, "good", "expired", "frozen", "overheated")
}

func (c *check) digs(in Input) {
	c.count("digs", len(in.Digs), 0, 50, "digs")
	from := year(in.CropYear) + "-01-01"
	if in.Plan.Emerged != "" {
		from = max(from, in.Plan.Emerged)
	} else if in.Plan.Seeded != "" {
		from = max(from, in.Plan.Seeded)
	}
	seen := map[string]bool{}
	for i, d := range in.Digs {
		path := at("digs", i, "")
		c.text(path+".id", d.ID)
		if seen[d.ID] {
			c.fail(path+".id", "twice", "is given twice, accepted is one entry for each dig")
		}
		seen[d.ID] = true
		c.date(path+".date", d.Date, from, year(in.CropYear)+"-12-31")
		from = d.Date
		c.dig(path, d)
	}
}

func (c *check) dig(path string, d Dig) {
	if d.Node != nil {
		c.within(path+".node.count", float64(d.Node.Count), 0, 40, "nodes")
		c.word(path+".node.convention", d.Node.Convention, false, "withScale", "trueNodes")
	}
	c.optional(path+".airTemp", d.AirTemp, span{"C", -20, 45}, span{"F", -4, 113})
	c.count(path+".suspicions", len(d.Suspicions), 0, 8, "suspicions")
	for i, s := range d.Suspicions {
		c.word(at(path+".suspicions", i, ""), s, false, code.Vocabulary["suspicion"]...)
	}
	c.stand(path+".stand", d.Stand)
	c.count(path+".spots", len(d.Spots), 1, 20, "spots")
	for i, s := range d.Spots {
		spot := at(path+".spots", i, "plants")
		c.count(spot, len(s.Plants), 1, 40, "plants")
		for j, p := range s.Plants {
			c.plant(at(spot, j, ""), p)
		}
	}
}

func (c *check) plant(path string, p Plant) {
	c.word(path+".vigour", p.Vigour, false, "vigorous", "small", "pale", "yellow")
	counted := p.Count != nil && *p.Count > 0
	c.word(path+".nodules", p.Nodules, counted, "over5", "3to5", "under3", "none")
	c.nodules(path, p)
	if p.Nodules == "none" {
		if p.Inside != "" {
			c.fail(path+".inside", "conflict", "must be empty where nodules is none")
		}
		c.word(path+".position", p.Position, false, "none")
		return
	}
	c.word(path+".inside", p.Inside, true, "pink", "white", "green", "brown")
	c.word(path+".position", p.Position, false,
		strings.Fields("crownAndLateral mostlyCrown mostlyLateral")...)
}

// nodules checks what was counted on a plant.
func (c *check) nodules(path string, p Plant) {
	for _, n := range []struct {
		name  string
		count *int
	}{{".count", p.Count}, {".pink", p.Pink}} {
		if n.count == nil {
			continue
		}
		most := 1000
		if p.Nodules == "none" {
			most = 0
		} else if n.name == ".pink" && p.Count != nil {
			most = *p.Count
		}
		c.within(path+n.name, float64(*n.count), 0, float64(max(0, most)), "nodules")
	}
}
