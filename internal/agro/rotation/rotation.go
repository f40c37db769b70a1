// Package rotation gives the cautions of a rotation: years free of hosts of root rot, years between
// pulses, distance to old chickpea ground and re-crop dates.
package rotation

import "hilum/internal/agro/crop"

// Grades of root rot.
const (
	None    = "none"
	Amber   = "amber"
	Red     = "red"
	Unknown = "unknown"
)

// Host-free years (published: 6 to 8 between susceptible hosts, at least 6 where confirmed).
const (
	Ideal = 8
	Least = 6
)

// Year is one earlier crop year: the crop and all else that grew, such as cover crops, green manure
// and volunteers. A year that has neither is a gap.
type Year struct {
	CropYear int
	Plants   []string
}

// Field is what is known of a field's root rot.
type Field struct {
	Crop      crop.Record
	Plan      int // crop year planned
	Years     []Year
	Confirmed bool // by a test
	Tested    bool
	WetHost   bool // a host stood here in a wet year
	Clay      bool
}

// Found is what the rotation says. Free is Plan - Host - 1: the years between, not the difference.
type Found struct {
	Host    int  // crop year of the last host, 0 = none on record
	Partial bool // it is a plant that only some lines of the disease live on
	Free    int  // host-free years up to the plan, as far as the record goes
	Gap     int  // latest year without a record since, or before, that could hide a host; 0 = none
	Grade   string
}

// RootRot reads the rotation. A host inside the ideal break is amber, and red inside the least one
// where the disease is confirmed, a host stood there in a wet year, or clay was never tested. A
// partial host, or a crop that is itself one, is never worse than amber (ours).
func RootRot(f Field) Found {
	found := Found{Grade: None}
	last := map[string]int{}
	recorded := map[int]bool{}
	first := f.Plan
	for _, y := range f.Years {
		for _, p := range y.Plants {
			if p != "" {
				class := crop.RootRot(p)
				last[class] = max(last[class], y.CropYear)
				recorded[y.CropYear] = true
				first = min(first, y.CropYear)
			}
		}
	}
	found.Host = max(last[Red], last[Amber])
	found.Partial = found.Host > 0 && last[Amber] > last[Red]
	found.Free, found.Gap = f.Plan-first, gap(recorded, f.Plan, f.Plan-1-Ideal)
	if found.Host > 0 {
		found.Free = f.Plan - found.Host - 1
		found.Gap = gap(recorded, f.Plan, found.Host)
	}
	found.Grade = f.grade(last, found.Gap >= f.Plan-Ideal)
	return found
}

// gap gives the latest year after a year and before the plan that nobody recorded.
func gap(recorded map[int]bool, plan, after int) int {
	for y := plan - 1; y > after; y-- {
		if !recorded[y] {
			return y
		}
	}
	return 0
}

func (f Field) grade(last map[string]int, gap bool) string {
	if f.Crop.RootRotHost == None {
		return None
	}
	free := func(class string) int {
		if last[class] == 0 {
			return Ideal
		}
		return f.Plan - last[class] - 1
	}
	sure := f.Confirmed || f.WetHost || f.Clay && !f.Tested
	switch {
	case f.Crop.RootRotHost == Red && free(Red) < Least && sure:
		return Red
	case min(free(Red), free(Amber)) < Ideal:
		return Amber
	case gap:
		return Unknown
	}
	return None
}

// Years between pulses (published older guide, weaker than the break for root rot).
const otherPulse = 2

// Short is a break between pulses that is shorter than published.
type Short struct {
	Same  bool // the same pulse; else another
	Year  int  // when it grew
	Years int  // between
	Least int
}

// Breaks lists the breaks that are too short: the same pulse under its own least, another pulse
// under two years. Hosts of root rot before a host are left to RootRot, which is stricter.
func Breaks(planned crop.Record, plan int, years []Year) []Short {
	var same, other Short
	for _, y := range years {
		for _, p := range y.Plants {
			r, pulse := crop.Named(p)
			between := plan - y.CropYear - 1
			switch {
			case !pulse || planned.RootRotHost == Red && r.RootRotHost == Red:
			case alike(planned, r):
				same.take(Short{true, y.CropYear, between, planned.SameCropYears})
			default:
				other.take(Short{false, y.CropYear, between, otherPulse})
			}
		}
	}
	var out []Short
	for _, s := range []Short{same, other} {
		if s.Year > 0 {
			out = append(out, s)
		}
	}
	return out
}

// take keeps the latest of the breaks that are too short.
func (s *Short) take(t Short) {
	if t.Years < t.Least && t.Year > s.Year {
		*s = t
	}
}

// alike says whether two crops are one pulse: only the rhizobia of pea serve several pulses here.
func alike(a, b crop.Record) bool {
	return a.Key == b.Key || a.Group == b.Group && a.Group != crop.Viciae
}
