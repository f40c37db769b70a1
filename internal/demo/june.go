package demo

import (
	"hilum/internal/agro"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// loads are what an invented pass carried, as somebody would type it.
var loads = map[string]string{
	"herbicide": "broadleaf herbicide", "insecticide": "weevil insecticide",
}

// june makes what the desk enters in the season: the pass over a field, and who walks it.
func (m *maker) june(i int, field string, p plot) {
	if len(p.pass) > 0 {
		pass := wire.Pass{Field: field, CropYear: m.year, What: p.pass[0], Pass: agro.Pass{
			Product: loads[p.pass[0]], Date: m.day(-int(*number(p.pass[1]))), Time: p.pass[2],
		}}
		if p.pass[3] != "-" {
			pass.ReEntryHours = number(p.pass[3])
		}
		m.desk = append(m.desk, item{id("pass", i), "pass", pass})
	}
	if p.walk != "" {
		walks := wire.Assignment{Field: field, CropYear: m.year}
		if n := int(*number(p.walk)); n > 0 {
			walks.Person = m.staff[1+n].ID
		}
		key := kind.ResultKey(field, m.year)
		m.desk = append(m.desk, item{kind.ID(Farm, "assignment", key), "assignment", walks})
	}
}
