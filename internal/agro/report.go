package agro

// Report is everything the engine has to say about one Input: codes and typed values, never
// sentences. Catalogues hold the words.
type Report struct {
	Schema        int           `json:"schema"`
	EngineVersion string        `json:"engineVersion"`
	Crop          string        `json:"crop"`
	CropYear      int           `json:"cropYear"`
	Nitrogen      NitrogenPart  `json:"nitrogen"`
	Starter       StarterPart   `json:"starter"`
	Rhizobia      RhizobiaPart  `json:"rhizobia"`
	Inoculation   InoculantPart `json:"inoculation"`
	Digs          []DigPart     `json:"digs"` // one for each dig of the input, same order
	Facts         CropPart      `json:"facts"`
	Products      ProductPart   `json:"products"`
	Seeding       SeedingPart   `json:"seeding"`
	Stage         StagePart     `json:"stage"`
	Rescue        RescuePart    `json:"rescue"`
	Stress        StressPart    `json:"stress"`
	Balance       BalancePart   `json:"balance"`
	Rotation      RotationPart  `json:"rotation"`
	Strips        StripPart     `json:"strips"`
	Value         ValuePart     `json:"value"`
	Headline      Headline      `json:"headline"` // what the field list shows
	// Missing: inputs that would change the answer, most useful first
	Missing  []Message `json:"missing"`
	Cautions []Message `json:"cautions"` // always shown
	Sources  []Source  `json:"sources"`  // every source a figure of this report names
}

// Message is a catalogue code with its arguments.
type Message struct {
	Code string         `json:"code"`
	Args map[string]Arg `json:"args,omitempty"`
}

// Arg is one typed argument: exactly one of Number, Date, Code or Text is set.
type Arg struct {
	Number *float64 `json:"number,omitempty"`
	Unit   string   `json:"unit,omitempty"` // of Number
	Date   string   `json:"date,omitempty"`
	Code   string   `json:"code,omitempty"` // a catalogue code of its own
	Text   string   `json:"text,omitempty"` // typed by a person
}

// Figure is one computed number with its range, its kind and the way it was reached.
// Exactly one of Value and Unknown is set.
type Figure struct {
	Value *float64 `json:"value,omitempty"`
	// Unit: "lb/ac", "bu/ac", "$/ac", "share", "chance", "log10 cells/g", "lb/ac N", ...
	Unit string   `json:"unit"`
	Low  *float64 `json:"low,omitempty"`  // 10 %
	High *float64 `json:"high,omitempty"` // 90 %
	// Median: 50 %, where it differs from Value, the expected value
	Median *float64 `json:"median,omitempty"`
	// Kind: "published", "derived", "practice", "memory", "ours"
	Kind    string    `json:"kind"`
	Unknown *Message  `json:"unknown,omitempty"`
	Steps   []Step    `json:"steps,omitempty"`
	Sources []string  `json:"sources,omitempty"` // keys into Report.Sources
	Changes []Message `json:"changes,omitempty"` // what would change the answer
}

// Step is one line of the working.
type Step struct {
	Code  string         `json:"code"` // catalogue code; the words hold the formula
	Args  map[string]Arg `json:"args,omitempty"`
	Value float64        `json:"value"`
	Unit  string         `json:"unit"`
}

// Source is where a number comes from.
type Source struct {
	Key     string `json:"key"`
	Kind    string `json:"kind"` // as Figure.Kind
	Author  string `json:"author,omitempty"`
	Year    int    `json:"year,omitempty"`
	Title   string `json:"title"`
	Locator string `json:"locator,omitempty"`
}

// NitrogenPart is what the young crop will find (engine section 1).
type NitrogenPart struct {
	To6In  Figure `json:"to6in"`  // lb/ac NO3-N
	To12In Figure `json:"to12in"` // lb/ac NO3-N, a range where only 0-6 in is known
	To24In Figure `json:"to24in"` // lb/ac NO3-N
	// Residual: without a test: what last year's crop left to 24 in, a wide estimate, lb/ac NO3-N
	Residual Figure `json:"residual"`
	// External: X: nitrate 0-12 in + all planned fertilizer N, lb/ac
	External Figure `json:"external"`
	// SupplyShare: s: share of the crop's N need that soil and fertilizer could cover
	SupplyShare Figure    `json:"supplyShare"`
	Notes       []Message `json:"notes"`
}

// StarterPart holds both rule sets; Chosen names the account's.
type StarterPart struct {
	Chosen    string     `json:"chosen"`
	Published StarterSet `json:"published"`
	Practice  StarterSet `json:"practice"`
	SeedRow   Figure     `json:"seedRow"` // most N with the seed, lb/ac, as scaled to this drill
	// Others: the rate by other published rules for the crop, lb/ac N: "total70", "total80",
	// "yieldBased", "none", "firstYear50"
	Others []NamedFigure `json:"others"`
}

// StarterSet is one rule set's answer.
type StarterSet struct {
	Decision string `json:"decision"` // "none", "optional", "apply", "unknown"
	// Rate: starter N still to apply beyond what MAP and AS bring, lb/ac
	Rate Figure `json:"rate"`
	// WithProduct: N that comes with MAP and ammonium sulphate, lb/ac
	WithProduct Figure    `json:"withProduct"`
	Limit       *Message  `json:"limit,omitempty"` // what capped the rate
	Reasons     []Message `json:"reasons"`
}

// RhizobiaPart is the walk through the rotation (section 3, our model).
type RhizobiaPart struct {
	Now  Figure `json:"now"` // log10 compatible cells per gram before seeding
	Walk []Walk `json:"walk"`
}

// Walk is one year of it.
type Walk struct {
	CropYear int       `json:"cropYear"`
	Crop     string    `json:"crop"`
	Level    float64   `json:"level"` // log10 cells/g after that year
	Notes    []Message `json:"notes,omitempty"`
}

// InoculantPart compares the plans (sections 4 to 6, our model).
type InoculantPart struct {
	// Options: "none", "liquid", "peat", "granular", "granularPeat", in this order
	Options []Option `json:"options"`
	Planned *Option  `json:"planned,omitempty"` // what the plan says, where it says something
	// Advice: option key that this ground calls for, or "unknown"; never "none"
	Advice  string    `json:"advice"`
	Reasons []Message `json:"reasons"`
	// Rule: soybean by its history: "single", "double"; "" for other crops
	Rule string `json:"rule,omitempty"`
	// Response: how likely inoculation pays by the published table for pea, lentil and faba:
	// "high", "moderate", "low"; "" for other crops and without a history
	Response string   `json:"response,omitempty"`
	Sources  []string `json:"sources"` // of Rule and Response
}

// Option is one inoculant plan for this field.
type Option struct {
	Key string `json:"key"`
	// Adequate: p: expected share of adequately nodulated plants
	Adequate  Figure `json:"adequate"`
	Fail      Figure `json:"fail"`      // chance that p < 0.50
	Good      Figure `json:"good"`      // chance that p >= 0.70
	LossShare Figure `json:"lossShare"` // expected loss as a share of yield
	LossYield Figure `json:"lossYield"` // bu/ac
	LossMoney Figure `json:"lossMoney"` // $/ac
	Cost      Figure `json:"cost"`      // $/ac
	NetReturn Figure `json:"netReturn"` // expected, over no inoculant, $/ac
	Pays      Figure `json:"pays"`      // chance that NetReturn is above zero
	// NotAllowed: label hours passed, expired, frozen, overheated: no numbers
	NotAllowed *Message  `json:"notAllowed,omitempty"`
	Notes      []Message `json:"notes,omitempty"`
}

// DigPart is what one dig says (section 7).
type DigPart struct {
	ID     string `json:"id"`
	When   string `json:"when"` // "early", "decision", "scored", "late"
	Plants int    `json:"plants"`
	// Counted: plants that are adequate or poor; "not yet" is out
	Counted  int    `json:"counted"`
	Adequate int    `json:"adequate"`
	NotYet   int    `json:"notYet"`
	Share    Figure `json:"share"` // adequate / counted, interval allows for spots
	// Other: the share by the rule of counting that was not chosen; empty where there is one rule
	Other  []NamedFigure `json:"other"`
	Score  Figure        `json:"score"` // mean total of 13, t interval on spot means
	ScoreA Figure        `json:"scoreA"`
	ScoreB Figure        `json:"scoreB"`
	ScoreC Figure        `json:"scoreC"`
	// Band: "effective", "lessEffective", "poor", of the mean score
	Band     string `json:"band"`
	NearEdge bool   `json:"nearEdge"`
	// Class: "adequate", "borderline", "poor", "none", "tooEarly"
	Class         string        `json:"class"`
	Enough        string        `json:"enough"`    // "adequate", "poor", "more", "undecided"
	MoreSpots     int           `json:"moreSpots"` // of five plants, until the next decision point
	Patchy        bool          `json:"patchy"`
	DaysEmerged   *int          `json:"daysEmerged,omitempty"`
	FailBefore    Figure        `json:"failBefore"`
	Fail          Figure        `json:"fail"` // chance of failure with this dig
	Good          Figure        `json:"good"`
	AdequateMean  Figure        `json:"adequateMean"` // posterior mean p
	RhizobiaAfter Figure        `json:"rhizobiaAfter"`
	PlantResults  []PlantResult `json:"plantResults"`
	// Stand: plants/m2, mean of the places counted with its 95 % interval on places
	Stand    Figure    `json:"stand"`
	Messages []Message `json:"messages"`
}

// PlantResult is one plant's score, spots in order.
type PlantResult struct {
	Spot   int    `json:"spot"` // 0-based
	A      int    `json:"a"`
	B      int    `json:"b"`
	C      int    `json:"c"`
	Result string `json:"result"` // "adequate", "notYet", "poor"
}

// Headline is what a list of fields shows and what is stored in columns.
type Headline struct {
	StarterDecision string   `json:"starterDecision"`
	StarterN        *float64 `json:"starterN,omitempty"` // lb/ac
	Option          string   `json:"option"`             // the planned option, else the advised one
	// Fail: chance of failure of Option (after the last dig where there is one)
	Fail *float64 `json:"fail,omitempty"`
	// FailLow: range of the chance when the inputs move by their spread
	FailLow  *float64 `json:"failLow,omitempty"`
	FailHigh *float64 `json:"failHigh,omitempty"`
	// LossShare: median, after the digs where there are some
	LossShare *float64 `json:"lossShare,omitempty"`
	LossLow   *float64 `json:"lossLow,omitempty"`  // 10 %
	LossHigh  *float64 `json:"lossHigh,omitempty"` // 90 %
	DigClass  string   `json:"digClass,omitempty"`
	// DigEnough: of the dig that DigClass is from, as DigPart.Enough: with "more" the class is so far
	DigEnough string   `json:"digEnough,omitempty"`
	Missing   []string `json:"missing"` // codes
}
