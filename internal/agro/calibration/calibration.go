// Package calibration asks how well the forecasts of an account have come true: the chances of
// failure that were given before a dig against what the digs showed, and how alike plants of one
// spot were in its own digs.
package calibration

import (
	"math"

	"hilum/internal/fault"
)

// Pair is one forecast and what came of it.
type Pair struct {
	Chance float64 // that the field fails, 0 to 1, as given before the dig
	Failed bool    // fewer than half of the plants were adequate
}

// Result says how the forecasts did.
type Result struct {
	Pairs int
	// Brier is the mean squared difference of chance and outcome (Brier 1950): 0 is perfect, 0.25
	// what always saying one half earns. Meaningless without pairs.
	Brier float64
	// Base is the score of always giving the share that failed, the least that skill must beat.
	Base float64
	Rows []Row // of the reliability table, low chances first, without empty rows
}

// Row is one band of chances.
type Row struct {
	Low, High float64 // of the band; High belongs to the band above, but for 1
	Pairs     int
	Mean      float64 // chance given
	Failed    float64 // share that failed
	// FailedLow and FailedHigh bound that share by Wilson's 95 % interval.
	FailedLow, FailedHigh float64
}

// bands is how many rows the reliability table has (ours: few digs fill no more).
const bands = 5

// Of scores forecasts. Its error is of kind Invalid and names a chance that is none.
func Of(pairs []Pair) (Result, error) {
	r := Result{Pairs: len(pairs)}
	rows := make([]Row, bands)
	failed := 0.0
	for i, p := range pairs {
		if !(p.Chance >= 0 && p.Chance <= 1) {
			return Result{}, fault.At("pairs", "range",
				"hold a chance of %v at place %d, accepted is 0 to 1", p.Chance, i)
		}
		off := p.Chance - indicator(p.Failed)
		r.Brier += float64(off * off)
		failed += indicator(p.Failed)
		row := &rows[min(bands-1, int(float64(p.Chance*bands)))]
		row.Pairs++
		row.Mean += p.Chance
		row.Failed += indicator(p.Failed)
	}
	if len(pairs) == 0 {
		return r, nil
	}
	n := float64(len(pairs))
	r.Brier /= n
	r.Base = float64(failed / n * (1 - failed/n))
	for i, row := range rows {
		if row.Pairs > 0 {
			r.Rows = append(r.Rows, row.close(i))
		}
	}
	return r, nil
}

func indicator(failed bool) float64 {
	if failed {
		return 1
	}
	return 0
}

// close turns the sums of a row into means.
func (r Row) close(i int) Row {
	n := float64(r.Pairs)
	r.Low, r.High = float64(i)/bands, float64(i+1)/bands
	r.Mean /= n
	r.Failed /= n
	r.FailedLow, r.FailedHigh = wilson(r.Failed, n)
	return r
}

// wilson gives the 95 % score interval of a share (Wilson 1927).
func wilson(share, n float64) (low, high float64) {
	const z = 1.959963984540054
	const zz = z * z
	whole := 1 + zz/n
	half := float64(z*math.Sqrt(float64(share*(1-share))/n+zz/4/n/n)) / whole
	middle := (share + zz/2/n) / whole
	return math.Max(0, middle-half), math.Min(1, middle+half)
}
