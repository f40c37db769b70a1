// Package unit holds the quantities of the trade as types, with exact conversions.
package unit

// Exact definitions (international yard and pound, 1959).
const (
	kgPerLb    = 0.45359237    // kg in a pound
	haPerAcre  = 0.40468564224 // ha in an acre
	cmPerInch  = 2.54          // cm in an inch
	lbPerTonne = 1000 / kgPerLb
)

// LbPerBushel is the bushel weight of pea, lentil and the other pulses here, 60 lb (Saskatchewan
// Agriculture, Dry Pea; Canadian trade convention for the others).
const LbPerBushel = 60.0

// BushelsPerTonne is 36.74 for the 60 lb bushel.
const BushelsPerTonne = lbPerTonne / LbPerBushel

// NitrateNShare is the nitrogen in nitrate by weight, 14.007 / 62.004 (atomic weights).
const NitrateNShare = 0.225905

// LbPerAcre is a mass for each acre.
type LbPerAcre float64

// KgPerHa is a mass for each hectare.
type KgPerHa float64

// LbPerAcre converts; 1 kg/ha is 0.892179 lb/ac.
func (m KgPerHa) LbPerAcre() LbPerAcre {
	return LbPerAcre(float64(float64(m)*haPerAcre) / kgPerLb)
}

// KgPerHa converts; 1 lb/ac is 1.120851 kg/ha.
func (m LbPerAcre) KgPerHa() KgPerHa {
	return KgPerHa(float64(float64(m)*kgPerLb) / haPerAcre)
}

// Inch is a depth or a distance.
type Inch float64

// Centimeter is a depth or a distance.
type Centimeter float64

// Inch converts; 2.54 cm is an inch.
func (d Centimeter) Inch() Inch { return Inch(float64(d) / cmPerInch) }

// PPM is a mass share of dry soil, milligrams in a kilogram.
type PPM float64

// NitrateN converts ppm of nitrate to ppm of nitrate nitrogen.
func (c PPM) NitrateN() PPM { return PPM(float64(float64(c) * NitrateNShare)) }

// BushelPerAcre is a yield in bushels of 60 lb.
type BushelPerAcre float64

// BushelPerAcre converts a yield in kg/ha; 67.25 kg/ha is one bushel for each acre.
func (m KgPerHa) BushelPerAcre() BushelPerAcre {
	return BushelPerAcre(float64(m.LbPerAcre()) / LbPerBushel)
}

// Celsius is a temperature.
type Celsius float64

// Fahrenheit is a temperature.
type Fahrenheit float64

// Celsius converts; 50 F is 10 C.
func (t Fahrenheit) Celsius() Celsius { return Celsius((float64(t) - 32) / 1.8) }

// PerBushel converts a price for a tonne to one for a 60 lb bushel.
func PerBushel(perTonne float64) float64 { return perTonne / BushelsPerTonne }

// PerPound converts a price for a kilogram to one for a pound.
func PerPound(perKg float64) float64 { return float64(perKg * kgPerLb) }

// Acres converts hectares; 1 ha is 2.471054 ac.
func Acres(hectares float64) float64 { return hectares / haPerAcre }

// Hectares converts acres.
func Hectares(acres float64) float64 { return float64(acres * haPerAcre) }

// KernelWeight gives the weight of a thousand seeds in g from seeds/lb.
func KernelWeight(perPound float64) float64 { return float64(kgPerLb*1e6) / perPound }

// PerSquareMeter converts a count for each square foot; 1/ft2 is 10.76391/m2.
func PerSquareMeter(perSquareFoot float64) float64 { return perSquareFoot / squareFoot }

const squareFoot = 0.09290304 // m2, exact

// SquareMeters converts square feet.
func SquareMeters(squareFeet float64) float64 { return float64(squareFeet * squareFoot) }
