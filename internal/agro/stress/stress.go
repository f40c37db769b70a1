// Package stress says what else than missing nodules may turn a crop yellow, when a sprayed field
// may be walked, and what not to do to a crop that is already under stress.
package stress

import "hilum/internal/agro/code"

// Case is what is known of the field.
type Case struct {
	Seen      []string // suspicions of the digs, each once, as an input names them
	Yellow    bool     // pale or yellow plants, or roots that came short
	Nitrate   float64  // X: NO3-N 0-12 in and all fertilizer N, lb/ac; negative = not known
	Dry       bool     // dry seedbed or dry season, as planned
	Acid      bool     // pH in water below 5.5
	Treated   bool     // a seed treatment that harms rhizobia or whose class is not known
	Sulphur   bool     // the plan brings sulphur
	Phosphate bool     // the plan brings phosphate
	DaysSown  int      // from seeding to the last dig; negative = not known
}

// causes names the code of each suspicion.
var causes = map[string]string{
	"rootRot":      code.StressRootRot,
	"weevil":       code.StressWeevil,
	"waterlogging": code.StressWater,
	"herbicide":    code.StressHerbicide,
	"drought":      code.StressDrought,

	"seedTreatment": code.StressWearing,
	"salinity":      code.StressSalt,
	"compaction":    code.StressPacked,
}

// wearsOff is how many days after seeding a seed treatment no longer guards the root (memory: three
// to four weeks; no source read).
const wearsOff = 21

// hides is X in lb/ac from which soil nitrogen holds nodules back (published, faba bean, 35).
const hides = 35.0

// Explain lists what else may explain a yellow field: first what was seen, then what the records
// point to. It is empty where nothing is yellow.
func Explain(c Case) []code.Note {
	var out []code.Note
	for _, s := range c.Seen {
		if name := causes[s]; name != "" {
			out = append(out, code.Say(name))
		}
	}
	if !c.Yellow {
		return out
	}
	add := func(when bool, name string, args ...code.Arg) {
		if when {
			out = append(out, code.Say(name, args...))
		}
	}
	add(c.Nitrate >= hides, code.StressNitrate, code.Num("external", c.Nitrate, "lb/ac"))
	add(c.Dry && !c.has("drought"), code.StressMaybeDry)
	add(c.Acid, code.StressAcid)
	add(c.Treated, code.StressTreatment)
	add(c.DaysSown >= wearsOff && !c.has("rootRot") && !c.has("seedTreatment"), code.StressWornOff,
		code.Num("days", float64(c.DaysSown), "days"))
	add(!c.Sulphur, code.StressSulphur)
	add(!c.Phosphate, code.StressPhosphorus)
	return out
}

func (c Case) has(suspicion string) bool {
	for _, s := range c.Seen {
		if s == suspicion {
			return true
		}
	}
	return false
}

// holds names why to wait, by suspicion.
var holds = map[string]string{
	"rootRot":      code.HoldRootRot,
	"waterlogging": code.HoldWater,
	"herbicide":    code.HoldHerbicide,
	"drought":      code.HoldDrought,
	"weevil":       code.HoldWeevil,
}

// Hold lists why not to call rescue yet.
func Hold(c Case) []code.Note {
	var out []code.Note
	for _, s := range c.Seen {
		if name := holds[s]; name != "" {
			out = append(out, code.Say(name))
		}
	}
	return out
}

// Restless is how many days a crop under stress is given before the next one (ours: "this week").
const Restless = 7
