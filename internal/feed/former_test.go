package feed_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// write makes the next mutation of this phone with its bytes as the client writes them.
func (p *phone) write(rec, kind string, base int64, set map[string]any) json.RawMessage {
	p.n++
	m := wire.Mutation{N: p.n, Schema: 1, Rec: rec, Kind: kind, Base: base,
		Set: map[string]json.RawMessage{}, PhoneTime: "2031-01-01T00:00:00Z"}
	for name, value := range set {
		m.Set[name], _ = json.Marshal(value)
	}
	raw, err := json.Marshal(m)
	if err != nil {
		p.t.Fatal(err)
	}
	return raw
}

func (p *phone) name(rec string, base int64, name string) json.RawMessage {
	return p.write(rec, "grower", base, map[string]any{"name": name})
}

// move brings an entry of another device under the next number of this one.
func (p *phone) move(from *phone, raw json.RawMessage) json.RawMessage {
	var m wire.Mutation
	if err := json.Unmarshal(raw, &m); err != nil {
		p.t.Fatal(err)
	}
	if m.Was == nil {
		m.Was = &wire.Was{Device: from.Device, N: m.N}
	}
	p.n++
	m.N = p.n
	moved, err := json.Marshal(m)
	if err != nil {
		p.t.Fatal(err)
	}
	return moved
}

// another is the same phone, or a copy of it, under a new id.
func (p *phone) another() *phone {
	next := &phone{yard: p.yard, Author: p.Author}
	next.Device = p.back.addDeviceOf(p.t, p.farm, p.Person)
	return next
}

// same asks that a push got the outcomes of another and that nothing else came of it.
func same(t *testing.T, what string, got, want wire.SyncResponse) {
	t.Helper()
	if got.Head != want.Head || len(got.Acks) != len(want.Acks) {
		t.Fatalf("%s: head %d and %+v, want %d and %+v", what, got.Head, got.Acks, want.Head, want.Acks)
	}
	for i, ack := range got.Acks {
		if ack.Outcome != want.Acks[i].Outcome || ack.Seq != want.Acks[i].Seq {
			t.Errorf("%s: %+v, want as %+v", what, ack, want.Acks[i])
		}
	}
}

// TestAnEntryUnderAnotherIdOfItsPhoneIsARepeat: whichever of its places comes second.
func TestAnEntryUnderAnotherIdOfItsPhoneIsARepeat(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		old := y.phone("consultant")
		now, later := old.another(), old.another()
		first, second := old.name(uuid.NewString(), 0, "One"), old.name(uuid.NewString(), 0, "Two")
		taken := old.sync(first)
		moved := now.move(old, first)
		same(t, "the first under a new id", now.sync(moved), taken)
		same(t, "the same once more", now.sync(moved), taken)
		taken = now.sync(now.move(old, second))
		if outcomes(taken) != wire.Applied {
			t.Fatalf("the second under a new id got %+v", taken.Acks)
		}
		same(t, "the second late under the old id", old.sync(second), taken)
		same(t, "the same late once more", old.sync(second), taken)
		same(t, "under a third id", later.sync(later.move(now, now.move(old, second))), taken)
		if out := old.sync(old.name(uuid.NewString(), 0, "Three")); outcomes(out) != wire.Applied {
			t.Errorf("number 3 of the old id got %+v, expect %d", out.Acks, out.Expect)
		}
		both := later.move(old, old.name(uuid.NewString(), 0, "Four"))
		again := later.move(later, both)
		if out := later.sync(both, again); outcomes(out) != "applied applied" ||
			out.Acks[0].Seq != out.Acks[1].Seq {
			t.Errorf("one entry twice in one push got %+v", out.Acks)
		}
	})
}

// TestNobodyPassesAnothersEntryForARepeat: a claim to a place is worth something with the very same
// content, and among the devices of one person.
func TestNobodyPassesAnothersEntryForARepeat(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		mine, stranger := y.phone("consultant"), y.phone("owner")
		copied := mine.another()
		rec := uuid.NewString()
		first := mine.name(rec, 0, "Mine")
		stolen := stranger.sync(stranger.move(mine, first))
		forged := strings.Replace(string(copied.move(mine, first)), "Mine", "Other", 1)
		if got := outcomes(copied.sync(json.RawMessage(forged))); got == wire.Quarantined {
			t.Fatalf("other content got %s", got)
		}
		before := stolen.Head
		out := mine.sync(first)
		if outcomes(out) == "" || out.Acks[0].Seq <= before {
			t.Errorf("the entry itself was taken for a repeat: %+v", out.Acks)
		}
		// The same on record: what claims its place with other content is an entry of its own.
		forged = strings.Replace(string(copied.move(mine, first)), "Mine", "Third", 1)
		if next := copied.sync(json.RawMessage(forged)); next.Acks[0].Seq <= out.Acks[0].Seq {
			t.Errorf("other content was taken for a repeat: %+v", next.Acks)
		}
		head, other := mine.sync().Head, y.phone("consultant")
		if next := other.sync(other.move(mine, first)); next.Acks[0].Seq <= head {
			t.Errorf("a third person's entry was taken for a repeat: %+v", next.Acks)
		}
	})
}

// TestAPlaceInAnotherFormIsNoClaim: then it is an entry like any other, and nothing is lost.
func TestAPlaceInAnotherFormIsNoClaim(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		old := y.phone("consultant")
		first := old.name(uuid.NewString(), 0, "One")
		head := old.sync(first).Head
		for _, was := range []string{`5`, `null`, `{"device":"x","n":1}`, `{"n":1}`, `[]`,
			`{"n":1,"device":"` + old.Device + `"}`, `{"device":"` + old.Device + `","n":0}`} {
			now := old.another()
			raw := fmt.Sprintf(`%s,"was":%s}`, strings.TrimSuffix(string(first), "}"), was)
			out := now.sync(json.RawMessage(raw))
			if len(out.Acks) != 1 || out.Acks[0].Outcome == wire.Cloned || out.Acks[0].N != 1 ||
				out.Acks[0].Outcome != wire.Quarantined && out.Head <= head {
				t.Errorf("%s got %+v", was, out.Acks)
			}
			head = out.Head
		}
	})
}

// TestWhatIsOfferedAgainHidesNoLaterWorkOfItsPhone: after a restore all comes again under a new id. A
// later entry is on record, an earlier one is not: it goes to the history, and is no conflict.
func TestWhatIsOfferedAgainHidesNoLaterWorkOfItsPhone(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		first := y.phone("consultant")
		second, third := first.another(), first.another()
		field := first.ground()
		base := first.sync().Head
		rename := func(p *phone, name string, carbon float64) json.RawMessage {
			return p.write(field, "field", base, map[string]any{"name": name, "soilZone": "brown",
				"area": quantity(carbon, "ac")})
		}
		lost := rename(first, "Earlier", 150)
		later := rename(second, "Later", 151)
		head := second.sync(later).Head
		out := third.sync(third.move(first, lost), third.move(second, later), rename(third, "Last", 152))
		if got := outcomes(out); got != "merged applied applied" {
			t.Errorf("the entries got %s, want the earlier one in the history", got)
		}
		if out.Acks[1].Seq > head {
			t.Errorf("the later one was taken again: %+v", out.Acks[1])
		}
		var body wire.Field
		rows := rowsOf(out, "field")
		if len(rows) != 1 || json.Unmarshal(rows[0].Body, &body) != nil || body.Name != "Last" {
			t.Errorf("the field shows %+v", rows)
		}
		if kept := y.back.kept(t, y.farm); !strings.Contains(kept, "Earlier") ||
			!strings.Contains(kept, "Later") || len(rowsOf(out, "conflict")) != 0 {
			t.Errorf("the history holds %s, conflicts %+v", kept, rowsOf(out, "conflict"))
		}
		// Another phone of the person that is no part of this one is concurrent as ever.
		other := first.another()
		if got := outcomes(other.sync(rename(other, "Other", 153))); got == wire.Applied {
			t.Errorf("a strange phone's value got %s", got)
		}
	})
}

// TestARepeatOfWhatIsSetAsideHearsOfItsEnd: under the number by which it knows the entry.
func TestARepeatOfWhatIsSetAsideHearsOfItsEnd(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		old, desk := y.phone("scout"), y.phone("consultant")
		now := old.another()
		grower, field := uuid.NewString(), uuid.NewString()
		dug := old.write(uuid.NewString(), "dig", 0, digOf(field))
		old.sync(dug)
		out := now.sync(now.move(old, dug))
		if outcomes(out) != wire.Quarantined || out.Acks[0].Problem.Code != "link" {
			t.Fatalf("the repeat got %+v", out.Acks)
		}
		desk.sync(desk.edit(grower, "grower", 0, map[string]any{"name": "Somebody's farm"}),
			desk.edit(field, "field", 0, map[string]any{"grower": grower, "name": "North"}))
		heard := now.sync()
		told := map[string]string{}
		for _, j := range heard.Judged {
			told[j.Device] = fmt.Sprintf("%d %s", j.N, j.Outcome)
		}
		if len(heard.Judged) != 2 || told[now.Device] != "1 applied" || told[old.Device] != "1 applied" {
			t.Errorf("the phone was told %+v", heard.Judged)
		}
		if again := now.sync(); len(again.Judged) != 0 {
			t.Errorf("it was told twice: %+v", again.Judged)
		}
	})
}

// TestWhatAShutOutDeviceHandedInIsTakenFromOneThatHasAccess: a copy of a shut-out phone that has an id
// of its own brings the same entries: they wait for nobody. And what is on record is not set aside.
func TestWhatAShutOutDeviceHandedInIsTakenFromOneThatHasAccess(t *testing.T) {
	onBoth(t, func(t *testing.T, y yard) {
		owner, old := y.phone("owner"), y.phone("scout")
		now := old.another()
		field := owner.ground()
		dug := old.write(uuid.NewString(), "dig", 0, digOf(field))
		kept := old.write(uuid.NewString(), "dig", 0, digOf(field))
		if out, err := old.handIn(dug); err != nil || outcomes(out) != wire.Quarantined {
			t.Fatalf("handing in gave %+v, %v", out, err)
		}
		out := now.sync(now.move(old, dug), now.move(old, kept))
		if outcomes(out) != "applied applied" || len(rowsOf(out, "dig")) != 2 {
			t.Errorf("from a device with access: %+v", out.Acks)
		}
		handed, err := old.handIn(kept)
		if err != nil || outcomes(handed) != wire.Applied || owner.sync().Head != out.Head {
			t.Errorf("handing in what is on record gave %+v, %v", handed.Acks, err)
		}
	})
}
