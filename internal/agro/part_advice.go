package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/risk"
	"hilum/internal/num"
)

// acceptable is the chance of failure up to which the simpler plan is advised (ours).
const acceptable = 0.05

// Limits of the published pH ladder in water for the viciae group (derived from Rice et al. 2000
// and Montana State): below 6.5 no liquid alone, below 5.5 granular.
const (
	liquidFrom = 6.5
	peatFrom   = 5.5
)

// advise takes the simplest plan, in the order liquid, peat, granular, granular with peat, that the
// pH ladder allows and whose chance of failure is acceptable; else the one with the least chance of
// failure. "none" is never advised: prairie advice is to inoculate every pulse crop every time.
// Where the rule by history asks for two formulations, only the last plan has them.
func (f *field) advise(all []option, rule string) (option, []Message) {
	reasons := []Message{tell(code.AdviceAlways)}
	if rule != "" {
		name := code.AdviceSingle
		if rule == "double" {
			name, all = code.AdviceDouble, all[len(all)-2:]
		}
		reasons = append(reasons, tell(name,
			code.Num("share", risk.Adequate(num.Exp10(f.soil)), "share"),
			code.Num("from", risk.GoodFrom, "share")))
	}
	var best option
	for _, o := range all[1:] {
		if o.key == risk.Liquid && f.pH < liquidFrom {
			reasons = append(reasons, tell(code.AdviceNoLiquid, code.Num("pH", f.pH, "pH"),
				code.Num("from", liquidFrom, "pH")))
			continue
		}
		if o.key == risk.Peat && f.pH < peatFrom {
			reasons = append(reasons, tell(code.AdviceNoPeat, code.Num("pH", f.pH, "pH"),
				code.Num("from", peatFrom, "pH")))
			continue
		}
		if best.key == "" || o.outcome.Fail() < best.outcome.Fail() {
			best = o
		}
		if o.outcome.Fail() <= acceptable {
			return o, append(reasons, f.adviceReason(code.AdviceEnough, o))
		}
		reasons = append(reasons, f.adviceReason(code.AdviceTooLikely, o))
	}
	return best, append(reasons, f.adviceReason(code.AdviceLeast, best))
}

func (f *field) adviceReason(name string, o option) Message {
	return tell(name, code.Word("option", "option."+o.key),
		code.Num("fail", o.outcome.Fail(), "chance"), code.Num("most", acceptable, "chance"))
}

// headline gathers what a list shows.
func (f *field) headline(r Report) Headline {
	set := r.Starter.Published
	if r.Starter.Chosen == "practice" {
		set = r.Starter.Practice
	}
	h := Headline{StarterDecision: set.Decision, StarterN: set.Rate.Value, Option: f.chosen.key,
		Missing: []string{}}
	shown := r.Inoculation.Planned
	for i, o := range r.Inoculation.Options {
		if shown == nil && o.Key == r.Inoculation.Advice {
			shown = &r.Inoculation.Options[i]
		}
	}
	h.Fail, h.FailLow, h.FailHigh = shown.Fail.Value, shown.Fail.Low, shown.Fail.High
	h.LossShare, h.LossLow, h.LossHigh = shown.LossShare.Median, shown.LossShare.Low,
		shown.LossShare.High
	f.afterDigs(&h, r.Digs)
	for _, m := range f.missing {
		h.Missing = append(h.Missing, m.Code)
	}
	return h
}

// afterDigs puts what the digs say in the place of what was expected before them.
func (f *field) afterDigs(h *Headline, digs []DigPart) {
	if len(digs) == 0 {
		return
	}
	last := digs[len(digs)-1]
	told := last
	if i := verdict(digs); i >= 0 {
		told = digs[i]
	}
	h.DigClass, h.DigEnough = told.Class, told.Enough
	if last.Fail.Value == nil {
		return
	}
	h.Fail, h.FailLow, h.FailHigh = last.Fail.Value, last.Fail.Low, last.Fail.High
	if h.LossShare == nil {
		return
	}
	l := risk.NewLosses(f.belief.now[0], f.shares)
	low, middle, high := l.Quantile(0.1), l.Quantile(0.5), l.Quantile(0.9)
	h.LossLow, h.LossShare, h.LossHigh = &low, &middle, &high
}
