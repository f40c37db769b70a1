package agro

import (
	"pgregory.net/rapid"
)

// anyInput draws an input that Check accepts, with any of its optional parts missing.
func anyInput() *rapid.Generator[Input] {
	return rapid.Custom(func(t *rapid.T) Input {
		in := Input{Schema: 1, CropYear: 2027, Crop: rapid.SampledFrom(Crops()).Draw(t, "crop")}
		in.StarterRule = rapid.SampledFrom([]string{"published", "practice"}).Draw(t, "rule")
		in.Ground.SoilZone = word(t, "zone", "", "brown", "darkBrown", "black", "grey")
		in.Ground.Texture = word(t, "texture", "", "coarse", "medium", "fine")
		in.Ground.FreeLime = rapid.Bool().Draw(t, "lime")
		if rapid.Bool().Draw(t, "tested") {
			in.SoilTest = anyTest(t)
		}
		for year := 2015; year < 2027; year++ {
			if rapid.Bool().Draw(t, "recorded") {
				in.History = append(in.History, Season{CropYear: year,
					Crop: word(t, "past", "", "pea", "Wheat", "chickpea", "canola", "Soybean",
						"Dry bean"),
					Nodulation: word(t, "seen", "", "good", "poor"),
					Flooded:    rapid.Bool().Draw(t, "flooded")})
			}
		}
		in.Plan = anyPlan(t)
		for i := range rapid.IntRange(0, 2).Draw(t, "digs") {
			in.Digs = append(in.Digs, anyDig(t, []string{"2027-06-05", "2027-06-20"}[i]))
		}
		addMoney(t, &in)
		addSeason(t, &in)
		addAfter(t, &in)
		return in
	})
}

func word(t *rapid.T, name string, words ...string) string {
	return rapid.SampledFrom(words).Draw(t, name)
}

func amount(t *rapid.T, name string, low, high float64, unit string) Quantity {
	return Quantity{rapid.Float64Range(low, high).Draw(t, name), unit}
}

func anyTest(t *rapid.T) *SoilTest {
	test := &SoilTest{Sampled: "2026-10-20", PPMRule: word(t, "ppm", "2per6in", "0.3perInch")}
	cuts := [][]float64{{0, 6}, {0, 6, 12}, {0, 6, 12, 24}, {0, 12}, {0, 24}, {0, 6, 24}, {6, 12}}
	depths := rapid.SampledFrom(cuts).Draw(t, "depths")
	for i := range len(depths) - 1 {
		unit := word(t, "unit", "ppm NO3-N", "ppm NO3", "lb/ac", "kg/ha")
		test.Layers = append(test.Layers, Layer{Quantity{depths[i], "in"},
			Quantity{depths[i+1], "in"}, amount(t, "nitrate", 0, 40, unit)})
	}
	if rapid.Bool().Draw(t, "hasPH") {
		test.PH = &PH{rapid.Float64Range(3.5, 10).Draw(t, "pH"), word(t, "basis", "water", "CaCl2")}
	}
	if rapid.Bool().Draw(t, "hasOM") {
		om := rapid.Float64Range(0, 30).Draw(t, "om")
		test.OrganicMatter = &om
	}
	return test
}

func anyPlan(t *rapid.T) Plan {
	p := Plan{Placement: word(t, "placement", append(rowPlacements, "")...),
		Seedbed: word(t, "seedbed", "", "moist", "marginal", "dry", "hotDry"),
		Season:  word(t, "season", "", "dry", "moist"),
		Emerged: word(t, "emerged", "", "2027-05-20"), Seeded: word(t, "seeded", "", "2027-05-08")}
	if rapid.Bool().Draw(t, "hasYield") {
		q := amount(t, "yield", 1, 200, "bu/ac")
		p.Yield = &q
	}
	if rapid.Bool().Draw(t, "hasDrill") {
		spread, row := amount(t, "spread", 0.25, 4, "in"), amount(t, "row", 4, 40, "in")
		p.OpenerSpread, p.RowSpacing = &spread, &row
	}
	for range rapid.IntRange(0, 2).Draw(t, "fertilizers") {
		p.Fertilizers = append(p.Fertilizers, Fertilizer{
			word(t, "product", "map", "ammoniumSulphate", "urea"),
			amount(t, "rate", 0, 60, "lb/ac"), word(t, "where", allPlacements...)})
	}
	for range rapid.IntRange(0, 2).Draw(t, "inoculants") {
		i := Inoculant{Form: word(t, "form", "liquid", "peat", "granular"),
			State: word(t, "state", "", "good", "good", "expired")}
		if rapid.Bool().Draw(t, "hasHours") {
			hours := rapid.Float64Range(0, 100).Draw(t, "hours")
			class, dose := rapid.IntRange(0, 2).Draw(t, "class"), 1e5
			i.HoursOnSeed, i.TreatmentClass, i.CellsPerSeed = &hours, &class, &dose
		}
		p.Inoculants = append(p.Inoculants, i)
	}
	return p
}

func anyDig(t *rapid.T, date string) Dig {
	d := Dig{ID: date, Date: date}
	if rapid.Bool().Draw(t, "hasNode") {
		d.Node = &Node{rapid.IntRange(0, 20).Draw(t, "node"), "withScale"}
	}
	for range rapid.IntRange(1, 5).Draw(t, "spots") {
		var s Spot
		for range rapid.IntRange(1, 6).Draw(t, "plants") {
			s.Plants = append(s.Plants, anyPlant(t))
		}
		d.Spots = append(d.Spots, s)
	}
	if rapid.Bool().Draw(t, "suspicious") {
		d.Suspicions = []string{"rootRot"}
	}
	return d
}

func anyPlant(t *rapid.T) Plant {
	p := Plant{Vigour: word(t, "vigour", "vigorous", "small", "pale", "yellow"),
		Nodules: word(t, "nodules", "over5", "3to5", "under3", "none"), Position: "none"}
	if p.Nodules != "none" {
		p.Inside = word(t, "inside", "pink", "white", "green", "brown", "")
		p.Position = word(t, "position", "crownAndLateral", "mostlyCrown", "mostlyLateral")
	}
	return p
}
