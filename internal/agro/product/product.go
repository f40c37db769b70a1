// Package product turns a rate of nitrogen into rates of fertilizer, and prices into cost.
package product

import "math"

// Weights and measures.
const (
	lbPerTonne    = 1000 / 0.45359237
	lbPerShortTon = 2000.0
	literPerUS    = 3.785411784 // US gallon, exact
	literPerImp   = 4.54609     // imperial gallon, exact
	// uanDensity is lb for each US gallon of 28-0-0 (fertilizer physical data sheet; about 10.6 at
	// 80 F).
	uanDensity = 10.67
)

// Form is one product by its guaranteed analysis.
type Form struct {
	Key    string
	N      float64 // share
	With   string  // the nutrient that comes with it: "P2O5", "S"; "" = none
	Share  float64 // of With
	Liquid bool
}

// Forms are the products that may carry starter nitrogen. Analyses are guarantees; coated urea at
// 44 % is memory.
var Forms = []Form{
	{Key: "urea", N: 0.46},
	{Key: "uan", N: 0.28, Liquid: true},
	{Key: "coatedUrea", N: 0.44},
	{Key: "map", N: 0.11, With: "P2O5", Share: 0.52},
	{Key: "ammoniumSulphate", N: 0.21, With: "S", Share: 0.24},
}

// Rates of a product for each acre.
type Rates struct{ Pounds, USGallons, ImpGallons, Liters float64 }

// Find gives the product with a key; ok is false for an unknown one.
func Find(key string) (form Form, ok bool) {
	for _, f := range Forms {
		if f.Key == key {
			return f, true
		}
	}
	return Form{}, false
}

// Exact gives the rates that carry n lb N/ac.
func (f Form) Exact(n float64) Rates { return f.rates(n / f.N) }

func (f Form) rates(pounds float64) Rates {
	r := Rates{Pounds: pounds}
	if f.Liquid {
		r.USGallons = pounds / uanDensity
		r.Liters = float64(r.USGallons * literPerUS)
		r.ImpGallons = r.Liters / literPerImp
	}
	return r
}

// Steps that a drill or a pump can be set to (ours).
const (
	DryStep    = 1.0 // lb/ac
	LiquidStep = 0.5 // US gal/ac
)

// Set gives the rates that a drill can be set to: rounded down, so that no limit is passed.
func (f Form) Set(exact Rates) Rates {
	const slack = 1e-9 // so that 20 lb worked out as 19.999... stays 20
	if f.Liquid {
		steps := math.Floor(exact.USGallons/LiquidStep + slack)
		return f.rates(float64(float64(steps*LiquidStep) * uanDensity))
	}
	return f.rates(float64(math.Floor(exact.Pounds/DryStep+slack) * DryStep))
}

// Nitrogen gives lb N in pounds of the product.
func (f Form) Nitrogen(pounds float64) float64 { return float64(pounds * f.N) }

// PerPound gives $ for each pound of product; ok is false where the unit does not fit the product.
func (f Form) PerPound(price float64, unit string) (dollars float64, ok bool) {
	liter := uanDensity / literPerUS // lb
	switch unit {
	case "$/t":
		return price / lbPerTonne, true
	case "$/short ton":
		return price / lbPerShortTon, true
	case "$/L":
		return price / liter, f.Liquid
	case "$/US gal":
		return price / uanDensity, f.Liquid
	case "$/imp gal":
		return price / float64(liter*literPerImp), f.Liquid
	}
	return 0, false
}

// PerNutrient gives $ for each pound of a nutrient that makes up share of a product, after value
// $ a pound of product is charged to its other nutrient (New Mexico A-133).
func PerNutrient(perPound, share, value float64) float64 { return (perPound - value) / share }
