package crop

import "hilum/internal/cite"

// pea: trigger 17.8 lb/ac (20 kg/ha) rounded to 18, N paid in 33 % of such trials (McKenzie et al.
// 2001, abstract); at most 15 lb/ac starter is tolerated (Manitoba Pulse & Soybean Growers, field
// pea crop nutrition). Uptake 138 to 168 lb and removal 105 to 129 lb for 50 bu (fertilizer
// institute table). Ndfa 50 % (Liu 2019), 55 % on average in Manitoba, up to 80 % in Saskatchewan.
// Stand about 85/m2, 75 to 90 over three guides. Nodes 0.027 to 0.037 for each degree day above
// 4.5 C (Wilson and Robson 1996); first flower at node 12 to 16. Lift of 3 is ours, anchored on pea
// land keeping 10 to 100 times the native count through three springs.
var pea = Record{
	Key: "pea", Names: []string{"peas", "fieldpea", "foragepea", "winterpea", "drypea"},
	Group:  Viciae,
	Uptake: Span{2.76, 3.06, 3.36}, Removal: Span{2.10, 2.34, 2.58}, SeedN: 2.34,
	Ndfa: Span{0.50, 0.55, 0.80}, Stand: Span{75, 85, 90},
	SeedRow: SeedRow{N: seedRowN, NUse: testedUse, P: 15, PUse: knifeUse, PMost: 30,
		Sources: []string{cite.SafeSeedRow, cite.SeedRowP}},
	Starter: Starter{Kind: "gap", Trigger: 18, Target: 20, Total: 15, External: 35, May: 20, Never: 40,
		Sources: []string{cite.McKenzie, cite.PeaFertility}},
	Rescue: Rescue{Kind: "weeks", PerBushel: 3.1, Flat: Span{40, 45, 50}, FlatKind: cite.Memory,
		Trial: Span{91.0, 127.2, 163.3}},
	Native: wheatLand, Settled: wheatLand, Lift: [3]float64{3, 3, 3}, LossFactor: 1,
	FlowerNode: 12, BaseTemp: 4.5, NodeRate: Span{0.027, 0.032, 0.037},
	DaysPerNode: daysPerNode, DaysToEmerge: daysToEmerge,
	RootRotHost: "red", SameCropYears: 6,
	Credits: peaCredits, Trial: peaTrial,
	Sources: []string{cite.UptakeTable, cite.StandGuides, cite.NdfaTable},
}
