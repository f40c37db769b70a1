package agro

import "hilum/internal/agro/code"

// windows gathers every window of dates of a report.
func windows(r *Report) []Window {
	s := &r.Stage
	return []Window{s.Emerged, s.Look, s.Decide, s.Record, s.LastN, s.Next.Due, r.Rescue.LastDay}
}

// seasonFigures gathers the figures of the season but the digs' own.
func seasonFigures(r *Report) []*Figure {
	p := &r.Rescue
	all := append([]*Figure{&r.Stage.Nodes, &p.Rate, &p.Lost, &p.LostMoney, &p.Cost, &p.Gain, &p.Net,
		&p.Pays, &p.BreakEvenPrice, &p.BreakEvenYield}, ofList(p.Other)...)
	for i := range r.Digs {
		all = append(append(all, &r.Digs[i].Stand), ofNamed(r.Digs[i].Other)...)
	}
	return all
}

// digsSoFar is how many digs count jointly.
func (f *field) digsSoFar() code.Arg {
	n := 0
	if f.belief != nil {
		n = len(f.belief.said)
	}
	return code.Num("digs", float64(n), "digs")
}
