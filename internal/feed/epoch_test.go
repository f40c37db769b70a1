package feed_test

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/feed"
	"hilum/internal/memlog"
	"hilum/internal/pgtest"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// TestARestoredServerIsFilledAgainByItsPhones: what was acknowledged after the backup comes back
// when the phones offer again what they hold, once each; and two values that two people had set
// in the lost days meet in a conflict and not in silence.
func TestARestoredServerIsFilledAgainByItsPhones(t *testing.T) {
	log := memlog.New()
	y := newYard(t, inMemory{log})
	desk, other := y.phone("consultant"), y.phone("owner")
	field, test := desk.ground(), uuid.NewString()
	first := desk.edit(test, "soilTest", 0, soilTest(field, 12))
	base := desk.sync(first).Head
	other.sync()
	backup := log.Farm(y.farm)
	mine := desk.edit(test, "soilTest", base, map[string]any{"organicMatter": 3.1})
	seen := desk.sync(mine).Head
	theirs := other.edit(test, "soilTest", base, map[string]any{"organicMatter": 4.2})
	other.sync(theirs)
	desk.sync()
	late := desk.edit(test, "soilTest", seen+3, map[string]any{"organicMatter": 5.5})
	desk.sync(late)

	log.Restore(y.farm, backup, uuid.NewString())
	if out := desk.sync(); !out.Reset || len(out.Rows) == 0 {
		t.Fatalf("the desk was not told to start afresh: %+v", out)
	}
	if out := other.sync(theirs); len(out.Acks) != 0 || !out.Reset {
		t.Fatalf("under the old epoch the owner's value got %q, reset %v", outcomes(out), out.Reset)
	}
	if out := other.sync(theirs); outcomes(out) != wire.Applied {
		t.Fatalf("the owner's value got %q", outcomes(out))
	}
	out := desk.sync(first, mine, late)
	if got := outcomes(out); got != "applied conflict applied" {
		t.Errorf("the desk's entries got %q, want the first recorded, then a conflict", got)
	}
	if _, c := conflictIn(t, out); len(c.Values) != 2 {
		t.Errorf("the conflict holds %+v", c.Values)
	}
	if again := desk.sync(first, mine, late); again.Head != out.Head {
		t.Errorf("offering twice moved the head from %d to %d", out.Head, again.Head)
	}
}

func TestANewEpochResetsEveryPhoneAndTakesNothingTwice(t *testing.T) {
	ctx, dsn := context.Background(), pgtest.Database(t)
	s, err := store.Open(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	y := newYard(t, onStore{s.Log(), s})
	desk := y.phone("consultant")
	field := desk.ground()
	push := desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12))
	before := desk.sync(push)
	admin, err := store.OpenAdmin(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer admin.Close(ctx)
	epoch, err := admin.RestoreEpoch(ctx, y.farm)
	if err != nil {
		t.Fatal(err)
	}
	out := desk.sync([]json.RawMessage{push}...)
	if !out.Reset || out.Epoch != epoch || len(out.Acks) != 0 {
		t.Errorf("after a new epoch: reset %v, epoch %s, acks %+v", out.Reset, out.Epoch, out.Acks)
	}
	if out = desk.sync(push); out.Acks[0] != before.Acks[0] {
		t.Errorf("offered again it got %+v, want as before %+v", out.Acks[0], before.Acks[0])
	}
	next := desk.sync(desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 13)))
	if got := next.Acks[0]; got.Outcome != wire.Applied || got.Seq <= before.Head+feed.RestoreGap {
		t.Errorf("the next edit got %+v, want a number above the gap", got)
	}
	if _, err := admin.RestoreEpoch(ctx, uuid.NewString()); err == nil {
		t.Error("a strange account got an epoch")
	}
}
