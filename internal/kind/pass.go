package kind

import (
	"hilum/internal/agro"
	"hilum/internal/wire"
)

const maxProduct = 80 // characters; the engine takes as many

// checkPass lets the engine judge what it reads of a pass. Hours that are not given stay unknown:
// they are never taken for zero.
func checkPass(p wire.Pass) error {
	return firstOf(
		checkID("field", p.Field),
		checkCropYear("cropYear", p.CropYear),
		checkText("product", p.Product, 1, maxProduct),
		checkDate("date", p.Date),
		checkWord("what", p.What, "herbicide", "insecticide", "fungicide", "fertilizer", "desiccant",
			"other"),
		checkText("note", p.Note, 0, wire.MaxNote),
		engineCheck("passes.0.", func(in *agro.Input) {
			in.CropYear, in.Passes = p.CropYear, []agro.Pass{p.Pass}
		}),
	)
}

func checkAssignment(a wire.Assignment) error {
	var person error
	if a.Person != "" {
		person = checkID("person", a.Person)
	}
	return firstOf(
		checkID("field", a.Field),
		checkCropYear("cropYear", a.CropYear),
		person,
		checkText("note", a.Note, 0, wire.MaxNote),
	)
}
