package risk

import "hilum/internal/num"

// Ground is a soil with its spread: a normal distribution of log10 cells/g. All plans of one field
// stand on it, so it keeps what they have in common.
type Ground struct {
	soil, sd float64
	bare     []bare // empty until a gain is asked for
}

// NewGround is a soil whose log10 count has its middle at soil, with the whole spread.
func NewGround(soil float64) *Ground { return &Ground{soil: soil, sd: SoilSpread} }

// GroundAt is NewGround with the model's part of the spread known: soil is where it puts the count,
// and only the field's part is left.
func GroundAt(soil float64) *Ground { return &Ground{soil: soil, sd: fieldSpread} }

// Outcome gives the distribution of p under a live dose of inoculants.
func (g *Ground) Outcome(live Live) Outcome {
	below := make([]float64, edges)
	for k := range below {
		below[k] = chanceBelow(k, g.soil, g.sd, live)
	}
	return outcome(below)
}

// Chances gives Outcome's chances of failure and of adequate without the rest of it.
func (g *Ground) Chances(live Live) (fail, good float64) {
	return unit01(chanceBelow(failIndex, g.soil, g.sd, live)),
		unit01(1 - chanceBelow(goodIndex, g.soil, g.sd, live))
}

// Steps of the soil's count under a gain.
const (
	soilHalf = 10   // points to each side of the soil's middle
	soilStep = 0.35 // standard deviations: 3.5 to each side
)

// bare is one point of the soil's count: how likely it is, p on it without an inoculant, and which
// live dose a rise of gainAt(i) takes, as a place in the steps of the live dose; 0 is none. Large
// rises, which few plans reach, are worked out when one asks.
type bare struct {
	weight, p, cells float64
	known            int
	need             [gainSteps + 1]float64
}

// points gives the points of the soil's count; their weights sum to 1.
func (g *Ground) points() []bare {
	if g.bare != nil {
		return g.bare
	}
	g.bare = make([]bare, 2*soilHalf+1)
	total := 0.0
	for k := range g.bare {
		z := float64(soilStep * float64(k-soilHalf))
		b := &g.bare[k]
		b.weight = num.Density(z)
		b.cells = num.Exp10(g.soil + float64(g.sd*z))
		b.p = Adequate(b.cells)
		total += b.weight
	}
	for k := range g.bare {
		g.bare[k].weight /= total
	}
	return g.bare
}

// dose gives the place that rise i needs, ok is false where no dose lifts p so far.
func (b *bare) dose(i int) (place float64, ok bool) {
	if i < b.known {
		return b.need[i], true
	}
	at := b.p + gainAt(i)
	if at >= 1 {
		return 0, false
	}
	if need := num.Exp10(logCells(at)) - b.cells; need > 0 {
		b.need[i] = livePlace(num.Log10(need / FullDose))
	}
	b.known = i + 1 // rises are asked for in turn
	return b.need[i], true
}
