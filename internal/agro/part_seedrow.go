package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/starter"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// bed is the seed row of the plan; ok is false where the drill's geometry is not known.
func (f *field) bed() (b starter.Bed, ok bool) {
	p := f.in.Plan
	b = starter.Bed{Use: 100, Dry: f.dry(), Coarse: f.in.Ground.Texture == "coarse"}
	if p.OpenerSpread == nil || p.RowSpacing == nil {
		return b, false
	}
	b.Use = starter.Utilization(inches(*p.OpenerSpread), inches(*p.RowSpacing))
	return b, true
}

// wide says whether the rows are too wide for fertilizer with this crop's seed.
func (f *field) wide() bool {
	from, row := f.crop.SeedRow.WideFrom, f.in.Plan.RowSpacing
	return from > 0 && row != nil && inches(*row) >= from
}

// seedRowLimit gives the most N with the seed. Without the drill's geometry the tested limit
// stands, and the figure says so.
func (f *field) seedRowLimit() (unit.LbPerAcre, Figure) {
	row := f.crop.SeedRow
	from := append([]string{cite.SeedbedUse}, row.Sources...)
	bed, ok := f.bed()
	if f.wide() {
		fig := known(0, "lb/ac N", cite.Published, row.Sources...)
		fig.Changes = []Message{tell(code.SeedRowWide, code.Num("from", float64(row.WideFrom), "in"))}
		return 0, fig
	}
	limit := bed.Limit(row.N, row.NUse)
	if !ok {
		if f.in.Plan.Placement == "seedRow" || f.seedRow > 0 {
			f.miss(code.MissingDrill)
		}
		return limit, unknown("lb/ac N", cite.Derived, tell(code.SeedRowNoDrill,
			code.Num("most", float64(limit), "lb/ac")), from...)
	}
	return limit, f.bedSteps(known(float64(limit), "lb/ac N", cite.Derived, from...), bed,
		float64(row.N))
}

// bedSteps adds the working of a seed-row limit.
func (f *field) bedSteps(fig Figure, bed starter.Bed, tested float64) Figure {
	fig = fig.step(code.StepSeedbedUse, bed.Use, "%").step(code.StepTestedLimit, tested, "lb/ac")
	if bed.Dry {
		fig = fig.step(code.StepDryHalf, *fig.Value/bed.Texture(), "lb/ac")
	}
	if bed.Coarse {
		fig = fig.step(code.StepCoarse, *fig.Value, "lb/ac")
		fig.Sources = append(fig.Sources, cite.CoarseSeedRow)
	}
	return fig
}

// seedRowP gives the most P2O5 with the seed, and warns where more is planned.
func (f *field) seedRowP() Figure {
	row := f.crop.SeedRow
	bed, ok := f.bed()
	if row.P == 0 && !f.wide() {
		return unknown("lb/ac P2O5", cite.Published, tell(code.SeedRowNoP), row.Sources...)
	}
	limit := bed.Limit(row.P, row.PUse)
	if f.wide() {
		limit = bed.Limit(row.WideP, row.PUse)
	}
	f.warnP(limit)
	if f.crop.SeedRow.NoUrea && f.ureaWithSeed() {
		f.caution(code.CautionSeedRowUrea)
	}
	fig := known(float64(limit), "lb/ac P2O5", cite.Derived, row.Sources...)
	if ok && !f.wide() {
		fig = f.bedSteps(fig, bed, float64(row.P))
		fig.Sources = append(fig.Sources, cite.SeedbedUse)
	}
	if row.PMost > row.P {
		fig.Changes = []Message{tell(code.SeedRowOtherP,
			code.Num("most", float64(row.PMost), "lb/ac"))}
	}
	return fig
}

// warnP compares the P2O5 that is planned with the seed with the limit.
func (f *field) warnP(limit unit.LbPerAcre) {
	planned := unit.LbPerAcre(0)
	if d := f.in.Drill; d != nil && d.SeedRowP2O5 != nil {
		planned = lbPerAcre(*d.SeedRowP2O5)
	}
	for _, p := range f.in.Plan.Fertilizers {
		if p.Product == "map" && p.Placement == "seedRow" {
			planned += lbPerAcre(p.Rate)
		}
	}
	if planned > limit {
		f.caution(code.CautionSeedRowP, code.Num("planned", float64(planned), "lb/ac"),
			code.Num("most", float64(limit), "lb/ac"))
	}
}

func (f *field) ureaWithSeed() bool {
	for _, p := range f.in.Plan.Fertilizers {
		if p.Product == "urea" && p.Placement == "seedRow" {
			return true
		}
	}
	return false
}
