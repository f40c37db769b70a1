package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
)

// belief is the state of knowledge of the field's share p as digs come in: with the whole spread,
// and with the model's part of it at its 10 and 90 % points. All digs of a season count jointly: now
// is always worked from prior.
type belief struct {
	prior, now [3]risk.Outcome
	logs       []float64 // log likelihood of all digs so far, by step of p
	said       []float64 // what each dig has to say: effective plants times timing weight
	floor      float64   // mean p below which digs with another cause do not pull the soil's count
}

// learn adds a dig.
func (b *belief) learn(u dug, r nodule.Reading) {
	for i, l := range r.Logs(b.prior[0].P, u.counts) {
		b.logs[i] += l
	}
	b.said = append(b.said, float64(nodule.Effective(u.counts, nodule.Rho)*r.Timing))
	temper := nodule.Temper(b.said)
	for k, o := range b.prior {
		b.now[k] = o.Weighted(nodule.After(o.Weight, b.logs, temper))
	}
}

// fail gives the chance of failure as it now stands.
func (b *belief) fail(sources ...string) Figure {
	return known(b.now[0].Fail(), "chance", cite.Ours, sources...).
		around(b.now[2].Fail(), b.now[1].Fail())
}

// believe updates the belief with a dig and fills in what follows from it.
func (f *field) believe(part *DigPart, u dug, b *belief) {
	model := []string{cite.AdequacyModel, cite.BetaBinomial, cite.ClusterRho, cite.DigTable}
	if b == nil {
		no := func(unit string) Figure { return unknown(unit, cite.Ours, *f.chosen.refused) }
		part.FailBefore, part.Fail, part.Good = no("chance"), no("chance"), no("chance")
		part.AdequateMean, part.RhizobiaAfter = no("share"), no("log10 cells/g")
		return
	}
	before := b.now[0].Mean()
	part.FailBefore = b.fail(model...)
	x, _ := f.externalN()
	reading := nodule.NewReading(u.when, x, max(0, u.moment.Emerged), u.moment.Cool)
	b.learn(u, reading)
	now := b.now[0]
	part.Fail = b.fail(model...).
		step(code.StepNitrateHides, reading.Suppressed, "share", code.Num("external", x, "lb/ac")).
		step(code.StepTiming, reading.Timing, "share",
			code.Num("days", float64(max(0, u.moment.Emerged)), "days"))
	if n := len(b.said); n > 1 {
		part.Fail = part.Fail.step(code.StepJoint, nodule.Temper(b.said), "share",
			code.Num("digs", float64(n), "digs"))
	}
	part.Good = known(now.Good(), "chance", cite.Ours, model...).
		around(b.now[1].Good(), b.now[2].Good())
	part.AdequateMean = known(now.Mean(), "share", cite.Ours, model...).
		between(now.Quantile(0.1), now.Quantile(0.9))
	if u.otherCause() {
		b.floor = max(b.floor, before)
	}
	part.RhizobiaAfter = known(
		risk.AfterCrop(f.crop, f.pH, f.soil, max(now.Mean(), b.floor)), "log10 cells/g",
		cite.Ours, cite.RhizobiaModel)
}

// otherCause says whether something else than missing rhizobia may have bared the roots: such a dig
// never lowers what the soil is taken to hold.
func (u dug) otherCause() bool {
	for _, s := range u.Suspicions {
		if s != "drought" {
			return true
		}
	}
	return false
}

// externalN is X for the reading of a dig: the middle of its bounds where only they are known, and
// zero where nothing is, which blames the rhizobia most.
func (f *field) externalN() (x float64, known bool) {
	if f.to12.Known() {
		return float64(f.to12.N) + f.planned, true
	}
	return float64(f.to12.Low+f.to12.High)/2 + f.planned, false
}
