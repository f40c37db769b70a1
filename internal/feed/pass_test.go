package feed_test

import (
	"testing"

	"github.com/google/uuid"

	"hilum/internal/kind"
	"hilum/internal/wire"
)

func sprayed(field string, more map[string]any) map[string]any {
	set := map[string]any{"field": field, "cropYear": 2027, "what": "herbicide",
		"product": "broadleaf herbicide", "date": "2027-06-12", "time": "16:30"}
	for name, value := range more {
		set[name] = value
	}
	return set
}

// TestAPassReachesTheResult: a pass is an input of its field, and taking it away is one too.
func TestAPassReachesTheResult(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout := y.phone("scout")
		field := y.phone("consultant").ground()
		before := newest[wire.Result](t, y.phone("owner").sync(), "result")
		rec := uuid.NewString()
		out := scout.sync(scout.edit(rec, "pass", 0, sprayed(field, nil)))
		if got := outcomes(out); got != wire.Applied {
			t.Fatalf("outcome %q: %+v", got, out.Acks[0].Problem)
		}
		after := newest[wire.Result](t, out, "result")
		if after.InputHash == before.InputHash || after.Problem != nil {
			t.Errorf("the input did not follow: %s, problem %+v", after.InputHash, after.Problem)
		}
		out = scout.sync(scout.delete(rec, "pass", out.Head))
		if again := newest[wire.Result](t, out, "result"); again.InputHash != before.InputHash {
			t.Errorf("without the pass the input is %s, want %s as before", again.InputHash, before.InputHash)
		}
	})
}

// TestTwoReadingsOfALabelAreBothKept: nobody's re-entry hours disappear.
func TestTwoReadingsOfALabelAreBothKept(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, scout := y.phone("consultant"), y.phone("scout")
		field, rec := desk.ground(), uuid.NewString()
		base := desk.sync(desk.edit(rec, "pass", 0, sprayed(field, nil))).Head
		desk.sync(desk.edit(rec, "pass", base, map[string]any{"reEntryHours": 48}))
		out := scout.sync(scout.edit(rec, "pass", base, map[string]any{"reEntryHours": 12}))
		if got := outcomes(out); got != wire.Conflicted {
			t.Fatalf("outcome %q, want %s", got, wire.Conflicted)
		}
		if c := newest[wire.Conflict](t, out, "conflict"); c.Name != "reEntryHours" || c.Field != field {
			t.Errorf("the list holds %+v", c)
		}
		if r := newest[wire.Result](t, out, "result"); len(r.Conflicts) != 1 ||
			r.Conflicts[0] != "pass.reEntryHours" {
			t.Errorf("the result names %v", r.Conflicts)
		}
	})
}

// TestOnlyTheDeskAssigns, once for each field and crop year; it changes no result.
func TestOnlyTheDeskAssigns(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, scout := y.phone("consultant"), y.phone("scout")
		field := desk.ground()
		rec := kind.ID(desk.Farm, "assignment", kind.ResultKey(field, 2027))
		set := map[string]any{"field": field, "cropYear": 2027, "person": scout.Person}
		if ack := scout.sync(scout.edit(rec, "assignment", 0, set)).Acks[0]; ack.Outcome != wire.Quarantined {
			t.Errorf("a scout assigned: %+v", ack)
		}
		if ack := desk.sync(desk.edit(uuid.NewString(), "assignment", 0, set)).Acks[0]; ack.Problem == nil {
			t.Errorf("an id of its own was taken: %+v", ack)
		}
		out := desk.sync(desk.edit(rec, "assignment", 0, set))
		if got := outcomes(out); got != wire.Applied || len(rowsOf(out, "result")) != 0 {
			t.Errorf("outcome %q with %d new results, want applied and none", got, len(rowsOf(out, "result")))
		}
	})
}
