// Package merge decides what becomes of one record when one change meets it. It is pure: the
// same state and change give the same outcome, whichever phone sent it and whatever its clock said.
package merge

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
)

// Class says how two concurrent values of one field of a record meet.
type Class int

// The classes of fields.
const (
	Plan     Class = iota // accepted last is shown, the other goes to the history
	Measured              // accepted last is shown, and a person settles which is right
	Text                  // both are kept side by side
	Ordered               // the further step wins: planned, started, done
	Fact                  // belongs to a closed fact and never changes
)

// steps is the order of an Ordered field.
var steps = []string{"planned", "started", "done"}

// Outcomes of a change.
const (
	Applied  = "applied"
	Merged   = "merged"
	Conflict = "conflict"
)

// Stamp says who set a value, and when in the account's order of changes.
type Stamp struct {
	Seq    int64  `json:"seq"`
	N      int64  `json:"n"`
	Device string `json:"device"`
	Person string `json:"person"`
	At     string `json:"at,omitempty"`   // when the server accepted it; orders nothing
	Said   string `json:"said,omitempty"` // when the phone said it was entered; orders nothing
}

// Place is an entry's device and number.
type Place struct {
	Device string
	N      int64
}

// Own says which entries a device has offered again that are on record under another one, and
// under which number: they are work of its own, and have that place in its order.
type Own map[string]map[Place]int64

// Life names the record itself where a value's name is asked for: who deleted it, and the conflict
// over that. No value of a body has an empty name.
const Life = ""

// The values of Life.
const (
	Kept    = `"kept"`
	Deleted = `"deleted"`
)

// State is one record with the origin of each of its values.
type State struct {
	ID      string
	Kind    string
	Seq     int64
	Deleted bool
	Body    map[string]json.RawMessage
	Stamps  map[string]Stamp
}

// By gives the person of the newest stamp, "" where nobody wrote the record.
func (s State) By() string {
	var newest Stamp
	for _, name := range slices.Sorted(maps.Keys(s.Stamps)) {
		if at := s.Stamps[name]; at.Seq > newest.Seq {
			newest = at
		}
	}
	return newest.Person
}

// Change is one mutation as the door accepted it.
type Change struct {
	Stamp
	Base int64                      // the record's seq when the person saw it
	Set  map[string]json.RawMessage // null takes a value away
	Del  bool
	Own  Own
}

// Replaced is a value that is no longer shown.
type Replaced struct {
	Field string
	Value json.RawMessage
	By    Stamp
	Lost  bool // it was concurrent with the value that replaced it
}

// Open is a conflict that waits for a person.
type Open struct {
	Field   string // Life for the record itself
	Shown   json.RawMessage
	Other   json.RawMessage
	ShownBy Stamp
	OtherBy Stamp
}

// Result is what one change did.
type Result struct {
	State    State
	Outcome  string
	Replaced []Replaced
	Opened   []Open
	Refused  string // not empty: the change cannot be taken, nothing else is set
}

// Apply meets the record old (nil when there is none) with change c. id and kind name a new
// record; class gives the class of a field.
func Apply(old *State, id, kind string, c Change, class func(field string) Class) Result {
	if old == nil {
		return create(id, kind, c)
	}
	r := Result{Outcome: Applied, State: State{
		ID: old.ID, Kind: old.Kind, Seq: c.Seq, Deleted: old.Deleted,
		Body: maps.Clone(old.Body), Stamps: maps.Clone(old.Stamps),
	}}
	if c.Del {
		return r.remove(old, c)
	}
	for _, field := range slices.Sorted(maps.Keys(c.Set)) {
		if class(field) == Fact && !same(old.Body[field], c.Set[field]) {
			return Result{Refused: field}
		}
		r.set(field, c, class(field))
	}
	if old.Deleted {
		r.revive(c)
	}
	return r
}

// revive brings a deleted record back: an edit wins over a deletion that its person did not know
// of, and a person settles it.
func (r *Result) revive(c Change) {
	stamp, known := r.State.Stamps[Life]
	if known && overtaken(stamp, c) {
		r.atLeast(Merged)
		return
	}
	r.State.Deleted = false
	delete(r.State.Stamps, Life)
	if known && !concurrent(stamp, c) {
		return
	}
	r.Outcome = Conflict
	r.contest(c.Stamp, stamp)
}

func (r *Result) contest(kept, deleted Stamp) {
	r.Opened = append(r.Opened, Open{Field: Life, Shown: json.RawMessage(Kept), ShownBy: kept,
		Other: json.RawMessage(Deleted), OtherBy: deleted})
}

func create(id, kind string, c Change) Result {
	if c.Del {
		return Result{Refused: "del"}
	}
	s := State{ID: id, Kind: kind, Seq: c.Seq,
		Body: map[string]json.RawMessage{}, Stamps: map[string]Stamp{}}
	for field, value := range c.Set {
		if !null(value) {
			s.Body[field] = value
		}
		s.Stamps[field] = c.Stamp
	}
	return Result{State: s, Outcome: Applied}
}

// remove deletes the record, unless somebody else edited it after the person saw it.
func (r Result) remove(old *State, c Change) Result {
	var newest Stamp
	for _, stamp := range old.Stamps {
		if overtaken(stamp, c) {
			r.Outcome = Merged
			return r
		}
		if concurrent(stamp, c) && stamp.Seq > newest.Seq {
			newest = stamp
		}
	}
	switch {
	case old.Deleted:
	case newest.Seq > 0:
		r.Outcome = Conflict
		r.contest(newest, c.Stamp)
	default:
		r.State.Deleted = true
		r.State.Stamps[Life] = c.Stamp
	}
	return r
}

func concurrent(s Stamp, c Change) bool {
	own, _ := ownOrder(s, c)
	return s.Seq > c.Base && !own
}

// overtaken says that the same device set this later, in an entry that was taken before this one.
func overtaken(s Stamp, c Change) bool {
	own, later := ownOrder(s, c)
	return own && later
}

// ownOrder says whether a stamp is of the change's own device, whichever id that had, and later.
func ownOrder(s Stamp, c Change) (own, later bool) {
	if s.Device == c.Device {
		return true, s.N > c.N
	}
	if n, is := c.Own[c.Device][Place{s.Device, s.N}]; is {
		return true, n > c.N
	}
	if n, is := c.Own[s.Device][Place{c.Device, c.N}]; is {
		return true, s.N > n
	}
	return false, false
}

func (r *Result) set(field string, c Change, class Class) {
	had, value := r.State.Body[field], c.Set[field]
	stamp, known := r.State.Stamps[field]
	if same(had, value) {
		return
	}
	if known && overtaken(stamp, c) {
		r.Replaced = append(r.Replaced, Replaced{Field: field, Value: value, By: c.Stamp})
		r.atLeast(Merged)
		return
	}
	if !known || !concurrent(stamp, c) {
		r.put(field, value, c, false)
		return
	}
	switch {
	case class == Text && text(had) != "" && text(value) != "":
		both, _ := json.Marshal(text(had) + "\n\n" + text(value))
		r.put(field, both, c, false)
		r.atLeast(Merged)
	case class == Ordered && rank(had) >= rank(value):
		r.Replaced = append(
			r.Replaced,
			Replaced{Field: field, Value: value, By: c.Stamp, Lost: true},
		)
		r.atLeast(Merged)
	case class == Measured:
		r.put(field, value, c, true)
		r.Opened = append(r.Opened,
			Open{Field: field, Shown: value, ShownBy: c.Stamp, Other: had, OtherBy: stamp})
		r.atLeast(Conflict)
	default:
		r.put(field, value, c, true)
		r.atLeast(Merged)
	}
}

// put shows value and hands the one it replaces to the history.
func (r *Result) put(field string, value json.RawMessage, c Change, lost bool) {
	if had, ok := r.State.Body[field]; ok {
		r.Replaced = append(r.Replaced, Replaced{field, had, r.State.Stamps[field], lost})
	}
	if null(value) {
		delete(r.State.Body, field)
	} else {
		r.State.Body[field] = value
	}
	r.State.Stamps[field] = c.Stamp
}

func (r *Result) atLeast(outcome string) {
	if r.Outcome == Applied || outcome == Conflict {
		r.Outcome = outcome
	}
}

func null(v json.RawMessage) bool { return len(v) == 0 || string(v) == "null" }

// same compares two JSON values, whatever their spacing and the order of their keys.
func same(a, b json.RawMessage) bool {
	if null(a) || null(b) {
		return null(a) == null(b)
	}
	return bytes.Equal(canonical(a), canonical(b))
}

func canonical(v json.RawMessage) []byte {
	var any any
	if json.Unmarshal(v, &any) != nil {
		return v
	}
	out, err := json.Marshal(any)
	if err != nil {
		return v
	}
	return out
}

func text(v json.RawMessage) string {
	var s string
	if json.Unmarshal(v, &s) != nil {
		return ""
	}
	return strings.TrimSpace(s)
}

func rank(v json.RawMessage) int { return slices.Index(steps, text(v)) }
