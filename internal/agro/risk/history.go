package risk

import "hilum/internal/num"

// History is what a rotation says of a crop's rhizobia group.
type History struct {
	Crops      int    // host crops on record
	Since      int    // crop years from the last one to the plan
	Nodulation string // of the last one: "good", "poor", "" = nobody looked
	Flooded    bool   // under water in the year of the last one or after
}

// Limits of the published rules, in crop years.
const (
	doubleCrops = 2 // soybean: fewer crops than this: double (Manitoba)
	doubleSince = 4 // or none within this: double (Manitoba)
	recentHost  = 4 // a host longer ago raises the likelihood of a response (GRDC)
)

// acidFrom is pH in water, from the 6.0 in calcium chloride below which GRDC sees a response come
// (derived by the conversion above).
var acidFrom = WaterPH(6.0)

// Double is the published rule for soybean: two formulations unless two crops or more stood here,
// one within four years, nodulated well and not flooded.
func Double(h History) bool {
	return h.Crops < doubleCrops || h.Since > doubleSince || h.Nodulation == "poor" || h.Flooded
}

// DoubleBySoil is the model's answer to the same question: double where the soil alone does not
// carry the share of plants that the published class limit asks for. Two crops four years ago lie
// just on it; the acid curve takes a millionth off even at pH 6.5, which must not tip them.
func DoubleBySoil(soil float64) bool {
	const rounding = 1e-5
	return Adequate(num.Exp10(soil)) < GoodFrom-rounding
}

// Response is the published likelihood that inoculating pea, lentil or faba bean pays: "high"
// without a host before, "low" on loam or clay that is not acid after a recent well nodulated host,
// else "moderate".
func Response(h History, texture string, pH float64) string {
	heavy := texture == "medium" || texture == "fine"
	switch {
	case h.Crops == 0:
		return "high"
	case h.Since <= recentHost && h.Nodulation == "good" && heavy && pH >= acidFrom:
		return "low"
	}
	return "moderate"
}
