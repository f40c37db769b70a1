package kind

import (
	"encoding/json"
	"math"

	"hilum/internal/fault"
)

// checkOutline accepts a GeoJSON Polygon or MultiPolygon geometry (RFC 7946, WGS84, longitude
// first), rings closed, at most 200 KB.
func checkOutline(raw json.RawMessage) error {
	if len(raw) == 0 || string(raw) == "null" {
		return nil
	}
	if len(raw) > maxOutline {
		return fault.At("outline", "size", "is %d bytes, accepted up to %d", len(raw), maxOutline)
	}
	var shape struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	}
	if err := json.Unmarshal(raw, &shape); err != nil {
		return fault.At("outline", "json", "is not a GeoJSON geometry")
	}
	switch shape.Type {
	case "Polygon":
		return checkPolygons(shape.Coordinates, func(raw []byte, out *[][][][]float64) error {
			var one [][][]float64
			err := json.Unmarshal(raw, &one)
			*out = [][][][]float64{one}
			return err
		})
	case "MultiPolygon":
		return checkPolygons(shape.Coordinates, func(raw []byte, out *[][][][]float64) error {
			return json.Unmarshal(raw, out)
		})
	}
	return fault.At("outline.type", "word", "is %q, accepted: Polygon, MultiPolygon", shape.Type)
}

func checkPolygons(raw []byte, decode func([]byte, *[][][][]float64) error) error {
	var polygons [][][][]float64
	if err := decode(raw, &polygons); err != nil || len(polygons) == 0 {
		return fault.At(
			"outline.coordinates",
			"type",
			"are not rings of [longitude, latitude] positions",
		)
	}
	for _, polygon := range polygons {
		if len(polygon) == 0 {
			return fault.At("outline.coordinates", "ring", "hold a polygon without a ring")
		}
		for _, ring := range polygon {
			if err := checkRing(ring); err != nil {
				return err
			}
		}
	}
	return nil
}

func checkRing(ring [][]float64) error {
	const where = "outline.coordinates"
	if len(ring) < 4 {
		return fault.At(where, "ring", "hold a ring of %d positions, at least 4 needed", len(ring))
	}
	for _, p := range ring {
		if len(p) < 2 || math.Abs(p[0]) > 180 || math.Abs(p[1]) > 90 {
			return fault.At(
				where,
				"range",
				"hold a position that is not [longitude -180 to 180, latitude -90 to 90]",
			)
		}
	}
	first, last := ring[0], ring[len(ring)-1]
	if first[0] != last[0] || first[1] != last[1] {
		return fault.At(
			where,
			"ring",
			"hold a ring that is not closed: its last position must equal its first",
		)
	}
	return nil
}
