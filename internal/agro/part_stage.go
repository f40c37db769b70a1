package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/stage"
	"hilum/internal/cite"
	"hilum/internal/date"
)

// How the dates of a crop were reached, surest first.
const (
	byMeasured = "measured"
	byClimate  = "climate"
	byDays     = "daysPerNode"
)

// clock is one crop's way through its season. Days count from 1970.
type clock struct {
	*field
	stage.Clock
	start    int            // the day the runs begin: emergence where known, else seeding
	seeded   int            // 0 = not known
	emerged  stage.Dates    // days
	runs     [][]stage.Temp // days from start on, one run for each year drawn on
	measured []stage.Temp   // of them, this year's own
	basis    string         // the least sure way used so far
}

// stage works out the three dates, and what the weather so far says.
func (f *field) stage() StagePart {
	part := StagePart{Heat: []Heat{}, Notes: []Message{}, Basis: byDays}
	c := f.clock()
	if c == nil {
		why := tell(code.StageNoDates)
		f.miss(code.MissingSeeded)
		none := Window{Unknown: &why, Kind: cite.Ours}
		part.Emerged, part.Look, part.Decide = none, none, none
		part.Record, part.LastN = none, none
		part.Nodes = unknown("nodes", cite.Ours, why)
		return part
	}
	note := func(m Message) { part.Notes = append(part.Notes, m) }
	part.Emerged = c.emergence()
	trueNodes := f.in.NodeCount == "trueNodes"
	part.Look = c.look(trueNodes)
	other := dated(code.StageOtherCount, "date", c.look(!trueNodes).Date)
	other.Args["count"] = Arg{Code: "nodeCount." + otherCount(trueNodes)}
	note(other)
	part.Decide = c.decide(note)
	part.Record = c.record()
	part.LastN = c.lastN(note)
	part.Heat, part.Nodes = c.soFar(trueNodes, note)
	part.Basis = c.basis
	if len(c.runs) == 0 {
		note(tell(code.StageNoWeather))
	} else if c.basis == byDays {
		note(tell(code.StageNoRate))
	}
	if c.seeded == 0 {
		note(tell(code.StageNoSeeded))
		f.miss(code.MissingSeeded)
	}
	return part
}

func otherCount(trueNodes bool) string {
	if trueNodes {
		return "withScale"
	}
	return "trueNodes"
}

// dated makes a message with one date.
func dated(name, arg, on string) Message {
	return Message{Code: name, Args: map[string]Arg{arg: {Date: on}}}
}

// clock is nil where neither the seeding nor the emergence date is known. A seeding of the fall before
// stands for none: days and heat over a winter say nothing.
func (f *field) clock() *clock {
	seeded, hasSeeded := day(f.in.Plan.Seeded)
	hasSeeded = hasSeeded && date.Day(seeded).Year() == f.in.CropYear
	emerged, hasEmerged := day(f.in.Plan.Emerged)
	if !hasSeeded && !hasEmerged {
		return nil
	}
	c := &clock{field: f, basis: byMeasured, start: emerged}
	c.Method, c.Base = f.in.Rules.DegreeDays, f.crop.BaseTemp
	if c.Method == "" {
		c.Method = stage.MeanThenFloor
	}
	if hasSeeded {
		c.seeded = seeded
	}
	if !hasEmerged || hasSeeded && f.crop.HeatToFlower.Mid > 0 {
		c.start = seeded
	}
	c.weather()
	c.emerged = stage.Dates{From: emerged, Middle: emerged, To: emerged}
	if !hasEmerged {
		c.emerged = c.fromSeeding(f.crop.HeatToEmerge, f.crop.DaysToEmerge)
	}
	return c
}

// weather joins this year's days with each earlier year's.
func (c *clock) weather() {
	first := date.Day(c.start)
	from := stage.DayOf(first.Month(), dayOfMonth(first))
	years := byYear(c.in.Weather)
	own := years[c.in.CropYear]
	if own == nil {
		own = &stage.Season{}
	}
	c.measured = own.Days(from, nil)
	past := byYear(c.in.Climate)
	for y := c.in.CropYear - 1; y >= c.in.CropYear-oldestClimate; y-- {
		if s := past[y]; s != nil {
			if run := own.Days(from, s); len(run) > 0 {
				c.runs = append(c.runs, run)
			}
		}
	}
	if len(c.runs) == 0 && len(c.measured) > 0 {
		c.runs = [][]stage.Temp{c.measured}
	}
}

// oldestClimate is how many years back climate may reach.
const oldestClimate = 60

func dayOfMonth(d date.Day) int {
	_, _, day := d.Parts()
	return day
}

// byYear sorts days into seasons.
func byYear(days []DayTemp) map[int]*stage.Season {
	years := map[int]*stage.Season{}
	for _, d := range days {
		on, ok := date.Parse(d.Date)
		if !ok {
			continue
		}
		year, month, day := on.Parts()
		if years[year] == nil {
			years[year] = &stage.Season{}
		}
		years[year].Set(stage.DayOf(month, day),
			stage.Temp{Max: float64(celsius(d.Max)), Min: float64(celsius(d.Min))})
	}
	return years
}

// spread3 gives the three days of a span of days.
func spread3(from int, days crop.Span) stage.Dates {
	return stage.Dates{From: from + whole(days.Low), Middle: from + whole(days.Mid),
		To: from + whole(days.High)}
}

func whole(days float64) int { return int(days + 0.5) }

// fromSeeding gives the dates of a stage that is published as degree days from seeding, else as
// days from seeding.
func (c *clock) fromSeeding(heat, days crop.Span) stage.Dates {
	var all []int
	for _, run := range c.runs {
		for _, want := range []float64{heat.Low, heat.Mid, heat.High} {
			if after, ok := c.heatClock().Reach(run, want); ok && heat.Mid > 0 {
				c.used(after)
				all = append(all, c.start+whole(after))
			}
		}
	}
	if len(all) > 0 && len(all) == 3*len(c.runs) {
		return stage.Spread(all)
	}
	return spread3(c.start, days)
}

// heatClock counts from seeding.
func (c *clock) heatClock() stage.Clock { return stage.Clock{Method: c.Method, Base: c.crop.HeatBase} }

// used lowers the basis to what a day so long after the start stands on.
func (c *clock) used(after float64) {
	if c.basis == byMeasured && whole(after) > len(c.measured) {
		c.basis = byClimate
	}
}

// nodes gives the dates by which a crop has made some nodes since it emerged, and not before some
// days after emergence.
func (c *clock) nodes(made float64, atLeast int) stage.Dates {
	e := [3]int{c.emerged.From, c.emerged.Middle, c.emerged.To}
	rates := [3]float64{c.crop.NodeRate.High, c.crop.NodeRate.Mid, c.crop.NodeRate.Low}
	var all []int
	for _, run := range c.runs {
		for _, emerged := range e {
			for _, rate := range rates {
				skip := emerged - c.start
				if rate == 0 || skip < 0 || skip > len(run) {
					continue
				}
				if after, ok := c.Reach(run[skip:], made/rate); ok {
					c.used(after + float64(skip))
					all = append(all, emerged+max(atLeast, whole(after)))
				}
			}
		}
	}
	if len(all) > 0 && len(all) == len(c.runs)*9 {
		return stage.Spread(all)
	}
	c.basis = byDays
	d := c.crop.DaysPerNode
	after := func(days float64) int { return max(atLeast, whole(float64(made*days))) }
	return stage.Dates{From: e[0] + after(d.Low), Middle: e[1] + after(d.Mid),
		To: e[2] + after(d.High)}
}

// window writes dates out.
func window(d stage.Dates, kind string, sources ...string) Window {
	return Window{Date: date.Day(d.Middle).String(), From: date.Day(d.From).String(),
		To: date.Day(d.To).String(), Kind: kind, Sources: sources}
}
