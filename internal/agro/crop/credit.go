package crop

import (
	"slices"

	"hilum/internal/cite"
)

// Credit is one rule's nitrogen credit from this crop to the next.
type Credit struct {
	Rule string // "byZone", "manitoba", "flat40", "byYield", "perTonne"
	Zone string // soil zone it holds for; "" = any
	// Flat is lb/ac where PerBushel, lb/bu of yield taken, is 0.
	Flat      Span
	PerBushel float64
	Kind      string // kind of the number
	Source    string // key of package cite
}

// The credits by soil zone: pulses in the brown zone about 10 lb/ac, 0 to 20 (Montana and southwest
// Saskatchewan plots); pea in the black zone 25 (Saskatchewan Pulse Growers' manual). Dark brown
// 10, with the black zone's as the upper end, is ours, and so is 25 for lentil and faba.
func zones(black string) []Credit {
	return []Credit{
		{Rule: "byZone", Zone: "brown", Flat: Span{0, 10, 20}, Kind: cite.Published,
			Source: cite.CreditZones},
		{Rule: "byZone", Zone: "darkBrown", Flat: Span{10, 10, 25}, Kind: cite.Ours,
			Source: cite.CreditZones},
		{Rule: "byZone", Zone: "black", Flat: one(25), Kind: black, Source: cite.CreditZones},
	}
}

// northDakota is 40 lb/ac after soybean, pea, lentil and edible bean (Dickinson 2023).
var northDakota = Credit{Rule: "flat40", Flat: one(40), Kind: cite.Published,
	Source: cite.CreditFlat}

// neutral: chickpea and dry bean leave no nitrogen or a deficit (Walley et al. 2007).
var neutral = Credit{Rule: "byZone", Flat: one(0), Kind: cite.Published, Source: cite.Walley}

// peaCredits adds what was measured on pea alone: 10 lb/ac or less in Manitoba; the older rule of 5
// lb for 1,000 lb of seed; 15 kg/ha for 1,000 kg of seed on moist black soil (Beckie and Brandt
// 1997).
var peaCredits = append(zones(cite.Published), northDakota,
	Credit{Rule: "manitoba", Flat: Span{0, 10, 10}, Kind: cite.Published, Source: cite.CreditLater},
	Credit{Rule: "byYield", PerBushel: 0.3, Kind: cite.Published, Source: cite.CreditLater},
	Credit{Rule: "perTonne", PerBushel: 0.9, Kind: cite.Published, Source: cite.BeckieBrandt})

// Trial is what starter nitrogen did in published trials, by nitrate 0 to 12 in.
type Trial struct {
	N                     float64 // rate of the trials, lb/ac
	Low                   float64 // chance that a field nobody tested is low
	LowShare, LowGain     float64 // share of low trials that paid, and by how much of yield
	OtherShare, OtherGain float64
	Source                string
}

// peaTrial: 20 kg/ha on pea; below 20 kg/ha of nitrate a third of trials paid, 11 % on average; of
// the other 46, ten paid 8.2 % (McKenzie et al. 2001, the last derived from the abstract). That
// 35 % of untested fields are low is ours.
var peaTrial = Trial{N: 17.8, Low: 0.35, LowShare: 0.33, LowGain: 0.11, OtherShare: 10.0 / 46,
	OtherGain: 0.082, Source: cite.McKenzie}

// RootRot gives the class of a plant named in a rotation as a host of Aphanomyces: "red", "amber"
// or "none". A word that the engine does not know is no host.
func RootRot(plant string) string {
	if r, ok := Named(plant); ok {
		return r.RootRotHost
	}
	if slices.Contains(partial, normal(plant)) {
		return "amber"
	}
	return "none"
}

// partial are hosts without a record that some lines of the disease live on (Root Rot Task Force,
// agronomy page: alfalfa and cicer milkvetch; vetches are ours, after the pulse guides).
var partial = []string{"alfalfa", "cicermilkvetch", "vetch", "hairyvetch", "commonvetch"}
