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
