package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/rotation"
	"hilum/internal/cite"
)

// rotation gives the cautions of the rotation.
func (f *field) rotation() RotationPart {
	var years []rotation.Year
	for _, s := range f.in.History {
		years = append(years, rotation.Year{CropYear: s.CropYear,
			Plants: append([]string{s.Crop}, s.AlsoHosts...)})
	}
	part := RotationPart{Messages: []Message{}}
	f.rootRot(&part, years)
	for _, s := range rotation.Breaks(f.crop, f.in.CropYear, years) {
		name := code.RotationOther
		if s.Same {
			name = code.RotationSame
		}
		part.say(true, name, code.Num("years", float64(s.Years), ""),
			code.Num("least", float64(s.Least), ""))
	}
	f.distance(&part)
	f.reCrop(&part)
	return part
}

func (r *RotationPart) say(when bool, name string, args ...code.Arg) {
	if when {
		r.Messages = append(r.Messages, tell(name, args...))
	}
}

// rootRot counts host-free years and grades them.
func (f *field) rootRot(part *RotationPart, years []rotation.Year) {
	c := rotation.Field{Crop: f.crop, Plan: f.in.CropYear, Years: years,
		Clay: f.in.Ground.Texture == "fine"}
	if r := f.in.RootRot; r != nil {
		c.Confirmed, c.Tested, c.WetHost = r.Confirmed, r.Tested || r.Confirmed, r.WetHost
	}
	found := rotation.RootRot(c)
	part.RootRot = found.Grade
	part.HostFreeYears = f.hostFree(found)
	free := code.Num("free", float64(found.Free), "")
	host := f.crop.RootRotHost != rotation.None
	part.say(!host, code.RotationResistant)
	part.say(found.Grade == rotation.Red, code.RotationRed, free,
		code.Num("least", rotation.Least, ""))
	part.say(found.Grade == rotation.Amber, code.RotationShort, free,
		code.Num("ideal", rotation.Ideal, ""))
	if host && found.Partial && found.Free < rotation.Ideal {
		part.Messages = append(part.Messages, inYear(code.RotationPartial, found.Host))
	}
	if host && found.Gap > 0 {
		part.Messages = append(part.Messages, inYear(code.RotationGap, found.Gap))
	}
	part.say(host && !c.Tested && found.Grade != rotation.None, code.RotationTest)
	part.say(host && found.Free >= rotation.Least, code.RotationNewGround)
}

// inYear tells a code about a year, which is a name and not an amount.
func inYear(name string, n int) Message {
	return Message{Code: name, Args: map[string]Arg{"year": {Text: year(n)}}}
}

// hostFree is the count of host-free years; unknown where a year without a record, or the record's
// own beginning, could hide a host.
func (f *field) hostFree(found rotation.Found) Figure {
	free := float64(found.Free)
	switch {
	case found.Gap > 0:
		since := float64(f.in.CropYear - found.Gap - 1)
		fig := unknown("years", cite.Derived, inYear(code.RotationGap, found.Gap),
			cite.Aphanomyces)
		if found.Host > 0 {
			fig = fig.between(since, free)
		}
		return fig
	case found.Host == 0:
		return unknown("years", cite.Derived, tell(code.RotationNoHost,
			code.Num("years", free, "")), cite.Aphanomyces)
	}
	return known(free, "years", cite.Derived, cite.Aphanomyces)
}

// distance warns of last year's field of a crop whose disease flies.
func (f *field) distance(part *RotationPart) {
	least := code.Num("least", f.crop.ClearOf, "m")
	switch {
	case f.crop.ClearOf == 0:
	case f.in.Chickpea == nil:
		part.say(true, code.RotationAskNear, least)
	default:
		m := meters(*f.in.Chickpea)
		part.say(m < f.crop.ClearOf, code.RotationNear, code.Num("distance", m, "m"), least)
	}
}

// reCrop names the label dates before which the crop may not be seeded.
func (f *field) reCrop(part *RotationPart) {
	for _, p := range f.in.Passes {
		if p.ReCrop == "" || f.in.Plan.Seeded >= p.ReCrop {
			continue
		}
		name := code.RotationReCrop
		if f.in.Plan.Seeded != "" {
			name = code.RotationReCropOver
		}
		m := dated(name, "date", p.ReCrop)
		m.Args["product"] = Arg{Text: p.Product}
		part.Messages = append(part.Messages, m)
	}
}
