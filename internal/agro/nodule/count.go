package nodule

// Rules by which a plant of a counted crop is adequate at full dig, at R1 to R2.
const (
	// TenAnySize: ten nodules of any size reach about 90 % of the most yield (Manitoba Pulse &
	// Soybean Growers 2025; fewer call for a thought about rescue).
	TenAnySize = "tenAnySize"
	// SevenPink: fewer than seven nodules of 2 mm and more, pink inside, are probably short of
	// nitrogen (Michigan State).
	SevenPink = "sevenPink2mm"
)

// Least nodules of an adequate plant, any size but where said otherwise.
const (
	countEarly    = 5 // V2 to V3, 5 to 7 on the taproot (published)
	countDecision = 8 // V3 to V4, 8 to 10 a plant (published)
	countScored   = 10
	countPink     = 7
)

// JudgeCount says whether a plant of a crop that is judged by counting is adequate. A plant that
// nobody counted is not yet judged, but for a bare one. Green or brown nodules no longer fix.
func JudgeCount(p Plant, when string, days int, rule string) string {
	full := when == Scored || when == Late
	switch {
	case p.Nodules == "none":
		return Poor
	case p.Count == nil && !(full && rule == SevenPink && p.Pink != nil):
		return NotYet
	case p.Inside == "green", p.Inside == "brown":
		return Poor
	case full && rule == SevenPink:
		return bySeven(p)
	case full:
		return enough(*p.Count, countScored, Poor)
	case p.Inside == "white" && days < ripening:
		return NotYet
	case when == Early:
		return enough(*p.Count, countEarly, NotYet) // A few nodules early are no verdict.
	}
	return enough(*p.Count, countDecision, Poor)
}

// bySeven judges by large pink nodules. Fewer nodules in all than the rule asks for is poor whatever
// their size.
func bySeven(p Plant) string {
	switch {
	case p.Pink != nil:
		return enough(*p.Pink, countPink, Poor)
	case *p.Count < countPink:
		return Poor
	}
	return NotYet
}

// Clustered reads a plant whose nodules were counted and whose clusters nobody named as if each
// nodule were a cluster of its own (ours; the score card was made for pea, and a crop that is judged
// by counting shows its score beside, never as its verdict).
func (p Plant) Clustered() Plant {
	if p.Nodules != "" || p.Count == nil {
		return p
	}
	switch n := *p.Count; {
	case n > 5:
		p.Nodules = "over5"
	case n >= 3:
		p.Nodules = "3to5"
	case n >= 1:
		p.Nodules = "under3"
	default:
		p.Nodules = "none"
	}
	return p
}

func enough(count, least int, otherwise string) string {
	if count >= least {
		return Adequate
	}
	return otherwise
}
