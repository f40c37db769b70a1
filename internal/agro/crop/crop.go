// Package crop holds what the engine knows about each crop as data: a new crop is a new record in
// a file of its own, one line in records, and its words in the catalogues.
package crop

import (
	"slices"
	"strings"

	"hilum/internal/unit"
)

// Group is a cross-inoculation group: plants that share rhizobia.
type Group string

// The groups that the engine walks.
const (
	Viciae    Group = "viciae"   // Rhizobium leguminosarum bv. viciae: pea, lentil, faba, vetch
	Phaseoli  Group = "phaseoli" // bv. phaseoli: dry bean
	Chickpeas Group = "chickpea" // Mesorhizobium ciceri
	Soybeans  Group = "soybeans" // Bradyrhizobium japonicum
)

// Span is a published range with the value that stands for it. Mid equals both ends where only one
// value is published; all three are zero where nothing is.
type Span struct{ Low, Mid, High float64 }

// one is a span of a single published value.
func one(v float64) Span { return Span{v, v, v} }

// Starter is a crop's row in the table of published starter nitrogen (our reading of the table's
// sources; see package starter for how it is used).
type Starter struct {
	Kind     string         // "gap", "phosphateOnly", "total", "never"
	Trigger  unit.LbPerAcre // NO3-N 0-12 in below which starter may help
	Target   unit.LbPerAcre // NO3-N plus starter that the rate fills up to; 0 = Total is given
	Total    unit.LbPerAcre // most starter N, MAP and ammonium sulphate included
	External unit.LbPerAcre // most NO3-N 0-12 in plus all fertilizer N
	Needs    string         // what else the trigger takes: "", "coarse", "dryOrFirst"
	// May and Never are NO3-N 0-24 in below which starter may help, and above which it does not, by
	// a second published rule; 0 = none.
	May, Never unit.LbPerAcre
	Sources    []string // keys of package cite
}

// SeedRow is what a crop stands beside its seed.
type SeedRow struct {
	N    unit.LbPerAcre // most N in all, at NUse percent seedbed utilization
	NUse float64
	P    unit.LbPerAcre // most P2O5, at PUse percent; the strictest published; 0 = none published
	PUse float64
	// PMost is the highest published P2O5, under other openers; shown beside P.
	PMost unit.LbPerAcre
	// WideP is the P2O5 in rows of WideFrom and wider, where no N goes with the seed at all;
	// WideFrom 0 = no such rule.
	WideP    unit.LbPerAcre
	WideFrom unit.Inch
	NoUrea   bool
	Sources  []string
}

// Rescue is how the crop is treated where its nodules failed.
type Rescue struct {
	// Kind: "weeks" (recovery by weeks after seeding: pea, chickpea), "stages" (soybean), "whatIf"
	// (no published rate: lentil), "no" (faba, dry bean).
	Kind      string
	PerBushel float64        // cap, lb N/bu of expected yield, soil nitrate taken off; 0 = none
	Most      unit.LbPerAcre // flat cap; 0 = none
	// Flat and Trial are rates that others name and that trials used, lb N/ac; zero = none found.
	Flat, Trial Span
	FlatKind    string // of package cite: kind of Flat
}

// Record is one crop.
type Record struct {
	Key   string
	Names []string // how a rotation may name it, apart from Key; lower case, no spaces
	Group Group

	Uptake  Span    // lb N/bu (60 lb) in the whole crop above ground
	Removal Span    // lb N/bu in the seed
	SeedN   float64 // lb N/bu in the seed that rescue nitrogen has to fill
	Ndfa    Span    // share of plant N from air
	Stand   Span    // target, plants/m2
	SeedRow SeedRow
	Starter Starter
	Rescue  Rescue

	// Native is log10 cells/g that prairie soil holds without a host at neutral pH, and Settled
	// the same after two nodulated crops.
	Native, Settled float64
	// Lift is log10 cells/g after a nodulated host at neutral pH: after the first, the second and
	// further such crops within 12 years.
	Lift [3]float64
	// LimeDrop is log10 taken off Lift on ground with free lime.
	LimeDrop float64
	// LossFactor is f in the loss 0.80 (1 - f p)(1 - s); under 1 nitrogen pays even where the crop
	// nodulates.
	LossFactor float64

	Doubles    bool // the rule of one or two formulations by history applies
	Canopy     bool // nitrogen makes canopy, disease and late maturity: caution
	FlowerNode int  // nodes at first flower, scale-leaf nodes counted
	// BaseTemp is degrees C below which no node appears, and NodeRate nodes for each degree day
	// above it; zero where nothing is published.
	BaseTemp float64
	NodeRate Span
	// HeatToEmerge and HeatToFlower are degree days above HeatBase, C, from seeding to emergence and
	// to early flower; zero where nothing is published.
	HeatBase                   float64
	HeatToEmerge, HeatToFlower Span
	// DaysPerNode and DaysToEmerge stand in where there is no weather.
	DaysPerNode, DaysToEmerge Span
	CountsNodules             bool // judged by nodules for each plant, not by the score card

	// RootRotHost: of Aphanomyces: "red", "amber", "none".
	RootRotHost string
	// SameCropYears is the least number of years between two crops of the kind: 3 by the older
	// published guide, 6 for the hosts of root rot.
	SameCropYears int
	// ClearOf is the least distance in metres to ground that grew the crop last year; 0 = no rule.
	ClearOf float64
	Credits []Credit // to the next crop, by each published rule
	Trial   Trial    // of starter nitrogen by nitrate class; zero = none published

	Sources []string // of uptake, removal, stand and fixation; keys of package cite
}

// OnLime gives the crop as it grows on ground with free lime.
func (r Record) OnLime() Record {
	for i := range r.Lift {
		r.Lift[i] -= r.LimeDrop
	}
	return r
}

// Grown gives the crop on ground that carried nodulated crops of its group: recent ones within 12
// years, and in all. Lift[0] is then the lift of the next one.
func (r Record) Grown(recent, all int) Record {
	r.Lift[0] = r.Lift[min(recent, len(r.Lift)-1)]
	if all >= 2 {
		r.Native = r.Settled
	}
	return r
}

// records lists the crops the engine supports, sorted by key.
var records = []Record{desiChickpea, dryBean, fabaBean, kabuliChickpea, lentil, pea, soybean}

// Records lists the crops the engine supports, by key. The caller must not change them.
func Records() []Record { return records }

// Find gives the record of a supported crop.
func Find(key string) (record Record, ok bool) {
	for _, r := range records {
		if r.Key == key {
			return r, true
		}
	}
	return Record{}, false
}

// Named gives the record of a crop as a rotation names it: "Faba bean", "fababean", "faba".
// Chickpea without its type is desi, which differs from kabuli in no fact of a rotation.
func Named(plant string) (record Record, ok bool) {
	word := normal(plant)
	for _, r := range records {
		if word == strings.ToLower(r.Key) || slices.Contains(r.Names, word) {
			return r, true
		}
	}
	return Record{}, false
}

// Host says whether a plant named in a rotation is a host of the group. A word that the engine
// does not know is no host: cereals and oilseeds need no list.
func Host(group Group, plant string) bool {
	if r, ok := Named(plant); ok {
		return r.Group == group
	}
	return others[normal(plant)] == group && group != ""
}

// normal makes "Faba bean" and "fababean" one word.
func normal(word string) string {
	return strings.ToLower(joiners.Replace(word))
}

// joiners is made once: a rotation asks for it hundreds of times.
var joiners = strings.NewReplacer(" ", "", "-", "", "_", "")

// others are hosts without a record (Saskatchewan Pulse Growers, Inoculant options for pulse
// crops; Alberta Pulse Growers: vetch and chickling vetch share the rhizobia of pea).
var others = map[string]Group{
	"vetch": Viciae, "hairyvetch": Viciae, "commonvetch": Viciae, "chicklingvetch": Viciae,
	"grasspea": Viciae,
}
