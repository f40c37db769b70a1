// Package sample draws fields for proofs: cases that the engine accepts, with all that a planner
// may or may not know. The same source gives the same fields.
package sample

import (
	"math/rand/v2"
	"strconv"

	"hilum/internal/agro"
)

// Field draws one case of any crop.
func Field(r *rand.Rand) agro.Input {
	in := agro.Input{Schema: 1, CropYear: 2027, Crop: pick(r, agro.Crops()...),
		StarterRule: pick(r, "published", "practice"), NodeCount: "withScale",
		Ground: agro.Ground{SoilZone: pick(r, "brown", "darkBrown", "black", "grey"),
			Texture: pick(r, "coarse", "medium", "fine"), FreeLime: r.IntN(8) == 0}}
	if r.IntN(5) > 0 {
		in.SoilTest = soilTest(r)
	}
	for year := 2027 - r.IntN(12); year < 2027; year++ {
		in.History = append(in.History, past(r, year))
	}
	in.Plan, in.Prices = plan(r), prices(r)
	in.Acres = quantity(20+float64(r.IntN(300)), "ac")
	if r.IntN(3) == 0 {
		in.Plan.Seeded, in.Plan.Emerged = "2027-05-08", "2027-05-21"
		in.Digs = []agro.Dig{dig(r)}
	}
	return in
}

func pick(r *rand.Rand, words ...string) string { return words[r.IntN(len(words))] }

func quantity(v float64, unit string) *agro.Quantity { return &agro.Quantity{Value: v, Unit: unit} }

// between draws a number with three digits behind the point, as people enter them.
func between(r *rand.Rand, low, high float64) float64 {
	text := strconv.FormatFloat(low+(high-low)*r.Float64(), 'f', 3, 64)
	v, _ := strconv.ParseFloat(text, 64)
	return v
}

func soilTest(r *rand.Rand) *agro.SoilTest {
	t := &agro.SoilTest{Sampled: "2026-10-20", PPMRule: "2per6in"}
	cuts := []float64{0, 6, 12, 24}
	for i := range 1 + r.IntN(3) {
		t.Layers = append(t.Layers, agro.Layer{Top: *quantity(cuts[i], "in"),
			Bottom: *quantity(cuts[i+1], "in"), Nitrate: *quantity(between(r, 0, 15), "ppm NO3-N")})
	}
	if r.IntN(6) > 0 {
		t.PH = &agro.PH{Value: between(r, 4.6, 8.2), Basis: pick(r, "water", "CaCl2")}
	}
	if r.IntN(4) > 0 {
		om := between(r, 1, 8)
		t.OrganicMatter = &om
	}
	return t
}

func past(r *rand.Rand, year int) agro.Season {
	crops := append([]string{"wheat", "canola", "barley", "oat", "flax", ""}, agro.Crops()...)
	return agro.Season{CropYear: year, Crop: pick(r, crops...),
		Nodulation: pick(r, "", "", "good", "poor"), Flooded: r.IntN(12) == 0}
}

func plan(r *rand.Rand) agro.Plan {
	p := agro.Plan{Yield: quantity(between(r, 15, 70), "bu/ac"),
		Price: quantity(between(r, 5, 20), "$/bu"), NitrogenPrice: quantity(0.69, "$/lb N"),
		Placement:    pick(r, "seedRow", "sideBand", "pairedRow", "twinKnife", "midRow"),
		OpenerSpread: quantity(between(r, 0.5, 4), "in"), RowSpacing: quantity(10, "in"),
		Seedbed: pick(r, "moist", "marginal", "dry", "hotDry"),
		Season:  pick(r, "dry", "normal", "moist")}
	if r.IntN(2) == 0 {
		p.Fertilizers = []agro.Fertilizer{{Product: pick(r, "map", "urea", "ammoniumSulphate"),
			Rate: *quantity(between(r, 0, 30), "lb/ac"), Placement: pick(r, "sideBand", "midRow")}}
	}
	for _, form := range []string{"liquid", "peat", "granular"} {
		if r.IntN(3) == 0 {
			p.Inoculants = append(p.Inoculants, inoculant(r, form))
		}
	}
	return p
}

func inoculant(r *rand.Rand, form string) agro.Inoculant {
	class, hours, cells := r.IntN(3), between(r, 0, 48), 1e5*between(r, 0.3, 4)
	return agro.Inoculant{Form: form, TreatmentClass: &class, HoursOnSeed: &hours,
		CellsPerSeed: &cells}
}

func prices(r *rand.Rand) agro.Prices {
	p := agro.Prices{Pass: quantity(10, "$/ac"), Dig: quantity(40, "$/field"),
		SoilTest: quantity(90, "$/field")}
	for _, form := range []string{"liquid", "peat", "granular"} {
		p.Inoculant = append(p.Inoculant,
			agro.InoculantCost{Form: form, Cost: *quantity(between(r, 2, 20), "$/ac")})
	}
	return p
}

func dig(r *rand.Rand) agro.Dig {
	d := agro.Dig{ID: "dig", Date: "2027-06-1" + strconv.Itoa(r.IntN(9)),
		Node: &agro.Node{Count: 5 + r.IntN(6), Convention: "withScale"}}
	bare := r.Float64()
	for range 3 + r.IntN(3) {
		var s agro.Spot
		for range 5 {
			s.Plants = append(s.Plants, plant(r, bare))
		}
		d.Spots = append(d.Spots, s)
	}
	return d
}

func plant(r *rand.Rand, bare float64) agro.Plant {
	if r.Float64() < bare {
		return agro.Plant{Vigour: pick(r, "pale", "yellow", "small"), Nodules: "none",
			Position: "none"}
	}
	return agro.Plant{Vigour: pick(r, "vigorous", "small"), Nodules: pick(r, "over5", "3to5"),
		Inside: "pink", Position: pick(r, "crownAndLateral", "mostlyCrown", "mostlyLateral")}
}
