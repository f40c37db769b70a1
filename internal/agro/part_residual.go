package agro

import (
	"strings"

	"hilum/internal/agro/code"
	"hilum/internal/agro/soiln"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// residual estimates what last year's crop left to 24 in where nobody tested, and sets the nitrate
// that the supply then stands on.
func (f *field) residual() Figure {
	f.left = untested
	model := []string{cite.ResidualModel, cite.FallNitrate, cite.GrainRemoval}
	if f.in.SoilTest != nil {
		return unknown("lb/ac", cite.Ours, tell(code.ResidualTested))
	}
	for _, s := range f.in.History {
		if s.CropYear != f.in.CropYear-1 || s.Harvested == nil || s.Nitrogen == nil {
			continue
		}
		yield, ok := lastYield(s)
		removed, taken := soiln.Removed(strings.ToLower(s.Crop), yield)
		if !ok || !taken {
			break
		}
		given := lbPerAcre(*s.Nitrogen)
		n, low, high := soiln.Residual(given, removed)
		f.left = float64(n)
		fig := known(f.left, "lb/ac", cite.Ours, model...).between(float64(low), float64(high)).
			step(code.StepGivenN, float64(given), "lb/ac").
			step(code.StepRemovedN, float64(removed), "lb/ac",
				code.Num("yield", s.Harvested.Value, s.Harvested.Unit))
		fig.Changes = []Message{tell(code.ResidualEstimate)}
		return fig
	}
	f.miss(code.MissingHarvested)
	return unknown("lb/ac", cite.Ours, tell(code.ResidualNoHarvest), model...)
}

// lastYield gives an earlier crop's yield; a bushel is the crop's own.
func lastYield(s Season) (yield unit.LbPerAcre, ok bool) {
	if s.Harvested.Unit != "bu/ac" {
		return lbPerAcre(*s.Harvested), true
	}
	pounds, ok := soiln.Bushel(strings.ToLower(s.Crop))
	return unit.LbPerAcre(float64(s.Harvested.Value * pounds)), ok
}

// fall says whether the test was sampled in the year before.
func (f *field) fall() bool {
	t := f.in.SoilTest
	return t != nil && t.Sampled >= year(f.in.CropYear-1)+"-08-01" &&
		t.Sampled < year(f.in.CropYear)+"-01-01"
}

// springs says whether the sample is read as spring would find it; the default reads it as sampled,
// since spring losses and gains differ by zone.
func (f *field) springs() bool { return f.fall() && f.in.Rules.FallTest == "addManitoba" }

// fallNotes says how a fall sample is read.
func (f *field) fallNotes() []Message {
	if !f.fall() {
		return nil
	}
	zone := f.in.Ground.SoilZone
	if zone == "black" || zone == "grey" || f.in.Plan.Season == "moist" {
		f.caution(code.CautionFallTest)
	}
	if f.springs() {
		return []Message{tell(code.NitrogenFallAdded,
			code.Num("added", soiln.FallToSpring(), "lb/ac"))}
	}
	return []Message{tell(code.NitrogenFallAsIs)}
}
