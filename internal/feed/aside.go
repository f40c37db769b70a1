package feed

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Entries that were set aside are judged again when what they lacked appears. After a restore the
// phones offer again in any order: a dig may come before its field. Such an entry keeps its number
// and its bytes; each new judgement of it is a row of its own, with a change number by which the
// person's phones learn of it.

// lacking is a fault that ends when a record appears.
type lacking struct {
	err *fault.Error
	id  string // the record
}

func (l lacking) Error() string { return l.err.Error() }
func (l lacking) Unwrap() error { return l.err }

// lacks says of which record the want set an entry aside, "" for any other reason.
func lacks(err error) string {
	var l lacking
	if errors.As(err, &l) {
		return l.id
	}
	return ""
}

func unknown(id, field, message string, args ...any) error {
	return lacking{fault.At(field, "link", message, args...), id}
}

// wanting makes of a fault the want of the record itself, when an entry that would be its first
// must be an edit of it: the person saw it, or what is wrong is a value that the entry does not
// set. An edit alone seldom makes a whole record, and its making may come in any other push.
func wanting(err error, of kind.Kind, e entry) error {
	var f *fault.Error
	if lacks(err) != "" || !errors.As(err, &f) {
		return err
	}
	if e.Del {
		return lacking{f, e.Rec}
	}
	name, _, _ := strings.Cut(f.Field, ".")
	if _, sets := e.Set[name]; e.Base == 0 && (sets || of.Closed) {
		return err
	}
	return unknown(e.Rec, "rec", "changes %s, which is not in this account", e.Rec)
}

// setAside is the outcome of an entry that err keeps out.
func setAside(n int64, err error) wire.Ack {
	return wire.Ack{N: n, Outcome: wire.Quarantined, Problem: wire.ProblemOf(err)}
}

// takeUp judges again what this push has made possible, in the order of each device's numbers,
// until nothing more comes of it.
func (p *push) takeUp(ctx context.Context, d Door) error {
	for len(p.fresh) > 0 {
		ids := slices.Sorted(maps.Keys(p.fresh))
		p.fresh = map[string]bool{}
		p.ownAgain(d, ids)
		p.laterAgain(ids)
		waiting, err := p.tx.Lacking(ctx, ids)
		if err != nil {
			return err
		}
		if err := p.judgeAgain(ctx, d, waiting, ""); err != nil {
			return err
		}
	}
	return nil
}

// ownAgain judges again the entries of this push itself; what comes of them is their first outcome.
func (p *push) ownAgain(d Door, ids []string) {
	for i, m := range p.batch.Mutations {
		if m.Lacks == "" || !slices.Contains(ids, m.Lacks) {
			continue
		}
		e, err := d.readEntry(m.Raw)
		if err == nil {
			m.Ack, err = p.apply(e)
		}
		if m.Lacks = ""; err != nil {
			m.Ack, m.Lacks = setAside(m.N, err), lacks(err)
		}
		p.batch.Mutations[i] = m
	}
}

// judged is an entry that was judged again, with the place of what came of it in the batch.
type judged struct {
	Aside
	entry
	by string
	at int
}

// laterAgain judges once more what now lacks another record, when that came in the same push: stored
// is still what it lacked before.
func (p *push) laterAgain(ids []string) {
	for _, j := range p.judged {
		if last := &p.batch.Judgements[j.at]; last.Lacks != "" && slices.Contains(ids, last.Lacks) {
			*last = p.judgeOne(j.Aside, j.entry, j.by)
		}
	}
}

// judgeAgain judges each entry once in a push; by is the person who asked for it, if somebody did.
func (p *push) judgeAgain(ctx context.Context, d Door, waiting []Aside, by string) error {
	entries := make([]entry, len(waiting))
	ids, hashes := map[string]bool{}, []string{}
	if err := p.recallOwn(ctx, devicesOf(waiting)); err != nil {
		return err
	}
	for i, a := range waiting {
		e, err := d.readEntry(a.Raw)
		if e.wrong = firstError(err, e.wrong); e.wrong == nil {
			collect(p.who.Farm, e.Mutation, ids, &hashes)
		}
		entries[i] = e
	}
	if err := p.know(ctx, ids, hashes); err != nil {
		return err
	}
	for i, a := range waiting {
		key := merge.Place{Device: a.Device, N: a.N}
		if !p.again[key] {
			p.judged = append(p.judged, judged{a, entries[i], by, len(p.batch.Judgements)})
			p.batch.Judgements = append(p.batch.Judgements, p.judgeOne(a, entries[i], by))
		}
		p.again[key] = true
	}
	return nil
}

// judgeOne judges one entry as the work of its own person, whoever it was that brought what it lacked.
func (p *push) judgeOne(a Aside, e entry, by string) Judgement {
	who, before := p.who, p.batch.Head
	p.who = Author{Farm: who.Farm, Person: a.Person, Device: a.Device, Role: a.Role}
	ack, err := p.apply(e)
	p.who = who
	if err != nil {
		ack = setAside(a.N, err)
	}
	if p.batch.Head == before {
		p.batch.Head++ // a judgement that changes no record still has to reach the phone
	}
	return Judgement{Device: a.Device, Ack: ack, Lacks: lacks(err), Seq: p.batch.Head, By: by}
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// TakeUp judges again entries whose lack has ended by another way than a push. It gives how many
// it judged.
func (d Door) TakeUp(ctx context.Context, farm string) (judged int, err error) {
	err = d.Log.Write(ctx, farm, func(tx Tx) error {
		waiting, err := tx.Lacking(ctx, nil)
		if err != nil || len(waiting) == 0 {
			return err
		}
		p, err := newPush(ctx, tx, Author{Farm: farm}, d.Now())
		if err != nil {
			return err
		}
		if err := p.judgeAgain(ctx, d, waiting, ""); err != nil {
			return err
		}
		if err := p.takeUp(ctx, d); err != nil {
			return err
		}
		judged = len(p.batch.Judgements)
		return p.save(ctx, d)
	})
	return judged, err
}
