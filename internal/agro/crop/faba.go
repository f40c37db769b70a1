package crop

import "hilum/internal/cite"

// fabaBean: below 10 lb/ac to 12 in the plants may sit short, and the N of MAP is normally enough;
// 25 to 35 lb/ac of soil and fertilizer N delays nodules, above 50 can prevent them (Saskatchewan
// Pulse Growers). Uptake 257 to 314 lb and removal 154 to 188 lb for 50 bu; SeedN 2.59 lb/bu is 27
// % protein (published 2013), which the table's removal exceeds. Ndfa 76 % (Liu 2019), 80 % or
// more, about 90 %. Stand 45/m2 (Manitoba). P2O5 22 lb/ac with narrow openers, 30 with double
// discs. First flower about node 9 is memory.
var fabaBean = Record{
	Key: "fabaBean", Names: []string{"faba", "fababeans", "fava", "favabean", "favabeans"},
	Group:  Viciae,
	Uptake: Span{5.14, 5.71, 6.28}, Removal: Span{3.08, 3.42, 3.76}, SeedN: 2.59,
	Ndfa: Span{0.76, 0.80, 0.90}, Stand: one(45),
	SeedRow: SeedRow{N: seedRowNHardy, NUse: testedUse, P: 22, PUse: knifeUse, PMost: 30,
		Sources: []string{cite.SafeSeedRow, cite.SeedRowP}},
	Starter: Starter{Kind: "phosphateOnly", Trigger: 10, External: 25,
		Sources: []string{cite.FabaFertility}},
	Rescue: Rescue{Kind: "no"},
	Native: wheatLand, Settled: wheatLand, Lift: [3]float64{3, 3, 3}, LossFactor: 1,
	FlowerNode: 9, DaysPerNode: daysPerNode, DaysToEmerge: daysToEmerge,
	RootRotHost: "none", SameCropYears: 3,
	Credits: zones(cite.Ours),
	Sources: []string{cite.UptakeTable, cite.StandGuides, cite.NdfaTable},
}
