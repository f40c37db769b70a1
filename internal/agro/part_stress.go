package agro

import (
	"slices"

	"hilum/internal/agro/code"
	"hilum/internal/agro/stress"
	"hilum/internal/date"
)

const minutesOfDay = 24 * 60

// stress says what else may explain a yellow field and when it may be walked.
func (f *field) stress(digs []DigPart) StressPart {
	part := StressPart{Passes: []Message{}}
	f.reEntry(&part)
	c := f.stressCase(digs)
	part.Explains = sayAll(stress.Explain(c))
	part.Hold = sayAll(stress.Hold(c))
	if last, ok := f.lastStress(); ok {
		until := date.Day(last + stress.Restless).String()
		part.Hold = append(part.Hold, dated(code.HoldStack, "date", until))
	}
	return part
}

// reEntry works out until when the field is kept clear.
func (f *field) reEntry(part *StressPart) {
	sprays := make([]stress.Spray, len(f.in.Passes))
	for i, p := range f.in.Passes {
		sprays[i] = sprayOf(p)
	}
	until, ok, unread := stress.KeepOut(sprays)
	if ok {
		part.KeepOutUntil = moment(until)
	}
	if len(unread) > 0 {
		part.LabelUnread = true
		f.miss(code.MissingLabelHours)
	}
	for i, p := range f.in.Passes {
		m := dated(code.PassUnread, "date", p.Date)
		if sprays[i].Read {
			end, _, _ := stress.KeepOut(sprays[i : i+1])
			m = dated(code.PassClear, "date", moment(end))
		}
		m.Args["product"] = Arg{Text: p.Product}
		part.Passes = append(part.Passes, m)
	}
}

// sprayOf reads a pass. One without an hour ended at the end of its day.
func sprayOf(p Pass) stress.Spray {
	on, _ := day(p.Date)
	s := stress.Spray{Done: (on + 1) * minutesOfDay}
	if m, ok := clockTime(p.Time); ok {
		s.Done = on*minutesOfDay + m
	}
	if p.ReEntryHours != nil {
		s.Hours, s.Read = *p.ReEntryHours, true
	}
	return s
}

// clockTime gives the minutes of a time like 14:05; ok is false for anything else.
func clockTime(s string) (minutes int, ok bool) {
	if len(s) != len("14:05") || s[2] != ':' {
		return 0, false
	}
	var n [4]int
	for i, at := range []int{0, 1, 3, 4} {
		n[i] = int(s[at]) - '0'
		if n[i] < 0 || n[i] > 9 {
			return 0, false
		}
	}
	hour, minute := 10*n[0]+n[1], 10*n[2]+n[3]
	return 60*hour + minute, hour < 24 && minute < 60
}

// moment writes minutes since 1970 as 2027-06-12T14:00, on the field's own clock.
func moment(minutes int) string {
	of := minutes % minutesOfDay
	two := func(n int) string { return string([]byte{byte('0' + n/10), byte('0' + n%10)}) }
	return date.Day(minutes/minutesOfDay).String() + "T" + two(of/60) + ":" + two(of%60)
}

// stressCase gathers what the digs and the plan say.
func (f *field) stressCase(digs []DigPart) stress.Case {
	x, known := f.externalN()
	if !known {
		x = -1
	}
	c := stress.Case{Nitrate: x, DaysSown: -1, Acid: f.hasPH && f.pH < peatFrom,
		Dry: f.seedbed() == "dry" || f.seedbed() == "hotDry" || f.in.Plan.Season == "dry"}
	for _, p := range f.in.Plan.Fertilizers {
		c.Sulphur = c.Sulphur || p.Product == "ammoniumSulphate"
		c.Phosphate = c.Phosphate || p.Product == "map"
	}
	for _, i := range f.in.Plan.Inoculants {
		seed := i.Form != "granular"
		c.Treated = c.Treated || seed && (i.TreatmentClass == nil || *i.TreatmentClass > 0)
	}
	for i, d := range f.in.Digs {
		for _, s := range d.Suspicions {
			if !slices.Contains(c.Seen, s) {
				c.Seen = append(c.Seen, s)
			}
		}
		c.Yellow = c.Yellow || yellow(d, digs[i].Class)
	}
	seeded, sown := day(f.in.Plan.Seeded)
	if n := len(f.in.Digs); n > 0 && sown {
		last, _ := day(f.in.Digs[n-1].Date)
		c.DaysSown = last - seeded
	}
	return c
}

// yellow says whether a dig calls for an explanation.
func yellow(d Dig, class string) bool {
	if class != "adequate" && class != "tooEarly" {
		return true
	}
	for _, s := range d.Spots {
		for _, p := range s.Plants {
			if p.Vigour == "pale" || p.Vigour == "yellow" {
				return true
			}
		}
	}
	return false
}

// lastStress is the last day on which the crop was seen under stress, or sprayed within a week of a
// dig.
func (f *field) lastStress() (last int, ok bool) {
	for _, d := range f.in.Digs {
		dug, _ := day(d.Date)
		if len(d.Suspicions) > 0 {
			last, ok = dug, true
		}
		for _, p := range f.in.Passes {
			on, _ := day(p.Date)
			if on <= dug && dug <= on+stress.Restless && (!ok || on > last) {
				last, ok = on, true
			}
		}
	}
	return last, ok
}
