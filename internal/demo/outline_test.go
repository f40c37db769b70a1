package demo

import (
	"math"
	"math/rand/v2"
	"testing"

	"hilum/internal/outline"
	"hilum/internal/wire"
)

// The outlines of the demo hold the area that stands beside them, and none runs into another.
func TestOutlinesHoldTheirArea(t *testing.T) {
	m := &maker{rand: rand.New(rand.NewPCG(Seed, 1))}
	var all [][][][]float64
	for i, p := range plots() {
		polygons, err := wire.ReadOutline(m.outline(i, p.acres))
		if err != nil {
			t.Fatalf("%s: %v", p.name, err)
		}
		if acres := outline.Of(polygons) / 4046.8564224; math.Abs(acres-p.acres) > 0.02*p.acres {
			t.Errorf("%s: the outline holds %.1f ac, typed %g", p.name, acres, p.acres)
		}
		all = append(all, polygons...)
	}
	if found := outline.Check(all); len(found) > 0 {
		t.Errorf("outlines cross: %+v", found)
	}
}
