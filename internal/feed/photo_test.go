package feed_test

import (
	"context"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/wire"
)

var hash = strings.Repeat("0f", 32)

func shot(field string) map[string]any {
	return map[string]any{"field": field, "sha256": hash, "size": 3000, "w": 1600, "h": 1200,
		"takenAt": "2027-06-12T14:02:00-06:00", "thumb": "/9j/"}
}

func TestAPhotoIsStoredWhenItsBytesHaveCome(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		ctx, scout := context.Background(), y.phone("scout")
		field := y.phone("consultant").ground()
		if _, err := y.door.Awaited(ctx, y.farm, hash); fault.KindOf(err) != fault.NotFound {
			t.Errorf("bytes before their record: %v, want NotFound", err)
		}
		before := scout.sync(scout.edit(uuid.NewString(), "photo", 0, shot(field)))
		if got := outcomes(before); got != wire.Applied {
			t.Fatalf("outcome %q: %+v", got, before.Acks[0].Problem)
		}
		if newest[wire.Photo](t, before, "photo").Stored {
			t.Error("the photo counts as stored before its bytes came")
		}
		if size, err := y.door.Awaited(ctx, y.farm, hash); err != nil || size != 3000 {
			t.Errorf("awaited are %d bytes, %v; want 3000", size, err)
		}
		for range 2 {
			if err := y.door.Stored(ctx, y.farm, feed.Photo{Hash: hash, Size: 2900, Clean: hash}); err != nil {
				t.Fatal(err)
			}
		}
		out := scout.sync()
		if !newest[wire.Photo](t, out, "photo").Stored || out.Head != before.Head+1 {
			t.Errorf("stored did not come once through the feed: head %d after %d", out.Head, before.Head)
		}
		out = scout.sync(scout.edit(uuid.NewString(), "photo", 0, shot(field)))
		if !newest[wire.Photo](t, out, "photo").Stored {
			t.Error("a second record of the same picture does not know that it is stored")
		}
		if rows := rowsOf(out, "result"); len(rows) != 0 {
			t.Errorf("a photo made %d results anew", len(rows))
		}
	})
}

func TestWrongPhotosAreSetAside(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout, desk := y.phone("scout"), y.phone("consultant")
		field, elsewhere := desk.ground(), desk.ground()
		dig, _ := scout.dug(field)
		for name, tt := range map[string]struct {
			key   string
			value any
			at    string
		}{
			"stored by a client": {"stored", true, "stored"},
			"no hash":            {"sha256", "abc", "sha256"},
			"too large":          {"size", 1<<20 + 1, "size"},
			"no pixels":          {"w", 0, "w"},
			"a large thumbnail":  {"thumb", strings.Repeat("AAAA", 2000), "thumb"},
			"off the earth":      {"place", map[string]any{"longitude": 200, "latitude": 0}, "place.longitude"},
			"a spot of no dig":   {"spot", uuid.NewString(), "spot"},
			"no time":            {"takenAt", "noon", "takenAt"},
		} {
			set := shot(field)
			set[tt.key] = tt.value
			ack := scout.sync(scout.edit(uuid.NewString(), "photo", 0, set)).Acks[0]
			if ack.Outcome != wire.Quarantined || ack.Problem.Field != tt.at {
				t.Errorf("%s: %s %+v, want quarantined at %s", name, ack.Outcome, ack.Problem, tt.at)
			}
		}
		set := shot(elsewhere)
		set["dig"] = dig
		if ack := scout.sync(scout.edit(uuid.NewString(), "photo", 0, set)).Acks[0]; ack.Problem == nil {
			t.Error("a photo of a dig on another field was taken")
		}
		rec := uuid.NewString()
		base := scout.sync(scout.edit(rec, "photo", 0, shot(field))).Head
		out := scout.sync(scout.edit(rec, "photo", base, map[string]any{"note": "the root of plant 3"}),
			scout.edit(rec, "photo", base, map[string]any{"size": 1}))
		if got := outcomes(out); got != "applied quarantined" {
			t.Errorf("a note, then another size: %q", got)
		}
	})
}
