package agro

import (
	"slices"
	"strings"

	"hilum/internal/agro/code"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
)

// option is an inoculant plan on its way to an Option.
type option struct {
	key      string
	products []risk.Product
	refused  *Message
	notes    []Message
	live     risk.Live
	outcome  risk.Outcome
}

// What stands where the plan is silent, said aloud in the option's notes (ours; class 1 where a
// treatment is not known).
const (
	assumedClass   = 1
	assumedHours   = 4.0
	assumedSeedbed = "marginal"
	standardDose   = 1e5 // live cells per seed guaranteed for large seeds (Canada, 2006 to 2013)
)

func (f *field) inoculation() InoculantPart {
	if f.in.Plan.Seedbed == "" {
		f.miss(code.MissingSeedbed)
	}
	if f.in.Plan.Price == nil {
		f.miss(code.MissingPrice)
	}
	compared := []string{"none", risk.Liquid, risk.Peat, risk.Granular, "granularPeat"}
	part := InoculantPart{Options: make([]Option, 0, len(compared)), Sources: []string{}}
	all := make([]option, 0, len(compared))
	for _, key := range compared {
		o := f.option(key, f.standard(key))
		f.spread(&o)
		all = append(all, o)
		part.Options = append(part.Options, f.show(o, all[0]))
	}
	f.byHistory(&part)
	advised, reasons := f.advise(all, part.Rule)
	part.Advice, part.Reasons = advised.key, reasons
	f.chosen = &advised
	if len(f.in.Plan.Inoculants) > 0 {
		planned := f.asPlanned()
		shown, same := f.shownBefore(&planned, all, part.Options)
		if !same {
			f.spread(&planned)
			shown = f.show(planned, all[0])
		}
		part.Planned, f.chosen = &shown, &planned
	}
	return part
}

// standard gives the products of a compared option, with the seed treatment and the hours of the
// plan and one full dose each.
func (f *field) standard(key string) []Inoculant {
	like := Inoculant{}
	for _, i := range f.in.Plan.Inoculants {
		if i.Form != risk.Granular || len(f.in.Plan.Inoculants) == 1 {
			like.TreatmentClass, like.HoursOnSeed = i.TreatmentClass, i.HoursOnSeed
			break
		}
	}
	var out []Inoculant
	for _, form := range []string{risk.Granular, risk.Liquid, risk.Peat} {
		if strings.Contains(strings.ToLower(key), form) {
			like.Form = form
			out = append(out, like)
		}
	}
	return out
}

// asPlanned is the option of the plan, named by its forms.
func (f *field) asPlanned() option {
	var forms []string
	for _, form := range []string{risk.Granular, risk.Peat, risk.Liquid} {
		if slices.ContainsFunc(f.in.Plan.Inoculants, func(i Inoculant) bool {
			return i.Form == form
		}) {
			forms = append(forms, form)
		}
	}
	key := forms[0]
	for _, form := range forms[1:] {
		key += strings.ToUpper(form[:1]) + form[1:]
	}
	return f.option(key, f.in.Plan.Inoculants)
}

// option reads one plan, and says why where it is not allowed.
func (f *field) option(key string, inoculants []Inoculant) option {
	o := option{key: key}
	for _, i := range inoculants {
		p := risk.Product{Form: i.Form, Dose: 1, Class: assumedClass, Hours: assumedHours}
		if i.CellsPerSeed != nil {
			p.Dose = *i.CellsPerSeed / standardDose
			m := doseNote(*i.CellsPerSeed, standardDose, "cells/seed")
			o.notes = append(o.notes, m)
		}
		if i.TreatmentClass != nil {
			p.Class = *i.TreatmentClass
		} else if i.Form != risk.Granular {
			o.note(code.OptionAssumedClass)
		}
		if i.HoursOnSeed != nil {
			p.Hours = *i.HoursOnSeed
		} else if i.Form != risk.Granular {
			o.note(code.OptionAssumedHours, code.Num("hours", assumedHours, "h"))
		}
		o.refuse(i, p.Hours)
		o.products = append(o.products, p)
	}
	return o
}

// spread works out what an option that is allowed comes to.
func (f *field) spread(o *option) {
	if o.refused == nil {
		o.live = risk.NewLive(o.products, f.pH, f.seedbed())
		o.outcome = f.ground.Outcome(o.live)
	}
}

// shownBefore takes the figures of a plan from the option that compares the same products, if any.
func (f *field) shownBefore(planned *option, all []option, options []Option) (Option, bool) {
	for i, o := range all {
		if planned.refused == nil && o.refused == nil && slices.Equal(o.products, planned.products) {
			planned.live, planned.outcome = o.live, o.outcome
			out := options[i]
			out.Key, out.Notes = planned.key, planned.notes
			return out, true
		}
	}
	return Option{}, false
}

func (o *option) note(name string, args ...code.Arg) {
	for _, n := range o.notes {
		if n.Code == name {
			return
		}
	}
	o.notes = append(o.notes, tell(name, args...))
}

// refuse applies the hard limits: the label's hours, and products that are no longer alive.
func (o *option) refuse(i Inoculant, hours float64) {
	switch {
	case i.State != "" && i.State != "good":
		m := tell(code.OptionState, code.Word("state", "state."+i.State),
			code.Word("form", "option."+i.Form))
		o.refused = &m
	case i.LabelHours != nil && i.HoursOnSeed != nil && hours > *i.LabelHours:
		m := tell(code.OptionLabelHours, code.Num("hours", hours, "h"),
			code.Num("most", *i.LabelHours, "h"), code.Word("form", "option."+i.Form))
		o.refused = &m
	}
}

func (f *field) seedbed() string {
	if f.in.Plan.Seedbed == "" {
		return assumedSeedbed
	}
	return f.in.Plan.Seedbed
}

// show turns an option into its figures; none is the option without an inoculant.
func (f *field) show(o, none option) Option {
	out := Option{Key: o.key, Notes: o.notes}
	f.returns(o, none, &out)
	if o.refused != nil {
		out.NotAllowed = o.refused
		no := func(u string) Figure { return unknown(u, cite.Ours, *o.refused) }
		out.Adequate, out.Fail, out.Good = no("share"), no("chance"), no("chance")
		out.LossShare, out.LossYield, out.LossMoney = no("share"), no("bu/ac"), no("$/ac")
		return out
	}
	failHigh, goodLow := f.poor.Chances(o.live)
	failLow, goodHigh := f.rich.Chances(o.live)
	out.Adequate = f.adequateFigure(o)
	model := []string{cite.AdequacyModel, cite.GRDCAdequate, cite.RhizobiaModel, cite.SurvivalModel}
	out.Fail = known(o.outcome.Fail(), "chance", cite.Ours, model...).around(failLow, failHigh)
	out.Good = known(o.outcome.Good(), "chance", cite.Ours, model...).around(goodLow, goodHigh)
	f.losses(o, &out)
	return out
}

// adequateFigure is p with the cells it stands on.
func (f *field) adequateFigure(o option) Figure {
	fig := known(o.outcome.Mean(), "share", cite.Ours, cite.AdequacyModel, cite.Singleton).
		between(o.outcome.Quantile(0.1), o.outcome.Quantile(0.9)).
		step(code.StepSoilCells, f.soil, "log10 cells/g")
	middle := o.outcome.Quantile(0.5)
	fig.Median = &middle
	for _, p := range o.products {
		fig = fig.step(code.StepSurvival, risk.Survival(p, f.pH, f.seedbed()), "log10",
			code.Word("form", "option."+p.Form), code.Word("seedbed", "seedbed."+f.seedbed()),
			code.Num("hours", p.Hours, "h"), code.Num("class", float64(p.Class), ""))
	}
	return fig
}

// losses fills in the loss as a share, as yield and as money, as far as they are known.
func (f *field) losses(o option, out *Option) {
	if f.supply == nil || f.crop.LossFactor < 1 {
		why := tell(code.LossNoSupply)
		if f.crop.LossFactor < 1 {
			why = tell(code.LossBean)
		}
		out.LossShare = unknown("share", cite.Ours, why)
		out.LossYield = unknown("bu/ac", cite.Ours, why)
		out.LossMoney = unknown("$/ac", cite.Ours, why)
		return
	}
	l := risk.NewLosses(o.outcome, f.shares)
	mean, low, middle, high := l.Mean(), l.Quantile(0.1), l.Quantile(0.5), l.Quantile(0.9)
	scaled := func(by float64, u string) Figure {
		fig := known(float64(mean*by), u, cite.Ours, cite.AdequacyModel, cite.SupplyModel).
			between(float64(low*by), float64(high*by))
		m := float64(middle * by)
		fig.Median = &m
		return fig
	}
	out.LossShare = scaled(1, "share").
		step(code.StepAdequate, o.outcome.Mean(), "share").
		step(code.StepSupply, f.supply.Share(), "share")
	yield := float64(bushels(*f.in.Plan.Yield))
	out.LossYield = scaled(yield, "bu/ac")
	out.LossMoney = unknown("$/ac", cite.Ours, tell(code.LossNoPrice))
	if f.in.Plan.Price != nil {
		out.LossMoney = scaled(float64(yield*perBushel(*f.in.Plan.Price)), "$/ac")
	}
}
