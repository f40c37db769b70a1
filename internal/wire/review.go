package wire

import "hilum/internal/agro"

// Conflict is the body of a record of kind "conflict": one value of a record that two people set
// without knowing of each other. The server alone writes it. It stands in the review list until
// somebody settles it; then its row comes back deleted. Its id is the version 5 UUID of
// (account, "conflict", record + "/" + name).
type Conflict struct {
	Record string `json:"record"`          // id of the record in question
	Of     string `json:"of"`              // its kind
	Field  string `json:"field,omitempty"` // id of the field that it belongs to
	// Name is the name of the value in the record's body; "" stands for the record itself, whose
	// values are the words "kept" and "deleted".
	Name   string          `json:"name"`
	Values []ConflictValue `json:"values"` // at least 2; the first is the one shown and computed with
}

// ConflictValue is one side of a conflict.
type ConflictValue struct {
	Value  Raw    `json:"value"` // null: the value was taken away
	Person string `json:"person"`
	Device string `json:"device"`
	Seq    int64  `json:"seq"`            // change number that set it; Settle names a value by it
	At     string `json:"at,omitempty"`   // RFC 3339, when the server accepted it
	Said   string `json:"said,omitempty"` // when it was entered, as the phone's clock said
}

// Settle is the set of a mutation of kind "settle", by which a person ends a conflict in one tap.
// The mutation's rec is the conflict's id and its base the conflict's seq as the person saw it:
// a value that came later stays open. Whoever may write the record may settle. Outcomes: applied;
// merged when somebody settled it before (their choice stands) or the value taken has been
// replaced since by somebody who knew it.
type Settle struct {
	Record string `json:"record"`
	Name   string `json:"name"`
	Take   int64  `json:"take"` // seq of the value that is right, 1 to base
}

// Correction is the body of a record of kind "correction". A closed dig never changes: what was
// wrong in it is said here, and the engine's input follows. Append-only; everybody may write it.
// Of several corrections of one plant, or of one whole dig, the one accepted last counts.
type Correction struct {
	Dig   string `json:"dig"`             // id of the dig
	Field string `json:"field"`           // the dig's field
	Plant string `json:"plant,omitempty"` // id of one of its plants; absent: the whole dig
	// Drop: the plant, or the whole dig, does not count. Else Right, or for a whole dig at least
	// one of Date, Node and Suspicions, says what is right.
	Drop       bool        `json:"drop,omitempty"`
	Right      *agro.Plant `json:"right,omitempty"`
	Date       string      `json:"date,omitempty"`
	Node       *agro.Node  `json:"node,omitempty"`
	Suspicions *[]string   `json:"suspicions,omitempty"` // an empty list: there were none
	Why        string      `json:"why"`                  // 1 to 4,000 characters
}

// Photo is the body of a record of kind "photo". It syncs at once, with a thumbnail; the bytes
// follow by PUT .../photos/{sha256}. Stored is the server's word that they arrived, and comes
// through the feed: only then may a phone let its own bytes go.
type Photo struct {
	Field   string      `json:"field"`
	Dig     string      `json:"dig,omitempty"`  // id of a dig
	Spot    string      `json:"spot,omitempty"` // id of one of its spots
	SHA256  string      `json:"sha256"`         // of the bytes as they will be sent, hex
	Size    int         `json:"size"`           // bytes, 1 to 1,048,576
	W       int         `json:"w"`              // pixels
	H       int         `json:"h"`
	Thumb   string      `json:"thumb,omitempty"` // JPEG, base64, at most 4 KiB before encoding
	TakenAt string      `json:"takenAt"`         // RFC 3339, as the phone's clock said
	Place   *PhotoPlace `json:"place,omitempty"` // where the phone was
	Note    string      `json:"note,omitempty"`
	Stored  bool        `json:"stored,omitempty"` // set by the server alone
}

// PhotoPlace is where a photo was taken, WGS84.
type PhotoPlace struct {
	Longitude float64 `json:"longitude"` // degrees
	Latitude  float64 `json:"latitude"`
	Within    float64 `json:"within,omitempty"` // metres, as the phone said
}
