package merge

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func raw(v string) json.RawMessage { return json.RawMessage(v) }

// classOf is a record with one field of each class.
func classOf(field string) Class {
	return map[string]Class{"measure": Measured, "note": Text, "status": Ordered, "fact": Fact}[field]
}

func by(device string, seq, base int64, set map[string]json.RawMessage) Change {
	return Change{
		Stamp: Stamp{Seq: seq, N: seq, Device: device, Person: device},
		Base:  base,
		Set:   set,
	}
}

func start(field, value string) *State {
	r := Apply(
		nil,
		"id",
		"kind",
		by("a", 1, 0, map[string]json.RawMessage{field: raw(value)}),
		classOf,
	)
	return &r.State
}

func TestTwoValuesOfOneField(t *testing.T) {
	for _, tt := range []struct {
		name, field, first, second string
		device                     string
		base                       int64
		want, outcome              string
		lost, opened               int
	}{
		{"seen before: replaced", "measure", "1", "2", "b", 1, "2", Applied, 0, 0},
		{"same device, base behind: replaced", "measure", "1", "2", "a", 0, "2", Applied, 0, 0},
		{"measured by two: conflict", "measure", "1", "2", "b", 0, "2", Conflict, 1, 1},
		{"the same value twice: nothing", "measure", "1", "1", "b", 0, "1", Applied, 0, 0},
		{"same object, other key order", "measure", `{"a":1,"b":2}`, `{"b":2,"a":1}`, "b", 0, `{"a":1,"b":2}`, Applied, 0, 0},
		{"notes: side by side", "note", `"x"`, `"y"`, "b", 0, `"x\n\ny"`, Merged, 0, 0},
		{"plan: last accepted", "plan", `"x"`, `"y"`, "b", 0, `"y"`, Merged, 1, 0},
		{"status: further step stays", "status", `"done"`, `"started"`, "b", 0, `"done"`, Merged, 1, 0},
		{"status: further step wins", "status", `"planned"`, `"started"`, "b", 0, `"started"`, Merged, 1, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := by(tt.device, 2, tt.base, map[string]json.RawMessage{tt.field: raw(tt.second)})
			r := Apply(start(tt.field, tt.first), "id", "kind", c, classOf)
			lost := 0
			for _, x := range r.Replaced {
				if x.Lost {
					lost++
				}
			}
			if got := string(r.State.Body[tt.field]); got != tt.want || r.Outcome != tt.outcome ||
				lost != tt.lost || len(r.Opened) != tt.opened {
				t.Errorf(
					"got %s %s lost %d opened %d, want %s %s %d %d",
					got,
					r.Outcome,
					lost,
					len(r.Opened),
					tt.want,
					tt.outcome,
					tt.lost,
					tt.opened,
				)
			}
		})
	}
}

func TestClosedFactNeverChanges(t *testing.T) {
	old := start("fact", "1")
	if r := Apply(old, "id", "kind", by("a", 2, 1, map[string]json.RawMessage{"fact": raw("2")}), classOf); r.Refused != "fact" {
		t.Errorf("refused %q, want fact", r.Refused)
	}
	if r := Apply(old, "id", "kind", by("a", 2, 1, map[string]json.RawMessage{"fact": raw(" 1 ")}), classOf); r.Refused != "" {
		t.Errorf("the same fact again was refused")
	}
}

func TestEditWinsOverDeletion(t *testing.T) {
	gone := Apply(
		start("measure", "1"),
		"id",
		"kind",
		Change{Stamp: Stamp{Seq: 2, N: 2, Device: "a"}, Base: 1, Del: true},
		classOf,
	).State
	if !gone.Deleted {
		t.Fatal("a deletion that nobody disputes must take effect")
	}
	back := Apply(
		&gone,
		"id",
		"kind",
		by("b", 3, 1, map[string]json.RawMessage{"measure": raw("2")}),
		classOf,
	)
	if back.State.Deleted || back.Outcome != Conflict {
		t.Errorf(
			"edit after deletion: deleted %v, outcome %s; want the record back, flagged",
			back.State.Deleted,
			back.Outcome,
		)
	}
	kept := Apply(
		start("measure", "1"),
		"id",
		"kind",
		Change{Stamp: Stamp{Seq: 2, Device: "b"}, Base: 0, Del: true},
		classOf,
	)
	if kept.State.Deleted || kept.Outcome != Conflict {
		t.Errorf(
			"deletion of what somebody edited meanwhile: deleted %v, outcome %s",
			kept.State.Deleted,
			kept.Outcome,
		)
	}
}

// TestNoValueDisappears: whatever is set is shown, part of a joined note, or in the history; and
// any order of two concurrent edits keeps the same set of values.
func TestNoValueDisappears(t *testing.T) {
	fields := []string{"measure", "note", "plan", "status"}
	rapid.Check(t, func(t *rapid.T) {
		state := start("plan", `"first"`)
		var sets, kept []string
		for i := range rapid.IntRange(1, 12).Draw(t, "edits") {
			field := rapid.SampledFrom(fields).Draw(t, "field")
			value := fmt.Sprintf(`"v%d"`, i)
			if field == "status" {
				value = `"` + rapid.SampledFrom(steps).Draw(t, "step") + `"`
			}
			seq := int64(i + 2)
			c := by(
				rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "device"),
				seq,
				rapid.Int64Range(0, seq-1).
					Draw(t, "base"),
				map[string]json.RawMessage{field: raw(value)},
			)
			r := Apply(state, "id", "kind", c, classOf)
			for _, x := range r.Replaced {
				kept = append(kept, string(x.Value))
			}
			sets, state = append(sets, value), &r.State
		}
		for _, v := range state.Body {
			kept = append(kept, string(v))
		}
		all := strings.Join(kept, " ")
		for _, v := range sets {
			if !slices.Contains(kept, v) && !strings.Contains(all, strings.Trim(v, `"`)) {
				t.Fatalf("value %s is neither shown nor in the history: %s", v, all)
			}
		}
	})
}

// TestALaterEntryOfTheSameDeviceIsNotUndone: an entry that was set aside and taken up late stays
// the older one of its device, for values, deletion and life.
func TestALaterEntryOfTheSameDeviceIsNotUndone(t *testing.T) {
	set := func(v string) map[string]json.RawMessage {
		return map[string]json.RawMessage{"measure": raw(v)}
	}
	newer := Apply(start("measure", "1"), "id", "kind", by("a", 5, 1, set("5")), classOf).State
	late := by("a", 9, 1, set("4"))
	late.N = 4
	r := Apply(&newer, "id", "kind", late, classOf)
	if got := string(r.State.Body["measure"]); got != "5" || r.Outcome != Merged || len(r.Opened) != 0 {
		t.Errorf("the value is %s, outcome %s, opened %v", got, r.Outcome, r.Opened)
	}
	if len(r.Replaced) != 1 || string(r.Replaced[0].Value) != "4" || r.Replaced[0].By.N != 4 {
		t.Errorf("the older value is not in the history: %+v", r.Replaced)
	}
	lateDel := Change{Stamp: Stamp{Seq: 9, N: 4, Device: "a"}, Base: 1, Del: true}
	if r := Apply(&newer, "id", "kind", lateDel, classOf); r.State.Deleted || r.Outcome != Merged {
		t.Errorf("an older deletion took effect: %+v", r)
	}
	gone := Apply(&newer, "id", "kind",
		Change{Stamp: Stamp{Seq: 6, N: 6, Device: "a"}, Base: 5, Del: true}, classOf).State
	if r := Apply(&gone, "id", "kind", late, classOf); !r.State.Deleted || r.Outcome != Merged {
		t.Errorf("an older edit brought the record back: %+v", r)
	}
}
