package agro

import (
	"slices"

	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
)

// rhizobia walks the rotation from its first recorded year to the crop year, years without a record
// included.
func (f *field) rhizobia() RhizobiaPart {
	f.askPH()
	seasons := f.seasons()
	years := make([]risk.Year, len(seasons))
	for i, s := range seasons {
		years[i] = f.walkYear(s)
	}
	if f.in.Ground.FreeLime {
		f.crop = f.crop.OnLime()
	}
	var after []float64
	after, f.soil, f.crop = risk.Walk(f.crop, f.pH, years)
	const reach = risk.Tenth * risk.ModelSpread
	f.ground = risk.NewGround(f.soil)
	f.poor, f.rich = risk.GroundAt(f.soil-reach), risk.GroundAt(f.soil+reach)
	part := RhizobiaPart{Now: f.soilFigure(f.soil), Walk: []Walk{}}
	for i, s := range seasons {
		part.Walk = append(part.Walk, Walk{CropYear: s.CropYear, Crop: s.Crop, Level: after[i],
			Notes: f.walkNotes(s, years[i])})
	}
	return part
}

// askPH names what a missing or extreme pH means.
func (f *field) askPH() {
	switch {
	case !f.hasPH:
		f.miss(code.MissingPH, code.Num("assumed", assumedPH, "pH"))
	case f.pH > 8:
		f.caution(code.CautionHighPH, code.Num("pH", f.pH, "pH"))
	case f.pH < 4.9:
		f.caution(code.CautionLowPH, code.Num("pH", f.pH, "pH"))
	}
	if f.in.Ground.FreeLime {
		f.caution(code.CautionFreeLime)
		if f.crop.LimeDrop > 0 {
			f.caution(code.CautionChlorosis)
		}
	}
}

// seasons gives one season for each year, oldest first, from the first record to the year before.
func (f *field) seasons() []Season {
	if len(f.in.History) == 0 {
		f.miss(code.MissingHistory)
		return nil
	}
	given := slices.Clone(f.in.History)
	slices.SortFunc(given, func(a, b Season) int { return a.CropYear - b.CropYear })
	var all []Season
	for y := given[0].CropYear; y < f.in.CropYear; y++ {
		if len(given) > 0 && given[0].CropYear == y {
			all, given = append(all, given[0]), given[1:]
			continue
		}
		all = append(all, Season{CropYear: y})
	}
	return all
}

func (f *field) walkYear(s Season) risk.Year {
	host := crop.Host(f.crop.Group, s.Crop)
	for _, h := range s.AlsoHosts {
		host = host || crop.Host(f.crop.Group, h)
	}
	return risk.Year{
		Host:       host,
		Nodulation: s.Nodulation,
		Bare:       s.Inoculated != nil && !*s.Inoculated,
		Flooded:    s.Flooded,
	}
}

func (f *field) walkNotes(s Season, y risk.Year) []Message {
	var notes []Message
	switch {
	case y.Host && s.Nodulation != "":
		notes = append(notes, tell(code.WalkSeen, code.Word("seen", "nodulation."+s.Nodulation)))
	case y.Host:
		notes = append(notes, tell(code.WalkHost))
	case s.Crop == "" && len(s.AlsoHosts) == 0:
		notes = append(notes, tell(code.WalkNoRecord))
		f.miss(code.MissingYears)
	}
	if y.Flooded {
		notes = append(notes, tell(code.WalkFlooded))
	}
	return notes
}

func (f *field) soilFigure(now float64) Figure {
	const reach = risk.Tenth * risk.SoilSpread
	fig := known(now, "log10 cells/g", cite.Ours, cite.RhizobiaModel, cite.KuceyHynes).
		between(now-reach, now+reach).
		step(code.StepFloor, risk.Floor(f.crop, f.pH), "log10 cells/g",
			code.Num("pH", f.pH, "pH")).
		step(code.StepLift, risk.Lift(f.crop, f.pH), "log10 cells/g").
		step(code.StepDecline, risk.Decline(f.pH), "log10 cells/g")
	if t := f.in.SoilTest; t != nil && t.PH != nil && t.PH.Basis == "CaCl2" {
		fig = fig.step(code.StepWaterPH, f.pH, "pH", code.Num("measured", t.PH.Value, "pH"))
		fig.Sources = append(fig.Sources, cite.EvansPH)
	}
	return fig
}
