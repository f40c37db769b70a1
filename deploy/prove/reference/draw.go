package main

import (
	"math"
	"math/rand/v2"

	"hilum/internal/agro"
)

// The model as its description has it (all ours); a second writing, with the library's functions.
const (
	soilSpread  = 0.7 // standard deviation of log10 cells/g
	fullDose    = 13500.0
	slope       = 0.6
	mostLoss    = 0.80
	failureDrop = 3.0 // log10
	measuredCV  = 0.35
	untestedCV  = 0.60
	bins        = 8000 // of the losses, from 0 to mostLoss
)

var halfCells = 100 / math.Pow(7.0/3, 1/slope)

// forms: spread of log10 survival and chance of an outright failure.
var forms = map[string][2]float64{
	"option.liquid": {0.8, 0.08}, "option.peat": {0.6, 0.05}, "option.granular": {0.4, 0.03}}

// product is one inoculant of a plan: the centre of its survival is read off the engine's working.
type product struct{ centre, spread, failure float64 }

// plan is its products, and the share of yield that pays for them.
type plan struct {
	products []product
	cost     float64
}

func planOf(o agro.Option, worth float64) plan {
	p := plan{}
	if o.Cost.Value != nil {
		p.cost = *o.Cost.Value / worth
	}
	for _, s := range o.Adequate.Steps {
		if s.Code == "step.survival" {
			f := forms[s.Args["form"].Code]
			p.products = append(p.products, product{s.Value, f[0], f[1]})
		}
	}
	return p
}

// supply is the nitrogen over need before it is limited to 1, a lognormal by its middle and spread.
type supply struct {
	known         bool
	median, sigma float64
}

// supplyOf adds up the steps of the supply. Its spread is the smaller one where nitrate was measured
// to 12 in or deeper, which takes two layers of a sample, and organic matter too.
func supplyOf(in agro.Input, f agro.Figure) supply {
	if f.Value == nil {
		return supply{}
	}
	sum, need := 0.0, 0.0
	for _, s := range f.Steps {
		if s.Code == "step.need" {
			need = s.Value
		} else {
			sum += s.Value
		}
	}
	cv := untestedCV
	if t := in.SoilTest; t != nil && len(t.Layers) > 1 && t.OrganicMatter != nil {
		cv = measuredCV
	}
	sigma := math.Sqrt(math.Log(1 + cv*cv))
	return supply{known: true, median: sum / need * math.Exp(-sigma*sigma/2), sigma: sigma} // mean sum / need
}

// drawn is what became of one plan.
type drawn struct {
	n, fail, good, pays float64

	loss   float64
	counts [bins + 1]int
}

func (d *drawn) failing() float64  { return d.fail / d.n }
func (d *drawn) adequate() float64 { return d.good / d.n }
func (d *drawn) mean() float64     { return d.loss / d.n }
func (d *drawn) paying() float64   { return d.pays / d.n }

// quantile is good to a bin, a ten-thousandth.
func (d *drawn) quantile(q float64) float64 {
	sum := 0.0
	for i, c := range d.counts {
		if sum += float64(c); sum >= q*d.n {
			return mostLoss * float64(i) / bins
		}
	}
	return mostLoss
}

// draw draws the soil, the nitrogen and each product; soil and nitrogen serve all plans.
func draw(soil float64, s supply, plans []plan, draws int, r *rand.Rand) []*drawn {
	out := make([]*drawn, len(plans))
	for k := range out {
		out[k] = &drawn{n: float64(draws)}
	}
	for range draws {
		native := math.Exp(math.Ln10 * (soil + soilSpread*r.NormFloat64()))
		bare := share(native)
		left := 1 - math.Min(1, s.median*math.Exp(s.sigma*r.NormFloat64()))
		for k, p := range plans {
			cells := native
			for _, one := range p.products {
				log := one.centre + one.spread*r.NormFloat64()
				if r.Float64() < one.failure {
					log -= failureDrop
				}
				cells += fullDose * math.Exp(math.Ln10*log)
			}
			out[k].take(share(cells), left, bare, p.cost)
		}
	}
	return out
}

// share is the share of plants that are adequate.
func share(cells float64) float64 {
	y := math.Exp(slope * math.Log(cells/halfCells))
	return y / (1 + y)
}

func (d *drawn) take(p, left, bare, cost float64) {
	if p < 0.5 {
		d.fail++
	}
	if p >= 0.7 {
		d.good++
	}
	if mostLoss*(p-bare)*left > cost {
		d.pays++
	}
	loss := mostLoss * (1 - p) * left
	d.loss += loss
	d.counts[int(math.Round(bins*loss/mostLoss))]++
}
