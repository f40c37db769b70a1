package agro

// CropPart are the facts of the crop that the other parts lean on.
type CropPart struct {
	Group    string   `json:"group"`    // rhizobia group
	Stand    Figure   `json:"stand"`    // target, plants/m2
	Uptake   Figure   `json:"uptake"`   // lb N/bu in the whole crop
	Removal  Figure   `json:"removal"`  // lb N/bu in the seed
	SeedRowP Figure   `json:"seedRowP"` // most P2O5 with the seed, lb/ac
	Sources  []string `json:"sources"`
}

// ProductPart turns the chosen starter rate into products.
type ProductPart struct {
	Lines []ProductLine `json:"lines"`
	Notes []Message     `json:"notes"`
}

// ProductLine is one product that would carry the starter N.
type ProductLine struct {
	Product    string   `json:"product"`
	Exact      Figure   `json:"exact"` // lb/ac, or the product's own unit for liquids
	Set        Figure   `json:"set"`   // what a drill can be set to
	Other      []Figure `json:"other"` // the same rate in other units
	Total      Figure   `json:"total"` // for the field, lb
	CostPerLbN Figure   `json:"costPerLbN"`
	Cost       Figure   `json:"cost"` // $/ac
}

// SeedingPart is the seeding rate (agronomy page on seeding, section 6).
type SeedingPart struct {
	Rate     Figure    `json:"rate"`  // lb/ac
	Other    Figure    `json:"other"` // by the other formula
	Survival Figure    `json:"survival"`
	Total    Figure    `json:"total"`    // for the field, lb
	Cost     Figure    `json:"cost"`     // $/ac
	Granular Figure    `json:"granular"` // inoculant at this row spacing, lb/ac
	Dose     Figure    `json:"dose"`     // granular cells/ha against the benchmark
	Notes    []Message `json:"notes"`
}

// StagePart are the three dates and the windows behind them (section 7).
type StagePart struct {
	Basis   string    `json:"basis"` // "measured", "climate", "daysPerNode"
	Emerged Window    `json:"emerged"`
	Look    Window    `json:"look"`
	Decide  Window    `json:"decide"`
	Record  Window    `json:"record"`
	LastN   Window    `json:"lastN"` // last useful day for rescue nitrogen
	Heat    []Heat    `json:"heat"`  // degree days to the last day given, by both methods
	Nodes   Figure    `json:"nodes"` // expected on the last day given, convention as chosen
	Notes   []Message `json:"notes"`
	Next    Next      `json:"next"`
}

// Next is what the digs so far call for; it follows from them by itself.
type Next struct {
	// Visit: "look", "decide", "again" (before deciding), "record", "none"
	Visit string  `json:"visit"`
	Due   Window  `json:"due"`
	Why   Message `json:"why"`
}

// Window is a date with its 10 and 90 % dates, or why there is none.
type Window struct {
	Date    string   `json:"date,omitempty"`
	From    string   `json:"from,omitempty"`
	To      string   `json:"to,omitempty"`
	Unknown *Message `json:"unknown,omitempty"`
	Kind    string   `json:"kind"`
	Sources []string `json:"sources,omitempty"`
}

// Heat is a sum of degree days by one method.
type Heat struct {
	Method string  `json:"method"` // "meanThenFloor", "floorThenMean"
	Base   float64 `json:"base"`   // degrees C
	Sum    float64 `json:"sum"`    // degree days C
	From   string  `json:"from"`   // first day counted: emergence
	To     string  `json:"to"`     // last day counted
}

// RescuePart is rescue nitrogen (section 7). It never tells anybody to apply.
type RescuePart struct {
	// Offered: "yes", "whatIf", "no", "outsideWindow", "unknown"
	Offered        string    `json:"offered"`
	On             string    `json:"on,omitempty"`   // the day of the pass that the figures are for
	Rate           Figure    `json:"rate"`           // N, lb/ac
	Lost           Figure    `json:"lost"`           // bu/ac that the failure costs
	LostMoney      Figure    `json:"lostMoney"`      // $/ac, the same
	Cost           Figure    `json:"cost"`           // $/ac of nitrogen and pass
	Gain           Figure    `json:"gain"`           // bu/ac that the nitrogen brings back
	Limit          string    `json:"limit"`          // "stage", "nitrogen"
	Net            Figure    `json:"net"`            // $/ac
	Pays           Figure    `json:"pays"`           // chance that net > 0
	BreakEvenPrice Figure    `json:"breakEvenPrice"` // $/bu
	BreakEvenYield Figure    `json:"breakEvenYield"` // bu/ac of gain
	LastDay        Window    `json:"lastDay"`
	Other          []Figure  `json:"other"` // rates by the other rules
	Messages       []Message `json:"messages"`
}

// StressPart is what else may explain a yellow field, and when it may be walked.
type StressPart struct {
	KeepOutUntil string `json:"keepOutUntil,omitempty"` // date and hour, local: 2027-06-12T14:00
	// LabelUnread: a pass has no re-entry time: nobody walks until somebody has read its label
	LabelUnread bool      `json:"labelUnread,omitempty"`
	Passes      []Message `json:"passes"`
	Explains    []Message `json:"explains"`
	// Hold: reasons not to stack another stress, or not to call rescue yet
	Hold []Message `json:"hold"`
}

// BalancePart is the nitrogen balance and the credit to the next crop (section 8).
type BalancePart struct {
	Fixed     Figure        `json:"fixed"` // lb/ac
	Removed   Figure        `json:"removed"`
	Net       Figure        `json:"net"` // a range over Ndfa and root factor
	NetByRoot []NamedFigure `json:"netByRoot"`
	// WithFertilizer: the season's partial balance: net and all planned fertilizer N
	WithFertilizer Figure        `json:"withFertilizer"`
	Credit         []NamedFigure `json:"credit"` // by each published rule, never summed
	Chosen         string        `json:"chosen"`
	Messages       []Message     `json:"messages"`
}

// NamedFigure is one rule's answer.
type NamedFigure struct {
	Rule   string `json:"rule"`
	Figure Figure `json:"figure"`
}

// RotationPart are the cautions of the rotation (section 8).
type RotationPart struct {
	HostFreeYears Figure    `json:"hostFreeYears"` // since the last root rot host
	RootRot       string    `json:"rootRot"`       // "none", "amber", "red", "unknown"
	Messages      []Message `json:"messages"`
}

// StripPart is the paired analysis of check strips.
type StripPart struct {
	Pairs int    `json:"pairs"`
	Mean  Figure `json:"mean"` // with minus without, bu/ac, 95 % interval as low and high
	T     Figure `json:"t"`
	P     Figure `json:"p"` // two-sided
	// Flipped: p of the test that flips signs, which assumes no bell curve
	Flipped  Figure    `json:"flipped"`
	Messages []Message `json:"messages"`
}

// ValuePart is what knowing would be worth, before it is made (section 8).
type ValuePart struct {
	Dig       Figure    `json:"dig"`      // $/ac
	DigField  Figure    `json:"digField"` // $/field, after its cost
	Test      Figure    `json:"test"`     // of a soil test, for the starter decision alone, $/ac
	TestField Figure    `json:"testField"`
	Perfect   Figure    `json:"perfect"` // of perfect knowledge of the roots, $/ac
	Messages  []Message `json:"messages"`
}
