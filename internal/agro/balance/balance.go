// Package balance works out what a harvested pulse crop fixed, what left with its seed, and what
// published rules credit to the next crop. Balance and credit are alternatives: they are never
// added.
package balance

import (
	"math"

	"hilum/internal/agro/crop"
	"hilum/internal/unit"
)

// The rules for nitrogen below ground.
const (
	AboveGround   = "none"          // biased low
	Greenhouse    = "greenhouse"    // 11.3 % of plant nitrogen in mature pea roots (Arcand 2013)
	ThirtyPercent = "thirtyPercent" // memory
)

// Roots lists the rules, the default first: fixed nitrogen is most often published that way.
var Roots = []string{AboveGround, Greenhouse, ThirtyPercent}

// RootFactor gives plant nitrogen over nitrogen above ground.
func RootFactor(rule string) float64 {
	switch rule {
	case Greenhouse:
		return 1 / (1 - 0.113)
	case ThirtyPercent:
		return 1 / (1 - 0.30)
	}
	return 1
}

// fullNodules is the share of adequate plants at which a crop fixes its published share (ours; the
// model's p of a field with a well nodulated host last year).
const fullNodules = 0.9

// Scaled takes the share of nitrogen from air down where digs found few adequate plants (ours).
func Scaled(ndfa crop.Span, adequate float64) crop.Span {
	by := math.Min(1, math.Max(0, adequate)/fullNodules)
	return crop.Span{Low: float64(ndfa.Low * by), Mid: float64(ndfa.Mid * by),
		High: float64(ndfa.High * by)}
}

// proteinPerN is protein over nitrogen of seed (memory; it reproduces both published figures of
// Strydhorst).
const proteinPerN = 6.25

// SeedN gives the N in a bushel of seed of a protein content in percent, lb/bu.
func SeedN(protein float64) float64 {
	return float64(unit.LbPerBushel*protein) / 100 / proteinPerN
}

// Crop is a harvested crop. Uptake is at the yield really taken, not at the target.
type Crop struct {
	Yield   unit.BushelPerAcre
	Uptake  float64 // above ground, lb N/bu
	Removal float64 // in the seed, lb N/bu
}

// Uptaken gives N in the crop above ground.
func (c Crop) Uptaken() unit.LbPerAcre {
	return unit.LbPerAcre(float64(float64(c.Yield) * c.Uptake))
}

// Removed gives N that left with the seed.
func (c Crop) Removed() unit.LbPerAcre {
	return unit.LbPerAcre(float64(float64(c.Yield) * c.Removal))
}

// Fixed gives N from air for a share from air and a root factor.
func (c Crop) Fixed(ndfa, root float64) unit.LbPerAcre {
	return unit.LbPerAcre(float64(float64(float64(c.Uptaken())*ndfa) * root))
}

// Net gives fixed less removed N. Starter is not in it: the season's partial balance, which some
// print, is Net and the starter N.
func (c Crop) Net(ndfa, root float64) unit.LbPerAcre { return c.Fixed(ndfa, root) - c.Removed() }

// BreakEven gives the share from air at which as much is fixed above ground as leaves; above 1 no
// share does.
func (c Crop) BreakEven() float64 { return c.Removal / c.Uptake }

// Impossible says that more N would have left with the seed than the crop took up: protein, yield
// or a printed table is wrong.
func (c Crop) Impossible() bool { return c.Removal > c.Uptake }
