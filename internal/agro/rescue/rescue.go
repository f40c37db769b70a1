// Package rescue works out what nitrogen on a crop whose nodules failed would bring back and cost.
// It gives the arithmetic; it never tells anybody to apply.
package rescue

import "math"

// What becomes of the nitrogen (kind ours, anchored as named).
const (
	// taken is the share of broadcast N that the crop takes up where none is lost (published, 44 %
	// of mid-row N in tops of Australian wheat).
	taken = 0.45
	// lostOpen and lostKept are the shares lost to the air: 8 to 15 % is typical, over 30 % bad
	// (published, northern Montana); the lower where half an inch of rain falls in one event or the
	// urea carries an inhibitor.
	lostOpen = 0.30
	lostKept = 0.10
	// EnoughRain in one event, in, washes urea in (published, Montana).
	EnoughRain = 0.5
)

// Lost gives the share of the nitrogen lost to the air; rain is in inches in one event.
func Lost(rain float64, inhibitor bool) float64 {
	if inhibitor || rain >= EnoughRain {
		return lostKept
	}
	return lostOpen
}

// Efficiency gives the share of the nitrogen that reaches the crop.
func Efficiency(lost float64) float64 { return float64(taken * (1 - lost)) }

// Pass is one pass thought of.
type Pass struct {
	Yield      float64 // bu/ac, were nitrogen not short
	N          float64 // lb/ac
	Efficiency float64 // share of N that reaches the crop
	SeedN      float64 // lb N in each bushel gained
	Phi        float64 // share of the loss that nitrogen at this stage still brings back
}

// even is how closely both limits may lie together before the nitrogen counts as short: a rate that
// was worked out to fill what the stage lets back meets it but for rounding.
const even = 1e-9

// Limits of the gain.
const (
	ByStage    = "stage"
	ByNitrogen = "nitrogen"
)

// Gain gives bu/ac brought back where the share loss of the yield is lost, and what limits it.
func (p Pass) Gain(loss float64) (gain float64, limit string) {
	stage := float64(float64(p.Yield*loss) * p.Phi)
	most := p.Most()
	if most < float64(stage*(1-even)) {
		return most, ByNitrogen
	}
	return math.Min(stage, most), ByStage
}

// Most gives bu/ac that the nitrogen can fill.
func (p Pass) Most() float64 { return float64(p.Efficiency*p.N) / p.SeedN }

// Wanted gives the N, lb/ac, that would fill what the stage still lets back, at most the published
// cap; a negative cap stands for none.
func (p Pass) Wanted(loss, most float64) float64 {
	n := float64(float64(float64(p.Phi*loss)*p.Yield)*p.SeedN) / p.Efficiency
	if most >= 0 {
		n = math.Min(n, most)
	}
	return n
}

// UptakeRate is the published rate for pea, lb N/ac: perBushel (3.1) for each bushel expected, less
// soil-test nitrogen, not below 0 (Saskatchewan Agriculture). It knows neither what the crop has
// fixed nor what the soil will still release, so it is an upper bound.
func UptakeRate(perBushel, yield, soil float64) float64 {
	return math.Max(0, float64(perBushel*yield)-soil)
}

// Net gives $/ac of a gain at a price per bushel after a cost, $/ac.
func Net(gain, price, cost float64) float64 { return float64(gain*price) - cost }
