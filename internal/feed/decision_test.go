package feed_test

import (
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// decided is a sound decision about a dig.
func decided(field, dig string) map[string]any {
	return map[string]any{"field": field, "cropYear": 2027, "digs": []any{dig}, "choice": "apply",
		"rate": map[string]any{"value": 40, "unit": "lb/ac"}, "product": "urea",
		"byDay": "2027-06-19", "date": "2027-06-13", "reason": "bare at three spots", "who": "T. O."}
}

func TestADecisionReachesTheScoutAndStays(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, scout := y.phone("consultant"), y.phone("scout")
		field := desk.ground()
		dig, _ := scout.dug(field)
		desk.sync()
		rec := uuid.NewString()
		out := desk.sync(desk.edit(rec, "decision", 0, decided(field, dig)))
		if got := outcomes(out); got != wire.Applied {
			t.Fatalf("outcome %q: %+v", got, out.Acks[0].Problem)
		}
		row := rowsOf(scout.sync(), "decision")
		if len(row) != 1 || row[0].By == "" {
			t.Errorf("the scout got %+v, want one decision with the person who wrote it", row)
		}
		for name, ack := range map[string]wire.Ack{
			"deleted": desk.sync(desk.delete(rec, "decision", out.Head)).Acks[0],
			"changed": desk.sync(desk.edit(rec, "decision", out.Head,
				map[string]any{"reason": "other"})).Acks[0],
			"by a scout": scout.sync(scout.edit(uuid.NewString(), "decision", 0,
				decided(field, dig))).Acks[0],
		} {
			if ack.Outcome != wire.Quarantined {
				t.Errorf("%s: %+v, want set aside", name, ack)
			}
		}
	})
}

func TestWrongDecisionsAreSetAside(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, scout := y.phone("consultant"), y.phone("scout")
		field, elsewhere := desk.ground(), desk.ground()
		dig, _ := scout.dug(field)
		desk.sync()
		for name, tt := range map[string]struct {
			change map[string]any
			at     string
		}{
			"no reason":             {map[string]any{"reason": "  "}, "reason"},
			"no name":               {map[string]any{"who": ""}, "who"},
			"no such choice":        {map[string]any{"choice": "spray"}, "choice"},
			"no rate":               {map[string]any{"rate": nil}, "rate"},
			"a rate of a ton":       {map[string]any{"rate": map[string]any{"value": 2000, "unit": "lb/ac"}}, "rate.value"},
			"a rate for nothing":    {map[string]any{"choice": "none", "byDay": nil, "product": nil}, "rate"},
			"no day":                {map[string]any{"byDay": nil}, "byDay"},
			"a day before":          {map[string]any{"byDay": "2027-06-12"}, "byDay"},
			"a day of another year": {map[string]any{"byDay": "2028-06-12"}, "byDay"},
			"another field":         {map[string]any{"field": elsewhere}, "digs.0"},
			"a dig nobody made":     {map[string]any{"digs": []any{uuid.NewString()}}, "dig"},
		} {
			set := decided(field, dig)
			for k, v := range tt.change {
				set[k] = v
			}
			ack := desk.sync(desk.edit(uuid.NewString(), "decision", 0, set)).Acks[0]
			if ack.Outcome != wire.Quarantined || ack.Problem.Field != tt.at {
				t.Errorf("%s: %s %+v, want set aside at %s", name, ack.Outcome, ack.Problem, tt.at)
			}
		}
	})
}
