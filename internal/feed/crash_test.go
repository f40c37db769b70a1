package feed_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/feed"
	"hilum/internal/kind"
)

var errDied = errors.New("the server died")

// dying is a log whose server dies after the commit of one transaction.
type dying struct {
	backend
	after int // transactions from now; 0 = it lives
}

func (d *dying) Write(ctx context.Context, farm string, use func(feed.Tx) error) error {
	if err := d.backend.Write(ctx, farm, use); err != nil {
		return err
	}
	if d.after--; d.after == 0 {
		return errDied
	}
	return nil
}

// A server that dies between taking new settings and computing by them owes the results: the
// phone repeats its push, and the repeat must bring them.
func TestResultsAfterACrashBehindSettings(t *testing.T) {
	t.Parallel()
	log := &dying{backend: openMemory(t)}
	y := newYard(t, log)
	owner := y.phone("owner")
	settings := map[string]any{"name": "Account", "timeZone": "America/Regina", "currency": "CAD",
		"units": "imperial", "starterRule": "published", "nodeCount": "withScale"}
	rec := kind.ID(y.farm, "settings", "")
	owner.sync(owner.edit(rec, "settings", 0, settings))
	field := owner.ground()
	owner.sync(owner.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 5)))
	change := owner.edit(rec, "settings", 1, map[string]any{"starterRule": "practice"})
	log.after = 1
	if _, err := owner.trySync(change); !errors.Is(err, errDied) {
		t.Fatalf("got %v, want the crash", err)
	}
	owner.sync(change)
	wrote, err := y.door.Recompute(context.Background(), y.farm)
	if err != nil || wrote != 0 {
		t.Errorf("%d results were still owed, error %v", wrote, err)
	}
}
