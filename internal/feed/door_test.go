package feed_test

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

var noon = time.Date(2027, 6, 14, 18, 0, 0, 0, time.UTC)

// backend is a log with what the tests need beside it: the same suite runs on PostgreSQL and on
// the log in memory.
type backend interface {
	feed.Log
	addFarm(t testing.TB) string
	addDevice(t testing.TB, farm, role string) (person, device string)
	addDeviceOf(t testing.TB, farm, person string) (device string)
	results(t testing.TB, farm, field string) []wire.Result // newest first
	kept(t testing.TB, farm string) string                  // replaced values and open conflicts
}

// yard is one account with its people and their phones.
type yard struct {
	t    testing.TB
	door feed.Door
	back backend
	farm string
}

// phone is one device with a counter of its own, as the client has.
type phone struct {
	yard
	feed.Author
	n      int64
	cursor int64
	floor  int64
	epoch  string
}

// onBoth runs a test on each log.
func onBoth(t *testing.T, test func(t *testing.T, y yard)) {
	t.Helper()
	t.Parallel()
	for name, open := range map[string]func(testing.TB) backend{"postgres": openStore, "memory": openMemory} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			back := open(t)
			test(t, newYard(t, back))
		})
	}
}

func newYard(t testing.TB, back backend) yard {
	t.Helper()
	return yard{t: t, back: back, farm: back.addFarm(t),
		door: feed.Door{Log: back, Now: func() time.Time { return noon }}}
}

func (y yard) phone(role string) *phone {
	y.t.Helper()
	person, device := y.back.addDevice(y.t, y.farm, role)
	return &phone{yard: y, Author: feed.Author{Farm: y.farm, Person: person, Device: device, Role: role}}
}

// edit makes the next mutation of this phone.
func (p *phone) edit(rec, kind string, base int64, set map[string]any) json.RawMessage {
	p.n++
	raw, err := json.Marshal(
		map[string]any{"n": p.n, "schema": 1, "rec": rec, "kind": kind, "base": base,
			"set": set, "phoneTime": "2031-01-01T00:00:00Z"},
	)
	if err != nil {
		p.t.Fatal(err)
	}
	return raw
}

func (p *phone) sync(push ...json.RawMessage) wire.SyncResponse {
	p.t.Helper()
	out, err := p.trySync(push...)
	if err != nil {
		p.t.Fatal(err)
	}
	p.cursor, p.floor, p.epoch = out.Cursor, out.Floor, out.Epoch
	return out
}

func (p *phone) trySync(push ...json.RawMessage) (wire.SyncResponse, error) {
	return p.door.Sync(context.Background(), p.Author, wire.SyncRequest{
		Proto: 1, Schema: 1, Device: p.Device, Epoch: p.epoch, Cursor: p.cursor,
		Floor: p.floor, Push: push})
}

// ground makes a grower, a field and a pea season, and gives the field's id.
func (p *phone) ground() string {
	grower, field := uuid.NewString(), uuid.NewString()
	season := kind.ID(p.farm, "season", kind.SeasonKey(field, 2027, ""))
	p.sync(
		p.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
		p.edit(
			field,
			"field",
			0,
			map[string]any{"grower": grower, "name": "North", "area": quantity(160, "ac")},
		),
		p.edit(season, "season", 0, map[string]any{"field": field, "cropYear": 2027, "crop": "pea",
			"yield": quantity(40, "bu/ac"), "price": quantity(9.5, "$/bu")}),
	)
	return field
}

func quantity(value float64, unit string) map[string]any {
	return map[string]any{"value": value, "unit": unit}
}

func soilTest(field string, nitrate float64) map[string]any {
	return map[string]any{"field": field, "sampled": "2026-11-03", "ppmRule": "2per6in",
		"ph": map[string]any{"value": 7.0, "basis": "water"}, "organicMatter": 3.5,
		"layers": []any{map[string]any{"top": quantity(0, "in"), "bottom": quantity(12, "in"),
			"nitrate": quantity(nitrate, "lb/ac")}}}
}

func outcomes(out wire.SyncResponse) string {
	var words []string
	for _, a := range out.Acks {
		words = append(words, a.Outcome)
	}
	return strings.Join(words, " ")
}

func rowsOf(out wire.SyncResponse, kind string) []wire.Row {
	var found []wire.Row
	for _, r := range out.Rows {
		if r.Kind == kind {
			found = append(found, r)
		}
	}
	return found
}

func TestRepeatMakesNoSecondRecord(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		push := desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12))
		first := desk.sync(push)
		again := desk.sync(push)
		if got := again.Acks[0]; got != first.Acks[0] {
			t.Errorf("the repeat was answered %+v, want the recorded %+v", got, first.Acks[0])
		}
		if again.Head != first.Head {
			t.Errorf("the repeat moved the head from %d to %d", first.Head, again.Head)
		}
	})
}

func TestSameNumberWithOtherBytesIsAClone(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		desk.sync(desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12)))
		desk.n--
		out := desk.sync(desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 50)))
		if got := outcomes(out); got != wire.Cloned {
			t.Errorf("outcome %q, want %q", got, wire.Cloned)
		}
	})
}

func TestGapAsksForTheMissingNumber(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		lost := desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12))
		next := desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 13))
		out := desk.sync(next)
		if len(out.Acks) != 0 || out.Expect != desk.n-1 {
			t.Errorf("got acks %v and expect %d, want none and %d", out.Acks, out.Expect, desk.n-1)
		}
		if got := outcomes(desk.sync(lost, next)); got != "applied applied" {
			t.Errorf("after filling the gap: %q", got)
		}
	})
}

func TestOneBadRecordDoesNotBlockTheOthers(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		bad := soilTest(field, 12)
		bad["ph"] = map[string]any{"value": 70, "basis": "water"}
		out := desk.sync(
			desk.edit(uuid.NewString(), "soilTest", 0, bad),
			desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12)),
		)
		if got := outcomes(out); got != "quarantined applied" {
			t.Fatalf("outcomes %q, want quarantined applied", got)
		}
		problem := out.Acks[0].Problem
		if problem == nil || problem.Field != "ph.value" || !strings.Contains(problem.Message, "10") {
			t.Errorf("problem %+v, want field ph.value and the accepted range", problem)
		}
		if n := len(rowsOf(out, "soilTest")); n != 1 {
			t.Errorf("%d soil tests in the feed, want the good one", n)
		}
	})
}

func TestResultFollowsInTheSameAnswer(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		out := desk.sync(desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12)))
		results := rowsOf(out, "result")
		if len(results) != 1 {
			t.Fatalf("%d results came back, want 1", len(results))
		}
		var body wire.Result
		if err := json.Unmarshal(results[0].Body, &body); err != nil {
			t.Fatal(err)
		}
		stored := y.back.results(t, y.farm, field)
		if len(stored) != 2 || stored[0].InputHash != body.InputHash {
			t.Errorf("stored results %+v, want the newest with hash %s and one older", stored, body.InputHash)
		}
		if body.Headline.StarterN == nil || *body.Headline.StarterN <= 0 {
			t.Errorf("12 lb NO3-N to 12 in is under 18: starter %v, want some", body.Headline.StarterN)
		}
	})
}

func TestUnchangedInputWritesNoNewResult(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		test := uuid.NewString()
		first := desk.sync(desk.edit(test, "soilTest", 0, soilTest(field, 12)))
		out := desk.sync(desk.edit(test, "soilTest", first.Head, map[string]any{"note": "bag 7"}))
		if n := len(rowsOf(out, "result")); n != 0 {
			t.Errorf("a note made %d new results, want 0", n)
		}
		if n, err := desk.door.Recompute(context.Background(), desk.farm); n != 0 || err != nil {
			t.Errorf("recompute wrote %d results, error %v; want 0, nil", n, err)
		}
	})
}

func TestTwoPeopleOneValueBothKept(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, other := y.phone("consultant"), y.phone("owner")
		field := desk.ground()
		test := uuid.NewString()
		base := desk.sync(desk.edit(test, "soilTest", 0, soilTest(field, 12))).Head
		desk.sync(desk.edit(test, "soilTest", base, map[string]any{"organicMatter": 3.1}))
		out := other.sync(other.edit(test, "soilTest", base, map[string]any{"organicMatter": 4.2}))
		if got := outcomes(out); got != wire.Conflicted {
			t.Fatalf("outcome %q, want %q", got, wire.Conflicted)
		}
		if kept := y.back.kept(t, y.farm); !strings.Contains(kept, "3.1") {
			t.Errorf("the replaced 3.1 is not among what is kept: %s", kept)
		}
	})
}

func TestScoutDigsButDoesNotPlan(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, scout := y.phone("consultant"), y.phone("scout")
		field := desk.ground()
		plant := map[string]any{
			"id":       uuid.NewString(),
			"vigour":   "vigorous",
			"nodules":  "over5",
			"inside":   "pink",
			"position": "crownAndLateral",
		}
		dig := map[string]any{"field": field, "cropYear": 2027, "date": "2027-06-12",
			"spots": []any{map[string]any{"id": uuid.NewString(), "plants": []any{plant}}}}
		rec := uuid.NewString()
		out := scout.sync(
			scout.edit(rec, "dig", 0, dig),
			scout.edit(field, "field", 3, map[string]any{"name": "Mine"}),
		)
		if got := outcomes(out); got != "applied quarantined" {
			t.Fatalf("outcomes %q, want applied quarantined", got)
		}
		dig["date"] = "2027-06-13"
		out = scout.sync(scout.edit(rec, "dig", out.Head, dig))
		if got := outcomes(out); got != wire.Quarantined {
			t.Errorf("changing a closed dig: %q, want %q", got, wire.Quarantined)
		}
	})
}

func TestLinkToAForeignAccountIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk, foreign := y.phone("consultant"), newYard(t, y.back).phone("consultant")
		field := foreign.ground()
		out := desk.sync(desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12)))
		if got := outcomes(out); got != wire.Quarantined || out.Acks[0].Problem.Code != "link" {
			t.Errorf("outcome %q, problem %+v; want quarantined, link", got, out.Acks[0].Problem)
		}
	})
}

func TestUnreadableEnvelopeStoresNothing(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		field := desk.ground()
		before := desk.sync().Head
		good := desk.edit(uuid.NewString(), "soilTest", 0, soilTest(field, 12))
		for name, bad := range map[string]string{"no number": `{"rec":"x"}`, "text": `"x"`, "number is text": `{"n":"4"}`, "negative": `{"n":-1}`} {
			if _, err := desk.trySync(good, json.RawMessage(bad)); fault.KindOf(err) != fault.Invalid {
				t.Errorf("%s: got %v, want an Invalid fault", name, err)
			}
		}
		if after := desk.sync().Head; after != before {
			t.Errorf("head moved from %d to %d", before, after)
		}
	})
}

func TestTextThatTheDatabaseCannotHoldIsSetAside(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		desk.ground()
		for _, note := range []string{`"a\u0000b"`, `1e999`, strings.Repeat(`[`, 60) + strings.Repeat(`]`, 60)} {
			desk.n++
			raw := fmt.Sprintf(
				`{"n":%d,"schema":1,"rec":"%s","kind":"grower","base":0,"phoneTime":"","set":{"name":"G","extra":%s}}`,
				desk.n,
				uuid.NewString(),
				note,
			)
			if got := outcomes(desk.sync(json.RawMessage(raw))); got != wire.Quarantined {
				t.Errorf("%s: outcome %q, want %q", note, got, wire.Quarantined)
			}
		}
	})
}

func TestUnknownValuesOfANewerClientComeBack(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		desk := y.phone("consultant")
		rec := uuid.NewString()
		out := desk.sync(
			desk.edit(
				rec,
				"grower",
				0,
				map[string]any{"name": "G", "laterIdea": map[string]any{"a": 1}},
			),
		)
		if body := string(rowsOf(out, "grower")[0].Body); !strings.Contains(body, "laterIdea") {
			t.Errorf("body %s has lost laterIdea", body)
		}
	})
}

func TestManyWritersLeaveNoGapInTheFeed(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		reader := y.phone("consultant")
		reader.ground()
		const writers, edits = 6, 15
		done := make(chan error, writers)
		for range writers {
			p := y.phone("consultant")
			go func() {
				for range edits {
					if _, err := p.trySync(p.edit(uuid.NewString(), "grower", 0, map[string]any{"name": "G"})); err != nil {
						done <- err
						return
					}
				}
				done <- nil
			}()
		}
		seen := map[string]bool{}
		collect := func() {
			for _, r := range rowsOf(reader.sync(), "grower") {
				seen[r.ID] = true
			}
		}
		for finished := 0; finished < writers; {
			select {
			case err := <-done:
				if err != nil {
					t.Fatal(err)
				}
				finished++
			default:
				collect()
			}
		}
		collect()
		if len(seen) != writers*edits {
			t.Errorf("the reader saw %d records, want %d", len(seen), writers*edits)
		}
	})
}
