package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/soiln"
	"hilum/internal/agro/starter"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

func starterN(p Fertilizer) unit.LbPerAcre {
	return starter.Brought(p.Product, lbPerAcre(p.Rate))
}

func (f *field) starter() StarterPart {
	limit, fig := f.seedRowLimit()
	c := starter.Case{
		To6:       rangeOf(f.to6),
		To12:      rangeOf(f.to12),
		Coarse:    f.in.Ground.Texture == "coarse",
		Placement: f.in.Plan.Placement,
		Serving:   unit.LbPerAcre(f.serving),
		Planned:   unit.LbPerAcre(f.planned),
		SeedRow:   starter.Room{Limit: limit, Used: unit.LbPerAcre(f.seedRow)},
	}
	if f.seedRow > float64(limit) {
		f.caution(code.CautionSeedRow, code.Num("planned", f.seedRow, "lb/ac"),
			code.Num("most", float64(limit), "lb/ac"))
	}
	if f.crop.Starter.Needs == "coarse" && f.in.Ground.Texture == "" {
		f.miss(code.MissingTexture)
	}
	chosen := f.in.StarterRule
	if chosen == "" {
		chosen = "published"
	}
	rule := f.crop.Starter
	return StarterPart{
		Chosen:    chosen,
		Published: f.starterSet(starter.Published(rule, c), cite.Published, rule.Sources),
		Practice: f.starterSet(starter.Practice(rule.External, c), cite.Practice,
			[]string{cite.PracticeStart}),
		SeedRow: fig,
	}
}

func rangeOf(d soiln.Depth) starter.Range {
	ok := d.Known() || d.How == soiln.Bounded
	return starter.Range{Low: d.Low, High: d.High, Known: ok}
}

func (f *field) starterSet(a starter.Answer, kind string, from []string) StarterSet {
	s := StarterSet{Decision: a.Decision, Reasons: sayAll(a.Reasons)}
	s.WithProduct = known(f.brought, "lb/ac N", cite.Derived)
	if a.Known {
		s.Rate = known(float64(a.Rate), "lb/ac N", kind, from...).
			step(code.StepServing, f.serving, "lb/ac").
			step(code.StepStarter, float64(a.Rate), "lb/ac")
	} else {
		s.Rate = unknown("lb/ac N", kind, say(a.Reasons[0]), from...)
	}
	if a.Low != a.High {
		s.Rate = s.Rate.between(float64(a.Low), float64(a.High))
	}
	if a.Limit != nil {
		m := say(*a.Limit)
		s.Limit = &m
	}
	return s
}

// seedRowLimit gives the most N with the seed. Without the drill's geometry the tested limit
// stands, and the figure says so.
func (f *field) seedRowLimit() (unit.LbPerAcre, Figure) {
	p := f.in.Plan
	dry := p.Seedbed == "dry" || p.Seedbed == "hotDry"
	tested := f.crop.SeedRow.N
	from := []string{cite.SafeSeedRow, cite.SeedbedUse}
	if p.OpenerSpread == nil || p.RowSpacing == nil {
		limit := starter.SeedRowLimit(tested, 100, dry)
		if p.Placement == "seedRow" || f.seedRow > 0 {
			f.miss(code.MissingDrill)
		}
		fig := unknown("lb/ac N", cite.Derived, tell(code.SeedRowNoDrill,
			code.Num("most", float64(limit), "lb/ac")), from...)
		return limit, fig
	}
	use := starter.Utilization(inches(*p.OpenerSpread), inches(*p.RowSpacing))
	limit := starter.SeedRowLimit(tested, use, dry)
	fig := known(float64(limit), "lb/ac N", cite.Derived, from...).
		step(code.StepSeedbedUse, use, "%").
		step(code.StepTestedLimit, float64(tested), "lb/ac")
	if dry {
		fig = fig.step(code.StepDryHalf, float64(limit), "lb/ac")
	}
	return limit, fig
}
