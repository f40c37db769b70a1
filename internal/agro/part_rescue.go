package agro

import (
	"math"

	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/rescue"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
	"hilum/internal/date"
)

// Answers to whether rescue nitrogen is on offer.
const (
	offered     = "yes"
	whatIf      = "whatIf"
	notOffered  = "no"
	outside     = "outsideWindow"
	offerUnsure = "unknown"
)

// plea is one rescue pass on its way through the arithmetic.
type plea struct {
	*field
	pass  rescue.Pass
	lost  float64 // share of the nitrogen lost to the air
	loss  float64 // expected share of yield lost
	price float64 // $/bu; NaN = not known
	cost  float64 // $/ac; NaN = not known
	out   *RescuePart
}

// rescue weighs nitrogen against what the failure costs. It never tells anybody to apply.
func (f *field) rescue(r Report) RescuePart {
	out := RescuePart{Other: []Figure{}, Messages: []Message{}, LastDay: r.Stage.LastN}
	if on, ok := f.passDay(); ok && f.crop.Rescue.Kind != "stages" {
		out.On = date.Day(on).String()
	}
	phi, answer, why := f.mayRescue(r.Digs)
	out.Offered = answer
	if why != nil {
		out.withhold(*why)
		return out
	}
	p := plea{field: f, out: &out}
	p.pass.Phi = phi
	p.prepare()
	p.rates()
	p.gain()
	p.money()
	p.lastDay()
	f.grade(r.Digs, &out)
	p.warn()
	return out
}

// withhold leaves every figure unknown for one reason.
func (r *RescuePart) withhold(why Message) {
	no := func(u string) Figure { return unknown(u, cite.Ours, why) }
	r.Rate, r.Lost, r.Gain = no("lb/ac N"), no("bu/ac"), no("bu/ac")
	r.LostMoney, r.Cost = no("$/ac"), no("$/ac")
	r.Net, r.Pays = no("$/ac"), no("chance")
	r.BreakEvenPrice, r.BreakEvenYield = no("$/bu"), no("bu/ac")
	r.Messages = append(r.Messages, why)
}

func (r *RescuePart) say(when bool, name string, args ...code.Arg) {
	if when {
		r.Messages = append(r.Messages, tell(name, args...))
	}
}

// mayRescue gives phi at the pass, or the answer and the reason why there is no arithmetic.
func (f *field) mayRescue(digs []DigPart) (phi float64, answer string, why *Message) {
	stop := func(answer, name string) (float64, string, *Message) {
		m := tell(name)
		return 0, answer, &m
	}
	switch {
	case f.crop.Rescue.Kind == "no":
		return stop(notOffered, code.RescueNo)
	case f.suspected("rootRot"):
		return stop(offerUnsure, code.RescueRootRot)
	case len(digs) == 0 && f.in.Rescue == nil:
		return stop(offerUnsure, code.RescueNoDig)
	case len(digs) > 0 && verdict(digs) < 0:
		return stop(offerUnsure, code.RescueTooEarly)
	case f.belief == nil:
		return 0, offerUnsure, f.chosen.refused
	case f.supply == nil:
		return stop(offerUnsure, code.LossNoSupply)
	}
	phi, published, name := f.atStage()
	switch {
	case name != "":
		return stop(offerUnsure, name)
	case !published:
		return stop(outside, code.RescueOutside)
	}
	return phi, offered, nil
}

func (f *field) suspected(what string) bool {
	for _, d := range f.in.Digs {
		for _, s := range d.Suspicions {
			if s == what {
				return true
			}
		}
	}
	return false
}

// atStage gives phi at the pass, or the code of what is missing. Lentil has no numbers of its own:
// those of pea stand in (ours), as a what-if.
func (f *field) atStage() (phi float64, published bool, missing string) {
	if f.crop.Rescue.Kind == "stages" {
		if f.in.Rescue == nil || f.in.Rescue.Stage == "" {
			f.miss(code.MissingStage)
			return 0, false, code.RescueNoStage
		}
		phi, published = rescue.AtStage(f.in.Rescue.Stage)
		return phi, published, ""
	}
	seeded, ok := day(f.in.Plan.Seeded)
	if !ok {
		f.miss(code.MissingSeeded)
		return 0, false, code.RescueNoSeeded
	}
	on, ok := f.passDay()
	switch {
	case !ok:
		return 0, false, code.RescueNoDate
	case on < seeded:
		return 0, false, code.RescueBefore
	}
	phi, published = rescue.AtWeek(float64(on-seeded) / 7)
	return phi, published, ""
}

// passAfter is how many days after the last dig a pass is taken to go on (ours).
const passAfter = 7

// passDay is the day of the pass: as given, else a week after the last dig, or the last day of the
// published window where that comes first and the dig before it.
func (f *field) passDay() (on int, ok bool) {
	if r := f.in.Rescue; r != nil && r.On != "" {
		return day(r.On)
	}
	n := len(f.in.Digs)
	if n == 0 {
		return 0, false
	}
	dug, ok := day(f.in.Digs[n-1].Date)
	on = dug + passAfter
	if seeded, known := day(f.in.Plan.Seeded); known && f.crop.Rescue.Kind != "stages" {
		if last := seeded + 7*int(rescue.LastWeek); dug <= last {
			on = min(on, last)
		}
	}
	return on, ok
}

// prepare fills in what the pass stands on.
func (p *plea) prepare() {
	p.pass.Yield = float64(bushels(*p.in.Plan.Yield))
	p.pass.SeedN = p.crop.SeedN
	rain, inhibitor := 0.0, false
	if r := p.in.Rescue; r != nil {
		inhibitor = r.Inhibitor
		if r.Rain != nil {
			rain = float64(inches(*r.Rain))
		}
	}
	p.lost = rescue.Lost(rain, inhibitor)
	p.pass.Efficiency = rescue.Efficiency(p.lost)
	shares := p.shares
	p.loss = risk.Loss(p.belief.now[0].Mean(), shares.Mean())
	p.price = math.NaN()
	if p.in.Plan.Price != nil {
		p.price = perBushel(*p.in.Plan.Price)
	} else {
		p.miss(code.MissingPrice)
	}
}

// grade lowers the offer by what the score says. Of a score of 7 to 10 no published rule says
// anything, so the arithmetic stands alone.
func (f *field) grade(digs []DigPart, out *RescuePart) {
	i := verdict(digs)
	if i < 0 {
		out.Offered = whatIf
		out.say(true, code.RescueFromModel)
	} else if d := digs[i]; f.crop.CountsNodules {
		if d.Class == nodule.Adequate {
			out.Offered = notOffered
			out.say(true, code.RescueCount)
		}
	} else {
		score := code.Num("score", *d.Score.Value, "points")
		switch d.Band {
		case "effective":
			out.Offered = notOffered
			out.say(true, code.RescueEffective, score)
		case "lessEffective":
			out.Offered = whatIf
			out.say(true, code.RescueMiddle, score)
		}
	}
	if f.crop.Rescue.Kind == "whatIf" && out.Offered == offered {
		out.Offered = whatIf
	}
	out.say(f.crop.Rescue.Kind == "whatIf", code.RescueWhatIf)
}

// warn adds what a reader must know beside the numbers.
func (p *plea) warn() {
	r, out := p.in.Rescue, p.out
	out.say(p.lost > 0.2, code.RescueOpen, code.Num("lost", p.lost, "share"),
		code.Num("rain", rescue.EnoughRain, "in"))
	out.say(r != nil && r.Stage == "R3", code.RescueRainAtR3)
	out.say(r != nil && r.Product == "uan", code.RescueUAN)
	out.say(p.crop.Canopy, code.RescueLate)
	out.say(p.in.Plan.Season == "dry" || p.suspected("drought"), code.RescueIfDry)
	out.say(true, code.RescueCheckStrip)
	out.say(true, code.RescueCredit)
}

// lastDay is the last day within the published window on which the pass would still pay at the
// middle of phi; unknown where it never would.
func (p *plea) lastDay() {
	seeded, ok := day(p.in.Plan.Seeded)
	if p.crop.Rescue.Kind != "weeks" || !ok || math.IsNaN(p.price+p.cost) {
		return
	}
	for d := 7 * int(rescue.LastWeek); d >= 0; d-- {
		pass := p.pass
		pass.Phi, _ = rescue.AtWeek(float64(d) / 7)
		if gain, _ := pass.Gain(p.loss); rescue.Net(gain, p.price, p.cost) > 0 {
			on := date.Day(seeded + d).String()
			p.out.LastDay = Window{Date: on, From: on, To: p.out.LastDay.To, Kind: cite.Ours,
				Sources: []string{cite.RescueWeeks, cite.RescueModel}}
			return
		}
	}
	why := tell(code.RescueNotPaying)
	p.out.LastDay = Window{Unknown: &why, Kind: cite.Ours,
		Sources: []string{cite.RescueWeeks, cite.RescueModel}}
}
