// Package soiln turns soil-test layers into nitrate nitrogen for the depths that rules ask for,
// and into the share of a crop's nitrogen that soil and fertilizer could supply.
package soiln

import (
	"math"

	"hilum/internal/unit"
)

// Layer is one sampled depth with its nitrate nitrogen.
type Layer struct {
	Top, Bottom unit.Inch
	Nitrate     unit.LbPerAcre // NO3-N in the layer
}

// The rules by which a laboratory's ppm become lb/ac.
const (
	perSixInches = 2.0 / 6 // lb/ac for each ppm and inch (Manitoba Agriculture 2007: 2 for 6 in)
	perInch      = 0.3     // lb/ac for each ppm and inch (Great Plains extension, memory)
	perDensity   = 0.226613
	// perDensity is lb/ac for each ppm, inch and g/cm3: an acre-inch of water weighs 226,613 lb
	// (derived).
)

// Rule names how ppm become lb/ac.
type Rule struct {
	Word    string  // "2per6in", "0.3perInch" or "bulkDensity"
	Density float64 // g/cm3, of "bulkDensity"
}

// Factor gives lb/ac for each ppm and inch of depth.
func (r Rule) Factor() float64 {
	switch r.Word {
	case "2per6in":
		return perSixInches
	case "0.3perInch":
		return perInch
	default:
		return float64(perDensity * r.Density)
	}
}

// FromPPM gives the nitrate nitrogen of a layer.
func FromPPM(c unit.PPM, thickness unit.Inch, rule Rule) unit.LbPerAcre {
	return unit.LbPerAcre(float64(float64(float64(c)*float64(thickness)) * rule.Factor()))
}

// Slack is how far a layer's edge may lie from the depth that a rule names and still count as
// it: 15, 30 and 60 cm are sampled for 6, 12 and 24 in (ours).
const Slack unit.Inch = 0.5

// How a depth came to be known.
const (
	Measured = "measured" // one layer, just this depth
	Summed   = "summed"   // several layers
	Bounded  = "bounded"  // not measured, but it lies between Low and High
	AtLeast  = "atLeast"  // not measured to this depth; Low is what the layers above hold
	Missing  = "missing"
)

// Depth is the nitrate nitrogen from the surface to one depth. N is set for Measured and Summed.
type Depth struct {
	How       string
	N         unit.LbPerAcre
	Low, High unit.LbPerAcre
}

// Known says whether the depth was sampled.
func (d Depth) Known() bool { return d.How == Measured || d.How == Summed }

// To gives the nitrate nitrogen from the surface to bottom. Layers come top first and do not
// overlap. A layer that straddles the depth cannot be divided, since no published share of
// nitrate by depth is known: the answer then lies between its being all below and all above.
// Where sampling stops short within half the depth, nitrate below is taken to be no denser than
// above, so the answer lies between what was found and that times depth / sampled (ours).
func To(layers []Layer, bottom unit.Inch) Depth {
	at, sum, count := unit.Inch(0), unit.LbPerAcre(0), 0
	for _, l := range layers {
		if l.Top > at+Slack || l.Top >= bottom-Slack {
			break
		}
		if l.Bottom > bottom+Slack {
			return Depth{How: Bounded, Low: sum, High: sum + l.Nitrate}
		}
		sum, at, count = sum+l.Nitrate, l.Bottom, count+1
	}
	switch {
	case at >= bottom-Slack && count == 1:
		return Depth{How: Measured, N: sum, Low: sum, High: sum}
	case at >= bottom-Slack && count > 1:
		return Depth{How: Summed, N: sum, Low: sum, High: sum}
	case count == 0:
		return Depth{How: Missing}
	case at >= bottom/2-Slack && bottom <= 12:
		most := math.Max(float64(bottom)/float64(at), 1)
		return Depth{How: Bounded, Low: sum, High: unit.LbPerAcre(float64(float64(sum) * most))}
	}
	return Depth{How: AtLeast, Low: sum}
}
