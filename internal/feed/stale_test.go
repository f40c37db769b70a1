package feed_test

import (
	"context"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// TestABusyServerPutsResultsOffAndLosesNone: the answer says so, the mark is stored with the
// records, and the results are the same ones afterwards.
func TestABusyServerPutsResultsOffAndLosesNone(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		ctx, busy := context.Background(), false
		y.door.PutOff = func() bool { return busy }
		desk := y.phone("consultant")
		field := desk.ground()
		busy = true
		out := desk.sync(desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12)))
		if !out.Stale || len(rowsOf(out, "result")) != 0 || outcomes(out) != wire.Applied {
			t.Fatalf("a busy server answered %+v", out)
		}
		if more, err := y.door.Freshen(ctx, y.farm); more || err != nil {
			t.Fatalf("freshening gave %v, %v", more, err)
		}
		if heard := desk.sync(); len(rowsOf(heard, "result")) != 1 {
			t.Errorf("then the phone got %+v", heard.Rows)
		}
		if n, err := y.door.Recompute(ctx, y.farm); n != 0 || err != nil {
			t.Errorf("%d results were not current, %v", n, err)
		}
		before := desk.sync().Head
		if more, err := y.door.Freshen(ctx, y.farm); more || err != nil || desk.sync().Head != before {
			t.Errorf("freshening twice gave %v, %v, head %d after %d", more, err, desk.sync().Head, before)
		}
	})
}
