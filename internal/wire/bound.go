package wire

// What every text and every area of a record is held to. Server and client judge by them, so that a
// form refuses what the server would.
const (
	MaxName  = 120    // characters
	MaxNote  = 4000   // characters
	MinArea  = 0.01   // acres or hectares
	MaxAcres = 100000 // acres
	AcreInHa = 0.40468564224
)

// Bound is the most of a value that a client may send, by unit; the least is 0.
type Bound map[string]float64

// SeasonMost bounds what a season says of seeding and harvest, by its field. The bounds are ours: they
// keep out slips of the pen, and are wide enough for every crop and drill. Server and client judge by
// them.
var SeasonMost = map[string]Bound{
	"harvested":   {"bu/ac": 300, "kg/ha": 20000},
	"nitrogen":    {"lb/ac": 400, "kg/ha": 449},
	"seedRate":    {"lb/ac": 600, "kg/ha": 672},
	"seedDepth":   {"in": 8, "cm": 20.3},
	"starterUsed": {"lb/ac": 200, "kg/ha": 224},
}
