// Package risk is the project's own model of inoculation risk: how many compatible rhizobia wait in
// the soil, what an inoculant adds, what share of plants is then adequately nodulated, and what a
// failure costs. Nothing here is a published equation; the anchors stand beside the constants.
package risk

import (
	"math"

	"hilum/internal/agro/crop"
	"hilum/internal/num"
)

// Soil population, log10 cells/g in the top 4 in (our model).
const (
	undetected = -1.0 // log10 cells/g below which a count finds nothing
	// halfPH and widthPH shape q(pH): viciae often undetectable below pH(CaCl2) 4.6, usually above
	// 100/g from 4.9, that is 5.24 and 5.52 in water.
	halfPH  = 5.38
	widthPH = 0.08
	// winterDrop is log10 lost each winter at pH 6.5 and above; acidDrop times (6.5 - pH)^1.5 comes
	// on top. Anchor: pea land keeps 10 to 100 times through three springs (Kucey and Hynes 1989).
	winterDrop = 0.25
	acidDrop   = 0.30
	neutralPH  = 6.5
	floodDrop  = 0.5 // log10 once for each flooded year; range 0 to 1
	// poorShare is the share of plants taken as nodulated where "poor" was seen and not counted:
	// the middle of the published class below 50 % (ours).
	poorShare = 0.25
)

// WaterPH converts a pH in calcium chloride: pHCa = 1.05 pHw - 0.9 (published, Soil Science
// 145:29). Not for saline soil.
func WaterPH(calciumChloride float64) float64 { return (calciumChloride + 0.9) / 1.05 }

// tolerance is q(pH), the share of the neutral range that acid leaves, 0 to 1.
func tolerance(pH float64) float64 {
	return 1 / (1 + num.Exp(-(pH-halfPH)/widthPH))
}

// Lift is log10 cells/g after a nodulated host.
func Lift(r crop.Record, pH float64) float64 {
	return undetected + float64((r.Lift[0]+1)*tolerance(pH))
}

// Floor is log10 cells/g that the soil never falls below.
func Floor(r crop.Record, pH float64) float64 {
	return undetected + float64((r.Native+1)*tolerance(pH))
}

// Decline is log10 lost in one winter without a host.
func Decline(pH float64) float64 {
	acid := math.Max(0, neutralPH-pH)
	return winterDrop + float64(acidDrop*float64(acid*math.Sqrt(acid)))
}

// Year is one crop year of the rotation as the walk sees it.
type Year struct {
	Host       bool
	Nodulation string // "good", "poor", "" = nobody looked
	Bare       bool   // grown without an inoculant, as recorded
	Flooded    bool
}

// memory is how many years a nodulated crop counts towards the next one's lift.
const memory = 12

// Walk carries the population through the years, oldest first, from the floor. after[i] is the
// level at the end of year i; now is the level in the spring after the last; next is the crop with
// the lift and the floor of the ground as the years left it. A host counts as a nodulated crop
// where at least the published limit of poor of its plants was adequate (ours).
func Walk(r crop.Record, pH float64, years []Year) (after []float64, now float64,
	next crop.Record) {
	next = r
	level := Floor(r, pH)
	var grown []int
	for i, y := range years {
		if y.Host {
			share := hostShare(y, pH, level)
			level = AfterCrop(next, pH, level, share)
			if share >= FailBelow {
				grown = append(grown, i)
			}
		}
		for recent := grown; ; recent = recent[1:] {
			if len(recent) == 0 || recent[0] >= i+1-memory {
				next = r.Grown(len(recent), len(grown))
				break
			}
		}
		floor := Floor(next, pH)
		if y.Flooded {
			level = math.Max(floor, level-floodDrop)
		}
		after = append(after, level)
		level = math.Max(floor, level-Decline(pH))
	}
	return after, level, next
}

// AfterCrop gives the level after a host of which the share p was adequately nodulated; a crop
// never takes rhizobia away.
func AfterCrop(r crop.Record, pH, before, p float64) float64 {
	return before + float64(math.Max(0, Lift(r, pH)-before)*p)
}

// hostShare is what is known of the nodulation: seen, or by the model with a peat inoculant at its
// centre, since prairie advice is to inoculate every time.
func hostShare(y Year, pH, level float64) float64 {
	switch y.Nodulation {
	case "good":
		return 1
	case "poor":
		return poorShare
	}
	cells := num.Exp10(level)
	if !y.Bare {
		cells += float64(FullDose * num.Exp10(acidBase(Peat, pH)))
	}
	return Adequate(cells)
}
