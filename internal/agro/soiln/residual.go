package soiln

import (
	"math"

	"hilum/internal/unit"
)

// What fields hold to 24 in where nobody tested: 25 to 30 lb/ac in fall 2022 after grain, North
// Dakota and Minnesota, as much as 80 in 2021 after the drought (published 2023).
const (
	usualLeft     = 27.5 // middle of 25 to 30
	LeastUntested = 25.0
	MostUntested  = 80.0
	// leastLeft is what even a hungry crop leaves, and wide the factor to either side of an
	// estimate (both ours).
	leastLeft = 10.0
	wide      = 2.0
)

// grain is what a crop without nodules takes away: N as a share of its seed, and the pounds in its
// bushel. Middle of the fertilizer institute's removal ranges, from memory.
type grain struct {
	n      float64
	bushel float64
}

var grains = map[string]grain{
	"wheat": {0.025, 60}, "durum": {0.025, 60}, "barley": {0.020, 48}, "oat": {0.018, 34},
	"oats": {0.018, 34}, "rye": {0.019, 56}, "canola": {0.0385, 50}, "mustard": {0.0385, 50},
	"flax": {0.038, 56},
}

// Bushel gives the pounds in a bushel of a crop that is no pulse; ok is false where it is not
// known.
func Bushel(crop string) (pounds float64, ok bool) {
	g, ok := grains[crop]
	return g.bushel, ok
}

// Removed gives the N that a harvest of a crop without nodules took away, for lb/ac of seed; ok is
// false for a crop whose removal is not known or that fixes its own.
func Removed(crop string, yield unit.LbPerAcre) (n unit.LbPerAcre, ok bool) {
	g, ok := grains[crop]
	return unit.LbPerAcre(float64(float64(yield) * g.n)), ok
}

// Residual estimates nitrate to 24 in from what last year's crop got as fertilizer and took away
// (ours): the usual rest, plus what was supplied and not removed. It gives 80 lb/ac where 80 were
// given and a drought left 27 in the seed. The range is a factor of two each way.
func Residual(given, removed unit.LbPerAcre) (n, low, high unit.LbPerAcre) {
	left := math.Max(leastLeft, usualLeft+float64(given-removed))
	return unit.LbPerAcre(left), unit.LbPerAcre(left / wide), unit.LbPerAcre(left * wide)
}

// Fall samples (Manitoba Agriculture 2007: late fall to spring gains 8 lb/ac of nitrate-N).
const fallToSpring = 8.0

// Spring gives nitrate 0-24 in of a late fall sample as spring would find it.
func (d Depth) Spring() Depth {
	d.Low += fallToSpring
	if d.Known() {
		d.N += fallToSpring
		d.High += fallToSpring
	}
	return d
}

// FallToSpring is what Spring adds, lb/ac.
func FallToSpring() float64 { return fallToSpring }
