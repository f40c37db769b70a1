package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/seeding"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// seeding works out the seeding rate and the granular inoculant that goes with it.
func (f *field) seeding() SeedingPart {
	part := SeedingPart{Notes: []Message{}}
	in := f.in.Seeding
	if in == nil {
		in = &Seeding{}
	}
	part.Survival = f.survives(*in, &part)
	f.seedRates(*in, &part)
	part.Granular = f.granular()
	part.Dose = f.granularDose(part.Granular, &part)
	return part
}

// survives is germination less losses; without losses entered, less 5 to 15 points.
func (f *field) survives(in Seeding, part *SeedingPart) Figure {
	if in.Germination == nil {
		return unknown("share", cite.Published, tell(code.SeedingNoGermination), cite.SeedSurvival)
	}
	g := *in.Germination
	if in.Mortality != nil {
		return known(seeding.Survival(g, *in.Mortality), "share", cite.Derived, cite.SeedSurvival)
	}
	low, high := seeding.Survival(g, seeding.MostLoss), seeding.Survival(g, seeding.LeastLoss)
	part.Notes = append(part.Notes, tell(code.SeedingLosses, code.Num("low", low, "share"),
		code.Num("high", high, "share")), tell(code.SeedingCold))
	return known(seeding.Survival(g, seeding.MiddleLoss), "share", cite.Published,
		cite.SeedSurvival).between(low, high)
}

// seedRates fills in the rate by the chosen formula, with the other one beside it.
func (f *field) seedRates(in Seeding, part *SeedingPart) {
	why := tell(code.SeedingNoWeight)
	if in.TKW != nil && part.Survival.Value == nil {
		why = *part.Survival.Unknown
	}
	if in.TKW == nil || part.Survival.Value == nil {
		part.Rate = unknown("lb/ac", cite.Derived, why, cite.SeedExact)
		part.Other = unknown("lb/ac", cite.Published, why, cite.SeedTimesTen)
		part.Total = unknown("lb", cite.Derived, why)
		part.Cost = unknown("$/ac", cite.Derived, why)
		return
	}
	stand := f.crop.Stand
	if in.Stand != nil {
		s := perSquareMeter(*in.Stand)
		stand.Low, stand.Mid, stand.High = s, s, s
	}
	tkw := kernelWeight(*in.TKW)
	by := func(kind, source string, rate func(stand, tkw, survival float64) float64) Figure {
		s := part.Survival
		fig := known(rate(stand.Mid, tkw, *s.Value), "lb/ac", kind, source).
			step(code.StepStand, stand.Mid, "plants/m2").
			step(code.StepKernels, tkw, "g").step(code.StepSurvives, *s.Value, "share")
		if row := f.in.Plan.RowSpacing; row != nil {
			perAcre := float64(stand.Mid*10000) / float64(unit.Acres(1)**s.Value)
			fig = fig.step(code.StepPerFoot, seeding.PerFoot(perAcre, float64(inches(*row))), "seeds/ft",
				code.Num("spacing", row.Value, row.Unit))
		}
		low, high := *s.Value, *s.Value
		if s.Low != nil {
			low, high = *s.Low, *s.High
		}
		fig.Sources = append(fig.Sources, cite.StandGuides)
		return fig.between(rate(stand.Low, tkw, high), rate(stand.High, tkw, low))
	}
	part.Rate = by(cite.Derived, cite.SeedExact, seeding.Exact)
	part.Other = by(cite.Published, cite.SeedTimesTen, seeding.TimesTen)
	if f.in.Rules.SeedFormula == "timesTen" { // default exact: it wastes no seed
		part.Rate, part.Other = part.Other, part.Rate
	}
	part.Total = f.total(*part.Rate.Value, "lb")
	part.Cost = unknown("$/ac", cite.Derived, tell(code.SeedingNoPrice))
	if p := f.in.Prices.Seed; p != nil {
		part.Cost = known(float64(*part.Rate.Value*perPound(*p)), "$/ac", cite.Derived)
	}
}

// granular scales the label's rate to the drill's row spacing.
func (f *field) granular() Figure {
	d, row := f.in.Drill, f.in.Plan.RowSpacing
	switch {
	case d == nil || d.GranularRate == nil || d.GranularSpacing == nil:
		return unknown("lb/ac", cite.Derived, tell(code.GranularNoLabel), cite.RowLength)
	case row == nil:
		return unknown("lb/ac", cite.Derived, tell(code.GranularNoRow), cite.RowLength)
	}
	label, spacing := float64(lbPerAcre(*d.GranularRate)), float64(inches(*d.GranularSpacing))
	return known(seeding.Granular(label, spacing, float64(inches(*row))), "lb/ac", cite.Derived,
		cite.RowLength).
		step(code.StepLabelRate, label, "lb/ac",
			code.Num("spacing", d.GranularSpacing.Value, d.GranularSpacing.Unit)).
		step(code.StepRowSpacing, float64(inches(*row)), "in")
}

// granularDose is cells/ha against the benchmark.
func (f *field) granularDose(rate Figure, part *SeedingPart) Figure {
	from := []string{cite.CellStandard}
	switch d := f.in.Drill; {
	case rate.Value == nil:
		return unknown("cells/ha", cite.Derived, *rate.Unknown, from...)
	case d.CellsPerGram == nil:
		return unknown("cells/ha", cite.Derived, tell(code.DoseNoCount), from...)
	}
	count := *f.in.Drill.CellsPerGram
	cells := seeding.Cells(float64(unit.LbPerAcre(*rate.Value).KgPerHa()), count)
	part.Notes = append(part.Notes, doseNote(cells, seeding.CellsPerHectare, "cells/ha"))
	return known(cells, "cells/ha", cite.Derived, from...).
		step(code.StepGuaranteed, count, "cells/g")
}

// doseNote compares a dose with its benchmark; a thousandth short is rounding.
func doseNote(dose, standard float64, unit string) Message {
	name, times := code.DoseEnough, dose/standard
	if times < 0.999 {
		name = code.DoseShort
	}
	return tell(name, code.Num("times", times, ""), code.Num("standard", standard, unit))
}
