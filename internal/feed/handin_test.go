package feed_test

import (
	"context"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

func (p *phone) handIn(push ...json.RawMessage) (wire.SyncResponse, error) {
	return p.door.HandIn(context.Background(), p.Author, wire.SyncRequest{Proto: 1, Schema: 1,
		Device: p.Device, Epoch: p.epoch, Cursor: p.cursor, Floor: p.floor, Push: push})
}

// TestWhatAShutOutDeviceHandsInWaitsForTheOwner: nothing of it is merged and nothing is read; the
// owner takes it up as the scout's work, or puts it away.
func TestWhatAShutOutDeviceHandsInWaitsForTheOwner(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		ctx := context.Background()
		scout, owner := y.phone("scout"), y.phone("owner")
		field := owner.ground()
		scout.sync(scout.edit(uuid.NewString(), "dig", 0, digOf(field)))
		head := owner.sync().Head
		dug := scout.edit(uuid.NewString(), "dig", 0, digOf(field))
		other := scout.edit(uuid.NewString(), "dig", 0, digOf(field))
		out, err := scout.handIn(dug, other)
		if err != nil || outcomes(out) != "quarantined quarantined" || len(out.Rows) != 0 ||
			out.Acks[0].Problem.Code != "handin" || out.Cursor != scout.cursor {
			t.Fatalf("handing in gave %+v, %v", out, err)
		}
		if owner.sync().Head != head {
			t.Error("handing in moved the account's head")
		}
		again, err := scout.handIn(dug)
		if err != nil || outcomes(again) != wire.Quarantined {
			t.Errorf("a repeat gave %+v, %v", again, err)
		}
		judged, err := y.door.SettleAside(ctx, owner.Author, scout.Device, []int64{1, 2}, true)
		if err != nil || len(judged) != 1 || judged[0].Outcome != wire.Applied {
			t.Fatalf("taking up gave %+v, %v", judged, err)
		}
		rows := rowsOf(owner.sync(), "dig")
		if len(rows) != 1 || rows[0].By != scout.Person {
			t.Errorf("the owner then sees %+v", rows)
		}
		judged, err = y.door.SettleAside(ctx, owner.Author, scout.Device, []int64{2, 3}, false)
		if err != nil || len(judged) != 1 || judged[0].Outcome != wire.Discarded || judged[0].N != 3 {
			t.Errorf("putting away gave %+v, %v", judged, err)
		}
		if none, err := y.door.SettleAside(ctx, owner.Author, scout.Device, []int64{2, 3}, true); err != nil || len(none) != 0 {
			t.Errorf("what was settled was settled again: %+v, %v", none, err)
		}
		if again, _ := scout.handIn(dug, other); outcomes(again) != "applied discarded" {
			t.Errorf("a repeat afterwards gave %s", outcomes(again))
		}
	})
}

// TestOneDeviceCannotHandInWithoutEnd: past the cap nothing more is stored.
func TestOneDeviceCannotHandInWithoutEnd(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout := y.phone("scout")
		for sent := 0; sent < 5000; sent += 1000 {
			push := make([]json.RawMessage, 1000)
			for i := range push {
				scout.n++
				push[i] = json.RawMessage(fmt.Sprintf(`{"n":%d}`, scout.n))
			}
			if out, err := scout.handIn(push...); err != nil || len(out.Acks) != 1000 {
				t.Fatalf("after %d: %v", sent, err)
			}
		}
		_, err := scout.handIn(scout.edit(uuid.NewString(), "dig", 0, digOf(uuid.NewString())))
		if fault.KindOf(err) != fault.TooLarge {
			t.Errorf("entry 5001 gave %v", err)
		}
	})
}

// TestTheOwnerTakesUpInAnyOrder: an edit whose record is still set aside waits for it.
func TestTheOwnerTakesUpInAnyOrder(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		ctx := context.Background()
		desk, owner := y.phone("consultant"), y.phone("owner")
		field := owner.ground()
		test := uuid.NewString()
		if _, err := desk.handIn(desk.edit(test, "soilTest", 0, soilTest(field, 12)),
			desk.edit(test, "soilTest", 1, map[string]any{"organicMatter": 4.1})); err != nil {
			t.Fatal(err)
		}
		judged, err := y.door.SettleAside(ctx, owner.Author, desk.Device, []int64{2}, true)
		if err != nil || len(judged) != 1 || judged[0].Problem == nil || judged[0].Problem.Code != "link" {
			t.Fatalf("the edit alone gave %+v, %v", judged, err)
		}
		if _, err := y.door.SettleAside(ctx, owner.Author, desk.Device, []int64{1}, true); err != nil {
			t.Fatal(err)
		}
		var body wire.SoilTest
		rows := rowsOf(owner.sync(), "soilTest")
		if len(rows) != 1 || json.Unmarshal(rows[0].Body, &body) != nil || body.OrganicMatter == nil ||
			*body.OrganicMatter != 4.1 {
			t.Errorf("the owner then sees %+v", rows)
		}
	})
}
