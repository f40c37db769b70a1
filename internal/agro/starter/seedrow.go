package starter

import (
	"math"

	"hilum/internal/unit"
)

// Seed-row safety.
const (
	testedUse = 15.0 // percent seedbed utilization of the tests (1.5 in on 10 in)
	drySafe   = 0.5  // of the limit in a drying seedbed (Manitoba Agriculture: cut by 50 %)
	// On coarse soil a further fifth goes where the seedbed is dry and two fifths where it is moist
	// (South Dakota, as printed).
	coarseDry   = 0.8
	coarseMoist = 0.6
)

// Utilization gives opener spread over row spacing in percent, at most 100.
func Utilization(spread, row unit.Inch) float64 {
	return math.Min(100, float64(float64(spread)/float64(row)*100))
}

// SeedRowLimit scales the tested limit down with seedbed utilization, never up; a dry seedbed
// halves it. The scaling is an extrapolation (safe rate in proportion to utilization).
func SeedRowLimit(tested unit.LbPerAcre, usePercent float64, dry bool) unit.LbPerAcre {
	return Bed{Use: usePercent, Dry: dry}.Limit(tested, testedUse)
}

// Bed is what a seed row is like.
type Bed struct {
	Use    float64 // seedbed utilization, percent; 100 where it is not known
	Dry    bool
	Coarse bool
}

// Limit scales a limit that was tested at a seedbed utilization down to this bed, never up.
func (b Bed) Limit(tested unit.LbPerAcre, at float64) unit.LbPerAcre {
	limit := float64(float64(tested) * math.Min(1, b.Use/at))
	if b.Dry {
		limit = float64(limit * drySafe)
	}
	return unit.LbPerAcre(float64(limit * b.Texture()))
}

// Texture is the share of a limit that the soil's texture leaves.
func (b Bed) Texture() float64 {
	switch {
	case b.Coarse && b.Dry:
		return coarseDry
	case b.Coarse:
		return coarseMoist
	}
	return 1
}
