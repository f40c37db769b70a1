package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
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
		To24:      starter.Range{Low: f.to24.Low, High: f.to24.High, Known: f.to24.Known()},
		Coarse:    f.in.Ground.Texture == "coarse",
		DryOrNew:  f.dry() || f.newGround(),
		Placement: f.in.Plan.Placement,
		Serving:   unit.LbPerAcre(f.serving),
		Planned:   unit.LbPerAcre(f.planned),
		SeedRow:   starter.Room{Limit: limit, Used: unit.LbPerAcre(f.seedRow)},
	}
	if f.seedRow > float64(limit) {
		f.caution(code.CautionSeedRow, code.Num("planned", f.seedRow, "lb/ac"),
			code.Num("most", float64(limit), "lb/ac"))
	}
	rule := f.crop.Starter
	if rule.Needs == "coarse" && f.in.Ground.Texture == "" {
		f.miss(code.MissingTexture)
	}
	part := StarterPart{Chosen: f.in.StarterRule, SeedRow: fig, Others: []NamedFigure{},
		Practice: f.starterSet(starter.Practice(rule.External, c), cite.Practice,
			[]string{cite.PracticeStart})}
	if part.Chosen == "" {
		part.Chosen = "published"
	}
	f.publishedSets(&part, rule, c)
	return part
}

// publishedSets fills in the crop's published rule and the rules that stand beside it.
func (f *field) publishedSets(part *StarterPart, rule crop.Starter, c starter.Case) {
	if rule.Kind == "total" {
		f.beanSets(part, c)
		return
	}
	part.Published = f.starterSet(starter.Published(rule, c), cite.Published, rule.Sources)
	if c.To24.Known && rule.Never > 0 {
		part.Published.Reasons = append(part.Published.Reasons, tell(f.to24Rule(rule),
			code.Num("nitrate", float64(f.to24.N), "lb/ac")))
	}
	if rule.Kind == "never" {
		n, ok := starter.FirstYear(c)
		fig := unknown("lb/ac N", cite.Published, tell(code.StarterNoNitrate24), cite.SoyFirstYear)
		if ok {
			fig = known(float64(n), "lb/ac N", cite.Published, cite.SoyFirstYear)
		}
		fig.Changes = []Message{tell(code.StarterFirstYear)}
		part.Others = append(part.Others, NamedFigure{"firstYear50", fig})
	}
}

// to24Rule names the answer of the 0-24 in rule.
func (f *field) to24Rule(rule crop.Starter) string {
	switch {
	case f.to24.N < rule.May:
		return code.StarterTo24May
	case f.to24.N > rule.Never:
		return code.StarterTo24None
	}
	return code.StarterTo24Neither
}

// beanSets answers for dry bean by the account's rule, with the others beside it.
func (f *field) beanSets(part *StarterPart, c starter.Case) {
	chosen := f.in.Rules.DryBeanN
	if chosen == "" {
		chosen = starter.BeanRules[0] // it reaches the most yield and leaves the nodules standing
	}
	yield := 0.0
	if f.in.Plan.Yield != nil {
		yield = float64(float64(bushels(*f.in.Plan.Yield)) * unit.LbPerBushel)
	}
	from := []string{cite.BeanManitoba, cite.BeanSaskatchewan, cite.BeanMinnesota,
		cite.BeanManitoba}
	for i, rule := range starter.BeanRules {
		set := f.starterSet(starter.Bean(rule, yield, c), cite.Published, from[i:i+1])
		if rule == chosen {
			part.Published = set
			continue
		}
		part.Others = append(part.Others, NamedFigure{rule, set.Rate})
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

// dry says whether the seedbed dries out.
func (f *field) dry() bool {
	return f.in.Plan.Seedbed == "dry" || f.in.Plan.Seedbed == "hotDry"
}

// newGround says whether the recorded rotation holds no host of the crop's group.
func (f *field) newGround() bool {
	for _, s := range f.in.History {
		if f.walkYear(s).Host {
			return false
		}
	}
	return len(f.in.History) > 0
}
