package risk

import "slices"

// cells is how finely quantiles are looked for: mostLoss over this, then along a straight line.
const cells = 256

// curve is a distribution function from 0 to mostLoss as far as its quantiles have asked for it: the
// chance below some edges of the cells, in order.
type curve struct{ known []below }

type below struct {
	edge   int
	chance float64
}

// quantile gives x below which the chance is q, where of gives the chance at x.
func (c *curve) quantile(q float64, of func(x float64) float64) float64 {
	if c.known == nil {
		c.known = append(make([]below, 0, 24), below{0, of(0)}, below{cells, 1})
	}
	if c.known[0].chance >= q {
		return 0
	}
	i := slices.IndexFunc(c.known, func(b below) bool { return b.chance >= q })
	for halve := false; c.known[i].edge-c.known[i-1].edge > 1; halve = !halve {
		low, high := c.known[i-1], c.known[i]
		middle := (low.edge + high.edge) / 2
		if !halve {
			straight := float64(part(q, low, high)*float64(high.edge-low.edge)) + 0.5
			middle = max(low.edge+1, min(high.edge-1, low.edge+int(straight)))
		}
		chance := of(float64(mostLoss*float64(middle)) / cells)
		c.known = slices.Insert(c.known, i, below{middle, chance})
		if chance < q {
			i++
		}
	}
	low, high := c.known[i-1], c.known[i]
	return float64(mostLoss*(float64(low.edge)+part(q, low, high))) / cells
}

// part gives how far along the straight line between two edges the chance is q.
func part(q float64, low, high below) float64 { return (q - low.chance) / (high.chance - low.chance) }
