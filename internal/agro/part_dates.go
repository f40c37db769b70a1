package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/stage"
	"hilum/internal/cite"
	"hilum/internal/date"
)

func (c *clock) emergence() Window {
	if _, given := day(c.in.Plan.Emerged); given {
		return window(c.emerged, cite.Derived)
	}
	return window(c.emerged, cite.Ours, cite.EmergenceDays, cite.ChickpeaHeat)
}

// look is the early check: five to six nodes, and not before nodules can be there.
func (c *clock) look(trueNodes bool) Window {
	d := c.nodes(stage.NodesToGo(stage.LookNodes, trueNodes), stage.LookDays)
	return window(d, cite.Ours, cite.NodulationGuide, cite.NodeRate, cite.NodeGuide)
}

// decide is when a bare root is a verdict and nitrogen still brings something back: 21 to 28 days
// after emergence, and before six weeks after seeding.
func (c *clock) decide(note func(Message)) Window {
	wait := stage.DecideDays
	if mean, ok := c.mean(wait); ok && mean < stage.CoolBelow {
		wait = stage.DecideDaysCool
		note(tell(code.StageCool, code.Num("mean", mean, "C")))
	}
	last := c.sown() + 7*stage.LastWeeks
	d := stage.Dates{From: c.emerged.From + wait, Middle: c.emerged.Middle + wait,
		To: max(c.emerged.To+wait, c.emerged.Middle+stage.DecideDaysCool)}
	if d.Middle > last {
		note(tell(code.StageSqueezed))
	}
	d = stage.Dates{From: min(d.From, last), Middle: min(d.Middle, last), To: min(d.To, last)}
	return window(d, cite.Ours, cite.DigTable, cite.NodulationGuide, cite.RescueWeeks)
}

// sown is the day of seeding, worked back from emergence where it is not known.
func (c *clock) sown() int {
	if c.seeded > 0 {
		return c.seeded
	}
	return c.emerged.Middle - whole(c.crop.DaysToEmerge.Mid)
}

// mean is the mean air over some days from emergence on, over all runs that have them.
func (c *clock) mean(days int) (mean float64, ok bool) {
	n := 0
	for _, run := range c.runs {
		from := c.emerged.Middle - c.start
		if from < 0 || from+days > len(run) {
			continue
		}
		for _, d := range run[from : from+days] {
			mean += d.Mean()
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return mean / float64(n), true
}

// record is early flower, where roots are scored: by published degree days from seeding, else by
// nodes.
func (c *clock) record() Window {
	if c.crop.HeatToFlower.Mid > 0 && c.start == c.seeded && len(c.runs) > 0 {
		d := c.fromSeeding(c.crop.HeatToFlower, crop.Span{})
		if d.To > c.start {
			return window(d, cite.Derived, cite.ChickpeaHeat, cite.SoyHeat)
		}
	}
	d := c.nodes(stage.NodesToGo(c.crop.FlowerNode, false), 0)
	return window(d, cite.Ours, cite.NodeRate, cite.NodeGuide, cite.NodulationGuide)
}

// Lentil: Alberta rechecks four weeks after emergence and one to two weeks later (published).
var recheck = crop.Span{Low: 28, Mid: 35, High: 42}

// lastN is the last day on which any published window holds a rescue pass.
func (c *clock) lastN(note func(Message)) Window {
	none := func(name string) Window {
		why := tell(name)
		return Window{Unknown: &why, Kind: cite.Published}
	}
	switch c.crop.Rescue.Kind {
	case "weeks":
		last := c.sown() + 7*stage.LastWeeks
		kind := cite.Published
		if c.seeded == 0 {
			kind = cite.Ours
		}
		return window(stage.Dates{From: last, Middle: last, To: last}, kind, cite.RescueWeeks)
	case "stages":
		return none(code.StageByStage)
	case "whatIf":
		note(tell(code.StageRecheck))
		return window(spread3(c.emerged.Middle, recheck), cite.Published, cite.LentilRecheck)
	}
	return none(code.StageNoRescue)
}

// soFar gives the degree days since emergence to the last day measured, by both methods, and the
// nodes they make.
func (c *clock) soFar(trueNodes bool, note func(Message)) ([]Heat, Figure) {
	heat := []Heat{}
	skip := c.emerged.Middle - c.start
	if skip < 0 || skip >= len(c.measured) {
		return heat, unknown("nodes", cite.Derived, tell(code.StageNoWeather))
	}
	days := c.measured[skip:]
	end := date.Day(c.emerged.Middle + len(days) - 1).String()
	from := date.Day(c.emerged.Middle).String()
	note(dated(code.StageEnds, "date", end))
	for _, m := range []string{stage.MeanThenFloor, stage.FloorThenMean} {
		sum := stage.Clock{Method: m, Base: c.Base}.Sum(days)
		heat = append(heat, Heat{Method: m, Base: c.Base, Sum: sum, From: from, To: end})
	}
	r := c.crop.NodeRate
	if r.Mid == 0 {
		return heat, unknown("nodes", cite.Derived, tell(code.StageNoRate))
	}
	sum := c.Sum(days)
	at := func(rate float64) float64 { return stage.NodesAt(sum, rate, trueNodes) }
	return heat, known(at(r.Mid), "nodes", cite.Derived, cite.NodeRate, cite.DegreeDays).
		between(at(r.Low), at(r.High)).
		step(code.StepHeat, sum, "C days", code.Word("method", "degreeDays."+c.Method),
			code.Num("base", c.Base, "C")).
		step(code.StepNodeRate, r.Mid, "nodes/C day")
}
