package wire

import "hilum/internal/agro"

// Limits of a decision. A phone names no more digs than these, the last ones.
const (
	MaxReason       = 1000 // characters
	MaxDecisionDigs = 20
)

// Decision is the body of a record of kind "decision": what the consultant made of a field's digs,
// and why. Append-only; of several decisions of one field and crop year the one accepted last
// stands. Who decided is in the row (By); Who is how that person's name read on the day, for
// phones and papers that know no list of people.
type Decision struct {
	Field    string   `json:"field"`
	CropYear int      `json:"cropYear"`
	Digs     []string `json:"digs"` // ids of the digs it rests on, up to 20; may be empty
	// Choice: "apply" rescue nitrogen, "wait", "digAgain", "none" (leave it), "confirmed" (the
	// verdict stands, nothing to decide)
	Choice  string         `json:"choice"`
	Rate    *agro.Quantity `json:"rate,omitempty"`    // N, "lb/ac" or "kg/ha"; with apply
	Product string         `json:"product,omitempty"` // "urea", "uan"; with apply
	// ByDay: apply, or look again, on this day at the latest; needed with apply, wait and digAgain
	ByDay  string `json:"byDay,omitempty"`
	Reason string `json:"reason"` // 1 to 1,000 characters
	Date   string `json:"date"`   // the day of the decision
	Who    string `json:"who"`    // 1 to 120 characters
}
