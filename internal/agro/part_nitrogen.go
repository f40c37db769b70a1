package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/risk"
	"hilum/internal/agro/soiln"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// untested is nitrate 0-24 in where neither a test nor last year's crop says anything, lb/ac (ours,
// from regional means).
const untested = 30.0

func (f *field) nitrogen() NitrogenPart {
	n := NitrogenPart{
		To6In:  f.depth(f.to6, 6),
		To12In: f.depth(f.to12, 12),
		To24In: f.depth(f.to24, 24),
		Notes:  []Message{},
	}
	if f.springs() {
		n.To24In = n.To24In.step(code.StepFallToSpring, soiln.FallToSpring(), "lb/ac")
		n.To24In.Sources = append(n.To24In.Sources, cite.FallToSpring)
	}
	n.Residual = f.residual()
	if f.in.SoilTest == nil {
		f.miss(code.MissingSoilTest)
		n.To24In = n.To24In.between(soiln.LeastUntested, soiln.MostUntested)
		n.To24In.Sources = append(n.To24In.Sources, cite.FallNitrate)
	} else if !f.to12.Known() {
		f.miss(code.MissingLayer12)
	}
	n.External = f.external()
	n.Notes = append(append(n.Notes, f.externalNotes()...), f.fallNotes()...)
	n.SupplyShare = f.share()
	return n
}

// depth is the figure of one depth with the layers it came from.
func (f *field) depth(d soiln.Depth, bottom float64) Figure {
	kind, source := cite.Derived, ""
	if f.in.SoilTest != nil {
		kind, source = kindOf(f.in.SoilTest.PPMRule)
	}
	var fig Figure
	arg := code.Num("depth", bottom, "in")
	switch d.How {
	case soiln.Measured, soiln.Summed:
		fig = known(float64(d.N), "lb/ac", kind)
	case soiln.Bounded:
		fig = unknown("lb/ac", cite.Ours, tell(code.NitrogenBounded, arg))
		fig = fig.between(float64(d.Low), float64(d.High))
	case soiln.AtLeast:
		fig = unknown("lb/ac", kind, tell(code.NitrogenAtLeast, arg,
			code.Num("least", float64(d.Low), "lb/ac")))
	default:
		why := tell(code.NitrogenNoLayer, arg)
		if f.in.SoilTest == nil {
			why = tell(code.NitrogenNoTest)
		}
		return unknown("lb/ac", cite.Derived, why)
	}
	if source != "" {
		fig.Sources = []string{source}
	}
	for i, l := range f.layers {
		if l.Top >= unit.Inch(bottom)-soiln.Slack {
			break
		}
		fig = fig.step(code.StepLayer, float64(l.Nitrate), "lb/ac",
			code.Num("top", f.in.SoilTest.Layers[i].Top.Value, f.in.SoilTest.Layers[i].Top.Unit),
			code.Num("bottom", f.in.SoilTest.Layers[i].Bottom.Value,
				f.in.SoilTest.Layers[i].Bottom.Unit),
			code.Num("found", f.in.SoilTest.Layers[i].Nitrate.Value,
				f.in.SoilTest.Layers[i].Nitrate.Unit))
	}
	return fig
}

// external is X with its working.
func (f *field) external() Figure {
	if f.to12.How == soiln.Missing || f.to12.How == soiln.AtLeast {
		return unknown("lb/ac", cite.Derived, tell(code.ExternalUnknown), cite.FabaFertility)
	}
	low, high := float64(f.to12.Low)+f.planned, float64(f.to12.High)+f.planned
	if !f.to12.Known() {
		return unknown("lb/ac", cite.Derived, tell(code.ExternalBounded), cite.FabaFertility).
			between(low, high)
	}
	return known(low, "lb/ac", cite.Derived, cite.FabaFertility).
		step(code.StepNitrate12, float64(f.to12.N), "lb/ac").
		step(code.StepPlannedN, f.planned, "lb/ac")
}

// Bands of external nitrogen (Saskatchewan Pulse Growers, faba bean: 25 to 35 lb/ac delays and
// reduces nodulation, above 50 can prevent it).
const (
	delaysFrom  = 25.0
	reducesFrom = 35.0
	preventFrom = 50.0
)

func (f *field) externalNotes() []Message {
	if f.to12.How == soiln.Missing || f.to12.How == soiln.AtLeast {
		return nil
	}
	x := float64(f.to12.High) + f.planned
	arg := code.Num("external", x, "lb/ac")
	if f.crop.Canopy && x > reducesFrom {
		f.caution(code.CautionCanopy, arg)
		if f.in.Plan.Season == "moist" {
			f.caution(code.CautionCanopyMoist)
		}
	}
	switch {
	case x > preventFrom:
		return []Message{tell(code.ExternalPrevents, arg)}
	case x >= delaysFrom:
		return []Message{tell(code.ExternalDelays, arg)}
	}
	return []Message{tell(code.ExternalLow, arg)}
}

// deepest gives the nitrate that the supply share stands on, and whether it was measured to 12 in.
func (f *field) deepest() (n float64, measured bool) {
	switch {
	case f.to24.Known():
		return float64(f.to24.N), true
	case f.to12.Known():
		return float64(f.to12.N), true
	case f.in.SoilTest == nil:
		return f.left, false
	}
	return float64(max(f.to24.Low, f.to12.Low, f.to6.Low)), false
}

// share is s with its working, and sets the supply that the losses stand on.
func (f *field) share() Figure {
	why := []string{cite.OrganicN, cite.SupplyModel, cite.UptakeTable}
	if f.in.Plan.Yield == nil {
		f.miss(code.MissingYield)
		return unknown("share", cite.Ours, tell(code.SupplyNoYield), why...)
	}
	om, measured := f.organic()
	if om < 0 {
		f.miss(code.MissingOrganic)
		return unknown("share", cite.Ours, tell(code.SupplyNoOrganic), why...)
	}
	n, tested := f.deepest()
	usable := 0.0
	for _, p := range f.in.Plan.Fertilizers {
		brought := float64(starterN(p))
		usable += float64(brought * soiln.Efficiency(p.Placement))
	}
	s := soiln.NewSupply(unit.LbPerAcre(n), om, f.in.Plan.Season, unit.LbPerAcre(usable),
		f.crop.Uptake.Mid, bushels(*f.in.Plan.Yield))
	cv := risk.UntestedCV
	if tested && measured {
		cv = risk.MeasuredCV
	}
	f.supply, f.shares = &s, risk.NewShares(s.Ratio(), cv)
	fig := known(s.Share(), "share", cite.Ours, why...).
		between(f.shares.Quantile(-risk.Tenth), f.shares.Quantile(risk.Tenth)).
		step(code.StepUsableNitrate, float64(s.Nitrate), "lb/ac", code.Num("nitrate", n, "lb/ac")).
		step(code.StepOrganicN, float64(s.Organic), "lb/ac", code.Num("organic", om, "%")).
		step(code.StepFertilizerN, usable, "lb/ac").
		step(code.StepNeed, float64(s.Need), "lb/ac",
			code.Num("yield", float64(bushels(*f.in.Plan.Yield)), "bu/ac"),
			code.Num("uptake", f.crop.Uptake.Mid, "lb/bu"))
	if !f.to24.Known() {
		fig.Changes = append(fig.Changes, f.shareChange())
	}
	return fig
}

// shareChange says what the nitrate under the supply share lacks.
func (f *field) shareChange() Message {
	if f.in.SoilTest == nil {
		return tell(code.SupplyEstimated, code.Num("nitrate", f.left, "lb/ac"))
	}
	return tell(code.SupplyLowerBound)
}

// organic gives the percent of organic matter and whether it was measured; -1 is unknown.
func (f *field) organic() (percent float64, measured bool) {
	if t := f.in.SoilTest; t != nil && t.OrganicMatter != nil {
		return *t.OrganicMatter, true
	}
	if om, ok := soiln.OrganicMatter(f.in.Ground.SoilZone); ok {
		return om, false
	}
	return -1, false
}
