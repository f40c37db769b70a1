package risk

import (
	"math"

	"hilum/internal/num"
)

// Share adequate and loss (our model).
const (
	// FullDose is cells for each gram that the standard dose adds where all survive.
	FullDose = 13500.0
	// halfCells makes p(100 cells/g) the published class limit of 70 %: 100 / (7/3)^(1/0.6).
	halfCells = 24.361574742222803
	slope     = 0.6
	// mostLoss is the share of yield lost without any nitrogen supply: such a crop keeps a fifth.
	mostLoss = 0.80
)

// FailBelow and GoodFrom are the published classes (University of Adelaide and GRDC): below 50 % of
// plants adequate is poor, from 70 % adequate.
const (
	FailBelow = 0.50
	GoodFrom  = 0.70
)

// Adequate gives p, the expected share of adequately nodulated plants, at a count of live
// compatible cells for each gram.
func Adequate(cells float64) float64 {
	y := num.Pow(cells/halfCells, slope)
	if math.IsInf(y, 1) {
		return 1
	}
	return y / (1 + y)
}

// Loss gives the share of yield lost where the share p is adequate and soil and fertilizer can
// supply the share s of the nitrogen.
func Loss(p, s float64) float64 {
	return float64(float64(mostLoss*(1-p)) * (1 - s))
}

// logHalf is log10 of halfCells, worked out once.
var logHalf = num.Log10(halfCells)

// logCells gives log10 cells/g at which the share p is adequate.
func logCells(p float64) float64 {
	return logHalf + num.Log10(p/(1-p))/slope
}
