package wire

import (
	"math"

	"hilum/internal/agro"
	"hilum/internal/cite"
	"hilum/internal/fault"
	"hilum/internal/outline"
)

// MaxOutline is how many bytes of GeoJSON an outline may have: some 5,000 corners.
const MaxOutline = 200 << 10

// Outlined is what the engine says of an outline. With findings it is none, and has no spots.
type Outlined struct {
	Area      agro.Quantity     `json:"area"`              // ha
	AreaAcres agro.Quantity     `json:"areaAcres"`         // the same, ac
	Differs   bool              `json:"differs,omitempty"` // from the area that was typed
	Findings  []outline.Finding `json:"findings,omitempty"`
	Spots     []outline.Place   `json:"spots,omitempty"` // to dig at, in the order of the walk
	Edge      *agro.Figure      `json:"edge,omitempty"`  // how far the spots keep from the edge, m
	Count     *agro.Figure      `json:"count,omitempty"` // how many are usual for the area
	Sources   []agro.Source     `json:"sources,omitempty"`
}

// Outline measures and checks an outline and, where spots is not 0, suggests places to dig: as many
// as usual below 0. The seed makes them the same each time. Of a typed area it says whether it is
// far off.
func Outline(raw Raw, typed *agro.Quantity, seed string, spots int) (Outlined, error) {
	polygons, err := ReadOutline(raw)
	if err != nil {
		return Outlined{}, err
	}
	area := outline.Of(polygons)
	out := Outlined{
		Area:      agro.Quantity{Value: toTenth(area / squareMetresPer["ha"]), Unit: "ha"},
		AreaAcres: agro.Quantity{Value: toTenth(area / squareMetresPer["ac"]), Unit: "ac"},
		Findings:  outline.Check(polygons),
	}
	if typed != nil {
		size := squareMetresPer[typed.Unit]
		out.Differs = size > 0 && outline.Differs(float64(typed.Value*size), area)
	}
	if spots == 0 || len(out.Findings) > 0 {
		return out, nil
	}
	usual := outline.Count(area)
	if spots < 0 {
		spots = usual
	}
	places, edge := outline.Spots(polygons, seed, spots)
	kind, source := cite.Practice, cite.HeadlandWidth
	if edge <= outline.EdgeM {
		kind, source = cite.Published, cite.EdgeDistance
	}
	if edge < outline.EdgeM {
		kind, source = cite.Ours, cite.SpotSpread
	}
	number := float64(usual)
	out.Spots = places
	out.Edge = &agro.Figure{Value: &edge, Unit: "m", Kind: kind, Sources: []string{source}}
	out.Count = &agro.Figure{Value: &number, Unit: "spots", Kind: cite.Ours,
		Sources: []string{cite.SpotSpread}}
	for _, key := range []string{source, cite.SpotSpread} {
		s, _ := cite.Find(key)
		if len(out.Sources) == 0 || out.Sources[0].Key != key {
			out.Sources = append(out.Sources, agro.Source(s))
		}
	}
	return out, nil
}

// squareMetresPer: 1 acre = 4046.8564224 m2 exactly (international yard and pound, 1959).
var squareMetresPer = map[string]float64{"ha": 10_000, "ac": 4046.8564224}

// toTenth rounds an area as people write it; a plot below a tenth keeps three digits.
func toTenth(v float64) float64 {
	if v < 1 {
		return math.Round(v*1000) / 1000
	}
	return math.Round(v*10) / 10
}

// ReadOutline reads a GeoJSON Polygon or MultiPolygon geometry (RFC 7946, WGS84, longitude first)
// as polygons of closed rings of positions. Faults are Invalid and say what is wrong and where.
func ReadOutline(raw Raw) ([][][][]float64, error) {
	if len(raw) > MaxOutline {
		return nil, fault.At("outline", "size", "is %d bytes, accepted up to %d", len(raw), MaxOutline)
	}
	var g geometry
	if err := decode(raw, false, &g, readGeometry); err != nil {
		return nil, fault.At("outline", "json", "is not a GeoJSON geometry")
	}
	var polygons [][][][]float64
	var err error
	switch g.kind {
	case "Polygon":
		var one [][][]float64
		err = decode(g.coordinates, true, &one, readRings)
		polygons = [][][][]float64{one}
	case "MultiPolygon":
		err = decode(g.coordinates, true, &polygons, readPolygons)
	default:
		return nil, fault.At("outline.type", "word", "is %q, accepted: Polygon, MultiPolygon", g.kind)
	}
	if err != nil || len(polygons) == 0 {
		return nil, fault.At("outline.coordinates", "type",
			"are not rings of [longitude, latitude] positions")
	}
	return polygons, checkPolygons(polygons)
}

type geometry struct {
	kind        string
	coordinates Raw
}

func readGeometry(d *decoder, g *geometry) {
	for ok := d.firstKey(); ok; ok = d.nextKey() {
		switch string(d.key) {
		case "type":
			d.text(&g.kind)
		case "coordinates":
			d.bytes(&g.coordinates)
		default:
			d.unknown()
		}
	}
}

func readPolygons(d *decoder, v *[][][][]float64) { readList(d, v, readRings) }
func readRings(d *decoder, v *[][][]float64)      { readList(d, v, readRing) }
func readRing(d *decoder, v *[][]float64)         { readList(d, v, readPosition) }
func readPosition(d *decoder, v *[]float64)       { readList(d, v, (*decoder).number) }

func checkPolygons(polygons [][][][]float64) error {
	for _, rings := range polygons {
		if len(rings) == 0 {
			return fault.At("outline.coordinates", "ring", "hold a polygon without a ring")
		}
		for _, ring := range rings {
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
			return fault.At(where, "range",
				"hold a position that is not [longitude -180 to 180, latitude -90 to 90]")
		}
	}
	first, last := ring[0], ring[len(ring)-1]
	if first[0] != last[0] || first[1] != last[1] {
		return fault.At(where, "ring",
			"hold a ring that is not closed: its last position must equal its first")
	}
	return nil
}
