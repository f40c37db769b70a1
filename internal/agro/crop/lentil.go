package crop

import "hilum/internal/cite"

// lentil: nothing beyond what phosphate and sulphur bring, 9 lb/ac in all where nitrate is very low
// on coarse soil (9 lb N with 9 lb P2O5 gave top yield, south-central Saskatchewan). Uptake 82 to
// 101 lb and removal 55 to 67 lb for 30 bu. Ndfa 62 % (Liu 2019) to 80 %, the middle is ours. Stand
// 130/m2 (12/ft2), now 12 to 17/ft2. P2O5 15 (Alberta), 20 and 30 lb/ac with double discs: the
// strictest stands. Full bloom at node 10 to 13, so first flower about node 11; a node each 4 to 5
// days in rapid growth, 7 at the slow end is ours.
var lentil = Record{
	Key: "lentil", Names: []string{"lentils", "redlentil", "greenlentil"},
	Group:  Viciae,
	Uptake: Span{2.73, 3.05, 3.37}, Removal: Span{1.83, 2.03, 2.23}, SeedN: 2.03,
	Ndfa: Span{0.62, 0.70, 0.80}, Stand: Span{130, 130, 183},
	SeedRow: SeedRow{N: seedRowN, NUse: testedUse, P: 15, PUse: knifeUse, PMost: 30,
		Sources: []string{cite.SafeSeedRow, cite.SeedRowP}},
	Starter: Starter{Kind: "gap", Trigger: 10, Total: 9, External: 35, Needs: "coarse",
		Sources: []string{cite.LentilNitrogen}},
	Rescue: Rescue{Kind: "whatIf"},
	Native: wheatLand, Settled: wheatLand, Lift: [3]float64{3, 3, 3}, LossFactor: 1,
	Canopy: true, FlowerNode: 11,
	DaysPerNode: Span{4, 4.5, 7}, DaysToEmerge: daysToEmerge,
	RootRotHost: "red", SameCropYears: 6,
	Credits: append(zones(cite.Ours), northDakota),
	Sources: []string{cite.UptakeTable, cite.StandGuides, cite.NdfaTable},
}
