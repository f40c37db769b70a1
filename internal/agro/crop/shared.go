package crop

// Numbers that several crops share.
const (
	// wheatLand: wheat land of southern Alberta holds 1 to 100 cells/g of viciae and phaseoli,
	// geometric mean 10 (Kucey and Hynes 1989, abstract); log10 cells/g.
	wheatLand = 1.0
	// foreign: a count finds nothing where the group never grew (ours); log10 cells/g.
	foreign = -1.0
	// seedRowN is 10 kg N/ha in all at 15 % seedbed utilization, and seedRowNHardy 20 kg/ha for
	// soybean, black bean and faba, by product (Saskatchewan Pulse Growers 2020); lb/ac.
	seedRowN      = 8.92
	seedRowNHardy = 17.84
	testedUse     = 15.0 // percent; 1.5 in spread on 10 in rows
	// knifeUse is 1 in spread on 9 in rows, where the 15 lb/ac P2O5 of pea was set (Saskatchewan
	// guideline, restated by Elmy); taken for the other crops too (ours); percent.
	knifeUse = 11.0
)

// The stranger crops, chickpea and soybean: 2.47 after the first nodulated crop (Ontario soybean,
// counts of 1976 and 1977), then 3.0 and 3.5; 17 and 30 years of persistence are taken as the
// native floor of wheat land after two (ours, for chickpea too).
var strangerLift = [3]float64{2.47, 3.0, 3.5}

// Emergence of pea and lentil takes 10 to 21 days, 14 to 17 in soil of 45 to 50 F (Hill, North
// Dakota, published); for the other crops ours.
var daysToEmerge = Span{10, 15, 21}

// Days for each node where there is no weather: 3.5 is pea in good conditions, the ends are 16 and
// 10 degrees C by Wilson and Robson 1996 (derived); for crops without a number of their own, ours.
var daysPerNode = Span{2.3, 3.5, 6.7}
