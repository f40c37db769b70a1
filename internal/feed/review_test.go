package feed_test

import (
	"encoding/json"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/kind"
	"hilum/internal/wire"
)

// quarrel is an organic matter that two phones set to 3.1 and 4.2 without knowing of each other.
func quarrel(y yard) (desk, other *phone, test, field string) {
	desk, other = y.phone("consultant"), y.phone("owner")
	field, test = desk.ground(), uuid.NewString()
	base := desk.sync(desk.edit(test, "soilTest", 0, soilTest(field, 12))).Head
	desk.sync(desk.edit(test, "soilTest", base, map[string]any{"organicMatter": 3.1}))
	other.sync(other.edit(test, "soilTest", base, map[string]any{"organicMatter": 4.2}))
	return desk, other, test, field
}

func conflictIn(t *testing.T, out wire.SyncResponse) (wire.Row, wire.Conflict) {
	t.Helper()
	rows := rowsOf(out, "conflict")
	if len(rows) != 1 {
		t.Fatalf("%d conflict rows came, want 1", len(rows))
	}
	var c wire.Conflict
	if err := json.Unmarshal(rows[0].Body, &c); err != nil {
		t.Fatal(err)
	}
	return rows[0], c
}

func (p *phone) settle(row wire.Row, c wire.Conflict, take int64) json.RawMessage {
	return p.edit(row.ID, kind.Settle, row.Seq,
		map[string]any{"record": c.Record, "name": c.Name, "take": take})
}

func newest[T any](t *testing.T, out wire.SyncResponse, kind string) (body T) {
	t.Helper()
	rows := rowsOf(out, kind)
	if len(rows) == 0 {
		t.Fatalf("no row of kind %s came", kind)
	}
	if err := json.Unmarshal(rows[len(rows)-1].Body, &body); err != nil {
		t.Fatal(err)
	}
	return body
}

func TestAConflictReachesTheReviewListAndTheResult(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other, test, field := quarrel(y)
		out := desk.sync()
		row, c := conflictIn(t, out)
		if c.Record != test || c.Of != "soilTest" || c.Name != "organicMatter" || c.Field != field {
			t.Errorf("the conflict names %+v", c)
		}
		if string(c.Values[0].Value) != "4.2" || string(c.Values[1].Value) != "3.1" ||
			c.Values[0].Device != other.Device || c.Values[1].Person != desk.Person ||
			c.Values[1].At == "" || c.Values[1].Said != "2031-01-01T00:00:00Z" {
			t.Errorf("the sides are %+v, want 4.2 of the owner shown and 3.1 of the desk", c.Values)
		}
		if row.ID != kind.ID(y.farm, "conflict", kind.ConflictKey(test, "organicMatter")) {
			t.Errorf("the conflict's id %s is not made from its key", row.ID)
		}
		result := newest[wire.Result](t, out, "result")
		if len(result.Conflicts) != 1 || result.Conflicts[0] != "soilTest.organicMatter" {
			t.Errorf("the result names the conflicts %v", result.Conflicts)
		}
	})
}

func TestOneTapSettlesAConflict(t *testing.T) {
	for name, side := range map[string]int{"for the value shown": 0, "for the other": 1} {
		t.Run(name, func(t *testing.T) {
			onBoth(t, func(t *testing.T, y yard) {
				desk, other, test, _ := quarrel(y)
				row, c := conflictIn(t, desk.sync())
				tap := desk.settle(row, c, c.Values[side].Seq)
				out := desk.sync(tap)
				if got := outcomes(out); got != wire.Applied {
					t.Fatalf("outcome %q (%+v), want applied", got, out.Acks[0].Problem)
				}
				if again := desk.sync(tap); again.Acks[0] != out.Acks[0] || again.Head != out.Head {
					t.Errorf("the repeat was answered %+v, head %d", again.Acks[0], again.Head)
				}
				if rows := rowsOf(out, "conflict"); len(rows) != 1 || !rows[0].Deleted ||
					rows[0].Seq != out.Acks[0].Seq {
					t.Errorf("the conflict came back as %+v, want one tombstone", rows)
				}
				if r := newest[wire.Result](t, out, "result"); len(r.Conflicts) != 0 {
					t.Errorf("the result still names %v", r.Conflicts)
				}
				out = other.sync(other.settle(row, c, c.Values[1-side].Seq))
				if got := outcomes(out); got != wire.Merged {
					t.Errorf("settling twice: %q, want merged", got)
				}
				var body map[string]json.RawMessage
				fresh := y.phone("owner").sync()
				for _, r := range rowsOf(fresh, "soilTest") {
					if r.ID == test && json.Unmarshal(r.Body, &body) != nil {
						t.Fatal("unreadable body")
					}
				}
				if got, want := string(body["organicMatter"]), string(c.Values[side].Value); got != want {
					t.Errorf("the record shows %s, want %s", got, want)
				}
			})
		})
	}
}

func TestAValueThatCameLaterStaysOpen(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other, test, _ := quarrel(y)
		row, c := conflictIn(t, desk.sync())
		third := y.phone("consultant")
		third.sync(third.edit(test, "soilTest", 0, map[string]any{"organicMatter": 5.0}))
		desk.sync(desk.settle(row, c, c.Values[1].Seq))
		_, left := conflictIn(t, other.sync())
		if len(left.Values) != 2 || string(left.Values[0].Value) != "3.1" ||
			string(left.Values[1].Value) != "5" {
			t.Errorf("left are %+v, want 3.1 as settled and 5 unseen", left.Values)
		}
	})
}

func TestScoutsAndStrangersDoNotSettle(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, _, _, _ := quarrel(y)
		row, c := conflictIn(t, desk.sync())
		scout := y.phone("scout")
		if got := scout.sync(scout.settle(row, c, c.Values[1].Seq)).Acks[0]; got.Problem == nil ||
			got.Problem.Code != "role" {
			t.Errorf("a scout's settlement got %+v", got)
		}
		foreign := newYard(t, y.back).phone("owner")
		if got := foreign.sync(foreign.settle(row, c, c.Values[1].Seq)); outcomes(got) != wire.Quarantined {
			t.Errorf("a stranger's settlement got %+v", got.Acks[0])
		}
		if got := desk.sync(desk.settle(row, c, row.Seq+1)); outcomes(got) != wire.Quarantined {
			t.Errorf("a value that nobody saw was taken: %+v", got.Acks[0])
		}
		if got := desk.sync(desk.edit(row.ID, "conflict", row.Seq, map[string]any{"name": "x"})); outcomes(
			got,
		) != wire.Quarantined {
			t.Errorf("a client wrote a conflict: %+v", got.Acks[0])
		}
	})
}

func TestNotesNeverOpenAConflict(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other := y.phone("consultant"), y.phone("owner")
		field, test := desk.ground(), uuid.NewString()
		base := desk.sync(desk.edit(test, "soilTest", 0, soilTest(field, 12))).Head
		desk.sync(desk.edit(test, "soilTest", base, map[string]any{"note": "low spot"}))
		other.sync(other.edit(test, "soilTest", base, map[string]any{"note": "bag torn"}))
		if rows := rowsOf(desk.sync(), "conflict"); len(rows) != 0 {
			t.Errorf("two notes opened %+v", rows)
		}
	})
}

func TestADeletionAgainstAnEditIsSettledByAPerson(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other := y.phone("consultant"), y.phone("owner")
		field, test := desk.ground(), uuid.NewString()
		base := desk.sync(desk.edit(test, "soilTest", 0, soilTest(field, 12))).Head
		desk.sync(desk.edit(test, "soilTest", base, map[string]any{"organicMatter": 3.1}))
		if got := outcomes(other.sync(other.delete(test, "soilTest", base))); got != wire.Conflicted {
			t.Fatalf("the deletion got %q, want conflict", got)
		}
		row, c := conflictIn(t, desk.sync())
		if c.Name != "" || string(c.Values[0].Value) != `"kept"` {
			t.Fatalf("the conflict is %+v, want the record's life, kept first", c)
		}
		out := desk.sync(desk.settle(row, c, c.Values[1].Seq))
		if rows := rowsOf(out, "soilTest"); len(rows) != 1 || !rows[0].Deleted {
			t.Errorf("after settling for the deletion the record is %+v (%+v)", rows, out.Acks)
		}
		if rows := rowsOf(out, "conflict"); len(rows) != 1 || !rows[0].Deleted {
			t.Errorf("the conflict is %+v, want gone", rows)
		}
	})
}

func (p *phone) delete(rec, kind string, base int64) json.RawMessage {
	p.n++
	raw, err := json.Marshal(wire.Mutation{N: p.n, Schema: 1, Rec: rec, Kind: kind, Base: base,
		Del: true, PhoneTime: "2031-01-01T00:00:00Z"})
	if err != nil {
		p.t.Fatal(err)
	}
	return raw
}
