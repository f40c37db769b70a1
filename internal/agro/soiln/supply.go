package soiln

import (
	"math"

	"hilum/internal/unit"
)

// The terms of the supply share s (our model; it reproduces the shares that ten published
// trials imply, 0.41 to 0.90).
const (
	nitrateUse = 0.8 // of nitrate 0-24 in that the crop can take; ours
	// organicN is lb N/ac for each percent of organic matter that a season frees for the crop:
	// 14 x 0.80 (Karamanos, quoted in Canola Watch 2016).
	organicN  = 11.2
	organicUp = 8.0 // percent; more is counted as this
	dryFactor = 0.75
	wetFactor = 1.25 // minus and plus a quarter in dry and moist years (same source)
)

// Efficiency of fertilizer N by placement: near the row and mid-row ours, broadcast 0.45 (44 % in
// the tops of Australian wheat, published).
const (
	nearRowUse   = 0.6
	midRowUse    = 0.5
	broadcastUse = 0.45
)

// OrganicMatter gives the percent that a soil zone is taken to hold where it was not measured
// (memory); ok is false for an unknown zone.
func OrganicMatter(zone string) (percent float64, ok bool) {
	switch zone {
	case "brown":
		return 2.0, true
	case "darkBrown":
		return 3.5, true
	case "black":
		return 5.5, true
	case "grey":
		return 2.5, true
	}
	return 0, false
}

// Efficiency gives the share of fertilizer N that the crop can take, by placement word.
func Efficiency(placement string) float64 {
	switch placement {
	case "midRow":
		return midRowUse
	case "broadcast":
		return broadcastUse
	}
	return nearRowUse
}

// Supply is what soil and fertilizer could give a crop, lb N/ac.
type Supply struct {
	Nitrate    unit.LbPerAcre // usable nitrate
	Organic    unit.LbPerAcre // freed from organic matter
	Fertilizer unit.LbPerAcre // usable fertilizer N
	Need       unit.LbPerAcre // the crop's uptake at the expected yield
}

// NewSupply adds up the terms. season is "dry", "normal" or "moist"; usable is the fertilizer N
// times its efficiency, summed; uptake is lb N/bu.
func NewSupply(to24 unit.LbPerAcre, organicPercent float64, season string,
	usable unit.LbPerAcre, uptake float64, yield unit.BushelPerAcre) Supply {
	w := 1.0
	switch season {
	case "dry":
		w = dryFactor
	case "moist":
		w = wetFactor
	}
	om := math.Min(organicPercent, organicUp)
	return Supply{
		Nitrate:    unit.LbPerAcre(float64(nitrateUse * float64(to24))),
		Organic:    unit.LbPerAcre(float64(float64(organicN*om) * w)),
		Fertilizer: usable,
		Need:       unit.LbPerAcre(float64(uptake * float64(yield))),
	}
}

// Ratio gives supply over need, not limited to 1.
func (s Supply) Ratio() float64 {
	return float64(s.Nitrate+s.Organic+s.Fertilizer) / float64(s.Need)
}

// Share gives the share of the crop's need that could be covered, 0 to 1. It is potential supply
// and says nothing about what share of its nitrogen the crop fixes.
func (s Supply) Share() float64 { return math.Min(1, s.Ratio()) }
