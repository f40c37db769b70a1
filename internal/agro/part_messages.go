package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/date"
)

// digMessages says what a reader of the dig must know beside its numbers.
func (f *field) digMessages(part DigPart, u dug) []Message {
	var out []Message
	add := func(when bool, name string, args ...code.Arg) {
		if when {
			out = append(out, tell(name, args...))
		}
	}
	plants := func(n int) code.Arg { return code.Num("plants", float64(n), "plants") }
	x, measured := f.externalN()
	if part.Class == "tooEarly" {
		out = append(out, f.comeBack(u.moment.Cool))
	}
	add(f.in.Plan.Emerged == "" && u.moment.Emerged >= 0, code.DigEmergenceGuessed)
	add(u.moment.Emerged < 0, code.DigTimingUnknown)
	add(u.when == nodule.Late, code.DigLate)
	add(u.notYet > 0, code.DigNotYet, plants(u.notYet))
	add(u.notCut > 0, code.DigNotCut, plants(u.notCut))
	add(u.uncounted > 0, code.DigNotCounted, plants(u.uncounted))
	add(f.belief != nil && len(f.belief.said) > 1, code.DigJoint, f.digsSoFar())
	add(u.green > 0, code.DigGreenOnSoilN, plants(u.green))
	add(part.Patchy, code.DigPatchy)
	add(part.NearEdge, code.DigNearEdge)
	add(part.Enough == nodule.More, code.DigMore,
		code.Num("spots", float64(part.MoreSpots), "spots"))
	add(part.Enough == nodule.Undecided, code.DigUndecided)
	add(!measured, code.DigNitrateUnknown)
	add(x >= delaysFrom, code.DigNitrateHides, code.Num("external", x, "lb/ac"))
	add(len(f.in.Plan.Inoculants) == 0, code.DigPlanGuessed,
		code.Word("option", "option."+f.chosen.key))
	for _, s := range u.Suspicions {
		add(true, code.DigSuspect, code.Word("cause", "suspicion."+s))
		add(s == "rootRot", code.DigRootRot)
	}
	if f.in.Plan.Emerged == "" {
		f.miss(code.MissingEmerged)
	}
	return out
}

// comeBack says from which day a dig can be a verdict, where that day is known.
func (f *field) comeBack(cool bool) Message {
	wait := nodule.DecisionFrom(cool)
	emerged, ok := date.Parse(f.in.Plan.Emerged)
	if !ok {
		return tell(code.DigTooEarly)
	}
	m := tell(code.DigTooEarlyUntil)
	m.Args = map[string]Arg{"date": {Date: (emerged + date.Day(wait)).String()}}
	return m
}
