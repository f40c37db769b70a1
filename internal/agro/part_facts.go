package agro

import (
	"hilum/internal/agro/crop"
	"hilum/internal/cite"
)

// facts are what is known of the crop itself.
func (f *field) facts() CropPart {
	r := f.crop
	return CropPart{
		Group:    string(r.Group),
		Stand:    ranged(r.Stand, "plants/m2", r.Sources),
		Uptake:   ranged(r.Uptake, "lb N/bu", r.Sources),
		Removal:  ranged(r.Removal, "lb N/bu", r.Sources),
		SeedRowP: f.seedRowP(),
		Sources:  append([]string{}, r.Sources...),
	}
}

// ranged shows a published range with the value that stands for it.
func ranged(s crop.Span, unit string, from []string) Figure {
	fig := known(s.Mid, unit, cite.Published, from...)
	if s.Low < s.High {
		fig = fig.between(s.Low, s.High)
	}
	return fig
}
