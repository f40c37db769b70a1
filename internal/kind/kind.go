// Package kind says all about each kind of record that clients write: who may write it, whether a
// body is sound and within which ranges, what it points to, and how its values merge. It is the
// server's half of wire, kept apart so that the phone's engine does not carry it.
package kind

import (
	"encoding/json"
	"slices"
	"strings"

	"hilum/internal/fault"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Kind describes one kind of record.
type Kind struct {
	Name    string
	Writers []string // roles that may write it
	Singles bool     // its id is made from its natural key
	Closed  bool     // an append-only fact: the first mutation is the last, but for deletion
	Lasting bool     // it cannot be deleted either
	check   func(body []byte, farm string, id string) error
	fits    func(body []byte, linked map[string]merge.State) error // nil: nothing to hold together
	class   map[string]merge.Class                                 // fields that are not Plan
	links   []link
	served  []string // values that the server alone sets
}

// link is a field that holds the id, or a list of ids, of other records of the same account.
type link struct {
	Field string
	Kind  string
}

// Deskside roles plan; everybody digs.
var (
	deskside = []string{"owner", "consultant"}
	everyone = []string{"owner", "consultant", "scout"}
)

// Settle is the kind of the mutation that ends a conflict. No record has it.
const Settle = "settle"

// served are the kinds of records that the server alone writes.
var served = []string{"result", "conflict"}

// All are the kinds of records that clients may write, by name.
var All = map[string]Kind{
	"settings": {
		Name: "settings", Writers: deskside, Singles: true,
		check: decodeAnd(func(b wire.Settings, farm string, id string) error {
			return firstOf(sameID(id, ID(farm, "settings", "")), CheckSettings(b))
		}),
	},
	"grower": {
		Name: "grower", Writers: deskside,
		check: decodeAnd(func(b wire.Grower, _ string, _ string) error { return checkGrower(b) }),
		class: map[string]merge.Class{"note": merge.Text},
	},
	"field": {
		Name: "field", Writers: deskside,
		check: decodeAnd(func(b wire.Field, _ string, _ string) error { return checkField(b) }),
		class: map[string]merge.Class{"note": merge.Text, "area": merge.Measured},
		links: []link{{"grower", "grower"}},
	},
	"season": {
		Name: "season", Writers: deskside, Singles: true,
		check: decodeAnd(func(b wire.Season, farm string, id string) error {
			return firstOf(
				sameID(id, ID(farm, "season", SeasonKey(b.Field, b.CropYear, b.Part))),
				checkSeason(b),
			)
		}),
		class: map[string]merge.Class{
			"note": merge.Text, "status": merge.Ordered, "harvested": merge.Measured, "nodulation": merge.Measured,
			"flooded": merge.Measured, "crop": merge.Measured, "seeded": merge.Measured, "emerged": merge.Measured,
			"nitrogen": merge.Measured, "protein": merge.Measured,
			"seedRate": merge.Measured, "seedDepth": merge.Measured, "starterUsed": merge.Measured,
		},
		links: []link{{"field", "field"}},
	},
	"soilTest": {
		Name: "soilTest", Writers: deskside,
		check: decodeAnd(
			func(b wire.SoilTest, _ string, _ string) error { return checkSoilTest(b) },
		),
		class: map[string]merge.Class{
			"note": merge.Text, "sampled": merge.Measured, "layers": merge.Measured, "ph": merge.Measured,
			"organicMatter": merge.Measured, "ppmRule": merge.Measured, "bulkDensity": merge.Measured,
		},
		links: []link{{"field", "field"}},
	},
	"dig": {
		Name: "dig", Writers: everyone, Closed: true,
		check: decodeAnd(func(b wire.Dig, _ string, _ string) error { return checkDig(b) }),
		links: []link{{"field", "field"}},
	},
	"pass": {
		Name: "pass", Writers: everyone,
		check: decodeAnd(func(b wire.Pass, _ string, _ string) error { return checkPass(b) }),
		class: map[string]merge.Class{
			"note": merge.Text, "date": merge.Measured, "time": merge.Measured,
			"product": merge.Measured, "reEntryHours": merge.Measured,
		},
		links: []link{{"field", "field"}},
	},
	"assignment": {
		Name: "assignment", Writers: deskside, Singles: true,
		check: decodeAnd(func(b wire.Assignment, farm string, id string) error {
			return firstOf(
				sameID(id, ID(farm, "assignment", ResultKey(b.Field, b.CropYear))),
				checkAssignment(b),
			)
		}),
		class: map[string]merge.Class{"note": merge.Text},
		links: []link{{"field", "field"}},
	},
	"correction": {
		Name: "correction", Writers: everyone, Closed: true, Lasting: true,
		check: decodeAnd(
			func(b wire.Correction, _ string, _ string) error { return checkCorrection(b) },
		),
		fits:  correctionFits,
		links: []link{{"field", "field"}, {"dig", "dig"}},
	},
	"decision": {
		Name: "decision", Writers: deskside, Closed: true, Lasting: true,
		check: decodeAnd(func(b wire.Decision, _ string, _ string) error { return checkDecision(b) }),
		fits:  decisionFits,
		links: []link{{"field", "field"}, {"digs", "dig"}},
	},
	"photo": {
		Name: "photo", Writers: everyone,
		check:  decodeAnd(func(b wire.Photo, _ string, _ string) error { return checkPhoto(b) }),
		fits:   photoFits,
		class:  photoClass,
		links:  []link{{"field", "field"}, {"dig", "dig"}},
		served: []string{"stored"},
	},
}

// ClassOf gives the class of one field; Plan unless the kind says otherwise.
func (k Kind) ClassOf(field string) merge.Class {
	if k.Closed {
		return merge.Fact
	}
	if c, ok := k.class[field]; ok {
		return c
	}
	return merge.Plan
}

// Check judges a whole body. Faults are Invalid and name the field and the accepted range.
func (k Kind) Check(body map[string]json.RawMessage, farm string, id string) error {
	raw, err := json.Marshal(body)
	if err != nil {
		return fault.New(fault.Invalid, "json", "is not JSON: %s", err)
	}
	return k.check(raw, farm, id)
}

// Links gives the records that a body points to, as id to kind.
func (k Kind) Links(body map[string]json.RawMessage) map[string]string {
	found := map[string]string{}
	for _, l := range k.links {
		var id string
		var ids []string
		if json.Unmarshal(body[l.Field], &id) == nil && id != "" {
			found[id] = l.Kind
		} else if json.Unmarshal(body[l.Field], &ids) == nil {
			for _, id := range ids {
				found[id] = l.Kind
			}
		}
	}
	return found
}

// Fits judges a sound body against the records that it points to, by their ids.
func (k Kind) Fits(body map[string]json.RawMessage, linked map[string]merge.State) error {
	if k.fits == nil {
		return nil
	}
	raw, err := json.Marshal(body)
	if err != nil {
		return fault.New(fault.Invalid, "json", "is not JSON: %s", err)
	}
	return k.fits(raw, linked)
}

// Served gives a fault when a mutation sets what the server alone sets.
func (k Kind) Served(set map[string]json.RawMessage) error {
	for _, name := range k.served {
		if _, given := set[name]; given {
			return fault.At(name, "role", "is set by the server alone")
		}
	}
	return nil
}

// ServedFields gives the values that the server alone sets.
func (k Kind) ServedFields() []string { return slices.Clone(k.served) }

// Contested gives the names of the values over which a conflict can open, merge.Life the first.
func (k Kind) Contested() []string {
	names := []string{merge.Life}
	for name, class := range k.class {
		if class == merge.Measured {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// AllContested gives the names over which a conflict can open in any kind of record.
func AllContested() map[string]bool {
	names := map[string]bool{}
	for _, k := range All {
		for _, name := range k.Contested() {
			names[name] = true
		}
	}
	return names
}

// MayWrite says whether a role may write this kind.
func (k Kind) MayWrite(role string) bool { return slices.Contains(k.Writers, role) }

// Shape checks what can be seen from a mutation alone, before any record is read.
func Shape(m wire.Mutation) error {
	if m.N < 1 {
		return fault.At("n", "range", "is %d, accepted from 1", m.N)
	}
	if m.Base < 0 {
		return fault.At("base", "range", "is %d, accepted from 0", m.Base)
	}
	if err := checkID("rec", m.Rec); err != nil {
		return err
	}
	if slices.Contains(served, m.Kind) {
		return fault.At("kind", "role", "is %s, which the server alone writes", m.Kind)
	}
	if _, ok := All[m.Kind]; !ok && m.Kind != Settle {
		return fault.At("kind", "newer", "is %q, which this server does not know; accepted: %s",
			m.Kind, strings.Join(kindNames(), ", "))
	}
	if len(m.Set) == 0 && !m.Del {
		return fault.At("set", "empty", "has no values and del is not true")
	}
	return nil
}

func kindNames() []string {
	names := []string{Settle}
	for name := range All {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func sameID(got, want string) error {
	if got != want {
		return fault.At("rec", "id", "is %s, expected %s made from its natural key", got, want)
	}
	return nil
}

func decodeAnd[T any](check func(T, string, string) error) func([]byte, string, string) error {
	return func(raw []byte, farm string, id string) error {
		var body T
		if err := wire.Lenient(raw, &body); err != nil {
			return err
		}
		return check(body, farm, id)
	}
}
