// Package seeding works out seeding rates from kernel weight and stand, and granular inoculant by
// row spacing.
package seeding

import (
	"math"

	"hilum/internal/unit"
)

// feetPerAcre is row feet in an acre times inches of spacing: 43,560 x 12.
const feetPerAcre = 522720.0

// Losses between germination and stand, points: 5 to 15 (Saskatchewan Pulse Growers); the middle
// stands.
const (
	LeastLoss  = 5.0
	MiddleLoss = 10.0
	MostLoss   = 15.0
)

// Dose standards of rhizobia for seeds of the size of pea, bean and soybean (Canada, Fertilizers
// Regulations s. 10.2, 2006 to 2013; a benchmark, no longer law). Lentil and chickpea are not named
// there and count with them (ours).
const (
	CellsPerSeed    = 1e5
	CellsPerHectare = 1e11 // granular in the row
)

// Survival gives the share of seeds that become plants: germination less losses, in percent. It is
// never less than one seed in a hundred.
func Survival(germination, losses float64) float64 {
	return math.Max(1, germination-losses) / 100
}

// Exact gives lb/ac from plants/m2, thousand-kernel weight in g and survival as a share.
func Exact(stand, tkw, survival float64) float64 {
	return float64(unit.KgPerHa(float64(stand*tkw) / float64(survival*100)).LbPerAcre())
}

// TimesTen gives lb/ac by the Saskatchewan rule: plants/ft2 x g x 10 / percent; 4.1 % over Exact.
func TimesTen(stand, tkw, survival float64) float64 {
	feet := stand / unit.PerSquareMeter(1)
	return float64(float64(feet*tkw)*10) / float64(survival*100)
}

// Granular scales a label rate to another row spacing: the same for each length of row.
func Granular(rate, labelSpacing, spacing float64) float64 {
	return float64(rate*labelSpacing) / spacing
}

// RowFeet gives feet of row in an acre at a spacing in inches.
func RowFeet(spacing float64) float64 { return feetPerAcre / spacing }

// PerFoot gives how many of a count for each acre stand on a foot of row at a spacing in inches.
func PerFoot(perAcre, spacing float64) float64 { return perAcre / RowFeet(spacing) }

// Cells gives cells/ha of a granular rate in kg/ha with a count for each gram.
func Cells(kgPerHa, perGram float64) float64 { return float64(float64(kgPerHa*1000) * perGram) }
