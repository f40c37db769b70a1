package crop

import "hilum/internal/cite"

// soybean: starter is not advised (Saskatchewan trials). Uptake 160 to 200 lb and removal 130 to
// 140 lb for 35 bu. Ndfa 40 to 60 % (Manitoba), the middle is ours. Stand 140,000 to 160,000/ac.
// With the seed at most 10 lb N/ac in narrow rows and never urea (North Dakota 2002); P2O5 20 lb/ac
// narrow, 10 wide (Manitoba 2021), where one page allows none from 14 in. On calcareous soil a log
// less is ours, between counts of 80 and 15,000/g in France and a Manitoba rule that shows no such
// split. First flower about node 8 is memory; full bloom (R2) comes at 891 to 1052 F-days above 50
// F (North Dakota 2011). Rescue by others: 60 to 80 lb/ac (Michigan), 75 (Ohio).
var soybean = Record{
	Key: "soybean", Names: []string{"soy", "soybeans", "soya", "soyabean"},
	Group:  Soybeans,
	Uptake: Span{4.57, 5.14, 5.71}, Removal: Span{3.71, 3.86, 4.00}, SeedN: 3.86,
	Ndfa: Span{0.40, 0.50, 0.60}, Stand: Span{34.6, 37, 39.5},
	SeedRow: SeedRow{N: 10, NUse: testedUse, P: 20, PUse: knifeUse, PMost: 20, WideP: 10,
		WideFrom: 14, NoUrea: true, Sources: []string{cite.WideRows, cite.SoyPhosphate}},
	Starter: Starter{Kind: "never", External: 35, Sources: []string{cite.SoyStarter}},
	Rescue:  Rescue{Kind: "stages", Most: 50, Flat: Span{60, 70, 80}, FlatKind: cite.Published},
	Native:  foreign, Settled: wheatLand, Lift: strangerLift, LimeDrop: 1, LossFactor: 1,
	FlowerNode: 8, HeatBase: 10, HeatToFlower: Span{495.0, 539.7, 584.4},
	DaysPerNode: daysPerNode, DaysToEmerge: daysToEmerge, CountsNodules: true, Doubles: true,
	RootRotHost: "none", SameCropYears: 3,
	Credits: []Credit{northDakota},
	Sources: []string{cite.UptakeTable, cite.StandGuides, cite.NdfaTable},
}
