package agro

// Rules are the rule sets where sources disagree. An empty word is the default, which stands
// first; the report shows the other answers beside the chosen one.
type Rules struct {
	// DryBeanN: "total70", "total80", "yieldBased", "none"
	DryBeanN     string `json:"dryBeanN,omitempty"`
	SoybeanCount string `json:"soybeanCount,omitempty"` // "tenAnySize", "sevenPink2mm"
	DegreeDays   string `json:"degreeDays,omitempty"`   // "meanThenFloor", "floorThenMean"
	// Credit: "byZone", "flat40", "byYield", "lab", "none"
	Credit string `json:"credit,omitempty"`
	// Root: "none", "greenhouse", "thirtyPercent": N below ground
	Root       string `json:"root,omitempty"`
	RescueRate string `json:"rescueRate,omitempty"` // "limited", "uptakeLessSoil"
	// FallTest: "asSampled", "addManitoba": a fall sample read in spring
	FallTest    string `json:"fallTest,omitempty"`
	SeedFormula string `json:"seedFormula,omitempty"` // "exact", "timesTen"
}

// Prices are the money of the year; each may be absent, and then money is unknown.
type Prices struct {
	Seed *Quantity `json:"seed,omitempty"` // "$/lb" or "$/kg"
	// Pass: of one more trip over the field, "$/ac" or "$/ha"
	Pass      *Quantity       `json:"pass,omitempty"`
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
	// TKW: thousand-kernel weight, "g", 10 to 2,500, or "seeds/lb"
	TKW *Quantity `json:"tkw,omitempty"`
	// Stand: wanted, "plants/m2", "plants/ft2"; absent = the crop's
	Stand       *Quantity `json:"stand,omitempty"`
	Germination *float64  `json:"germination,omitempty"` // percent, 1 to 100
	// Mortality: points below germination, 0 to 80; absent = the crop's range
	Mortality *float64 `json:"mortality,omitempty"`
}

// Drill says what granular inoculant and seed-row products are metered by.
type Drill struct {
	GranularRate *Quantity `json:"granularRate,omitempty"` // label rate, "lb/ac" or "kg/ha"
	// GranularSpacing: row spacing of that label rate, "in" or "cm"
	GranularSpacing *Quantity `json:"granularSpacing,omitempty"`
	CellsPerGram    *float64  `json:"cellsPerGram,omitempty"` // guaranteed, of the granule
	// SeedRowP2O5: planned with the seed, "lb/ac" or "kg/ha"
	SeedRowP2O5 *Quantity `json:"seedRowP2O5,omitempty"`
}

// DayTemp is one day's air temperatures.
type DayTemp struct {
	Date string   `json:"date"`
	Max  Quantity `json:"max"` // "C" or "F"
	Min  Quantity `json:"min"`
}

// Pass is a spray or other trip with a label's re-entry time.
type Pass struct {
	Product string `json:"product"` // as typed
	Date    string `json:"date"`
	// Time: when it ended, the field's clock, 14:05; absent = the end of the day
	Time string `json:"time,omitempty"`
	// ReEntryHours: from the label, 0 to 2,000; absent = not entered
	ReEntryHours *float64 `json:"reEntryHours,omitempty"`
	// ReCrop: from the label: earliest date this crop may be seeded
	ReCrop string `json:"reCrop,omitempty"`
}

// Rescue is what a rescue pass would be.
type Rescue struct {
	// Rate: N, "lb/ac" or "kg/ha"; absent = the rate the engine would take
	Rate *Quantity `json:"rate,omitempty"`
	// On: date of the pass; absent = the last dig's date and a week
	On        string    `json:"on,omitempty"`
	Rain      *Quantity `json:"rain,omitempty"`      // expected in one event after it, "in" or "mm"
	Inhibitor bool      `json:"inhibitor,omitempty"` // urease inhibitor
	Product   string    `json:"product,omitempty"`   // "urea", "uan"
	Stage     string    `json:"stage,omitempty"`     // soybean: "V3", "R1", "R2", "R3", "R4", "R5"
}

// Harvest is what came off.
type Harvest struct {
	Yield   *Quantity `json:"yield,omitempty"`   // "bu/ac" or "kg/ha"
	Protein *float64  `json:"protein,omitempty"` // percent of the seed, 5 to 50
	// Ndfa: share of plant N from air, 0 to 1; absent = the crop's published range
	Ndfa *float64 `json:"ndfa,omitempty"`
	// LabCredit: N credit that the soil laboratory already took off
	LabCredit *Quantity `json:"labCredit,omitempty"`
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
