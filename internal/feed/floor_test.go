package feed_test

import (
	"context"
	"encoding/json"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

func (y yard) tidy(t *testing.T) int64 {
	t.Helper()
	floor, err := y.door.Tidy(context.Background(), y.farm)
	if err != nil {
		t.Fatal(err)
	}
	return floor
}

func tombstones(out wire.SyncResponse) (n int) {
	for _, r := range out.Rows {
		if r.Deleted {
			n++
		}
	}
	return n
}

// withTombstone is a yard whose desk deleted a soil test that the other phone still holds.
func withTombstone(y yard) (desk, other *phone, test string) {
	desk, other = y.phone("consultant"), y.phone("owner")
	field, test := desk.ground(), uuid.NewString()
	desk.sync(desk.edit(test, "soilTest", 0, soilTest(field, 12)))
	other.sync()
	other.sync() // the cursor it sends is the one it stored
	base := desk.sync().Head
	desk.sync(desk.delete(test, "soilTest", base))
	desk.sync()
	return desk, other, test
}

func TestTheFloorWaitsForEveryDevice(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other, _ := withTombstone(y)
		if floor := y.tidy(t); floor != other.cursor {
			t.Errorf("the floor is %d, want %d, where the other phone stands", floor, other.cursor)
		}
		if n := tombstones(other.sync()); n != 1 {
			t.Errorf("the other phone got %d tombstones, want 1", n)
		}
		other.sync()
		if floor := y.tidy(t); floor != desk.cursor {
			t.Errorf("with all past it the floor is %d, want %d", floor, desk.cursor)
		}
		if n := tombstones(y.phone("scout").sync()); n != 0 {
			t.Errorf("a new phone got %d tombstones, want none", n)
		}
	})
}

func TestALongAbsentPhoneStartsAfreshWithItsOutboxTaken(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other, test := withTombstone(y)
		later := noon.Add(401 * 24 * time.Hour)
		desk.door.Now = func() time.Time { return later }
		other.door.Now, y.door.Now = desk.door.Now, desk.door.Now
		desk.sync() // is alive
		if floor := y.tidy(t); floor != desk.cursor {
			t.Fatalf("the floor is %d, want %d: the other phone has been away too long", floor, desk.cursor)
		}
		late := other.edit(test, "soilTest", other.cursor, map[string]any{"organicMatter": 2.5})
		out := other.sync(late)
		if !out.Reset || outcomes(out) != wire.Conflicted {
			t.Errorf("reset %v, outcomes %q; want a fresh start and the edit taken", out.Reset, outcomes(out))
		}
		found := false
		for _, r := range rowsOf(out, "soilTest") {
			var body map[string]json.RawMessage
			found = found || r.ID == test && json.Unmarshal(r.Body, &body) == nil &&
				string(body["organicMatter"]) == "2.5" && len(body["layers"]) > 0
		}
		if !found {
			t.Error("the late edit did not bring the whole record back")
		}
	})
}

func TestALoadInPagesIsNotTakenForALongAbsence(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, _, _ := withTombstone(y)
		var growers []json.RawMessage
		for range wire.MaxRows {
			growers = append(growers, desk.edit(uuid.NewString(), "grower", 0, map[string]any{"name": "G"}))
		}
		desk.sync(growers...)
		for desk.cursor < desk.sync().Head {
		}
		gone := desk.edit(uuid.NewString(), "grower", 0, map[string]any{"name": "G"})
		desk.sync(gone)
		desk.sync()
		y.phone("owner") // has said nothing, and so holds nothing back
		desk.door.Now = func() time.Time { return noon.Add(401 * 24 * time.Hour) }
		y.door.Now = desk.door.Now
		desk.sync()
		if floor := y.tidy(t); floor <= wire.MaxRows {
			t.Fatalf("the floor is %d, want it over a page", floor)
		}
		fresh := y.phone("scout")
		out := fresh.sync()
		for range 5 {
			if !out.More {
				return
			}
			if out = fresh.sync(); out.Reset {
				t.Fatal("the second page of a first load was answered with a reset")
			}
		}
		t.Error("the load does not end")
	})
}
