package feed_test

import (
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// A copied phone must not leave half of its push under the id of the other: once it has an id of
// its own, it would never offer that half again to a server that came back from a backup.
func TestNothingAfterAClonedNumberIsTaken(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		first := y.phone("owner")
		copied := *first
		name := func(p *phone) []byte {
			return p.edit(uuid.NewString(), "grower", 0, map[string]any{"name": "Somebody"})
		}
		first.sync(name(first))
		out := copied.sync(name(&copied), name(&copied))
		if len(out.Acks) != 1 || out.Acks[0].Outcome != wire.Cloned {
			t.Fatalf("got %+v, want one entry, cloned", out.Acks)
		}
		second := first.sync(name(first))
		if len(second.Acks) != 1 || second.Acks[0].Outcome != wire.Applied {
			t.Errorf("number 2 of the first phone got %+v", second.Acks)
		}
	})
}

// Two phones of one id, after a restore: the second had offered its number 2 before it met the first
// one's number 1. What is on record is acknowledged, or it would come again under the new id.
func TestARepeatAfterAClonedNumberIsAcknowledged(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		first := y.phone("owner")
		copied := *first
		name := func(p *phone) []byte {
			return p.edit(uuid.NewString(), "grower", 0, map[string]any{"name": "Somebody"})
		}
		first.sync(name(first))
		mine := name(&copied)
		other := name(&copied)
		if out := copied.sync(other); out.Acks[0].Outcome != wire.Applied {
			t.Fatalf("number 2 got %+v", out.Acks)
		}
		out := copied.sync(mine, other, name(&copied))
		if outcomes(out) != "cloned applied" || out.Acks[1].N != 2 || out.Expect != 0 {
			t.Errorf("got %+v and expect %d, want cloned, and number 2 as before", out.Acks, out.Expect)
		}
	})
}
