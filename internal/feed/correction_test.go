package feed_test

import (
	"encoding/json"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// dug pushes a dig of two plants without nodules and gives it with its plants.
func (p *phone) dug(field string) (dig string, plants [2]string) {
	dig, plants = uuid.NewString(), [2]string{uuid.NewString(), uuid.NewString()}
	spot := map[string]any{"id": uuid.NewString()}
	var list []any
	for _, id := range plants {
		list = append(list, map[string]any{"id": id, "vigour": "yellow", "nodules": "none",
			"position": "none"})
	}
	spot["plants"] = list
	p.sync(p.edit(dig, "dig", 0, map[string]any{"field": field, "cropYear": 2027,
		"date": "2027-06-12", "spots": []any{spot}}))
	return dig, plants
}

func good() map[string]any {
	return map[string]any{"vigour": "vigorous", "nodules": "over5", "inside": "pink",
		"position": "crownAndLateral"}
}

func TestACorrectionChangesTheResultAndNotTheDig(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout := y.phone("scout")
		field := y.phone("consultant").ground()
		dig, plants := scout.dug(field)
		before := newest[wire.Result](t, y.phone("owner").sync(), "result")
		out := scout.sync(scout.edit(uuid.NewString(), "correction", 0, map[string]any{"dig": dig,
			"field": field, "plant": plants[0], "right": good(), "why": "read the wrong root"}))
		if got := outcomes(out); got != wire.Applied {
			t.Fatalf("outcome %q: %+v", got, out.Acks[0].Problem)
		}
		if rows := rowsOf(out, "dig"); len(rows) != 0 {
			t.Errorf("the dig itself came again: %+v", rows)
		}
		after := newest[wire.Result](t, out, "result")
		if after.InputHash == before.InputHash || after.Problem != nil {
			t.Errorf("the result's input did not follow: %s, problem %+v", after.InputHash, after.Problem)
		}
	})
}

func TestTheCorrectionAcceptedLastCounts(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout := y.phone("scout")
		field := y.phone("consultant").ground()
		before := newest[wire.Result](t, scout.sync(), "result")
		dig, plants := scout.dug(field)
		// The id of the first sorts after that of the second: only the order of acceptance counts.
		right := map[string]any{"dig": dig, "field": field, "plant": plants[0], "right": good(), "why": "a"}
		void := map[string]any{"dig": dig, "field": field, "drop": true, "why": "the neighbour's field"}
		again := map[string]any{"dig": dig, "field": field, "date": "2027-06-13", "why": "ours after all"}
		scout.sync(scout.edit("ffffffff-0000-4000-8000-000000000000", "correction", 0, right))
		out := scout.sync(scout.edit("eeeeeeee-0000-4000-8000-000000000000", "correction", 0, void))
		if got := newest[wire.Result](t, out, "result").InputHash; got != before.InputHash {
			t.Errorf("with the whole dig void the input is not as before the dig")
		}
		out = scout.sync(scout.edit("dddddddd-0000-4000-8000-000000000000", "correction", 0, again))
		if got := newest[wire.Result](t, out, "result").InputHash; got == before.InputHash {
			t.Errorf("the later correction did not bring the dig back")
		}
	})
}

func TestWrongCorrectionsAreSetAside(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout, desk := y.phone("scout"), y.phone("consultant")
		field, elsewhere := desk.ground(), desk.ground()
		dig, plants := scout.dug(field)
		for name, tt := range map[string]struct {
			change map[string]any
			at     string
		}{
			"a plant of no dig":    {map[string]any{"plant": uuid.NewString(), "right": good()}, "plant"},
			"another field":        {map[string]any{"field": elsewhere, "drop": true}, "field"},
			"nothing said":         {map[string]any{}, "right"},
			"two things said":      {map[string]any{"plant": plants[0], "right": good(), "drop": true}, "right"},
			"a plant without name": {map[string]any{"right": good()}, "plant"},
			"another year":         {map[string]any{"date": "2026-06-12"}, "date"},
			"no such colour": {map[string]any{"plant": plants[0], "right": map[string]any{"vigour": "yellow",
				"nodules": "over5", "inside": "blue", "position": "mostlyCrown"}}, "inside"},
			"no reason": {map[string]any{"drop": true, "why": " "}, "why"},
		} {
			set := map[string]any{"dig": dig, "field": field, "why": "w"}
			for k, v := range tt.change {
				set[k] = v
			}
			ack := scout.sync(scout.edit(uuid.NewString(), "correction", 0, set)).Acks[0]
			if ack.Outcome != wire.Quarantined || ack.Problem.Field != tt.at {
				t.Errorf("%s: %s %+v, want quarantined at %s", name, ack.Outcome, ack.Problem, tt.at)
			}
		}
		ok := map[string]any{"dig": dig, "field": field, "drop": true, "why": "w"}
		rec := uuid.NewString()
		base := scout.sync(scout.edit(rec, "correction", 0, ok)).Head
		if ack := scout.sync(scout.delete(rec, "correction", base)).Acks[0]; ack.Outcome != wire.Quarantined {
			t.Errorf("a correction was deleted: %+v", ack)
		}
		var set json.RawMessage = scout.edit(rec, "correction", base, map[string]any{"why": "other"})
		if ack := scout.sync(set).Acks[0]; ack.Outcome != wire.Quarantined {
			t.Errorf("a correction was changed: %+v", ack)
		}
	})
}
