package snapshot

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/memlog"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

const farm = "3f1c0a52-8c1e-4b7e-9d52-0d6a7c1b2e90"

// logOf holds rows with these bodies, one kind each text before the first colon.
func logOf(t *testing.T, states []merge.State) *memlog.Log {
	t.Helper()
	l := memlog.New()
	l.AddFarm(farm, uuid.NewString())
	err := l.Write(context.Background(), farm, func(tx feed.Tx) error {
		return tx.Save(context.Background(), feed.Batch{Head: int64(len(states)), Records: states})
	})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func state(seq int64, kind, id, person, body string) merge.State {
	s := merge.State{ID: id, Kind: kind, Seq: seq, Stamps: map[string]merge.Stamp{}}
	if err := json.Unmarshal([]byte(body), &s.Body); err != nil {
		panic(body)
	}
	if person != "" {
		s.Stamps["x"] = merge.Stamp{Seq: seq, Person: person}
	}
	return s
}

func TestWhatIsPackedComesBack(t *testing.T) {
	a, b, c := uuid.NewString(), uuid.NewString(), uuid.NewString()
	var states []merge.State
	for i, body := range []string{
		`{"name":"North","field":"` + a + `","area":{"value":160,"unit":"ac"}}`,
		`{"name":"South","area":{"value":6.5e-7,"unit":"ha","more":{"deep":true}}}`,
		`{"name":"null inside","area":{"value":null}}`,
		`{"spots":[{"id":"` + b + `","plants":[{"n":1},{"n":2,"m":[]}]},{"id":"` + c + `","plants":[]}]}`,
		`{"spots":[]}`,
		`{"odd":[1,null]}`, `{"odd":"text"}`, `{"odd":{}}`, `{"odd":false}`, `{"odd":0}`, `{"odd":""}`,
		`{}`,
		`{"ids":["` + a + `","` + b + `"],"outline":{"type":"Polygon","coordinates":[[[1.5,2],[3,4]]]}}`,
		`{"t":"o","c":{"a":1},"é":"é\u2028 \"quoted\""}`,
	} {
		kind := []string{"field", "dig"}[i%2]
		states = append(states, state(int64(i+1), kind, uuid.NewString(), []string{a, ""}[i%2], body))
	}
	dead := state(int64(len(states)+1), "dig", uuid.NewString(), a, `{}`)
	dead.Deleted = true
	log := logOf(t, append(states, dead))
	_, raw, err := pack(context.Background(), log, farm)
	if err != nil {
		t.Fatal(err)
	}
	rows := unpack(t, raw)
	if len(rows) != len(states) {
		t.Errorf("%d rows came back, want the %d live ones", len(rows), len(states))
	}
	for i, s := range states {
		var got, want any
		wanted, _ := json.Marshal(s.Body)
		row := rows[s.ID]
		if json.Unmarshal(row.Body, &got) != nil || json.Unmarshal(wanted, &want) != nil ||
			!reflect.DeepEqual(got, want) || row.Seq != s.Seq || row.Kind != s.Kind ||
			row.By != s.Stamps["x"].Person {
			t.Errorf("row %d came back as %+v %s, want %s", i, row, row.Body, wanted)
		}
	}
}

// TestTenThousandRecordsArePackedSmall holds the goal of a first load: at most 85 bytes a record,
// of records of about 400 bytes.
func TestTenThousandRecordsArePackedSmall(t *testing.T) {
	states, bytes := season(10_000)
	if mean := bytes / len(states); mean < 380 || mean > 420 {
		t.Fatalf("the records have %d bytes in the mean, want about 400", mean)
	}
	s, err := New(logOf(t, states)).Get(context.Background(), farm, "")
	if err != nil {
		t.Fatal(err)
	}
	for encoding, most := range map[string]int{"br": 85, "gzip": 95} {
		packed, err := s.As(encoding)
		if err != nil {
			t.Fatal(err)
		}
		each := float64(len(packed)) / float64(len(states))
		t.Logf("%s: %.1f bytes a record (rows as sent by /sync: %d)", encoding, each, bytes/len(states))
		if each > float64(most) {
			t.Errorf("%s takes %.1f bytes a record, want at most %d", encoding, each, most)
		}
	}
}

// season invents records as an account has them: fields with their seasons, soil tests, digs with
// notes. bytes is the length of all rows as /sync sends them.
func season(n int) (states []merge.State, bytes int) {
	r := rand.New(rand.NewPCG(1, 2))
	id := func() string {
		raw := make([]byte, 16)
		for i := range raw {
			raw[i] = byte(r.Uint32())
		}
		u, _ := uuid.FromBytes(raw)
		return u.String()
	}
	words := []string{"pale", "strip", "along", "the", "slough", "wet", "knoll", "good", "colour",
		"roots", "short", "check", "again", "after", "rain", "east", "side", "thin", "stand"}
	note := func(k int) (text string) {
		for range k {
			text += words[r.IntN(len(words))] + " "
		}
		return text
	}
	people := []string{id(), id(), id()}
	var fields []string
	for seq := int64(1); len(states) < n; seq++ {
		rec, kind, body := id(), "field", ""
		field := rec
		if len(fields) > 0 {
			field = fields[r.IntN(len(fields))]
		}
		switch pick := r.IntN(100); {
		case pick < 4 || len(fields) == 0:
			fields = append(fields, rec)
			body = fmt.Sprintf(`{"grower":%q,"name":"Field %d","area":{"value":%d,"unit":"ac"},`+
				`"soilZone":"darkBrown","texture":"loam","note":%q}`, people[0], seq, 80+r.IntN(240), note(16))
		case pick < 40:
			kind = "season"
			body = fmt.Sprintf(`{"field":%q,"cropYear":%d,"crop":%q,"status":"done","inoculated":true,`+
				`"nodulation":"good","harvested":{"value":%d.%d,"unit":"bu/ac"},"note":%q}`, field,
				2020+r.IntN(8), []string{"pea", "lentil", "wheat", "canola"}[r.IntN(4)], 20+r.IntN(40),
				r.IntN(10), note(13))
		case pick < 70:
			kind = "soilTest"
			body = fmt.Sprintf(`{"field":%q,"sampled":"2026-10-%02d","layers":[{"top":{"value":0,"unit":"in"},`+
				`"bottom":{"value":12,"unit":"in"},"nitrate":{"value":%d,"unit":"lb/ac"}}],"ph":{"value":%d.%d,`+
				`"basis":"water"},"organicMatter":%d.%d,"note":%q}`, field, 1+r.IntN(30), r.IntN(90),
				5+r.IntN(3), r.IntN(10), 1+r.IntN(5), r.IntN(10), note(2))
		default:
			kind = "dig"
			body = fmt.Sprintf(`{"field":%q,"cropYear":2027,"date":"2027-06-%02d","spots":[{"id":%q,`+
				`"plants":[{"id":%q,"vigour":"vigorous","nodules":"over5","inside":"pink",`+
				`"position":"crownAndLateral"}]}]}`, field, 1+r.IntN(30), id(), id())
		}
		s := state(seq, kind, rec, people[r.IntN(3)], body)
		states = append(states, s)
		text, _ := json.Marshal(wire.Row{ID: rec, Kind: kind, Seq: seq, By: people[0], Body: []byte(body)})
		bytes += len(text)
	}
	return states, bytes
}

func TestAKeptSnapshotServesUntilItIsAPageBehind(t *testing.T) {
	states, _ := season(10)
	log := logOf(t, states)
	cache := New(log)
	ctx := context.Background()
	first, err := cache.Get(ctx, farm, "")
	if err != nil {
		t.Fatal(err)
	}
	move := func(to int64) {
		t.Helper()
		err := log.Write(ctx, farm, func(tx feed.Tx) error {
			head, err := tx.Head(ctx)
			if err != nil {
				return err
			}
			return tx.Save(ctx, feed.Batch{From: head.Head, Head: to})
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	move(10 + stale)
	if s, err := cache.Get(ctx, farm, ""); err != nil || s != first {
		t.Errorf("a page behind a new one was made: %v, %v", s, err)
	}
	move(11 + stale)
	second, err := cache.Get(ctx, farm, "")
	if err != nil || second == first || second.Seq != 11+stale {
		t.Errorf("more than a page behind the old one was served: %v", err)
	}
	if s, err := cache.Get(ctx, farm, first.Tag()); err != nil || s != first {
		t.Errorf("a broken load cannot go on: %v, %v", s, err)
	}
	log.Restore(farm, log.Farm(farm), uuid.NewString())
	if s, err := cache.Get(ctx, farm, ""); err != nil || s == second {
		t.Errorf("a snapshot of another epoch was served: %v", err)
	}
	if _, err := cache.Get(ctx, uuid.NewString(), ""); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a strange account got %v, want NotFound", err)
	}
}
