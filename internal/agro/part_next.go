package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/cite"
	"hilum/internal/date"
)

// What comes next on a field.
const (
	toLook   = "look"
	toDecide = "decide"
	toDig    = "again"
	toRecord = "record"
	toRest   = "none"
)

// again is how many days after a dig that left the field undecided the next one is worth making
// (ours: nodules that were on their way show by then, and a week of the window is left).
const again = 7

// next schedules the next visit from the digs so far: look, decide, record, and one dig more where
// the deciding dig left it open and the window still holds one. An early bare root leads to the
// deciding dig, never to a verdict.
func (f *field) next(digs []DigPart, s StagePart) Next {
	if len(digs) == 0 {
		return Next{toLook, s.Look, tell(code.NextNoDig)}
	}
	last, on := digs[len(digs)-1], f.in.Digs[len(digs)-1].Date
	record := s.Record
	if left := record.after(on, 1); left.open() {
		record = left
	}
	settled := last.Enough == nodule.Adequate || last.Enough == nodule.Poor
	switch {
	case last.When == nodule.Early && settled && last.Class == nodule.Adequate:
		return Next{toRecord, record, tell(code.NextEarlyGood)}
	case last.When == nodule.Early:
		if w := s.Decide.after(on, 1); w.open() {
			return Next{toDecide, w, tell(code.NextEarly)}
		}
		return Next{toRecord, record, tell(code.NextNoTime)}
	case last.When == nodule.Decision && settled:
		return Next{toRecord, record, tell(code.NextDecided)}
	case last.When == nodule.Decision:
		if w := s.window().after(on, again); w.open() {
			return Next{toDig, w, tell(code.NextUnsure)}
		}
		return Next{toRecord, record, tell(code.NextNoTime)}
	}
	return Next{toRest, Window{Kind: cite.Ours}, tell(code.NextScored)}
}

// window is the deciding window, stretched to the last day on which nitrogen still counts.
func (s StagePart) window() Window {
	w := s.Decide
	if w.To != "" {
		w.To = max(w.To, s.LastN.To)
	}
	return w
}

// open says whether something is left of a window; one that is not known may be.
func (w Window) open() bool { return w.Date != "" || w.Unknown != nil }

// after gives what is left of a window from some days after a date on; without any date where
// nothing is left, and unchanged where it is not known.
func (w Window) after(on string, days int) Window {
	dug, ok := date.Parse(on)
	if !ok || w.To == "" {
		return w
	}
	first := (dug + date.Day(days)).String()
	w.From, w.Date = max(w.From, first), max(w.Date, first)
	if w.From > w.To {
		return Window{Kind: w.Kind, Sources: w.Sources}
	}
	w.Date = min(w.Date, w.To)
	return w
}
