package crop

import "hilum/internal/cite"

// Shared numbers of the viciae group. Native: wheat land holds 1 to 100 cells/g, geometric mean 10
// (Kucey and Hynes 1989, abstract); the lift of 3 is ours, anchored on pea land keeping 10 to 100
// times that through three springs. Seed row: 10 kg N/ha in all at 15 % seedbed utilization
// (Saskatchewan Pulse Growers 2020).
const (
	viciaeNative = 1.0
	viciaeLift   = 3.0
	seedRowN     = 8.92 // lb/ac
)

// pea: trigger 17.8 lb/ac (20 kg/ha) rounded to 18, N paid in 33 % of such trials (McKenzie et al.
// 2001, abstract); at most 15 lb/ac starter is tolerated (Manitoba Pulse & Soybean Growers, field
// pea crop nutrition); uptake 138 to 168 lb for 50 bu; first flower at node 12 to 16.
var pea = Record{
	Key: "pea", Group: Viciae, Uptake: 3.06, SeedRowN: seedRowN,
	Native: viciaeNative, Lift: viciaeLift,
	Starter: Starter{Trigger: 18, Target: 20, Total: 15, External: 35,
		Sources: []string{cite.McKenzie, cite.PeaFertility}},
	FlowerNode: 12,
}

// lentil: nothing beyond what phosphate and sulphur bring, 9 lb/ac in all where nitrate is very low
// on coarse soil (9 lb N with 9 lb P2O5 gave top yield, south-central Saskatchewan); uptake 82 to
// 101 lb for 30 bu; full bloom at node 10 to 13, so first flower about node 11.
var lentil = Record{
	Key: "lentil", Group: Viciae, Uptake: 3.05, SeedRowN: seedRowN,
	Native: viciaeNative, Lift: viciaeLift,
	Starter: Starter{Trigger: 10, Total: 9, External: 35, CoarseOnly: true,
		Sources: []string{cite.LentilNitrogen}},
	Canopy: true, FlowerNode: 11,
}
