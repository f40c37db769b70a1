package agro

import "pgregory.net/rapid"

// maybeOne draws a quantity or none.
func maybeOne(t *rapid.T, name string, low, high float64, units ...string) *Quantity {
	if !rapid.Bool().Draw(t, "has "+name) {
		return nil
	}
	q := amount(t, name, low, high, word(t, name+" unit", units...))
	return &q
}

// addAfter draws what follows harvest and what the worth of knowing stands on.
func addAfter(t *rapid.T, in *Input) {
	in.Rules.Credit = word(t, "credit", "", "byZone", "flat40", "byYield", "lab", "none")
	in.Rules.Root = word(t, "root", "", "none", "greenhouse", "thirtyPercent")
	in.Prices.Dig = maybeOne(t, "dig price", 0, 500, "$/field")
	in.Prices.SoilTest = maybeOne(t, "test price", 0, 500, "$/field")
	in.Chickpea = maybeOne(t, "chickpea", 0, 3000, "m", "ft")
	if rapid.Bool().Draw(t, "harvested") {
		h := &Harvest{Yield: maybeOne(t, "taken", 0, 200, "bu/ac", "kg/ha"),
			LabCredit: maybeOne(t, "lab credit", 0, 60, "lb/ac", "kg/ha")}
		if rapid.Bool().Draw(t, "has protein") {
			protein, ndfa := rapid.Float64Range(5, 50).Draw(t, "protein"), 0.6
			h.Protein, h.Ndfa = &protein, &ndfa
		}
		in.Harvest = h
	}
	for i := range in.Passes {
		in.Passes[i].ReCrop = word(t, "re-crop", "", "2027-07-01", "2028-05-01")
	}
	if rapid.Bool().Draw(t, "has root rot") {
		in.RootRot = &RootRot{rapid.Bool().Draw(t, "confirmed"), rapid.Bool().Draw(t, "looked"),
			rapid.Bool().Draw(t, "wet host")}
	}
	for range rapid.IntRange(0, 6).Draw(t, "strips") {
		in.Strips = append(in.Strips, Strip{amount(t, "with", 0, 100, "bu/ac"),
			amount(t, "without", 0, 6000, "kg/ha")})
	}
}
