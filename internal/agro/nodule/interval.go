package nodule

import "math"

// Rho is how alike plants of one spot are (ours, range 0.02 to 0.30; no published value for
// nodulation).
const Rho = 0.10

// z95 is the normal quantile of a 95 % interval.
const z95 = 1.959963984540054

// Count is the counted plants of one spot and how many of them are adequate.
type Count struct {
	Plants, Adequate int
}

// Add counts a plant in that has been judged; one not yet judged stays out.
func (c *Count) Add(result string) {
	switch result {
	case Adequate:
		c.Plants++
		c.Adequate++
	case Poor:
		c.Plants++
	}
}

// Totals adds the spots up.
func Totals(spots []Count) (plants, adequate int) {
	for _, s := range spots {
		plants += s.Plants
		adequate += s.Adequate
	}
	return plants, adequate
}

// Effective gives the number of independent plants that the counted plants are worth:
// N / (1 + (n - 1) rho), n the plants of a spot (weighted by size where spots differ).
func Effective(spots []Count, rho float64) float64 {
	plants, squares := 0, 0
	for _, s := range spots {
		plants += s.Plants
		squares += s.Plants * s.Plants
	}
	if plants == 0 {
		return 0
	}
	size := float64(squares) / float64(plants)
	return float64(plants) / (1 + float64((size-1)*rho))
}

// Wilson gives the 95 % score interval of a share (Wilson 1927) for n plants, which need not be a
// whole number.
func Wilson(share, n float64) (low, high float64) {
	if n <= 0 {
		return 0, 1
	}
	const zz = z95 * z95
	whole := 1 + zz/n
	middle := (share + zz/2/n) / whole
	variance := float64(share*(1-share))/n + zz/4/n/n
	half := float64(z95*math.Sqrt(variance)) / whole
	return math.Max(0, middle-half), math.Min(1, middle+half)
}

// t95 holds two-sided 95 % points of Student's t for 1 to 19 degrees of freedom (standard table).
var t95 = [...]float64{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
	2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093}

// MeanInterval gives the mean of spot means and its 95 % t interval within low and high limits of
// the scale; ok is false with fewer than two spots.
func MeanInterval(means []float64, least, most float64) (mean, low, high float64, ok bool) {
	n := float64(len(means))
	for _, m := range means {
		mean += m / n
	}
	if len(means) < 2 || len(means)-2 >= len(t95) {
		return mean, 0, 0, false
	}
	squares := 0.0
	for _, m := range means {
		squares += float64((m - mean) * (m - mean))
	}
	half := float64(t95[len(means)-2] * math.Sqrt(squares/(n-1)/n))
	return mean, math.Max(least, mean-half), math.Min(most, mean+half), true
}

// patchyRho and patchySpots say when a field is read as zones (ours).
const (
	patchyRho   = 0.4
	patchySpots = 4
)

// Patchy says whether plants of one spot are so alike, and spots so different, that an average
// hides zones: observed correlation above 0.4 over at least four spots.
func Patchy(spots []Count) bool {
	return len(spots) >= patchySpots && observedRho(spots) > patchyRho
}

// observedRho is the intraclass correlation of the analysis of variance between spots.
func observedRho(spots []Count) float64 {
	plants, adequate := Totals(spots)
	squares, between, within, used := 0.0, 0.0, 0.0, 0
	share := float64(adequate) / math.Max(1, float64(plants))
	for _, s := range spots {
		if s.Plants == 0 {
			continue
		}
		used++
		n, p := float64(s.Plants), float64(s.Adequate)/float64(s.Plants)
		squares += float64(n * n)
		between += float64(n * float64((p-share)*(p-share)))
		within += float64(n * float64(p*(1-p)))
	}
	if used < 2 || plants <= used {
		return 0
	}
	size := (float64(plants) - squares/float64(plants)) / float64(used-1)
	b := between / float64(used-1)
	w := within / float64(plants-used)
	if b+float64((size-1)*w) == 0 {
		return 0
	}
	return (b - w) / (b + float64((size-1)*w))
}
