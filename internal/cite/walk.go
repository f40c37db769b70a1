package cite

// The keys of the sources of where to dig.
const (
	EdgeDistance  = "edge-20m"
	HeadlandWidth = "headland"
	SpotSpread    = "spot-spread"
)

// walk are the sources of the walk through a field.
var walk = []Source{
	{EdgeDistance, Published, "University of Adelaide and GRDC", 0, "Inoculating pulses, grower guide",
		"three spots 40 to 50 m apart, 20 m in from the edge (diagram)"},
	{HeadlandWidth, Practice, "", 0, "Keep off the headland", "two rounds of a drill 18 m wide"},
	{SpotSpread, Ours, "", 0, "Spots spread evenly, more on more ground",
		"5 to a quarter section, one more for each half of it, 10 at most; narrow ground takes less edge"},
}
