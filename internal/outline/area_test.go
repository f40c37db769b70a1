package outline

import (
	"math"
	"slices"
	"testing"
)

func box(west, south, east, north float64) [][]float64 {
	return [][]float64{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}
}

// The published test polygons of the geodesic literature (Karney 2013) and boxes between parallels
// whose area follows from the authalic integral.
func TestAreaAgainstWGS84Polygons(t *testing.T) {
	for _, tt := range []struct {
		name      string
		ring      [][]float64
		want      float64 // m2
		tolerance float64
	}{
		{"octant", [][]float64{{0, 90}, {0, 0}, {90, 0}, {0, 90}}, 63758202715511, 1},
		{"around the pole", [][]float64{{0, 89}, {90, 89}, {180, 89}, {270, 89}, {0, 89}},
			24952305678, 24952305678 * 1e-8},
		{"on the equator", [][]float64{{0, -1}, {1, 0}, {0, 1}, {-1, 0}, {0, -1}}, 24619419146,
			24619419146 * 1e-8},
		{"around the other pole", [][]float64{{0, -89}, {90, -89}, {180, -89}, {270, -89}, {0, -89}},
			24952305678, 24952305678 * 1e-8},
		{"quarter", box(-106, 51, -105.9885, 51.0072), 646566.25, 0.5},
		{"hundredth of a degree", box(-106, 51, -105.99, 51.01), 780853.80, 0.5},
	} {
		if got := Area(tt.ring); math.Abs(got-tt.want) > tt.tolerance {
			t.Errorf("%s: %.3f m2, want %.3f, off by %.3g", tt.name, got, tt.want, got-tt.want)
		} else {
			t.Logf("%s: off by %.3g m2", tt.name, got-tt.want)
		}
		slices.Reverse(tt.ring)
		if back := Area(tt.ring); math.Abs(back-tt.want) > tt.tolerance {
			t.Errorf("%s, wound the other way: %.3f m2", tt.name, back)
		}
	}
}

func TestAreaAcrossTheDateLine(t *testing.T) {
	here, there := Area(box(-1, 51, 1, 52)), Area([][]float64{{179, 51}, {-179, 51}, {-179, 52},
		{179, 52}, {179, 51}})
	if math.Abs(here-there) > 1e-3 {
		t.Errorf("%v m2 here, %v across the line", here, there)
	}
}

func TestNoAreaWithoutARing(t *testing.T) {
	for _, ring := range [][][]float64{nil, {{1, 1}}, {{1, 1}, {2, 2}, {1, 1}}} {
		if got := Area(ring); math.Abs(got) > 1e-3 {
			t.Errorf("%v has %v m2", ring, got)
		}
	}
}

func TestOppositePlacesHaveAnArea(t *testing.T) {
	got := Area([][]float64{{0, 0.1}, {179.9, 0}, {-90, 60}, {0, 0.1}})
	if math.IsNaN(got) || got <= 0 || got > 2*math.Pi*radiusSquared {
		t.Errorf("area of a ring over nearly opposite places = %v", got)
	}
}

func TestHolesAreTakenOff(t *testing.T) {
	outer, hole := box(-106, 51, -105.99, 51.01), box(-105.998, 51.002, -105.996, 51.004)
	got := Of([][][][]float64{{outer, hole}, {box(-105, 51, -104.99, 51.01)}})
	if want := 2*Area(outer) - Area(hole); math.Abs(got-want) > 1e-3 {
		t.Errorf("%v m2, want %v", got, want)
	}
}

func TestDiffersByMoreThanATenth(t *testing.T) {
	if Differs(145, 160) || Differs(160, 160) || Differs(176, 160) {
		t.Error("a difference of a tenth or less is reported")
	}
	if !Differs(143, 160) || !Differs(177, 160) {
		t.Error("a difference of more than a tenth is not reported")
	}
}
