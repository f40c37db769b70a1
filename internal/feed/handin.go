package feed

import (
	"context"
	"slices"
	"time"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// What a device that was shut out may still hand in, beside what it handed in before. A season of
// one scout is some thousand entries.
const (
	maxHandIn      = 5000
	maxHandInBytes = 32 << 20
)

// HandInCode is the reason of all that came from a device after it was shut out.
const HandInCode = "handin"

// HandIn takes the outbox of a device that was shut out: everything is set aside for the owner to
// judge, nothing is merged and nothing is read. The answer holds outcomes alone.
func (d Door) HandIn(
	ctx context.Context,
	who Author,
	req wire.SyncRequest,
) (wire.SyncResponse, error) {
	out := wire.SyncResponse{Epoch: req.Epoch, Head: req.Cursor, Cursor: req.Cursor,
		Floor: req.Floor, Rows: []wire.Row{}, Acks: []wire.Ack{},
		ServerTime: d.Now().UTC().Format(time.RFC3339)}
	entries, err := d.readEnvelope(who, req)
	if err != nil || len(entries) == 0 {
		return out, err
	}
	err = d.Log.Write(ctx, who.Farm, func(tx Tx) error {
		out.Acks, out.Expect = []wire.Ack{}, 0
		device, err := tx.Device(ctx, who.Device)
		if err != nil {
			return err
		}
		if err := d.roomFor(ctx, tx, who.Device, entries); err != nil {
			return err
		}
		p, err := newPush(ctx, tx, who, d.Now())
		if err != nil {
			return err
		}
		if p.lastN = device.LastN; entries[0].N <= p.lastN {
			if p.taken, err = tx.Taken(ctx, who.Device, numbersOf(entries)); err != nil {
				return err
			}
		}
		p.shut = true
		if err := p.recall(ctx, device, entries); err != nil {
			return err
		}
		shut := fault.New(fault.Forbidden, HandInCode,
			"came from a device that had no access any more; the owner looks at it first")
		for _, e := range entries {
			if e.N > p.lastN+1 {
				out.Expect = p.lastN + 1
				break
			}
			e.wrong = shut
			ack := p.take(e)
			out.Acks = append(out.Acks, ack)
			if ack.Outcome == wire.Cloned {
				break
			}
		}
		return tx.Save(ctx, p.batch)
	})
	return out, err
}

func numbersOf(entries []entry) []int64 {
	numbers := make([]int64, len(entries))
	for i, e := range entries {
		numbers[i] = e.N
	}
	return numbers
}

func (d Door) roomFor(ctx context.Context, tx Tx, device string, entries []entry) error {
	count, bytes, err := tx.HandedIn(ctx, device)
	if err != nil {
		return err
	}
	for _, e := range entries {
		count, bytes = count+1, bytes+int64(len(e.raw))
	}
	if count > maxHandIn || bytes > maxHandInBytes {
		return fault.New(fault.TooLarge, "handinFull",
			"this device may hand in %d entries and %d MiB, no more; export what is left to a file",
			maxHandIn, maxHandInBytes>>20)
	}
	return nil
}

// SettleAside is a person's word on entries of one device that are set aside: take them up, as the
// work of the device's own person, or put them away. What cannot be taken stays set aside, with
// the reason. Numbers that are not set aside are passed over.
func (d Door) SettleAside(
	ctx context.Context,
	by Author,
	device string,
	numbers []int64,
	take bool,
) (judged []wire.Judged, err error) {
	err = d.Log.Write(ctx, by.Farm, func(tx Tx) error {
		judged = []wire.Judged{}
		waiting, err := tx.Asides(ctx, device, numbers)
		if err != nil || len(waiting) == 0 {
			return err
		}
		p, err := newPush(ctx, tx, Author{Farm: by.Farm}, d.Now())
		if err != nil {
			return err
		}
		if take {
			if err := p.judgeAgain(ctx, d, waiting, by.Person); err != nil {
				return err
			}
			if err := p.takeUp(ctx, d); err != nil {
				return err
			}
		} else {
			for _, a := range waiting {
				p.putAway(a, by.Person)
			}
		}
		for _, j := range p.batch.Judgements {
			if j.Device == device && slices.Contains(numbers, j.Ack.N) {
				judged = append(judged, wire.Judged{Device: j.Device, Ack: j.Ack})
			}
		}
		return p.save(ctx, d)
	})
	return judged, err
}

func (p *push) putAway(a Aside, by string) {
	p.batch.Head++
	p.batch.Judgements = append(p.batch.Judgements, Judgement{Device: a.Device, By: by,
		Seq: p.batch.Head, Ack: wire.Ack{N: a.N, Outcome: wire.Discarded}})
}
