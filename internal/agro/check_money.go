package agro

// The accepted ranges of prices for products, by unit.
var (
	dryPrices    = []span{{"$/t", 0, 20000}, {"$/short ton", 0, 20000}}
	liquidPrices = []span{{"$/t", 0, 20000}, {"$/short ton", 0, 20000}, {"$/L", 0, 100},
		{"$/US gal", 0, 400}, {"$/imp gal", 0, 500}}
)

// starterRules checks the settings that starter, soil test and seeding lean on.
func (c *check) starterRules(r Rules) {
	c.word("rules.dryBeanN", r.DryBeanN, true, "total70", "total80", "yieldBased", "none")
	c.word("rules.fallTest", r.FallTest, true, "asSampled", "addManitoba")
	c.word("rules.seedFormula", r.SeedFormula, true, "exact", "timesTen")
}

// prices checks money for seed, fertilizer and inoculants.
func (c *check) prices(p Prices) {
	c.optional("prices.seed", p.Seed, span{"$/lb", 0, 100}, span{"$/kg", 0, 221})
	c.count("prices.products", len(p.Products), 0, 20, "prices")
	for i, item := range p.Products {
		path := at("prices.products", i, "")
		c.word(path+".product", item.Product, false,
			"map", "ammoniumSulphate", "urea", "uan", "coatedUrea")
		spans := dryPrices
		if item.Product == "uan" {
			spans = liquidPrices
		}
		c.quantity(path+".price", item.Price, spans...)
	}
	c.count("prices.inoculant", len(p.Inoculant), 0, 3, "prices")
	seen := map[string]bool{}
	for i, item := range p.Inoculant {
		path := at("prices.inoculant", i, "")
		c.word(path+".form", item.Form, false, "liquid", "peat", "granular")
		if seen[item.Form] {
			c.fail(path+".form", "twice", "is given twice, accepted is one cost for each form")
		}
		seen[item.Form] = true
		c.quantity(path+".cost", item.Cost, span{"$/ac", 0, 500}, span{"$/ha", 0, 1236})
	}
}

// seeding checks seed and drill.
func (c *check) seeding(in Input) {
	if s := in.Seeding; s != nil {
		c.optional("seeding.tkw", s.TKW, span{"g", 10, 2500},
			span{"seeds/lb", 182, 45359})
		c.optional("seeding.stand", s.Stand, span{"plants/m2", 1, 500},
			span{"plants/ft2", 0.1, 46})
		c.maybe("seeding.germination", s.Germination, 1, 100, "percent")
		c.maybe("seeding.mortality", s.Mortality, 0, 80, "points")
	}
	if d := in.Drill; d != nil {
		c.optional("drill.granularRate", d.GranularRate, span{"lb/ac", 0.1, 100},
			span{"kg/ha", 0.1, 112})
		c.optional("drill.granularSpacing", d.GranularSpacing, span{"in", 4, 40},
			span{"cm", 10, 102})
		c.maybe("drill.cellsPerGram", d.CellsPerGram, 1, 1e12, "cells/g")
		c.optional("drill.seedRowP2O5", d.SeedRowP2O5, span{"lb/ac", 0, 300},
			span{"kg/ha", 0, 337})
	}
	c.optional("area", in.Acres, fieldAreas...)
}

// maybe is within for a number that may be absent.
func (c *check) maybe(field string, v *float64, low, high float64, unit string) {
	if v != nil {
		c.within(field, *v, low, high, unit)
	}
}

var fieldAreas = []span{{"ac", 0.01, 1e6}, {"ha", 0.004, 404686}}
