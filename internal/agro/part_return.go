package agro

import (
	"strings"

	"hilum/internal/agro/code"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
)

// returns fills in what an option costs and brings back over none. Above this arithmetic stands
// the advice to inoculate every time: "none" is the measure and never the choice.
func (f *field) returns(o, none option, out *Option) {
	from := []string{cite.GainModel, cite.AdequacyModel, cite.SupplyModel}
	cost, ok := f.inoculantCost(o)
	out.Cost = unknown("$/ac", cite.Derived, tell(code.PaysNoCost))
	if ok {
		out.Cost = known(cost, "$/ac", cite.Derived)
	} else {
		f.miss(code.MissingCosts)
	}
	why := tell(code.PaysReference)
	switch {
	case len(o.products) == 0:
	case o.refused != nil:
		why = *o.refused
	case f.crop.LossFactor < 1:
		why = tell(code.LossBean)
	case f.supply == nil:
		why = tell(code.LossNoSupply)
	case f.in.Plan.Price == nil:
		why = tell(code.LossNoPrice)
	case !ok:
		why = tell(code.PaysNoCost)
	default:
		f.netReturn(o, none, cost, out, from)
		return
	}
	out.NetReturn = unknown("$/ac", cite.Ours, why, from...)
	out.Pays = unknown("chance", cite.Ours, why, from...)
}

// netReturn is the expected net return with its range, and the chance that it is above zero.
func (f *field) netReturn(o, none option, cost float64, out *Option, from []string) {
	worth := float64(float64(bushels(*f.in.Plan.Yield)) * perBushel(*f.in.Plan.Price))
	shares := f.shares
	gain := f.ground.Gain(o.live, shares)
	net := func(share float64) float64 { return float64(share*worth) - cost }
	mean := risk.NewLosses(none.outcome, shares).Mean() - risk.NewLosses(o.outcome, shares).Mean()
	middle := net(gain.Quantile(0.5))
	out.NetReturn = known(net(mean), "$/ac", cite.Ours, from...).
		between(net(gain.Quantile(0.1)), net(gain.Quantile(0.9))).
		step(code.StepGainShare, mean, "share").step(code.StepOptionCost, cost, "$/ac")
	out.NetReturn.Median = &middle
	if worth == 0 {
		out.Pays = known(0, "chance", cite.Ours, from...).between(0, 0)
		return
	}
	at := func(g *risk.Ground) float64 { return g.Gain(o.live, shares).Over(cost / worth) }
	out.Pays = known(gain.Over(cost/worth), "chance", cite.Ours, from...).
		around(at(f.rich), at(f.poor))
}

// inoculantCost adds up the costs of an option's forms, $/ac; ok is false where one is not known.
func (f *field) inoculantCost(o option) (cost float64, ok bool) {
	for _, form := range []string{risk.Granular, risk.Peat, risk.Liquid} {
		if !strings.Contains(strings.ToLower(o.key), form) {
			continue
		}
		found := false
		for _, p := range f.in.Prices.Inoculant {
			if p.Form == form {
				cost, found = cost+perAcre(p.Cost), true
			}
		}
		if !found {
			return 0, false
		}
	}
	return cost, true
}

// history sums up the rotation for the published rules.
func (f *field) history() risk.History {
	h := risk.History{}
	for _, s := range f.seasons() {
		y := f.walkYear(s)
		if y.Host {
			h.Crops++
			h.Since, h.Nodulation, h.Flooded = f.in.CropYear-s.CropYear, s.Nodulation, false
		}
		h.Flooded = h.Flooded || y.Flooded
	}
	return h
}

// byHistory fills in what the rotation says of how much inoculant the ground wants.
func (f *field) byHistory(part *InoculantPart) {
	if len(f.in.History) > 0 && string(f.crop.Group) == "viciae" {
		part.Response = risk.Response(f.history(), f.in.Ground.Texture, f.pH)
		part.Sources = append(part.Sources, cite.GRDCHistory)
	}
	if f.crop.Doubles {
		part.Rule = "single"
		part.Sources = append(part.Sources, cite.SoyHistory, cite.RhizobiaModel)
		if risk.DoubleBySoil(f.soil) {
			part.Rule = "double"
		}
	}
}
