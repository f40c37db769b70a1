package demo

import (
	"hilum/internal/agro"
	"hilum/internal/wire"
)

// plot is one invented field: what makes it worth a look.
type plot struct {
	name       string
	acres      float64
	zone       string
	texture    string
	lime       bool
	crops      []string // five crop years, the last one running
	nitrate6   float64  // ppm NO3-N in 0-6 in; -1 = no soil test
	nitrate12  float64  // ppm NO3-N in 6-12 in; -1 = only the top was sampled
	ph         float64
	organic    float64 // percent
	placement  string
	seedbed    string
	inoculants []string
	treatment  int
	hours      float64
	dryYears   bool
	poorBefore bool
	dug        []string // one word of plants for each spot: see rootOf
	scout      int
	dugOn      int // days before today
}

const (
	w = "wheat"
	c = "canola"
	b = "barley"
	p = "pea"
	l = "lentil"
	f = "flax"
)

var (
	granular = []string{"granular"}
	peat     = []string{"peat"}
	liquid   = []string{"liquid"}
	both     = []string{"peat", "granular"}
)

// plots are the account's 24 fields.
var plots = []plot{
	// Old pulse ground: a host every second or third year.
	{"Home Quarter", 156, "black", "medium", false, []string{w, p, c, w, p}, 6, 4, 7.1, 4.2, "sideBand", "moist", peat, 1, 3, false, false, []string{"ggggg", "ggfgg", "ggggf"}, 0, 4},
	{"North Eighty", 79, "black", "medium", false, []string{c, w, l, w, p}, 5, 4, 6.9, 4.6, "sideBand", "moist", peat, 1, 4, false, false, nil, 0, 0},
	{"Windmill", 148, "darkBrown", "medium", false, []string{l, w, c, w, l}, 7, 5, 7.3, 3.1, "seedRow", "moist", granular, 0, 2, false, false, nil, 0, 0},
	// Ground that never carried a host.
	{"New Breaking", 212, "brown", "coarse", false, []string{w, f, w, b, p}, 4, 3, 6.6, 1.9, "sideBand", "dry", liquid, 1, 6, false, false, []string{"bbsbb", "bgbbb", "bsbbb", "bbbgb"}, 1, 2},
	{"Railbed", 134, "darkBrown", "coarse", false, []string{w, c, w, b, l}, 6, 5, 7.0, 2.4, "sideBand", "marginal", both, 1, 5, false, false, nil, 0, 0},
	{"Old Pasture", 98, "brown", "medium", false, []string{f, w, b, w, p}, 5, 4, 7.6, 2.2, "sideBand", "marginal", granular, 0, 2, false, false, []string{"nnnfn", "fnnnn", "nnnnn"}, 1, 6},
	// Acid knolls.
	{"Sour Knolls", 143, "grey", "coarse", false, []string{w, c, b, w, p}, 7, 6, 5.1, 3.0, "sideBand", "moist", peat, 1, 4, false, false, []string{"ggggg", "bbbbb", "gfggg", "bbgbb"}, 0, 3},
	{"Spruce Edge", 121, "grey", "medium", false, []string{c, w, p, w, l}, 8, 6, 5.4, 3.4, "sideBand", "moist", granular, 1, 3, false, true, nil, 0, 0},
	// Nitrate left behind by dry years.
	{"Dusty Forty", 41, "brown", "fine", false, []string{w, c, w, w, p}, 18, 14, 7.4, 2.6, "sideBand", "dry", peat, 1, 4, true, false, nil, 0, 0},
	{"Gravel Ridge", 158, "darkBrown", "medium", false, []string{c, w, b, c, l}, 15, 13, 7.5, 3.3, "sideBand", "moist", granular, 1, 3, true, false, []string{"ffgff", "fgffg", "gffff"}, 2, 3},
	{"Long Draw", 187, "black", "fine", false, []string{w, p, w, c, p}, 22, 16, 7.2, 5.1, "midRow", "moist", granular, 0, 2, true, false, nil, 0, 0},
	// Mid-row drills.
	{"Section Line", 308, "black", "medium", false, []string{w, l, w, c, p}, 4, 3, 7.0, 4.8, "midRow", "moist", peat, 1, 5, false, false, nil, 0, 0},
	{"Twin Sloughs", 139, "black", "fine", false, []string{c, w, p, w, l}, 3, 3, 7.3, 5.4, "midRow", "moist", granular, 1, 3, false, false, nil, 0, 0},
	// No soil test, or only the top of one.
	{"Aunt Vera's", 76, "darkBrown", "medium", false, []string{w, c, w, b, p}, -1, -1, 0, 0, "sideBand", "moist", peat, 1, 4, false, false, nil, 0, 0},
	{"Cistern", 112, "black", "medium", false, []string{l, w, c, w, p}, 7, -1, 7.1, 4.0, "sideBand", "moist", granular, 1, 3, false, false, nil, 0, 0},
	{"Far Lentil", 164, "brown", "medium", false, []string{w, l, w, f, l}, -1, -1, 0, 0, "seedRow", "marginal", peat, 2, 20, false, false, nil, 0, 0},
	// Lime, and a treated seed that waited.
	{"White Clay", 151, "brown", "fine", true, []string{w, p, w, c, l}, 5, 4, 8.1, 2.0, "sideBand", "moist", liquid, 2, 14, false, false, []string{"gfgsg", "sgfgs", "gsggf"}, 2, 5},
	// Cereals and oilseeds between pulses.
	{"East Half", 318, "black", "medium", false, []string{p, w, c, p, w}, 6, 4, 7.0, 4.4, "", "", nil, 0, 0, false, false, nil, 0, 0},
	{"Crooked Mile", 127, "darkBrown", "medium", false, []string{w, l, w, l, c}, 8, 6, 7.2, 3.0, "", "", nil, 0, 0, false, false, nil, 0, 0},
	{"Bin Yard", 38, "black", "fine", false, []string{c, b, w, p, w}, 9, 7, 6.8, 5.0, "", "", nil, 0, 0, false, false, nil, 0, 0},
	{"Stone Pile", 95, "grey", "coarse", false, []string{w, c, w, b, c}, -1, -1, 0, 0, "", "", nil, 0, 0, false, false, nil, 0, 0},
	{"Ferry Road", 144, "darkBrown", "medium", false, []string{l, w, c, w, b}, 7, 5, 7.4, 3.2, "", "", nil, 0, 0, false, false, nil, 0, 0},
	{"Willow Bend", 162, "black", "fine", false, []string{w, c, p, w, c}, 11, 8, 7.1, 5.6, "", "", nil, 0, 0, false, false, nil, 0, 0},
	{"Last Quarter", 159, "brown", "medium", false, []string{w, w, l, w, f}, 6, 5, 7.7, 2.1, "", "", nil, 0, 0, false, false, nil, 0, 0},
}

// rootOf is what a letter stands for: good, fair, small, not yet, bare.
func rootOf(letter byte) agro.Plant {
	switch letter {
	case 'g':
		return agro.Plant{Vigour: "vigorous", Nodules: "over5", Inside: "pink", Position: "crownAndLateral"}
	case 'f':
		return agro.Plant{Vigour: "vigorous", Nodules: "3to5", Inside: "pink", Position: "mostlyCrown"}
	case 's':
		return agro.Plant{Vigour: "small", Nodules: "under3", Inside: "pink", Position: "mostlyLateral"}
	case 'n':
		return agro.Plant{Vigour: "small", Nodules: "under3", Inside: "white", Position: "mostlyCrown"}
	}
	return agro.Plant{Vigour: "pale", Nodules: "none", Position: "none"}
}

// dig hands the field's dig to its scout.
func (m *maker) dig(i int, field string, p plot) {
	d := wire.Dig{
		Field: field, CropYear: m.year, Date: m.day(-p.dugOn),
		Node: &agro.Node{Count: 9 - p.dugOn/3, Convention: "withScale"},
	}
	if p.dryYears {
		d.Suspicions = []string{"drought"}
	}
	for s, letters := range p.dug {
		spot := wire.DigSpot{ID: id("spot", i*100+s)}
		for k := range len(letters) {
			spot.Plants = append(spot.Plants, wire.DigPlant{ID: id("plant", i*10000+s*100+k), Plant: rootOf(letters[k])})
		}
		d.Spots = append(d.Spots, spot)
	}
	m.digs[p.scout] = append(m.digs[p.scout], item{id("dig", i), "dig", d})
}
