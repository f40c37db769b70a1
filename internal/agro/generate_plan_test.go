package agro

import "pgregory.net/rapid"

// addMoney draws what a winter plan may add to an input: rules, prices, seed, drill, area, and last
// year's harvest.
func addMoney(t *rapid.T, in *Input) {
	in.Rules.DryBeanN = word(t, "bean", "", "total70", "total80", "yieldBased", "none")
	in.Rules.FallTest = word(t, "fall", "", "asSampled", "addManitoba")
	in.Rules.SeedFormula = word(t, "formula", "", "exact", "timesTen")
	maybe := func(name string, low, high float64, units ...string) *Quantity {
		if !rapid.Bool().Draw(t, "has "+name) {
			return nil
		}
		q := amount(t, name, low, high, word(t, name+" unit", units...))
		return &q
	}
	in.Prices.Seed = maybe("seed", 0, 100, "$/lb", "$/kg")
	for _, key := range []string{"urea", "map", "uan"} {
		if q := maybe(key, 0, 2000, "$/t", "$/short ton"); q != nil {
			in.Prices.Products = append(in.Prices.Products, ProductPrice{key, *q})
		}
	}
	for _, form := range []string{"liquid", "peat", "granular"} {
		if q := maybe(form, 0, 50, "$/ac", "$/ha"); q != nil {
			in.Prices.Inoculant = append(in.Prices.Inoculant, InoculantCost{form, *q})
		}
	}
	in.Acres = maybe("area", 0.01, 1e4, "ac", "ha")
	in.Seeding = &Seeding{TKW: maybe("tkw", 10, 2500, "g"),
		Stand: maybe("stand", 1, 40, "plants/m2", "plants/ft2")}
	if rapid.Bool().Draw(t, "germinated") {
		g := rapid.Float64Range(1, 100).Draw(t, "germination")
		in.Seeding.Germination = &g
	}
	if rapid.Bool().Draw(t, "lost") {
		m := rapid.Float64Range(0, 80).Draw(t, "mortality")
		in.Seeding.Mortality = &m
	}
	count := rapid.Float64Range(1, 1e12).Draw(t, "count")
	in.Drill = &Drill{GranularRate: maybe("granules", 0.1, 99, "lb/ac", "kg/ha"),
		GranularSpacing: maybe("label rows", 10, 40, "in", "cm"), CellsPerGram: &count,
		SeedRowP2O5: maybe("row P", 0, 290, "lb/ac", "kg/ha")}
	if rapid.Bool().Draw(t, "harvested") {
		n := len(in.History)
		if n > 0 {
			in.History[n-1].Harvested = maybe("taken", 0, 200, "bu/ac", "kg/ha")
			in.History[n-1].Nitrogen = maybe("given", 0, 390, "lb/ac", "kg/ha")
		}
	}
}
