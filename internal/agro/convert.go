package agro

import (
	"hilum/internal/agro/soiln"
	"hilum/internal/unit"
)

// inches converts a checked length.
func inches(q Quantity) unit.Inch {
	switch q.Unit {
	case "cm":
		return unit.Centimeter(q.Value).Inch()
	case "mm":
		return unit.Centimeter(q.Value / 10).Inch()
	}
	return unit.Inch(q.Value)
}

// lbPerAcre converts a checked mass for each area.
func lbPerAcre(q Quantity) unit.LbPerAcre {
	if q.Unit == "kg/ha" {
		return unit.KgPerHa(q.Value).LbPerAcre()
	}
	return unit.LbPerAcre(q.Value)
}

// bushels converts a checked yield.
func bushels(q Quantity) unit.BushelPerAcre {
	if q.Unit == "kg/ha" {
		return unit.KgPerHa(q.Value).BushelPerAcre()
	}
	return unit.BushelPerAcre(q.Value)
}

// perBushel converts a checked price of the crop.
func perBushel(q Quantity) float64 {
	if q.Unit == "$/t" {
		return unit.PerBushel(q.Value)
	}
	return q.Value
}

// celsius converts a checked temperature.
func celsius(q Quantity) unit.Celsius {
	if q.Unit == "F" {
		return unit.Fahrenheit(q.Value).Celsius()
	}
	return unit.Celsius(q.Value)
}

// layersOf converts a checked soil test; nil gives no layers.
func layersOf(t *SoilTest) []soiln.Layer {
	if t == nil {
		return nil
	}
	layers := make([]soiln.Layer, 0, len(t.Layers))
	for _, l := range t.Layers {
		top, bottom := inches(l.Top), inches(l.Bottom)
		layers = append(layers, soiln.Layer{Top: top, Bottom: bottom,
			Nitrate: nitrate(l.Nitrate, bottom-top, ruleOf(*t))})
	}
	return layers
}

func ruleOf(t SoilTest) soiln.Rule {
	rule := soiln.Rule{Word: t.PPMRule}
	if t.BulkDensity != nil {
		rule.Density = *t.BulkDensity
	}
	return rule
}

func nitrate(q Quantity, thickness unit.Inch, rule soiln.Rule) unit.LbPerAcre {
	switch q.Unit {
	case "ppm NO3-N":
		return soiln.FromPPM(unit.PPM(q.Value), thickness, rule)
	case "ppm NO3":
		return soiln.FromPPM(unit.PPM(q.Value).NitrateN(), thickness, rule)
	}
	return lbPerAcre(q)
}

// acres converts a checked area.
func acres(q Quantity) float64 {
	if q.Unit == "ha" {
		return unit.Acres(q.Value)
	}
	return q.Value
}

// perPound converts a checked price by weight.
func perPound(q Quantity) float64 {
	if q.Unit == "$/kg" {
		return unit.PerPound(q.Value)
	}
	return q.Value
}

// perAcre converts a checked cost by area.
func perAcre(q Quantity) float64 {
	if q.Unit == "$/ha" {
		return q.Value / unit.Acres(1)
	}
	return q.Value
}

// kernelWeight converts a checked weight of a thousand seeds to g.
func kernelWeight(q Quantity) float64 {
	if q.Unit == "seeds/lb" {
		return unit.KernelWeight(q.Value)
	}
	return q.Value
}

// perSquareMeter converts a checked stand.
func perSquareMeter(q Quantity) float64 {
	if q.Unit == "plants/ft2" {
		return unit.PerSquareMeter(q.Value)
	}
	return q.Value
}
