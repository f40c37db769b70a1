// Package starter answers how much starter nitrogen, by the published rows for the crop and by
// common practice. Both count the nitrogen that phosphate and sulphur bring first.
package starter

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/num"
	"hilum/internal/unit"
)

// Decisions.
const (
	None     = "none"
	Optional = "optional"
	Apply    = "apply"
	Unknown  = "unknown"
)

// Common practice, no source: judged on the top 6 in.
const (
	practiceTrigger  unit.LbPerAcre = 15   // below: top up
	practiceOptional unit.LbPerAcre = 20   // up to here: optional; above: none
	practiceTarget   unit.LbPerAcre = 22.5 // soil plus starter, middle of 20 to 25
	practiceLow      unit.LbPerAcre = 20
	practiceHigh     unit.LbPerAcre = 25
)

// smallest is the rate below which nothing is advised: a drill cannot meter it (ours).
const smallest = 0.05

// Range is what is known of a nitrate: Low and High differ where only bounds are known.
type Range struct {
	Low, High unit.LbPerAcre
	Known     bool
}

// Case is what the rules look at.
type Case struct {
	To6, To12 Range
	To24      Range  // of crops that are planned on a total
	Coarse    bool   // texture
	DryOrNew  bool   // a drying seedbed, or the first crop of its rhizobia group
	Placement string // of the starter
	Serving   unit.LbPerAcre
	// Serving is planned N that reaches the young crop in its early gap: all but mid-row bands.
	Planned unit.LbPerAcre // all planned fertilizer N
	SeedRow Room
}

// Room is what the seed row can still take.
type Room struct {
	Limit unit.LbPerAcre // most N with the seed on this drill
	Used  unit.LbPerAcre // N already planned there
}

// Answer is one rule set's answer. Rate is the middle; Low and High its range.
type Answer struct {
	Decision        string
	Rate, Low, High unit.LbPerAcre
	Known           bool // Rate is meaningful
	Limit           *code.Note
	Reasons         []code.Note
}

// Published answers by the crop's row. Where the nitrate is only bounded, both ends are asked: one
// answer is given, two answers are Unknown with the layer that would settle it.
func Published(rule crop.Starter, c Case) Answer {
	if rule.Kind == "never" {
		return no(code.Say(code.StarterNever))
	}
	if !c.To12.Known {
		return Answer{Decision: Unknown, Reasons: []code.Note{code.Say(code.StarterNoNitrate12)}}
	}
	low, high := published(rule, c, c.To12.High), published(rule, c, c.To12.Low)
	if low.Decision != high.Decision {
		return Answer{Decision: Unknown, Low: low.Rate, High: high.Rate,
			Reasons: []code.Note{code.Say(code.StarterAskLayer,
				code.Num("low", float64(c.To12.Low), "lb/ac"),
				code.Num("high", float64(c.To12.High), "lb/ac"))}}
	}
	low.Low, low.High = low.Rate, high.Rate
	return low
}

// no is the answer that nothing is to be applied.
func no(reason code.Note) Answer {
	return Answer{Decision: None, Known: true, Reasons: []code.Note{reason}}
}

func published(rule crop.Starter, c Case, nitrate unit.LbPerAcre) Answer {
	args := []code.Arg{code.Num("nitrate", float64(nitrate), "lb/ac"),
		code.Num("trigger", float64(rule.Trigger), "lb/ac")}
	switch {
	case num.Tenth(float64(nitrate)) >= float64(rule.Trigger):
		return no(code.Say(code.StarterEnough, args...))
	case rule.Kind == "phosphateOnly":
		return no(code.Say(code.StarterMapOnly, args...))
	case rule.Needs == "coarse" && !c.Coarse:
		return no(code.Say(code.StarterCoarseOnly, args...))
	case rule.Needs == "dryOrFirst" && !c.DryOrNew:
		return no(code.Say(code.StarterDryOrFirst, args...))
	}
	total := rule.Total
	if rule.Target > 0 {
		total = min(total, rule.Target-nitrate)
	}
	a := Answer{Decision: Optional, Reasons: []code.Note{code.Say(code.StarterGap, args...)}}
	return a.cap(c, nitrate, rule.External, total-c.Serving)
}

// Practice answers by common practice, capped by the external ceiling and the seed row. external is
// the crop's ceiling.
func Practice(external unit.LbPerAcre, c Case) Answer {
	if !c.To6.Known || c.To6.Low != c.To6.High {
		return Answer{Decision: Unknown, Reasons: []code.Note{code.Say(code.StarterNoNitrate6)}}
	}
	n := c.To6.Low
	args := []code.Arg{code.Num("nitrate", float64(n), "lb/ac"),
		code.Num("trigger", float64(practiceTrigger), "lb/ac"),
		code.Num("most", float64(practiceOptional), "lb/ac")}
	a := Answer{Decision: Apply, Reasons: []code.Note{code.Say(code.PracticeTopUp, args...)}}
	switch shown := num.Tenth(float64(n)); {
	case shown > float64(practiceOptional):
		return Answer{Decision: None, Known: true,
			Reasons: []code.Note{code.Say(code.PracticeEnough, args...)}}
	case shown >= float64(practiceTrigger):
		a.Decision = Optional
		a.Reasons = []code.Note{code.Say(code.PracticeBetween, args...)}
	}
	outer := n
	if c.To12.Known {
		outer = c.To12.High
	}
	low := a.cap(c, outer, external, practiceLow-n-c.Serving)
	high := a.cap(c, outer, external, practiceHigh-n-c.Serving)
	a = a.cap(c, outer, external, practiceTarget-n-c.Serving)
	a.Low, a.High = low.Rate, high.Rate
	return a
}

// cap limits a wanted rate to what the external ceiling, the placement and the seed row allow.
func (a Answer) cap(c Case, nitrate, external, want unit.LbPerAcre) Answer {
	a.Known = true
	a.Reasons = append([]code.Note(nil), a.Reasons...)
	if want < smallest {
		a.Decision, a.Rate = None, 0
		a.Reasons = append(a.Reasons, code.Say(code.StarterCovered,
			code.Num("planned", float64(c.Serving), "lb/ac")))
		return a
	}
	a.Rate = want
	a.most(external-nitrate-c.Planned,
		code.Say(code.LimitExternal, code.Num("most", float64(external), "lb/ac")))
	if c.Placement == "midRow" {
		a.most(0, code.Say(code.LimitMidRow))
	}
	a.inSeedRow(c)
	return a
}

// inSeedRow holds a rate in the seed row to what it still takes, and drops what is too small.
func (a *Answer) inSeedRow(c Case) {
	if c.Placement == "seedRow" {
		a.most(c.SeedRow.Limit-c.SeedRow.Used, code.Say(code.LimitSeedRow,
			code.Num("most", float64(c.SeedRow.Limit), "lb/ac"),
			code.Num("used", float64(c.SeedRow.Used), "lb/ac")))
	}
	if a.Rate < smallest {
		a.Decision, a.Rate = None, 0
	}
}

// most holds the rate to what there is room for.
func (a *Answer) most(room unit.LbPerAcre, why code.Note) {
	if room < a.Rate {
		a.Rate = max(0, room)
		a.limit(why)
	}
}

func (a *Answer) limit(n code.Note) {
	a.Limit = &n
	a.Reasons = append(a.Reasons, n)
}

// Nitrogen that products bring.
const (
	mapN = 11.0 / 52 // lb N with each lb P2O5 of MAP 11-52-0
	asN  = 21.0 / 24 // lb N with each lb S of ammonium sulphate 21-0-0-24
)

// Brought gives the N in a planned rate of a product: of P2O5 for "map", of S for
// "ammoniumSulphate", of N for the others.
func Brought(product string, rate unit.LbPerAcre) unit.LbPerAcre {
	switch product {
	case "map":
		return unit.LbPerAcre(float64(float64(rate) * mapN))
	case "ammoniumSulphate":
		return unit.LbPerAcre(float64(float64(rate) * asN))
	}
	return rate
}
