package wire

// Bound is the most of a value that a client may send, by unit; the least is 0.
type Bound map[string]float64

// SeededMost bounds what was seeded, by the season's field. The bounds are ours: they keep out slips
// of the pen, and are wide enough for every crop and drill. Server and client judge by them.
var SeededMost = map[string]Bound{
	"seedRate":    {"lb/ac": 600, "kg/ha": 672},
	"seedDepth":   {"in": 8, "cm": 20.3},
	"starterUsed": {"lb/ac": 200, "kg/ha": 224},
}
