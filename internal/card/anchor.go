package card

import (
	"math"
	"strconv"

	"hilum/internal/agro/crop"
	"hilum/internal/agro/risk"
	"hilum/internal/num"
)

// anchor is one value from outside, or a range, and what the model says to it.
type anchor struct {
	key       string   // of its words
	args      []string // numbers, or keys of words, for {0}, {1}, ...
	low, high float64
	unit      string
	model     float64
}

// residual is 0 within the range, else how far the model lies outside it.
func (a anchor) residual() float64 {
	switch {
	case a.model < a.low:
		return a.model - a.low
	case a.model > a.high:
		return a.model - a.high
	}
	return 0
}

type group struct {
	key     string
	anchors []anchor
}

func groups() []group {
	return []group{{"loss", losses()}, {"soil", soils()}, {"ladder", ladder()}, {"rule", rules()},
		{"yield", yields()}, {"implied", implied()}, {"chance", chances()}}
}

// at is an anchor with one value.
func at(key string, value, model float64, unit string, args ...string) anchor {
	return anchor{key, args, value, value, unit, model}
}

func percent(share float64) float64 { return 100 * share }

// Where the anchors stand: log10 cells/g.
const (
	foreign = -1.0
	native  = 1.0
)

func losses() []anchor {
	loss := func(log, s float64) float64 {
		return percent(risk.Loss(risk.Adequate(num.Exp10(log)), s))
	}
	after := func(winters int) float64 { return walked("pea", 7, winters) }
	return []anchor{
		at("adequate", 70, percent(risk.Adequate(100)), "%"),
		at("half", 50, loss(foreign, 0.35), "%"),
		at("tenth", 10, loss(after(3), 0.35), "%", "3", "0.35"),
		at("tenth", 10, loss(after(4), 0.60), "%", "4", "0.60"),
	}
}

// walked is log10 cells/g so many winters after a well nodulated host.
func walked(key string, pH float64, winters int) float64 {
	r, _ := crop.Find(key)
	years := make([]risk.Year, winters)
	years[0] = risk.Year{Host: true, Nodulation: "good"}
	_, now, _ := risk.Walk(r, pH, years)
	return now
}

func soils() []anchor {
	pea, _ := crop.Find("pea")
	floor := risk.Floor(pea, 7)
	times := func(key string) float64 { return num.Exp10(walked(key, 7, 3) - floor) }
	acid, less := risk.WaterPH(4.6), risk.WaterPH(4.9)
	return []anchor{
		at("wheatLand", 10, num.Exp10(floor), "cells/g"),
		{"threeSprings", []string{"crop.pea"}, 10, 100, "times", times("pea")},
		{"threeSprings", []string{"crop.dryBean"}, 100, 1000, "times", times("dryBean")},
		{"acid46", nil, math.Inf(-1), 0, "log10", walked("pea", acid, 1)},
		{"acid49", nil, 2, math.Inf(1), "log10", walked("pea", less, 1)},
	}
}

// ladder: where a formulation was effective, at least half of the plants are adequate. The soil
// holds what a count would not find.
func ladder() []anchor {
	var out []anchor
	for _, step := range []struct {
		pH      float64
		working map[string]bool
	}{
		{4.4, map[string]bool{risk.Granular: true}},
		{5.4, map[string]bool{risk.Granular: true, risk.Peat: true}},
		{6.6, map[string]bool{risk.Granular: true, risk.Peat: true, risk.Liquid: true}},
	} {
		for _, form := range []string{risk.Granular, risk.Peat, risk.Liquid} {
			a := anchor{"ladder", []string{"option." + form, short(step.pH)}, 50, math.Inf(1), "%",
				percent(share(foreign, form, step.pH, "moist"))}
			if !step.working[form] {
				a.low, a.high = math.Inf(-1), 50
			}
			out = append(out, a)
		}
	}
	return out
}

func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// share is the share of plants adequate at the centre of the model; form "" is none.
func share(soil float64, form string, pH float64, seedbed string) float64 {
	cells := num.Exp10(soil)
	if form != "" {
		cells += risk.FullDose *
			num.Exp10(risk.Survival(risk.Product{Form: form, Dose: 1}, pH, seedbed))
	}
	return risk.Adequate(cells)
}

// rules: the published rule of one or two formulations on soybean. The limit is the share that the
// soil alone makes adequate.
func rules() []anchor {
	soybean, _ := crop.Find("soybean")
	var out []anchor
	for _, row := range []struct {
		crops, since int
		double       bool
	}{{1, 2, true}, {3, 3, false}, {2, 4, false}, {2, 6, true}} {
		years := make([]risk.Year, row.since+2*(row.crops-1))
		for i := range row.crops {
			years[2*i] = risk.Year{Host: true, Nodulation: "good"}
		}
		_, now, _ := risk.Walk(soybean, 7, years)
		a := anchor{"single", []string{strconv.Itoa(row.crops), strconv.Itoa(row.since)}, 70,
			math.Inf(1), "%", percent(risk.Adequate(num.Exp10(now)))}
		if row.double {
			a.key, a.low, a.high = "double", math.Inf(-1), 70
		}
		out = append(out, a)
	}
	return out
}
