package agro

// The spans of what follows harvest.
var (
	takenYields = []span{{"bu/ac", 0, 300}, {"kg/ha", 0, 20175}}
	fieldPrices = []span{{"$/field", 0, 100000}}
	distances   = []span{{"m", 0, 100000}, {"ft", 0, 328084}}
)

// after checks harvest, strips and what the value of knowing stands on.
func (c *check) after(in Input) {
	c.word("rules.credit", in.Rules.Credit, true, "byZone", "flat40", "byYield", "lab", "none")
	c.word("rules.root", in.Rules.Root, true, "none", "greenhouse", "thirtyPercent")
	c.optional("prices.soilTest", in.Prices.SoilTest, fieldPrices...)
	c.optional("prices.dig", in.Prices.Dig, fieldPrices...)
	c.optional("chickpea", in.Chickpea, distances...)
	if h := in.Harvest; h != nil {
		c.optional("harvest.yield", h.Yield, takenYields...)
		c.maybe("harvest.protein", h.Protein, 5, 50, "percent")
		c.maybe("harvest.ndfa", h.Ndfa, 0, 1, "share")
		c.optional("harvest.labCredit", h.LabCredit, span{"lb/ac", 0, 300}, span{"kg/ha", 0, 336})
	}
	c.count("strips", len(in.Strips), 0, 50, "pairs")
	for i, s := range in.Strips {
		c.quantity(at("strips", i, "with"), s.With, takenYields...)
		c.quantity(at("strips", i, "without"), s.Without, takenYields...)
	}
}
