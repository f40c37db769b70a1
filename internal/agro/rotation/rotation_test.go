package rotation

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hilum/internal/agro/crop"
)

var worse = []string{None, Unknown, Amber, Red}

// A longer wait since the last host never makes the grade worse, and a fact that speaks for the
// disease never makes it better.
func TestGradeIsMonotone(t *testing.T) {
	pea, _ := crop.Find("pea")
	rapid.Check(t, func(t *rapid.T) {
		f := Field{Crop: pea, Plan: 2027, Tested: rapid.Bool().Draw(t, "tested"),
			WetHost: rapid.Bool().Draw(t, "wet"), Clay: rapid.Bool().Draw(t, "clay")}
		host := rapid.SampledFrom([]string{"pea", "Lentil", "vetch", "dry bean"}).Draw(t, "host")
		last := len(worse)
		for since := 1; since <= 14; since++ {
			f.Years = nil
			for y := 2000; y < f.Plan; y++ {
				plant := "wheat"
				if y == f.Plan-since {
					plant = host
				}
				f.Years = append(f.Years, Year{y, []string{plant}})
			}
			found := RootRot(f)
			at := slices.Index(worse, found.Grade)
			if at > last || found.Free != since-1 {
				t.Fatalf("%d years since %s: %+v", since, host, found)
			}
			last = at
			f.Confirmed = true
			if sure := RootRot(f); slices.Index(worse, sure.Grade) < at {
				t.Fatalf("a find turns %s into %s", found.Grade, sure.Grade)
			}
			f.Confirmed = false
		}
	})
}

func TestEveryCropHasAKnownClass(t *testing.T) {
	for _, r := range crop.Records() {
		if !slices.Contains([]string{None, Amber, Red}, crop.RootRot(r.Key)) {
			t.Errorf("%s is of class %q", r.Key, crop.RootRot(r.Key))
		}
	}
	if crop.RootRot("Cicer milkvetch") != Amber || crop.RootRot("wheat") != None {
		t.Error("milkvetch is not amber, or wheat is a host")
	}
}
