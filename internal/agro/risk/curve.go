package risk

// cells is how finely quantiles are looked for: mostLoss over this, then along a straight line.
const cells = 256

// curve is a distribution function from 0 to mostLoss as far as its quantiles have asked for it.
type curve struct {
	chance [cells + 1]float64 // chance below each edge
	known  [cells + 1]bool
}

// quantile gives x below which the chance is q, where below gives the chance at x.
func (c *curve) quantile(q float64, below func(x float64) float64) float64 {
	at := func(k int) float64 {
		if !c.known[k] {
			c.chance[k], c.known[k] = below(float64(mostLoss*float64(k))/cells), true
		}
		return c.chance[k]
	}
	c.chance[cells], c.known[cells] = 1, true
	if at(0) >= q {
		return 0
	}
	low, high := c.around(q)
	for halve := false; high-low > 1; halve = !halve {
		middle := (low + high) / 2
		if part := (q - at(low)) / (at(high) - at(low)); !halve {
			middle = max(low+1, min(high-1, low+int(float64(part*float64(high-low))+0.5)))
		}
		if at(middle) < q {
			low = middle
		} else {
			high = middle
		}
	}
	part := (q - at(low)) / (at(high) - at(low))
	return float64(mostLoss*(float64(low)+part)) / cells
}

// around gives the known edges closest to a quantile.
func (c *curve) around(q float64) (low, high int) {
	high = cells
	for k, known := range c.known {
		switch {
		case !known:
		case c.chance[k] >= q:
			return low, k
		default:
			low = k
		}
	}
	return low, high
}
