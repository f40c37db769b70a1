package crop

import "hilum/internal/cite"

// desiChickpea: 15 kg/ha starter was marginal and paid only where nodulation was poor, on a very
// dry seedbed (Walley 1999). Uptake 55 lb for 1,200 lb/ac; removal is not published, 2.02 lb/bu is
// seed of 21 % protein (derived). Ndfa 60 to 80 %, 62 % (Liu 2019). Stand 33 to 44/m2. P2O5 20
// lb/ac, 30 with double discs. Emergence 280 and ten per cent bloom, at 13 to 14 nodes, 1920 F-days
// above 32 F from seeding (Montana, read second-hand). Rescue trials used 69 and 115 kg/ha (Montana
// thesis).
// 500 m from last year's chickpea, against ascochyta (Alberta Pulse Growers).
var desiChickpea = Record{
	Key: "desiChickpea", Names: []string{"chickpea", "chickpeas", "desi"},
	Group:  Chickpeas,
	Uptake: one(2.75), Removal: one(2.02), SeedN: 2.02,
	Ndfa: Span{0.60, 0.62, 0.80}, Stand: Span{33, 44, 44},
	SeedRow: SeedRow{N: seedRowN, NUse: testedUse, P: 20, PUse: knifeUse, PMost: 30,
		Sources: []string{cite.SafeSeedRow, cite.SeedRowP}},
	Starter: Starter{Kind: "gap", Trigger: 10, Total: 13, External: 35, Needs: "dryOrFirst",
		Sources: []string{cite.ChickpeaStarter}},
	Rescue: Rescue{Kind: "weeks", Trial: Span{61.6, 82.1, 102.6}},
	Native: foreign, Settled: wheatLand, Lift: strangerLift, LossFactor: 1,
	Canopy: true, FlowerNode: 13,
	HeatToEmerge: one(155.6), HeatToFlower: one(1066.7),
	DaysPerNode: daysPerNode, DaysToEmerge: daysToEmerge,
	RootRotHost: "none", SameCropYears: 3, ClearOf: 500,
	Credits: []Credit{neutral},
	Sources: []string{cite.UptakeTable, cite.StandGuides, cite.NdfaTable},
}

// kabuliChickpea differs from desi in its names; its own stages are not published.
var kabuliChickpea = func() Record {
	r := desiChickpea
	r.Key, r.Names = "kabuliChickpea", []string{"kabuli"}
	r.HeatToEmerge, r.HeatToFlower = Span{}, Span{}
	return r
}()
