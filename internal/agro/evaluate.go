package agro

import (
	"slices"

	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/risk"
	"hilum/internal/agro/soiln"
	"hilum/internal/agro/starter"
	"hilum/internal/cite"
)

// Version names the engine; a result is only comparable with one of the same version.
const Version = "0.3.3"

// field is one case on its way through the engine.
type field struct {
	in       Input
	crop     crop.Record
	layers   []soiln.Layer
	to6      soiln.Depth
	to12     soiln.Depth
	to24     soiln.Depth
	left     float64 // nitrate 0-24 in where nobody tested, lb/ac
	planned  float64 // all planned fertilizer N, lb/ac
	serving  float64 // of it, what reaches the young crop early
	brought  float64 // of that, what comes with MAP and ammonium sulphate
	seedRow  float64 // planned N in the seed row
	supply   *soiln.Supply
	shares   risk.Shares // the supply with its spread, where there is one
	pH       float64     // in water; 7 where unknown
	hasPH    bool
	soil     float64      // log10 cells/g now
	ground   *risk.Ground // that soil with its spread
	poor     *risk.Ground // with the model's part of the spread at its 10 % point
	rich     *risk.Ground // at its 90 % point
	chosen   *option      // the planned option, else the advised one
	belief   *belief      // of the share of adequate plants after all digs; nil where not allowed
	missing  []Message
	cautions []Message
}

// Evaluate turns one case into its report. It is pure and gives the same bits on every machine. Its
// error is a *fault.Error of kind Invalid that names the field and the accepted range; missing
// inputs are no error but figures that say why they are unknown.
func Evaluate(in Input) (Report, error) {
	if err := Check(in); err != nil {
		return Report{}, err
	}
	f := newField(in)
	r := Report{Schema: 1, EngineVersion: Version, Crop: in.Crop, CropYear: in.CropYear}
	r.Nitrogen = f.nitrogen()
	r.Starter = f.starter()
	r.Facts = f.facts()
	r.Products = f.products(r.Starter)
	r.Seeding = f.seeding()
	r.Rhizobia = f.rhizobia()
	r.Inoculation = f.inoculation()
	r.Digs = f.digs()
	r.Stage = f.stage()
	r.Stage.Next = f.next(r.Digs, r.Stage)
	r.Rescue = f.rescue(r)
	r.Stress = f.stress(r.Digs)
	f.afterHarvest(&r)
	f.rankMissing()
	r.Headline = f.headline(r)
	f.always()
	r.Missing, r.Cautions = f.missing, f.cautions
	r.Sources = sources(&r)
	return r, nil
}

func newField(in Input) *field {
	record, _ := crop.Find(in.Crop)
	f := &field{in: in, crop: record, pH: assumedPH, missing: []Message{}, cautions: []Message{}}
	f.layers = layersOf(in.SoilTest)
	f.to6, f.to12, f.to24 = soiln.To(f.layers, 6), soiln.To(f.layers, 12), soiln.To(f.layers, 24)
	if f.springs() && f.to24.How != soiln.Missing {
		f.to24 = f.to24.Spring()
	}
	if t := in.SoilTest; t != nil && t.PH != nil {
		f.pH, f.hasPH = t.PH.Value, true
		if t.PH.Basis == "CaCl2" {
			f.pH = risk.WaterPH(t.PH.Value)
		}
	}
	for _, p := range in.Plan.Fertilizers {
		n := float64(starter.Brought(p.Product, lbPerAcre(p.Rate)))
		f.planned += n
		if p.Placement == "seedRow" {
			f.seedRow += n
		}
		if p.Placement != "midRow" {
			f.serving += n
			if p.Product == "map" || p.Product == "ammoniumSulphate" {
				f.brought += n
			}
		}
	}
	return f
}

// assumedPH stands where no pH is known: it takes nothing off survival (ours, said aloud).
const assumedPH = 7.0

// miss records an input that would change the answer, once.
func (f *field) miss(name string, args ...code.Arg) {
	for _, m := range f.missing {
		if m.Code == name {
			return
		}
	}
	f.missing = append(f.missing, tell(name, args...))
}

// useful ranks the missing inputs by how much they change an answer, most first (ours).
var useful = []string{code.MissingSoilTest, code.MissingHistory, code.MissingLayer12,
	code.MissingYield, code.MissingPH, code.MissingOrganic, code.MissingEmerged,
	code.MissingYears, code.MissingSeedbed, code.MissingDrill, code.MissingTexture,
	code.MissingPrice, code.MissingCosts, code.MissingHarvested, code.MissingSeeded,
	code.MissingStage, code.MissingNPrice, code.MissingPassPrice, code.MissingLabelHours}

func (f *field) rankMissing() {
	slices.SortStableFunc(f.missing, func(a, b Message) int {
		return slices.Index(useful, a.Code) - slices.Index(useful, b.Code)
	})
}

// caution records a caution, once.
func (f *field) caution(name string, args ...code.Arg) {
	for _, m := range f.cautions {
		if m.Code == name {
			return
		}
	}
	f.cautions = append(f.cautions, tell(name, args...))
}

// always adds the cautions that no report may lack.
func (f *field) always() {
	for _, name := range []string{code.CautionLabel, code.CautionGear, code.CautionNeverMix,
		code.CautionBoots} {
		f.caution(name)
	}
}

// sources lists what the figures of a report name, sorted by key.
func sources(r *Report) []Source {
	var named cite.Named
	named.Add(r.Inoculation.Sources)
	named.Add(r.Facts.Sources)
	for _, fig := range figures(r) {
		named.Add(fig.Sources)
	}
	for _, w := range windows(r) {
		named.Add(w.Sources)
	}
	out := []Source{}
	for _, s := range named.ByKey() {
		out = append(out, Source(s))
	}
	return out
}

// figures gathers every figure of a report.
func figures(r *Report) []*Figure {
	n, s := &r.Nitrogen, &r.Starter
	all := make([]*Figure, 0, 256)
	all = append(all, &n.To6In, &n.To12In, &n.To24In, &n.External, &n.SupplyShare,
		&s.Published.Rate, &s.Published.WithProduct, &s.Practice.Rate, &s.Practice.WithProduct,
		&s.SeedRow, &r.Rhizobia.Now)
	for i := range r.Inoculation.Options {
		all = append(all, r.Inoculation.Options[i].figures()...)
	}
	all = append(all, planFigures(r)...)
	all = append(all, seasonFigures(r)...)
	all = append(all, afterFigures(r)...)
	if r.Inoculation.Planned != nil {
		all = append(all, r.Inoculation.Planned.figures()...)
	}
	for i := range r.Digs {
		d := &r.Digs[i]
		all = append(all, &d.Share, &d.Score, &d.ScoreA, &d.ScoreB, &d.ScoreC, &d.FailBefore, &d.Fail,
			&d.Good, &d.AdequateMean, &d.RhizobiaAfter)
	}
	return all
}

func (o *Option) figures() []*Figure {
	return []*Figure{&o.Adequate, &o.Fail, &o.Good, &o.LossShare, &o.LossYield, &o.LossMoney,
		&o.Cost, &o.NetReturn, &o.Pays}
}

// planFigures gathers the figures of the winter plan beside nitrogen and inoculant.
func planFigures(r *Report) []*Figure {
	c, s := &r.Facts, &r.Seeding
	all := []*Figure{&r.Nitrogen.Residual, &c.Stand, &c.Uptake, &c.Removal, &c.SeedRowP, &s.Rate,
		&s.Other, &s.Survival, &s.Total, &s.Cost, &s.Granular, &s.Dose}
	all = append(all, ofNamed(r.Starter.Others)...)
	for i := range r.Products.Lines {
		l := &r.Products.Lines[i]
		all = append(all, &l.Exact, &l.Set, &l.Total, &l.CostPerLbN, &l.Cost)
		all = append(all, ofList(l.Other)...)
	}
	return all
}

// ofNamed and ofList give the figures of a list.
func ofNamed(list []NamedFigure) (all []*Figure) {
	for i := range list {
		all = append(all, &list[i].Figure)
	}
	return all
}

func ofList(list []Figure) (all []*Figure) {
	for i := range list {
		all = append(all, &list[i])
	}
	return all
}
