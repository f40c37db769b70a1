package agro

import (
	"math"

	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/rescue"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// soilN is the soil-test nitrogen that the published rate is reduced by: the deepest known.
func (f *field) soilN() (n float64, ok bool) {
	if f.to24.Known() {
		return float64(f.to24.N), true
	}
	return float64(f.to12.N), f.to12.Known()
}

// rates sets the rate of the pass and lists what other rules would say.
func (p *plea) rates() {
	uptake := p.uptakeRate()
	most := -1.0
	switch r := p.crop.Rescue; {
	case uptake.Value != nil:
		most = *uptake.Value
	case r.Most > 0:
		most = float64(r.Most)
	default:
		p.out.say(true, code.RescueNoCap)
	}
	n := p.pass.Wanted(p.loss, most)
	limited := known(n, "lb/ac N", cite.Ours, p.model()...).
		step(code.StepLimitedRate, n, "lb/ac")
	byUptake := p.in.Rules.RescueRate == "uptakeLessSoil" && uptake.Value != nil
	given := p.in.Rescue != nil && p.in.Rescue.Rate != nil
	switch {
	case given:
		p.out.Rate = known(float64(lbPerAcre(*p.in.Rescue.Rate)), "lb/ac N", cite.Derived)
		p.out.Other = append(p.out.Other, limited)
	case byUptake:
		p.out.Rate = uptake
		p.out.Other = append(p.out.Other, limited)
	default:
		p.out.Rate = limited
	}
	p.pass.N = *p.out.Rate.Value
	p.out.say(p.pass.N == 0, code.RescueNoNitrogen)
	if p.crop.Rescue.PerBushel > 0 && (given || !byUptake) {
		p.out.Other = append(p.out.Other, uptake)
	}
	p.others()
}

// uptakeRate is the published rate of expected uptake less soil nitrogen, where the crop has one.
func (p *plea) uptakeRate() Figure {
	each := p.crop.Rescue.PerBushel
	if each == 0 {
		return Figure{}
	}
	soil, ok := p.soilN()
	if !ok {
		p.out.say(true, code.RescueNoSoilN)
		return unknown("lb/ac N", cite.Published, tell(code.RescueNoSoilN), cite.RescueUptake)
	}
	n := rescue.UptakeRate(each, p.pass.Yield, soil)
	return known(n, "lb/ac N", cite.Published, cite.RescueUptake).
		step(code.StepSoilN, soil, "lb/ac").
		step(code.StepUptakeRate, n, "lb/ac", code.Num("uptake", each, "lb/bu"))
}

// others adds flat rates and those of trials.
func (p *plea) others() {
	add := func(s crop.Span, kind, name string, sources ...string) {
		if s.Mid > 0 {
			p.out.Other = append(p.out.Other, known(s.Mid, "lb/ac N", kind, sources...).
				between(s.Low, s.High).step(name, s.Mid, "lb/ac"))
		}
	}
	r := p.crop.Rescue
	flat := cite.PeaScore
	if r.Kind == "stages" {
		flat = cite.SoyPink
	}
	add(r.Flat, r.FlatKind, code.StepFlatRate, flat)
	add(r.Trial, cite.Published, code.StepTrialRate, cite.RescueWeeks)
}

// model are the sources of the gain.
func (p *plea) model() []string {
	window := cite.RescueWeeks
	if p.crop.Rescue.Kind == "stages" {
		window = cite.SoyRescue
	}
	return []string{cite.RescueModel, window, cite.UreaLoss, cite.BandUptake, cite.AdequacyModel,
		cite.SupplyModel}
}

// gain fills in what is lost and what comes back.
func (p *plea) gain() {
	losses := risk.NewLosses(p.belief.now[0], p.shares)
	y := p.pass.Yield
	p.out.Lost = known(float64(y*p.loss), "bu/ac", cite.Ours, cite.AdequacyModel, cite.SupplyModel).
		between(float64(y*losses.Quantile(0.1)), float64(y*losses.Quantile(0.9))).
		step(code.StepAdequate, p.belief.now[0].Mean(), "share").
		step(code.StepSupply, p.supply.Share(), "share").
		step(code.StepLossShare, p.loss, "share")
	s := p.over(0, math.Inf(1))
	_, p.out.Limit = p.pass.Gain(p.loss)
	byStage := p.pass
	byStage.N = math.Inf(1)
	atStage, _ := byStage.Gain(p.loss)
	p.out.Gain = known(s.Gain, "bu/ac", cite.Ours, p.model()...).between(s.Low, s.High).
		step(code.StepPhi, p.pass.Phi, "share").
		step(code.StepStageLimit, atStage, "bu/ac").
		step(code.StepTaken, p.pass.Efficiency, "share", code.Num("lost", p.lost, "share")).
		step(code.StepNLimit, p.pass.Most(), "bu/ac")
	p.out.Gain.Median = &s.Median
}

// over spreads the pass over the belief at its middle, low or high end.
func (p *plea) over(k int, need float64) rescue.Spread {
	o := p.belief.now[k]
	bare := make([]float64, len(o.P))
	for i, share := range o.P {
		bare[i] = risk.Loss(share, 0)
	}
	s, chance := p.shares.Points()
	short := make([]float64, len(s))
	for i, share := range s {
		short[i] = 1 - share
	}
	return rescue.Over(p.pass, rescue.Weights{At: bare, Chance: o.Weight},
		rescue.Weights{At: short, Chance: chance}, need)
}

// money sets the gain against the nitrogen and the pass.
func (p *plea) money() {
	out := p.out
	p.cost = p.costOf()
	no := func(u, name string) Figure { return unknown(u, cite.Ours, tell(name)) }
	out.Net, out.Pays = no("$/ac", code.RescueNoCost), no("chance", code.RescueNoCost)
	out.BreakEvenPrice = no("$/bu", code.RescueNoCost)
	out.BreakEvenYield = no("bu/ac", code.RescueNoCost)
	out.Cost = no("$/ac", code.RescueNoCost)
	p.lostMoney()
	if math.IsNaN(p.cost) {
		return
	}
	out.Cost = known(p.cost, "$/ac", cite.Derived)
	gain := out.Gain
	cost := Step{Code: code.StepCost, Value: p.cost, Unit: "$/ac"}
	if *gain.Value > 0 {
		out.BreakEvenPrice = known(p.cost / *gain.Value, "$/bu", cite.Derived, p.model()...)
	} else {
		out.BreakEvenPrice = no("$/bu", code.RescueNoGain)
	}
	if math.IsNaN(p.price) {
		why := code.LossNoPrice
		out.Net, out.Pays = no("$/ac", why), no("chance", why)
		out.BreakEvenYield = no("bu/ac", why)
		return
	}
	net := func(gain float64) float64 { return rescue.Net(gain, p.price, p.cost) }
	out.Net = known(net(*gain.Value), "$/ac", cite.Ours, p.model()...).
		between(net(*gain.Low), net(*gain.High))
	median := net(*gain.Median)
	out.Net.Median = &median
	need := math.Inf(1) // A crop that is worth nothing pays for nothing.
	out.BreakEvenYield = no("bu/ac", code.RescueNoGain)
	if p.price > 0 {
		need = p.cost / p.price
		out.BreakEvenYield = known(need, "bu/ac", cite.Derived)
		out.BreakEvenYield.Steps = []Step{cost}
	}
	out.Net.Steps = []Step{{Code: code.StepRescueGain, Value: *gain.Value, Unit: "bu/ac"}, cost}
	out.Pays = known(p.over(0, need).Pays, "chance", cite.Ours, p.model()...).
		around(p.over(2, need).Pays, p.over(1, need).Pays)
	if out.BreakEvenPrice.Value != nil && out.BreakEvenYield.Value != nil {
		change := tell(code.RescueBreakEven, code.Num("price", *out.BreakEvenPrice.Value, "$/bu"),
			code.Num("gain", need, "bu/ac"))
		out.Net.Changes, out.Pays.Changes = []Message{change}, []Message{change}
	}
}

// lostMoney prices what the failure costs when nothing is done.
func (p *plea) lostMoney() {
	lost := p.out.Lost
	if math.IsNaN(p.price) {
		p.out.LostMoney = unknown("$/ac", cite.Ours, tell(code.LossNoPrice))
		return
	}
	p.out.LostMoney = known(float64(*lost.Value*p.price), "$/ac", cite.Ours, lost.Sources...).
		between(float64(*lost.Low*p.price), float64(*lost.High*p.price)).
		step(code.StepLostYield, *lost.Value, "bu/ac")
}

// costOf gives $/ac of nitrogen and pass, NaN where a price is missing.
func (p *plea) costOf() float64 {
	n, pass := p.in.Plan.NitrogenPrice, p.in.Prices.Pass
	if n == nil {
		p.miss(code.MissingNPrice)
	}
	if pass == nil {
		p.miss(code.MissingPassPrice)
	}
	if n == nil || pass == nil {
		return math.NaN()
	}
	each := n.Value
	if n.Unit == "$/kg N" {
		each = unit.PerPound(n.Value)
	}
	return float64(p.pass.N*each) + perAcre(*pass)
}
