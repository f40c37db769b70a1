// Package crop holds what the engine knows about each crop as data: a new crop is a new record.
package crop

import (
	"strings"

	"hilum/internal/unit"
)

// Group is a cross-inoculation group: plants that share rhizobia.
type Group string

// The groups that the engine walks.
const (
	Viciae Group = "viciae" // Rhizobium leguminosarum bv. viciae: pea, lentil, faba, vetch
)

// Starter is a crop's row in the table of published starter nitrogen (our reading of the table's
// sources; see package starter for how it is used).
type Starter struct {
	Trigger    unit.LbPerAcre // NO3-N 0-12 in below which starter may help
	Target     unit.LbPerAcre // NO3-N plus starter that the rate fills up to; 0 = Total is given
	Total      unit.LbPerAcre // most starter N, MAP and ammonium sulphate included
	External   unit.LbPerAcre // most NO3-N 0-12 in plus all fertilizer N
	CoarseOnly bool           // the trigger counts on coarse soil only
	Sources    []string       // keys of package cite
}

// Record is one crop.
type Record struct {
	Key    string
	Group  Group
	Uptake float64 // lb N taken up for each bushel, middle of the published range
	// SeedRowN is the most N with the seed at the tested seedbed utilization.
	SeedRowN unit.LbPerAcre
	// Native is log10 cells/g that prairie soil holds without a host at neutral pH.
	Native float64
	// Lift is log10 cells/g after a nodulated host at neutral pH.
	Lift       float64
	Starter    Starter
	Canopy     bool // nitrogen makes canopy, disease and late maturity: caution
	FlowerNode int  // nodes at first flower, scale-leaf nodes counted
}

// Records lists the crops the engine supports, by key.
func Records() []Record { return []Record{lentil, pea} }

// Find gives the record of a supported crop.
func Find(key string) (record Record, ok bool) {
	for _, r := range Records() {
		if r.Key == key {
			return r, true
		}
	}
	return Record{}, false
}

// Host says whether a plant named in a rotation is a host of the group. A word that the engine
// does not know is no host: cereals and oilseeds need no list.
func Host(group Group, plant string) bool {
	return hosts[normal(plant)] == group && group != ""
}

// normal makes "Faba bean" and "fababean" one word.
func normal(word string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(word))
}

// hosts of the viciae group (Saskatchewan Pulse Growers, Inoculant options for pulse crops;
// Alberta Pulse Growers: pea, lentil and faba share rhizobia, vetch and chickling vetch too).
var hosts = map[string]Group{
	"pea": Viciae, "peas": Viciae, "fieldpea": Viciae, "foragepea": Viciae, "winterpea": Viciae,
	"lentil": Viciae, "lentils": Viciae,
	"faba": Viciae, "fababean": Viciae, "fava": Viciae, "favabean": Viciae,
	"vetch": Viciae, "hairyvetch": Viciae, "commonvetch": Viciae, "chicklingvetch": Viciae,
	"grasspea": Viciae,
}
