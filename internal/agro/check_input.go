package agro

import (
	"strings"

	"hilum/internal/agro/crop"
)

// The words that more than one part of an input may use.
var (
	rowPlacements = []string{"seedRow", "sideBand", "pairedRow", "twinKnife", "midRow"}
	allPlacements = append([]string{"broadcast"}, rowPlacements...)
	lengths       = []span{{"in", 0, 48}, {"cm", 0, 121.92}}
)

// Crops lists the keys of the crops that Evaluate supports, sorted.
func Crops() []string {
	var keys []string
	for _, r := range crop.Records() {
		keys = append(keys, r.Key)
	}
	return keys
}

// Counted are the keys of the crops whose plants are judged by counting nodules.
func Counted() []string {
	var keys []string
	for _, r := range crop.Records() {
		if r.CountsNodules {
			keys = append(keys, r.Key)
		}
	}
	return keys
}

// Check says whether Evaluate would accept an input. Its error is a *fault.Error of kind Invalid
// that names the field and the accepted range or words.
func Check(in Input) error {
	var c check
	c.within("schema", float64(in.Schema), 1, 1, "")
	if _, ok := crop.Find(in.Crop); !ok {
		c.word("crop", in.Crop, false, Crops()...)
	}
	c.within("cropYear", float64(in.CropYear), 1990, 2100, "")
	c.word("starterRule", in.StarterRule, true, "published", "practice")
	c.word("nodeCount", in.NodeCount, true, "withScale", "trueNodes")
	c.word("ground.soilZone", in.Ground.SoilZone, true, "brown", "darkBrown", "black", "grey")
	c.word("ground.texture", in.Ground.Texture, true, "coarse", "medium", "fine")
	if c.err != nil {
		return c.err
	}
	if in.SoilTest != nil {
		c.soilTest(*in.SoilTest, in.CropYear)
	}
	c.history(in.History, in.CropYear)
	c.plan(in.Plan, in.CropYear)
	c.digs(in)
	c.season(in)
	c.starterRules(in.Rules)
	c.prices(in.Prices)
	c.seeding(in)
	c.after(in)
	return c.err
}

func (c *check) soilTest(t SoilTest, cropYear int) {
	const oldest = 5 // years; an older test says nothing about nitrate
	c.date("soilTest.sampled", t.Sampled, year(cropYear-oldest)+"-01-01", year(cropYear)+"-12-31")
	c.word("soilTest.ppmRule", t.PPMRule, true, "2per6in", "0.3perInch", "bulkDensity")
	if t.BulkDensity != nil {
		c.within("soilTest.bulkDensity", *t.BulkDensity, 0.8, 1.9, "g/cm3")
	} else if t.PPMRule == "bulkDensity" {
		c.fail("soilTest.bulkDensity", "missing", "is missing, accepted is 0.8 to 1.9 g/cm3")
	}
	if t.PH != nil {
		c.within("soilTest.ph.value", t.PH.Value, 3.5, 10, "")
		c.word("soilTest.ph.basis", t.PH.Basis, false, "water", "CaCl2")
	}
	if t.OrganicMatter != nil {
		c.within("soilTest.organicMatter", *t.OrganicMatter, 0, 30, "percent")
	}
	c.count("soilTest.layers", len(t.Layers), 1, 6, "layers")
	for i, l := range t.Layers {
		c.layer(at("soilTest.layers", i, ""), l, t.PPMRule)
	}
	c.layerOrder(t.Layers)
}

func (c *check) layer(path string, l Layer, rule string) {
	c.quantity(path+".top", l.Top, lengths...)
	c.quantity(path+".bottom", l.Bottom, lengths...)
	c.quantity(path+".nitrate", l.Nitrate, span{"ppm NO3-N", 0, 1000}, span{"ppm NO3", 0, 1000},
		span{"lb/ac", 0, 1000}, span{"kg/ha", 0, 1000})
	if c.err != nil {
		return
	}
	if inches(l.Bottom) <= inches(l.Top) {
		c.fail(path+".bottom", "order", "is not below top, accepted is more than "+
			number(l.Top.Value)+" "+l.Top.Unit)
	}
	if rule == "" && strings.HasPrefix(l.Nitrate.Unit, "ppm") {
		c.fail("soilTest.ppmRule", "missing", "is missing and a layer is in ppm, "+
			"accepted is 2per6in, 0.3perInch, bulkDensity")
	}
}

// layerOrder demands layers top first without overlap. A quarter inch is let pass, because 15 cm
// and 6 in are the same probe mark.
func (c *check) layerOrder(layers []Layer) {
	const slack = 0.25
	for i := 1; i < len(layers) && c.err == nil; i++ {
		above, l := layers[i-1], layers[i]
		path := at("soilTest.layers", i, "top")
		switch {
		case inches(l.Top) < inches(above.Top):
			c.fail(path, "order", "is above the layer before, accepted is top layer first")
		case inches(l.Top) < inches(above.Bottom)-slack:
			c.fail(path, "overlap", "overlaps the layer before, accepted is from "+
				number(above.Bottom.Value)+" "+above.Bottom.Unit+" down")
		}
	}
}

func (c *check) history(seasons []Season, cropYear int) {
	c.count("history", len(seasons), 0, 60, "crop years")
	seen := map[int]bool{}
	for i, s := range seasons {
		path := at("history", i, "")
		c.within(path+".cropYear", float64(s.CropYear), 1950, float64(cropYear-1), "")
		if seen[s.CropYear] {
			c.fail(path+".cropYear", "twice", "is "+year(s.CropYear)+
				" a second time, accepted is one entry for each year")
		}
		seen[s.CropYear] = true
		c.text(path+".crop", s.Crop)
		c.count(path+".alsoHosts", len(s.AlsoHosts), 0, 10, "plants")
		for j, h := range s.AlsoHosts {
			c.text(at(path+".alsoHosts", j, ""), h)
		}
		c.word(path+".nodulation", s.Nodulation, true, "good", "poor")
		c.optional(path+".harvested", s.Harvested, span{"bu/ac", 0, 300}, span{"kg/ha", 0, 20000})
		c.optional(path+".nitrogen", s.Nitrogen, span{"lb/ac", 0, 400}, span{"kg/ha", 0, 449})
	}
}
