package agro

// Rules are the rule sets where sources disagree. An empty word is the default, which stands
// first; the report shows the other answers beside the chosen one.
type Rules struct {
	DryBeanN     string `json:"dryBeanN,omitempty"`     // "total70", "total80", "yieldBased", "none"
	SoybeanCount string `json:"soybeanCount,omitempty"` // "tenAnySize", "sevenPink2mm"
	DegreeDays   string `json:"degreeDays,omitempty"`   // "meanThenFloor", "floorThenMean"
	Credit       string `json:"credit,omitempty"`       // "byZone", "flat40", "byYield", "lab", "none"
	Root         string `json:"root,omitempty"`         // "none", "greenhouse", "thirtyPercent": N below ground
	RescueRate   string `json:"rescueRate,omitempty"`   // "limited", "uptakeLessSoil"
	FallTest     string `json:"fallTest,omitempty"`     // "asSampled", "addManitoba": a fall sample read in spring
	SeedFormula  string `json:"seedFormula,omitempty"`  // "exact", "timesTen"
}

// Prices are the money of the year; each may be absent, and then money is unknown.
type Prices struct {
	Seed      *Quantity       `json:"seed,omitempty"` // "$/lb" or "$/kg"
	Pass      *Quantity       `json:"pass,omitempty"` // of one more trip over the field, "$/ac" or "$/ha"
	Products  []ProductPrice  `json:"products,omitempty"`
	Inoculant []InoculantCost `json:"inoculant,omitempty"`
	SoilTest  *Quantity       `json:"soilTest,omitempty"` // of testing this field, "$/field"
	Dig       *Quantity       `json:"dig,omitempty"`      // of one visit with a spade, "$/field"
}

// ProductPrice is the price of one fertilizer.
type ProductPrice struct {
	Product string   `json:"product"` // as Fertilizer.Product
	Price   Quantity `json:"price"`   // "$/t", "$/short ton", "$/L", "$/US gal", "$/imp gal"
}

// InoculantCost is what one form costs on this field.
type InoculantCost struct {
	Form string   `json:"form"` // "liquid", "peat", "granular"
	Cost Quantity `json:"cost"` // "$/ac" or "$/ha"
}

// Seeding is what the seeding rate is worked out from.
type Seeding struct {
	TKW         *Quantity `json:"tkw,omitempty"`         // thousand-kernel weight, "g"; 10 to 2,500
	Stand       *Quantity `json:"stand,omitempty"`       // wanted, "plants/m2", "plants/ft2"; absent = the crop's
	Germination *float64  `json:"germination,omitempty"` // percent, 1 to 100
	Mortality   *float64  `json:"mortality,omitempty"`   // points below germination, 0 to 80; absent = the crop's range
}

// Drill says what granular inoculant and seed-row products are metered by.
type Drill struct {
	GranularRate    *Quantity `json:"granularRate,omitempty"`    // label rate, "lb/ac" or "kg/ha"
	GranularSpacing *Quantity `json:"granularSpacing,omitempty"` // row spacing of that label rate, "in" or "cm"
	CellsPerGram    *float64  `json:"cellsPerGram,omitempty"`    // guaranteed, of the granule
	SeedRowP2O5     *Quantity `json:"seedRowP2O5,omitempty"`     // planned with the seed, "lb/ac" or "kg/ha"
}

// DayTemp is one day's air temperatures.
type DayTemp struct {
	Date string   `json:"date"`
	Max  Quantity `json:"max"` // "C" or "F"
	Min  Quantity `json:"min"`
}

// Pass is a spray or other trip with a label's re-entry time.
type Pass struct {
	Product      string   `json:"product"` // as typed
	Date         string   `json:"date"`
	ReEntryHours *float64 `json:"reEntryHours,omitempty"` // from the label, 0 to 2,000; absent = not entered
	ReCrop       string   `json:"reCrop,omitempty"`       // from the label: earliest date this crop may be seeded
}

// Rescue is what a rescue pass would be.
type Rescue struct {
	Rate      *Quantity `json:"rate,omitempty"`      // N, "lb/ac" or "kg/ha"; absent = the rate the engine would take
	On        string    `json:"on,omitempty"`        // date of the pass; absent = the last dig's date and a week
	Rain      *Quantity `json:"rain,omitempty"`      // expected in one event after it, "in" or "mm"
	Inhibitor bool      `json:"inhibitor,omitempty"` // urease inhibitor
	Product   string    `json:"product,omitempty"`   // "urea", "uan"
	Stage     string    `json:"stage,omitempty"`     // soybean: "V3", "R1", "R2", "R3", "R4", "R5"
}

// Harvest is what came off.
type Harvest struct {
	Yield     *Quantity `json:"yield,omitempty"`     // "bu/ac" or "kg/ha"
	Protein   *float64  `json:"protein,omitempty"`   // percent of the seed, 5 to 50
	Ndfa      *float64  `json:"ndfa,omitempty"`      // share of plant N from air, 0 to 1; absent = the crop's published range
	LabCredit *Quantity `json:"labCredit,omitempty"` // N credit that the soil laboratory already took off
}

// RootRot is what is known of Aphanomyces and its kin.
type RootRot struct {
	Confirmed bool `json:"confirmed,omitempty"` // by a test of this field
	Tested    bool `json:"tested,omitempty"`
	WetHost   bool `json:"wetHost,omitempty"` // a host stood here in a wet year
}

// Neighbour is last year's chickpea ground nearby.
type Neighbour struct {
	Distance Quantity `json:"distance"` // "m" or "ft"
}

// Strip is one pair of neighbouring strips, with and without.
type Strip struct {
	With    Quantity `json:"with"` // yield, "bu/ac" or "kg/ha"
	Without Quantity `json:"without"`
}
