package golden

import (
	"hilum/internal/agro/crop"
	"hilum/internal/agro/product"
	"hilum/internal/agro/risk"
	"hilum/internal/agro/seeding"
	"hilum/internal/agro/soiln"
	"hilum/internal/agro/starter"
	"hilum/internal/num"
	"hilum/internal/unit"
)

// winter are the operations of the winter plan.
var winter = map[string]operation{
	"starter":    with(starterRate),
	"fertilizer": with(fertilizer),
	"price":      with(price),
	"seeding":    with(seedingRate),
	"granular":   with(granular),
	"bed":        with(bed),
	"history":    with(history),
	"residual":   with(residual),
}

type starterCase struct {
	Crop      string  `json:"crop"`
	To6       float64 `json:"to6"`     // lb/ac
	To12      float64 `json:"to12"`    // lb/ac
	To24      float64 `json:"to24"`    // lb/ac
	Planned   float64 `json:"planned"` // fertilizer N, all of it near the row, lb/ac
	Coarse    bool    `json:"coarse"`
	DryOrNew  bool    `json:"dryOrNew"`
	Placement string  `json:"placement"`
	Yield     float64 `json:"yield"` // lb/ac
	Rule      string  `json:"rule"`  // "" = published, "practice", or a rule for dry bean
}

func starterRate(in starterCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	exact := func(n float64) starter.Range {
		return starter.Range{Low: unit.LbPerAcre(n), High: unit.LbPerAcre(n), Known: true}
	}
	c := starter.Case{To6: exact(in.To6), To12: exact(in.To12), To24: exact(in.To24),
		Coarse: in.Coarse, DryOrNew: in.DryOrNew, Placement: in.Placement,
		Serving: unit.LbPerAcre(in.Planned), Planned: unit.LbPerAcre(in.Planned),
		SeedRow: starter.Room{Limit: r.SeedRow.N, Used: unit.LbPerAcre(in.Planned)}}
	var a starter.Answer
	switch {
	case in.Rule == "practice":
		a = starter.Practice(r.Starter.External, c)
	case in.Rule != "":
		a = starter.Bean(in.Rule, in.Yield, c)
	default:
		a = starter.Published(r.Starter, c)
	}
	first, _ := starter.FirstYear(c)
	out := map[string]any{"decision": a.Decision, "rate": float64(a.Rate), "low": float64(a.Low),
		"high": float64(a.High), "reason": a.Reasons[0].Code, "firstYear": float64(first)}
	if a.Limit != nil {
		out["limit"] = a.Limit.Code
	}
	return out
}

type fertilizerCase struct {
	Product string  `json:"product"`
	N       float64 `json:"n"` // lb/ac
}

func fertilizer(in fertilizerCase) map[string]any {
	form, _ := product.Find(in.Product)
	r := form.Exact(in.N)
	set := form.Set(r)
	return map[string]any{"lb": r.Pounds, "US gal": r.USGallons, "imp gal": r.ImpGallons,
		"L": r.Liters, "set lb": set.Pounds, "set US gal": set.USGallons,
		"set N": form.Nitrogen(set.Pounds)}
}

type priceCase struct {
	Product string  `json:"product"`
	Price   float64 `json:"price"`
	Unit    string  `json:"unit"`
	Credit  float64 `json:"credit"` // $/lb N, taken off a product with two nutrients
}

func price(in priceCase) map[string]any {
	form, _ := product.Find(in.Product)
	pound, ok := form.PerPound(in.Price, in.Unit)
	n := product.PerNutrient(pound, form.N, 0)
	out := map[string]any{"fits": ok, "$/lb N": n, "$/kg N": n / unit.PerPound(1)}
	if form.With != "" {
		other := product.PerNutrient(pound, form.Share, float64(in.Credit*form.N))
		out["$/lb other"], out["$/kg other"] = other, other/unit.PerPound(1)
	}
	return out
}

type seedingCase struct {
	Stand       float64 `json:"stand"`    // plants/m2
	Feet        float64 `json:"feet"`     // plants/ft2, in its place
	TKW         float64 `json:"tkw"`      // g
	PerPound    float64 `json:"perPound"` // seeds/lb, in the place of TKW
	Germination float64 `json:"germination"`
	Losses      float64 `json:"losses"` // points
}

func seedingRate(in seedingCase) map[string]any {
	stand := in.Stand
	if in.Feet > 0 {
		stand = unit.PerSquareMeter(in.Feet)
	}
	if in.PerPound > 0 {
		in.TKW = unit.KernelWeight(in.PerPound)
	}
	s := seeding.Survival(in.Germination, in.Losses)
	return map[string]any{"survival": s, "plants/m2": stand,
		"plants/ac": stand / unit.Acres(1) * 10000, "plants/ft2": stand / unit.PerSquareMeter(1),
		"tkw":   in.TKW,
		"exact": seeding.Exact(stand, in.TKW, s), "timesTen": seeding.TimesTen(stand, in.TKW, s),
		"kg/ha": float64(unit.LbPerAcre(seeding.Exact(stand, in.TKW, s)).KgPerHa())}
}

type granularCase struct {
	Rate    float64 `json:"rate"`    // in any unit for an area
	At      float64 `json:"at"`      // row spacing of that rate, in
	Spacing float64 `json:"spacing"` // in
	PerGram float64 `json:"perGram"` // cells; then rate is lb/ac
	PerAcre float64 `json:"perAcre"` // plants or seeds
}

func granular(in granularCase) map[string]any {
	rate := seeding.Granular(in.Rate, in.At, in.Spacing)
	cells := seeding.Cells(float64(unit.LbPerAcre(rate).KgPerHa()), in.PerGram)
	return map[string]any{"rate": rate, "row feet": seeding.RowFeet(in.Spacing), "cells": cells,
		"times":    cells / seeding.CellsPerHectare,
		"per foot": seeding.PerFoot(in.PerAcre, in.Spacing),
		"apart":    12 / seeding.PerFoot(in.PerAcre, in.Spacing)}
}

type bedCase struct {
	Crop   string  `json:"crop"`
	Spread float64 `json:"spread"` // in
	Row    float64 `json:"row"`    // in
	Dry    bool    `json:"dry"`
	Coarse bool    `json:"coarse"`
}

func bed(in bedCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	use := starter.Utilization(unit.Inch(in.Spread), unit.Inch(in.Row))
	b := starter.Bed{Use: use, Dry: in.Dry, Coarse: in.Coarse}
	return map[string]any{"use": use, "n": float64(b.Limit(r.SeedRow.N, r.SeedRow.NUse)),
		"p": float64(b.Limit(r.SeedRow.P, r.SeedRow.PUse)), "most p": float64(r.SeedRow.PMost)}
}

type historyCase struct {
	Crop       string  `json:"crop"`
	Hosts      []int   `json:"hosts"` // crop years before the plan, oldest first
	Nodulation string  `json:"nodulation"`
	Flooded    bool    `json:"flooded"` // in the year of the last host
	Texture    string  `json:"texture"`
	PH         float64 `json:"ph"` // water
	Lime       bool    `json:"lime"`
}

func history(in historyCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	if in.Lime {
		r = r.OnLime()
	}
	h := risk.History{Crops: len(in.Hosts), Nodulation: in.Nodulation, Flooded: in.Flooded}
	var years []risk.Year
	if len(in.Hosts) > 0 {
		years = make([]risk.Year, in.Hosts[0])
		for _, ago := range in.Hosts {
			years[in.Hosts[0]-ago] = risk.Year{Host: true, Nodulation: in.Nodulation}
			h.Since = ago
		}
		years[in.Hosts[0]-h.Since].Flooded = in.Flooded
	}
	_, now, _ := risk.Walk(r, in.PH, years)
	return map[string]any{"double": risk.Double(h), "double by soil": risk.DoubleBySoil(now),
		"now": now, "share": risk.Adequate(num.Exp10(now)),
		"response": risk.Response(h, in.Texture, in.PH)}
}

type residualCase struct {
	Crop  string  `json:"crop"`
	Yield float64 `json:"yield"` // bu/ac
	Given float64 `json:"given"` // lb N/ac
}

func residual(in residualCase) map[string]any {
	pounds, ok := soiln.Bushel(in.Crop)
	taken, fits := soiln.Removed(in.Crop, unit.LbPerAcre(float64(in.Yield*pounds)))
	n, low, high := soiln.Residual(unit.LbPerAcre(in.Given), taken)
	return map[string]any{"known": ok && fits, "taken": float64(taken), "left": float64(n),
		"low": float64(low), "high": float64(high)}
}
