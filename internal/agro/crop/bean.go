package crop

import "hilum/internal/cite"

// dryBean is always planned with nitrogen: it pays even where the crop nodulates, hence the loss
// factor of 0.5 (ours). Uptake 75 lb for 1,600 lb/ac; the printed removal is a misprint, Ontario
// has 2.50 lb/bu. Ndfa below 40, 45 or 50 % by three statements; the lower end is the worldwide 0
// (Peoples 1995). Stand 35/m2 in Saskatchewan trials, 25 to 44. No fertilizer with the seed in wide
// rows (North Dakota 2002), wide being 14 in as for soybean; no P2O5 limit found for narrow ones.
// Lift of 4: bean land kept 100 to 1,000 times (Kucey and Hynes 1989). First flower about node 8 is
// memory.
var dryBean = Record{
	Key: "dryBean", Names: []string{"drybeans", "bean", "beans", "pintobean", "navybean",
		"blackbean", "kidneybean", "ediblebean"},
	Group:  Phaseoli,
	Uptake: one(2.81), Removal: one(2.50), SeedN: 2.50,
	Ndfa: Span{0, 0.40, 0.50}, Stand: Span{25, 35, 44},
	SeedRow: SeedRow{N: seedRowNHardy, NUse: testedUse, WideFrom: 14,
		Sources: []string{cite.SafeSeedRow, cite.WideRows}},
	Starter: Starter{Kind: "total", Total: 35, External: 35,
		Sources: []string{cite.BeanManitoba}},
	Rescue: Rescue{Kind: "no"},
	Native: wheatLand, Settled: wheatLand, Lift: [3]float64{4, 4, 4}, LossFactor: 0.5,
	FlowerNode: 8, DaysPerNode: daysPerNode, DaysToEmerge: daysToEmerge,
	RootRotHost: "amber", SameCropYears: 3,
	Credits: []Credit{neutral, northDakota},
	Sources: []string{cite.UptakeTable, cite.OntarioRemoval, cite.StandGuides, cite.NdfaTable},
}
