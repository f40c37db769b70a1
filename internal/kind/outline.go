package kind

import (
	"hilum/internal/fault"
	"hilum/internal/outline"
	"hilum/internal/wire"
)

// checkOutline accepts what wire.ReadOutline reads, whose sides do not cross and whose size can be
// a field's.
func checkOutline(raw wire.Raw) error {
	if len(raw) == 0 || string(raw) == "null" {
		return nil
	}
	polygons, err := wire.ReadOutline(raw)
	if err != nil {
		return err
	}
	found := outline.Check(polygons)
	if len(found) == 0 {
		return nil
	}
	const where = "outline.coordinates"
	switch at := found[0].Place; found[0].Code {
	case outline.Crossing:
		return fault.At(where, outline.Crossing,
			"have sides that cross at longitude %.6f, latitude %.6f", at.Longitude, at.Latitude)
	case outline.Small:
		return fault.At(where, outline.Small, "hold less than %g square metres", outline.LeastM2)
	}
	return fault.At(where, outline.Large, "hold more than %g hectares", outline.MostM2/10_000)
}
