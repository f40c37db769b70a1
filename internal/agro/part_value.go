package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/rescue"
	"hilum/internal/agro/risk"
	"hilum/internal/agro/value"
	"hilum/internal/cite"
)

// What a dig is valued by where nothing else is said (ours): the least protocol of the sequential
// rule, on the day on which a dig decides, with rescue nitrogen in the fifth week at the flat rate
// that guides name, with an inhibitor; for soybean at R2.
const (
	digSpots  = 3
	digPlants = 5
	passWeek  = 5.0
	passStage = "R2"
	passN     = 50.0 // lb/ac
	readyDays = 30   // since emergence: every nodule is there to be seen
)

// testRight is how often a soil test names the nitrate class rightly (ours).
const testRight = 0.85

// value says what a dig and a soil test would be worth before they are made.
func (f *field) value() ValuePart {
	part := ValuePart{Messages: []Message{}}
	f.digWorth(&part)
	f.testWorth(&part)
	return part
}

func (v *ValuePart) say(when bool, name string, args ...code.Arg) {
	if when {
		v.Messages = append(v.Messages, tell(name, args...))
	}
}

// worthOf are the sources of what a dig is worth.
var worthOf = []string{cite.InfoWorth, cite.RescueModel, cite.RescueWeeks, cite.AdequacyModel,
	cite.SupplyModel, cite.BetaBinomial, cite.ClusterRho}

// digWorth weighs deciding on rescue nitrogen after a dig against deciding now.
func (f *field) digWorth(part *ValuePart) {
	pass, price, cost, why := f.bet()
	if why != nil {
		part.Dig = unknown("$/ac", cite.Ours, *why, worthOf...)
		part.Perfect, part.DigField = part.Dig, part.Dig
		part.DigField.Unit = "$/field"
		return
	}
	p, weight := f.belief.now[0].Likely()
	net, now := f.nets(p, pass, price, cost), 0.0
	for i, w := range weight {
		now += float64(w * net[i])
	}
	x, _ := f.externalN()
	reading := nodule.NewReading(nodule.Decision, x, readyDays, false)
	worth, treat := value.Sample(weight, net, reading.Expected(digPlants, p), digSpots)
	more, _ := value.Sample(weight, net, reading.Expected(digSpots, p), digPlants)
	spots := func(n, plants float64) []code.Arg {
		return []code.Arg{code.Num("spots", n, "spots"), code.Num("plants", plants, "plants")}
	}
	part.Dig = known(worth, "$/ac", cite.Ours, worthOf...).
		step(code.StepPhi, pass.Phi, "share").
		step(code.StepPassN, pass.N, "lb/ac").
		step(code.StepPassCost, cost, "$/ac").
		step(code.StepPassNow, now, "$/ac").
		step(code.StepDigSpots, worth, "$/ac", spots(digSpots, digPlants)...).
		step(code.StepMoreSpots, more, "$/ac", spots(digPlants, digSpots)...).
		step(code.StepTreat, treat, "chance")
	part.Perfect = known(value.Perfect(weight, net), "$/ac", cite.Ours, worthOf...)
	part.DigField = f.wholeField(part.Dig, f.in.Prices.Dig, code.ValueNoDigCost)
	part.say(now > 0, code.ValueTreat, code.Num("net", now, "$/ac"))
	part.say(worth < cent, code.ValueNothing)
	part.say(f.crop.Rescue.Kind == "whatIf", code.RescueWhatIf)
}

// cent is the worth below which a dig changes no decision worth naming, $/ac (ours).
const cent = 0.005

// bet gives the pass that a dig would decide on, its price and its cost, or why there is none.
func (f *field) bet() (pass rescue.Pass, price, cost float64, why *Message) {
	no := func(name string) (rescue.Pass, float64, float64, *Message) {
		m := tell(name)
		return pass, 0, 0, &m
	}
	n, hasN := f.nitrogenPrice()
	switch {
	case f.crop.Rescue.Kind == "no":
		return no(code.ValueNotOffered)
	case f.belief == nil:
		return pass, 0, 0, f.chosen.refused
	case f.supply == nil:
		return no(code.LossNoSupply)
	case f.in.Plan.Price == nil:
		return no(code.LossNoPrice)
	case !hasN || f.in.Prices.Pass == nil:
		return no(code.ValueNoCost)
	}
	phi, published := f.passPhi()
	if !published {
		return no(code.ValueOutside)
	}
	lost := rescue.Lost(0, true)
	pass = rescue.Pass{Yield: float64(bushels(*f.in.Plan.Yield)), N: passN, SeedN: f.crop.SeedN,
		Phi: phi}
	if r := f.in.Rescue; r != nil {
		rain := 0.0
		if r.Rain != nil {
			rain = float64(inches(*r.Rain))
		}
		lost = rescue.Lost(rain, r.Inhibitor)
		if r.Rate != nil {
			pass.N = float64(lbPerAcre(*r.Rate))
		}
	}
	pass.Efficiency = rescue.Efficiency(lost)
	cost = float64(pass.N*n) + perAcre(*f.in.Prices.Pass)
	return pass, perBushel(*f.in.Plan.Price), cost, nil
}

// passPhi gives phi when the nitrogen would go on: that day counts, not the day of the dig.
func (f *field) passPhi() (phi float64, published bool) {
	stage := passStage
	if r := f.in.Rescue; r != nil && r.Stage != "" {
		stage = r.Stage
	}
	if f.crop.Rescue.Kind == "stages" {
		return rescue.AtStage(stage)
	}
	week := passWeek
	on, planned := f.passDay()
	if seeded, ok := day(f.in.Plan.Seeded); ok && planned {
		week = float64(on-seeded) / 7
	}
	return rescue.AtWeek(week)
}

// nets gives the expected return of the pass for each share of adequate plants, over the nitrogen
// that the soil may supply.
func (f *field) nets(adequate []float64, pass rescue.Pass, price, cost float64) []float64 {
	s, chance := f.shares.Points()
	out := make([]float64, len(adequate))
	for i, p := range adequate {
		for j, share := range s {
			gain, _ := pass.Gain(risk.Loss(p, share))
			out[i] += float64(chance[j] * value.Net(gain, price, cost))
		}
	}
	return out
}

// wholeField multiplies a worth by the area and takes off what it costs to know.
func (f *field) wholeField(each Figure, cost *Quantity, noCost string) Figure {
	switch {
	case each.Value == nil:
		each.Unit = "$/field"
		return each
	case f.in.Acres == nil:
		return unknown("$/field", cite.Ours, tell(code.FieldNoArea))
	case cost == nil:
		return unknown("$/field", cite.Ours, tell(noCost))
	}
	area := acres(*f.in.Acres)
	all := float64(*each.Value * area)
	return known(max(0, all-cost.Value), "$/field", cite.Ours, cite.InfoWorth).
		step(code.StepWholeField, all, "$/field", code.Num("area", area, "ac"))
}

// testWorth weighs starter after a soil test against deciding without one.
func (f *field) testWorth(part *ValuePart) {
	sources := []string{cite.InfoWorth, cite.McKenzie}
	no := func(name string) {
		part.Test = unknown("$/ac", cite.Ours, tell(name), sources...)
		part.TestField = part.Test
		part.TestField.Unit = "$/field"
	}
	trial := f.crop.Trial
	n, hasN := f.nitrogenPrice()
	switch {
	case f.to12.Known():
		no(code.ValueTested)
		return
	case trial.N == 0:
		no(code.ValueNoTrials)
		return
	case f.in.Plan.Yield == nil:
		no(code.LossNoSupply)
		return
	case f.in.Plan.Price == nil:
		no(code.LossNoPrice)
		return
	case !hasN:
		no(code.ValueNoNPrice)
		return
	}
	b := value.Starter(trial, float64(bushels(*f.in.Plan.Yield)), perBushel(*f.in.Plan.Price),
		float64(trial.N*n))
	worth, _ := b.Test(testRight)
	part.Test = known(worth, "$/ac", cite.Ours, sources...).
		step(code.StepLowChance, b.Low, "chance").
		step(code.StepLowNet, b.Paid, "$/ac").
		step(code.StepOtherNet, b.Lost, "$/ac").
		step(code.StepRight, testRight, "chance")
	part.TestField = f.wholeField(part.Test, f.in.Prices.SoilTest, code.ValueNoTestCost)
	part.say(true, code.ValueStarter)
}
