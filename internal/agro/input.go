// Package agro is the whole engine behind one door: Evaluate turns one field's case for one crop
// year into a report. It is pure: no clock, no input or output, no random source.
package agro

// Quantity is a number as it was given, with its unit beside it. The engine converts; storage
// keeps what was typed. Accepted units stand in the documentation of each field.
type Quantity struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Input is one field's case for one crop year, the only thing the engine sees.
type Input struct {
	Schema      int    `json:"schema"`      // 1
	Crop        string `json:"crop"`        // a crop key with an engine record: "pea", "lentil"
	CropYear    int    `json:"cropYear"`    // year of harvest, 1990 to 2100
	StarterRule string `json:"starterRule"` // "published" (default) or "practice"
	// NodeCount: convention shown first: "withScale" (default) or "trueNodes"
	NodeCount string `json:"nodeCount"`
	Ground    Ground `json:"ground"`
	// SoilTest: the test that serves this crop year; absent = none
	SoilTest *SoilTest `json:"soilTest,omitempty"`
	History  []Season  `json:"history"` // earlier crop years, any order, any length
	Plan     Plan      `json:"plan"`
	Digs     []Dig     `json:"digs"` // of this crop year, oldest first

	Rules    Rules     `json:"rules"`
	Prices   Prices    `json:"prices"`
	Seeding  *Seeding  `json:"seeding,omitempty"`
	Drill    *Drill    `json:"drill,omitempty"`
	Weather  []DayTemp `json:"weather,omitempty"` // measured, this year, oldest first
	Climate  []DayTemp `json:"climate,omitempty"` // earlier years, for what is still to come
	Passes   []Pass    `json:"passes,omitempty"`  // sprays of this crop year
	Rescue   *Rescue   `json:"rescue,omitempty"`  // a pass that is thought of
	Harvest  *Harvest  `json:"harvest,omitempty"` // what came off this year
	RootRot  *RootRot  `json:"rootRot,omitempty"`
	Chickpea *Quantity `json:"chickpea,omitempty"` // distance to last year's chickpea, "m" or "ft"
	Strips   []Strip   `json:"strips,omitempty"`   // check strips, in pairs
	// Acres: area of the field, "ac" or "ha"; for totals and for what knowing is worth
	Acres *Quantity `json:"area,omitempty"`
}

// Ground is what stays with the field from year to year.
type Ground struct {
	SoilZone string `json:"soilZone,omitempty"` // "brown", "darkBrown", "black", "grey"
	Texture  string `json:"texture,omitempty"`  // "coarse", "medium", "fine"
	FreeLime bool   `json:"freeLime,omitempty"` // calcareous to the surface
}

// SoilTest is one sampling. Values stay as the laboratory gave them.
type SoilTest struct {
	Sampled string  `json:"sampled"` // date, 2026-10-28
	Layers  []Layer `json:"layers"`  // 1 to 6, no overlap, top first
	// PPMRule: "2per6in", "0.3perInch", "bulkDensity"; needed for ppm
	PPMRule string `json:"ppmRule,omitempty"`
	// BulkDensity: g/cm3, 0.8 to 1.9, with ppmRule bulkDensity
	BulkDensity   *float64 `json:"bulkDensity,omitempty"`
	PH            *PH      `json:"ph,omitempty"`            // of the top layer
	OrganicMatter *float64 `json:"organicMatter,omitempty"` // percent, 0 to 30, top 6 in
}

// Layer is one depth of a soil test.
type Layer struct {
	Top    Quantity `json:"top"`    // "in" or "cm", 0 to 48 in
	Bottom Quantity `json:"bottom"` // "in" or "cm", below top, to 48 in
	// Nitrate: "ppm NO3-N", "ppm NO3", "lb/ac" (NO3-N), "kg/ha" (NO3-N); 0 to 1,000
	Nitrate Quantity `json:"nitrate"`
}

// PH with its basis: calcium chloride reads lower than water.
type PH struct {
	Value float64 `json:"value"` // 3.5 to 10
	Basis string  `json:"basis"` // "water" or "CaCl2"
}

// Season is one earlier crop year.
type Season struct {
	CropYear int    `json:"cropYear"`
	Crop     string `json:"crop"` // any crop; "" = no record
	// AlsoHosts: host plants in cover crops, green manure, volunteers
	AlsoHosts  []string `json:"alsoHosts,omitempty"`
	Inoculated *bool    `json:"inoculated,omitempty"` // absent = not recorded
	Nodulation string   `json:"nodulation,omitempty"` // "good", "poor"; absent = nobody looked
	Flooded    bool     `json:"flooded,omitempty"`    // under water for more than a week
	// Harvested: yield taken, "bu/ac" or "kg/ha"; for the nitrogen it left behind
	Harvested *Quantity `json:"harvested,omitempty"`
	Nitrogen  *Quantity `json:"nitrogen,omitempty"` // fertilizer N it got, "lb/ac" or "kg/ha"
}

// Plan is what is meant, or known, for the crop year.
type Plan struct {
	// Yield: expected, "bu/ac" (60 lb) or "kg/ha"; 1 to 200 bu/ac
	Yield         *Quantity `json:"yield,omitempty"`
	Price         *Quantity `json:"price,omitempty"`         // "$/bu" or "$/t"
	NitrogenPrice *Quantity `json:"nitrogenPrice,omitempty"` // "$/lb N" or "$/kg N"
	// Fertilizers: everything with N that is planned apart from the starter
	Fertilizers []Fertilizer `json:"fertilizers,omitempty"`
	// Placement: of the starter: "seedRow", "sideBand", "pairedRow", "twinKnife", "midRow"
	Placement    string    `json:"placement,omitempty"`
	OpenerSpread *Quantity `json:"openerSpread,omitempty"` // "in" or "cm", 0.25 to 12 in
	RowSpacing   *Quantity `json:"rowSpacing,omitempty"`   // "in" or "cm", 4 to 40 in
	// Seedbed: "moist", "marginal", "dry", "hotDry"
	Seedbed string `json:"seedbed,omitempty"`
	// Season: "dry", "normal" (default), "moist"
	Season string `json:"season,omitempty"`
	// Inoculants: what is planned; empty = not decided
	Inoculants []Inoculant `json:"inoculants,omitempty"`
	Seeded     string      `json:"seeded,omitempty"`  // date
	Emerged    string      `json:"emerged,omitempty"` // date
}

// Fertilizer is one planned product that carries nitrogen.
type Fertilizer struct {
	// Product: "map" (rate as P2O5), "ammoniumSulphate" (rate as S), "urea", "uan", "coatedUrea"
	// (rate as N)
	Product string `json:"product"`
	// Rate: of the nutrient named above, "lb/ac" or "kg/ha"; 0 to 300 lb/ac
	Rate      Quantity `json:"rate"`
	Placement string   `json:"placement"` // as Plan.Placement, or "broadcast"
}

// Inoculant is one product of the plan, named by its type.
type Inoculant struct {
	Form string `json:"form"` // "liquid", "peat", "granular"
	// CellsPerSeed: guaranteed live cells per seed at the planned rate; absent = 1e5
	CellsPerSeed *float64 `json:"cellsPerSeed,omitempty"`
	// TreatmentClass: of the seed treatment: 0, 1, 2 (product label); absent = 1, said aloud
	TreatmentClass *int `json:"treatmentClass,omitempty"`
	// HoursOnSeed: between inoculation and seeding, 0 to 2,000
	HoursOnSeed *float64 `json:"hoursOnSeed,omitempty"`
	LabelHours  *float64 `json:"labelHours,omitempty"` // the label's longest time on seed
	// State: "good" (default), "expired", "frozen", "overheated"
	State string `json:"state,omitempty"`
}

// Dig is one visit with a spade: closed, never changed afterwards.
type Dig struct {
	ID    string `json:"id"`
	Date  string `json:"date"`           // 2027-06-12
	Node  *Node  `json:"node,omitempty"` // growth stage of most plants
	Spots []Spot `json:"spots"`          // 1 to 20
	// Suspicions: "rootRot", "weevil", "waterlogging", "herbicide", "drought", "seedTreatment"
	// (wearing off), "salinity", "compaction"
	Suspicions []string  `json:"suspicions,omitempty"`
	Stand      []Stand   `json:"stand,omitempty"`   // counts of standing plants, up to 20
	AirTemp    *Quantity `json:"airTemp,omitempty"` // mean since emergence, "C" or "F"
}

// Stand is the standing plants counted in one place: along a row with its spacing, or in a hoop.
type Stand struct {
	Plants  int       `json:"plants"`            // 0 to 999
	Row     *Quantity `json:"row,omitempty"`     // length counted, "m" or "ft"; 0.3 to 30 m
	Spacing *Quantity `json:"spacing,omitempty"` // of the rows, "in" or "cm"; 4 to 40 in
	Hoop    *Quantity `json:"hoop,omitempty"`    // ground inside, "m2" or "ft2"; 0.05 to 10 m2
}

// Node is a node count with the convention it was counted by.
type Node struct {
	Count int `json:"count"` // 0 to 40
	// Convention: "withScale": the two scale-leaf nodes count; "trueNodes": they do not
	Convention string `json:"convention"`
}

// Spot is one place in the field.
type Spot struct {
	Plants []Plant `json:"plants"` // 1 to 40
}

// Plant is one dug root. The words are the states of the prairie score card.
type Plant struct {
	Vigour  string `json:"vigour"`  // "vigorous", "small", "pale", "yellow"
	Nodules string `json:"nodules"` // clusters: "over5", "3to5", "under3", "none"; "" = counted
	// Inside: of the cut nodules: "pink", "white", "green", "brown"; empty with "none", or not cut
	Inside string `json:"inside,omitempty"`
	// Position: "crownAndLateral", "mostlyCrown", "mostlyLateral", "none"
	Position string `json:"position"`
	// Count: nodules of any size, 0 to 1,000; for crops that are judged by counting
	Count *int `json:"count,omitempty"`
	// Pink: of them, 2 mm and more and pink inside
	Pink *int `json:"pink,omitempty"`
}
