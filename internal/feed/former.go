package feed

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"hilum/internal/kind"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// A phone that must take another device id brings its entries again under numbers of the new one.
// Each says where it was first (wire.Was), and is the same entry for ever: whichever of its places
// comes second, late by days or after a restore, is a repeat of the other. A repeat takes a number of
// its device and has no line of its own among the mutations.
//
// Nobody can pass another's entry for a repeat: the bytes as they were first are made again from
// those that came, so a claim to a place is worth something with the very same content only, and
// only among the devices of one person.

// First is the place under which an entry was first kept on a phone, with the hash of its bytes there.
type First struct {
	merge.Place
	Hash [32]byte
}

// Known is an entry that is on record.
type Known struct {
	First
	At  merge.Place // where the record has it
	Ack wire.Ack
}

// Repeat is a number of a device under which it brought an entry that was on record already.
type Repeat struct {
	merge.Place
	Hash [32]byte // of the bytes that came
	Of   merge.Place
	Shut bool // the device had no access any more
}

// maxWas is what an entry may be longer for naming its first place, and by a longer number.
const maxWas = 128

// formerOf makes the first bytes again, letter by letter as every client writes them. nil: it names
// no place, or not in that form, and then it is an entry like any other.
func formerOf(raw []byte, n int64, named json.RawMessage) *First {
	var was wire.Was
	if len(named) == 0 || json.Unmarshal(named, &was) != nil || !kind.IsID(was.Device) || was.N < 1 {
		return nil
	}
	body, begins := bytes.CutPrefix(raw, fmt.Appendf(nil, `{"n":%d,`, n))
	body, ends := bytes.CutSuffix(body,
		fmt.Appendf(nil, `,"was":{"device":"%s","n":%d}}`, was.Device, was.N))
	if !begins || !ends {
		return nil
	}
	first := fmt.Appendf(nil, `{"n":%d,%s}`, was.N, body)
	return &First{merge.Place{Device: was.Device, N: was.N}, sha256.Sum256(first)}
}

func (p *push) firstOf(e entry) First {
	if e.former != nil {
		return *e.former
	}
	return First{merge.Place{Device: p.who.Device, N: e.N}, e.hash}
}

// recall reads which of the new entries are on record under another id. That costs nothing where
// no entry of this device ever moved.
func (p *push) recall(ctx context.Context, device Device, entries []entry) error {
	var firsts []First
	claims := false
	for _, e := range entries {
		if e.N > p.lastN {
			firsts, claims = append(firsts, p.firstOf(e)), claims || e.former != nil
		}
	}
	if !device.Moved && !claims {
		return nil
	}
	found, err := p.tx.OnRecord(ctx, p.who.Person, firsts)
	if err != nil {
		return err
	}
	p.known = make(map[First]Known, len(found))
	for _, k := range found {
		p.known[k.First] = k
	}
	for _, e := range entries {
		if k, is := p.known[p.firstOf(e)]; is && e.N > p.lastN {
			p.owns(merge.Place{Device: p.who.Device, N: e.N}, k.At)
		}
	}
	return p.recallOwn(ctx, []string{p.who.Device})
}

// recallOwn reads which entries under other ids are these devices' own work, for the merge.
func (p *push) recallOwn(ctx context.Context, devices []string) error {
	repeats, err := p.tx.Repeats(ctx, devices)
	for _, r := range repeats {
		p.owns(r.Place, r.Of)
	}
	return err
}

func (p *push) owns(at, of merge.Place) {
	if p.own[at.Device] == nil {
		p.own[at.Device] = map[merge.Place]int64{}
	}
	p.own[at.Device][of] = at.N
}

// remember makes an entry known that moved to this device, should it come twice in one push.
func (p *push) remember(e entry, ack wire.Ack) {
	if e.former != nil {
		at := merge.Place{Device: p.who.Device, N: e.N}
		p.known[*e.former] = Known{First: *e.former, At: at, Ack: ack}
	}
}

// repeat notes a number under which an entry came that is on record; it gets the outcome there.
func (p *push) repeat(e entry, known Known) wire.Ack {
	at := merge.Place{Device: p.who.Device, N: e.N}
	p.batch.Repeats = append(p.batch.Repeats,
		Repeat{Place: at, Hash: e.hash, Of: known.At, Shut: p.shut})
	p.lastN, p.batch.LastN = e.N, e.N
	p.account = p.account || e.Kind == "settings"
	ack := known.Ack
	ack.N = e.N
	return ack
}

// takeBack judges again what a device that was shut out had handed in, when a device of the same
// person that has access brings the very same entry: nobody else needs to look at it first.
func (p *push) takeBack(ctx context.Context, d Door) error {
	handed := map[string][]int64{}
	for _, k := range p.known {
		if k.Ack.Problem != nil && k.Ack.Problem.Code == HandInCode && p.repeats(k.At) {
			handed[k.At.Device] = append(handed[k.At.Device], k.At.N)
		}
	}
	for _, device := range slices.Sorted(maps.Keys(handed)) {
		waiting, err := p.tx.Asides(ctx, device, handed[device])
		if err != nil {
			return err
		}
		if err := p.judgeAgain(ctx, d, waiting, p.who.Person); err != nil {
			return err
		}
	}
	return nil
}

// repeats says that this push brought an entry again that is on record there.
func (p *push) repeats(at merge.Place) bool {
	return slices.ContainsFunc(p.batch.Repeats, func(r Repeat) bool { return r.Of == at })
}

// acknowledgeRepeats gives a repeat what this push made of the entry on record.
func (p *push) acknowledgeRepeats(out *wire.SyncResponse) {
	for _, r := range p.batch.Repeats {
		at := slices.IndexFunc(p.batch.Judgements, func(j Judgement) bool {
			return j.Device == r.Of.Device && j.Ack.N == r.Of.N
		})
		i := slices.IndexFunc(out.Acks, func(a wire.Ack) bool { return a.N == r.N })
		if at >= 0 && i >= 0 {
			out.Acks[i] = p.batch.Judgements[at].Ack
			out.Acks[i].N = r.N
		}
	}
}

func devicesOf(waiting []Aside) []string {
	devices := make([]string, len(waiting))
	for i, a := range waiting {
		devices[i] = a.Device
	}
	slices.Sort(devices)
	return slices.Compact(devices)
}
