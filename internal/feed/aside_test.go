package feed_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

func digOf(field string) map[string]any {
	return map[string]any{"field": field, "cropYear": 2027, "date": "2027-06-12",
		"spots": []any{spot()}}
}

// TestAnEntryIsTakenUpWhenWhatItLackedAppears: a dig and an edit that come before their field are
// set aside, and are taken, as their own person's work, with the push that brings the field.
func TestAnEntryIsTakenUpWhenWhatItLackedAppears(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout, desk := y.phone("scout"), y.phone("consultant")
		grower, field, dig := uuid.NewString(), uuid.NewString(), uuid.NewString()
		dug := scout.edit(dig, "dig", 0, digOf(field))
		fixed := scout.edit(uuid.NewString(), "correction", 0, map[string]any{
			"dig": dig, "field": field, "date": "2027-06-11", "why": "the date was wrong"})
		out := scout.sync(dug, fixed)
		if got := outcomes(out); got != "quarantined quarantined" || out.Acks[0].Problem.Code != "link" {
			t.Fatalf("before the field: %s %+v", got, out.Acks[0].Problem)
		}
		season := kind.ID(y.farm, "season", kind.SeasonKey(field, 2027, ""))
		took := desk.sync(
			desk.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
			desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}),
			desk.edit(season, "season", 0, map[string]any{"field": field, "cropYear": 2027, "crop": "pea"}))
		digs := rowsOf(took, "dig")
		if len(digs) != 1 || digs[0].By != scout.Person || len(rowsOf(took, "correction")) != 1 {
			t.Fatalf("the field brought %+v", took.Rows)
		}
		if len(took.Judged) != 0 {
			t.Errorf("another person's phone was told %+v", took.Judged)
		}
		heard := scout.sync()
		if len(heard.Judged) != 2 || heard.Judged[0].Outcome != wire.Applied ||
			heard.Judged[0].N != 1 || heard.Judged[0].Device != scout.Device || heard.Judged[0].Problem != nil {
			t.Errorf("the scout's phone was told %+v", heard.Judged)
		}
		if again := scout.sync(dug); len(again.Judged) != 0 || outcomes(again) != wire.Applied ||
			again.Acks[0].Seq != digs[0].Seq || again.Head != heard.Head {
			t.Errorf("a repeat got %+v", again)
		}
	})
}

// TestWhatWaitsForTwoThingsIsTakenUpInTheEnd: each judgement names the next thing that is missing.
func TestWhatWaitsForTwoThingsIsTakenUpInTheEnd(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout, desk, other := y.phone("scout"), y.phone("consultant"), y.phone("owner")
		grower, field, dig := uuid.NewString(), uuid.NewString(), uuid.NewString()
		out := scout.sync(scout.edit(uuid.NewString(), "correction", 0, map[string]any{
			"dig": dig, "field": field, "date": "2027-06-11", "why": "the date was wrong"}))
		if outcomes(out) != wire.Quarantined {
			t.Fatal(outcomes(out))
		}
		// An edit of the field that somebody else made, offered before it.
		if got := outcomes(desk.sync(desk.edit(field, "field", 7, map[string]any{"name": "North side"}))); got != wire.Quarantined {
			t.Fatal(got)
		}
		other.sync(other.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
			other.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}))
		if heard := desk.sync(); len(heard.Judged) != 1 || heard.Judged[0].Outcome == wire.Quarantined {
			t.Errorf("the desk was told %+v", heard.Judged)
		}
		if heard := scout.sync(); len(heard.Judged) > 1 ||
			len(heard.Judged) == 1 && heard.Judged[0].Problem == nil {
			t.Errorf("the scout was told %+v, want that the dig is still missing", heard.Judged)
		}
		other.sync(other.edit(dig, "dig", 0, digOf(field)))
		if heard := scout.sync(); len(heard.Judged) != 1 || heard.Judged[0].Outcome != wire.Applied {
			t.Errorf("the scout was told %+v", heard.Judged)
		}
		if n, err := y.door.TakeUp(context.Background(), y.farm); n != 0 || err != nil {
			t.Errorf("then %d were left to take up, %v", n, err)
		}
	})
}

// TestALateEntryPutsNothingOverALaterOneOfItsDevice: what was set aside stays the older one.
func TestALateEntryPutsNothingOverALaterOneOfItsDevice(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other := y.phone("consultant"), y.phone("owner")
		field, missing := desk.ground(), uuid.NewString()
		base := desk.sync().Head
		old := desk.edit(field, "field", base, map[string]any{"grower": missing, "name": "Old name"})
		newer := desk.edit(field, "field", base, map[string]any{"name": "New name"})
		if got := outcomes(desk.sync(old, newer)); got != "quarantined applied" {
			t.Fatal(got)
		}
		other.sync(other.edit(missing, "grower", 0, map[string]any{"name": "Another farm"}))
		out := desk.sync()
		var body wire.Field
		rows := rowsOf(out, "field")
		if len(rows) != 1 || json.Unmarshal(rows[0].Body, &body) != nil ||
			body.Name != "New name" || body.Grower != missing {
			t.Errorf("the field shows %+v", rows)
		}
		if len(out.Judged) != 1 || out.Judged[0].Outcome != wire.Merged {
			t.Errorf("the desk was told %+v", out.Judged)
		}
	})
}

// TestAPushOutOfOrderIsTakenUpWithinItself: what it lacks comes later in the same push.
func TestAPushOutOfOrderIsTakenUpWithinItself(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		grower, field := uuid.NewString(), uuid.NewString()
		out := desk.sync(
			desk.edit(uuid.NewString(), "dig", 0, digOf(field)),
			desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}),
			desk.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}))
		if got := outcomes(out); got != "applied applied applied" || len(out.Judged) != 0 {
			t.Errorf("the push got %s, judged %+v", got, out.Judged)
		}
		if len(rowsOf(out, "dig")) != 1 {
			t.Errorf("rows %+v", out.Rows)
		}
	})
}

// TestAnEditOfWhatWaitsWaitsWithIt: a phone made a record and changed it, without having seen it at
// the server in between; both wait for what the record points to, and both are taken.
func TestAnEditOfWhatWaitsWaitsWithIt(t *testing.T) {
	editWaits(t, func(scout *phone, made, edit []byte) []wire.Ack { return scout.sync(made, edit).Acks })
}

// TestAnEditInAnotherPushWaitsToo: the same, when the making came in a push before.
func TestAnEditInAnotherPushWaitsToo(t *testing.T) {
	editWaits(t, func(scout *phone, made, edit []byte) []wire.Ack {
		first := scout.sync(made).Acks
		return append(first, scout.sync(edit).Acks...)
	})
}

func editWaits(t *testing.T, push func(scout *phone, made, edit []byte) []wire.Ack) {
	onBoth(t, func(t *testing.T, y yard) {
		scout, desk := y.phone("scout"), y.phone("consultant")
		grower, field, pass := uuid.NewString(), uuid.NewString(), uuid.NewString()
		made := scout.edit(pass, "pass", 0, map[string]any{"field": field, "cropYear": 2027,
			"what": "herbicide", "product": "A product", "date": "2027-06-12"})
		edit := scout.edit(pass, "pass", 0, map[string]any{"reEntryHours": 12})
		waitsFor(t, push(scout, made, edit), field, pass)
		desk.sync(desk.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
			desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}))
		heard := scout.sync()
		var body wire.Pass
		rows := rowsOf(heard, "pass")
		if len(heard.Judged) != 2 || heard.Judged[0].Outcome == wire.Quarantined ||
			heard.Judged[1].Outcome == wire.Quarantined || len(rows) != 1 ||
			json.Unmarshal(rows[0].Body, &body) != nil || body.ReEntryHours == nil {
			t.Errorf("the scout was told %+v and sees %+v", heard.Judged, rows)
		}
	})
}

// TestADeletionOfWhatWaitsWaitsWithIt: a dig that was taken back before its field came does not
// come back with the field.
func TestADeletionOfWhatWaitsWaitsWithIt(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		scout, desk := y.phone("scout"), y.phone("consultant")
		grower, field, dig := uuid.NewString(), uuid.NewString(), uuid.NewString()
		scout.sync(scout.edit(dig, "dig", 0, digOf(field)))
		scout.n++
		raw, err := json.Marshal(map[string]any{"n": scout.n, "schema": 1, "rec": dig, "kind": "dig",
			"base": 0, "del": true, "phoneTime": "2027-06-14T12:00:00Z"})
		if err != nil {
			t.Fatal(err)
		}
		if got := outcomes(scout.sync(raw)); got != wire.Quarantined {
			t.Fatal(got)
		}
		desk.sync(desk.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
			desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}))
		heard := scout.sync()
		if len(heard.Judged) != 2 || heard.Judged[1].Outcome != wire.Applied {
			t.Errorf("the scout was told %+v", heard.Judged)
		}
		if digs := rowsOf(heard, "dig"); len(digs) != 1 || !digs[0].Deleted {
			t.Errorf("the dig is %+v", digs)
		}
	})
}

// waitsFor demands that each entry is set aside for want of these records.
func waitsFor(t *testing.T, acks []wire.Ack, ids ...string) {
	t.Helper()
	for i, ack := range acks {
		if ack.Problem == nil || ack.Problem.Code != "link" ||
			!strings.Contains(ack.Problem.Message, ids[i]) {
			t.Fatalf("entry %d: %s %+v, want it to wait for %s", i, ack.Outcome, ack.Problem, ids[i])
		}
	}
}

// TestAnEditThatComesBeforeItsRecordWaits: a device with a new id offers the edit before the old
// one's making is there.
func TestAnEditThatComesBeforeItsRecordWaits(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other := y.phone("consultant"), y.phone("owner")
		grower := uuid.NewString()
		edit := desk.edit(grower, "grower", 0, map[string]any{"note": "calls at noon"})
		waitsFor(t, desk.sync(edit).Acks, grower)
		other.sync(other.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}))
		if heard := desk.sync(); len(heard.Judged) != 1 || heard.Judged[0].Outcome != wire.Applied {
			t.Errorf("the desk was told %+v", heard.Judged)
		}
		wrong := desk.edit(uuid.NewString(), "grower", 0, map[string]any{"name": ""})
		if out := desk.sync(wrong); out.Acks[0].Problem == nil || out.Acks[0].Problem.Field != "name" {
			t.Errorf("a making that is wrong in itself got %+v", out.Acks)
		}
	})
}

// TestWhatIsThereByAnotherWayIsTakenUpToo: an hourly look finds entries whose want has ended
// without a push.
func TestWhatIsThereByAnotherWayIsTakenUpToo(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		ctx := context.Background()
		desk, grower := y.phone("consultant"), uuid.NewString()
		field := uuid.NewString()
		desk.sync(desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}),
			desk.edit(uuid.NewString(), "dig", 0, digOf(field)))
		err := y.back.Write(ctx, y.farm, func(tx feed.Tx) error {
			head, err := tx.Head(ctx)
			if err != nil {
				return err
			}
			return tx.Save(ctx, feed.Batch{From: head.Head, Head: head.Head + 1, Records: []merge.State{{
				ID: grower, Kind: "grower", Seq: head.Head + 1, Stamps: map[string]merge.Stamp{},
				Body: map[string]json.RawMessage{"name": json.RawMessage(`"Somebody's farm"`)}}}})
		})
		if err != nil {
			t.Fatal(err)
		}
		if n, err := y.door.TakeUp(ctx, y.farm); n != 2 || err != nil {
			t.Errorf("%d were taken up, want the field and its dig; %v", n, err)
		}
		if out := desk.sync(); len(out.Judged) != 2 || len(rowsOf(out, "dig")) != 1 {
			t.Errorf("the desk was told %+v", out)
		}
	})
}

// TestAResultGoesWithItsSeason: nothing is left of a plan that a person took away.
func TestAResultGoesWithItsSeason(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		if y.back.results(t, y.farm, field)[0].Field != field {
			t.Fatal("there is no result to begin with")
		}
		desk.n++
		season := kind.ID(y.farm, "season", kind.SeasonKey(field, 2027, ""))
		raw, err := json.Marshal(map[string]any{"n": desk.n, "schema": 1, "rec": season,
			"kind": "season", "base": desk.cursor, "del": true, "phoneTime": "2027-06-14T12:00:00Z"})
		if err != nil {
			t.Fatal(err)
		}
		gone := rowsOf(desk.sync(raw), "result")
		if len(gone) != 1 || !gone[0].Deleted {
			t.Errorf("the result is %+v", gone)
		}
	})
}

// TestWhatLacksTwoRecordsIsTakenWhenBothComeAtOnce: corrections of several phones and the dig of another
// wait for one field; whichever is judged first, all are taken when it comes.
func TestWhatLacksTwoRecordsIsTakenWhenBothComeAtOnce(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		grower, field, dig := uuid.NewString(), uuid.NewString(), uuid.NewString()
		var correctors []*phone
		for range 4 {
			scout := y.phone("scout")
			out := scout.sync(scout.edit(uuid.NewString(), "correction", 0, map[string]any{"field": field,
				"dig": dig, "date": "2027-06-13", "why": "the date was wrong"}))
			if outcomes(out) != "quarantined" {
				t.Fatal(outcomes(out))
			}
			correctors = append(correctors, scout)
		}
		digger := y.phone("scout")
		digger.sync(digger.edit(dig, "dig", 0, digOf(field)))
		desk.sync(desk.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
			desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}))
		for _, scout := range append(correctors, digger) {
			if heard := scout.sync(); len(heard.Judged) != 1 || heard.Judged[0].Outcome != wire.Applied {
				t.Errorf("a scout was told %+v", heard.Judged)
			}
		}
	})
}
