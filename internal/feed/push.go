package feed

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"time"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// push is the working state of one push inside its transaction.
type push struct {
	who     Author
	tx      Tx
	batch   Batch
	taken   map[int64]Taken
	lastN   int64
	states  map[string]*merge.State // records read so far; nil = there is none
	changed map[string]bool
	fields  map[string]bool      // whose results must be computed again
	account bool                 // settings changed: all fields
	now     string               // RFC 3339
	stored  map[string]bool      // photos whose bytes have come
	fresh   map[string]bool      // records that were not there before
	again   map[merge.Place]bool // judged again in this push
	judged  []judged             // the same, in order
	known   map[First]Known      // entries that are on record under another id
	own     merge.Own
	shut    bool // the device has no access any more
	epoch   string
}

// push applies the entries in one transaction and fills acks. It says whether the account's
// settings changed, which touches the results of every field.
func (d Door) push(
	ctx context.Context,
	who Author,
	req wire.SyncRequest,
	entries []entry,
	out *wire.SyncResponse,
) (bool, error) {
	var settings bool
	err := d.Log.Write(ctx, who.Farm, func(tx Tx) error {
		p, err := openPush(ctx, tx, who, entries, d.Now())
		if err != nil {
			return err
		}
		if req.Epoch != "" && req.Epoch != p.epoch {
			return nil // it must offer again first what it holds, in its order; the pull tells it so
		}
		p.batch.SeenAt = d.Now()
		if req.Epoch == p.epoch {
			p.batch.Cursor = req.Cursor
		}
		out.Acks, out.Expect = p.takeAll(entries)
		if err := p.takeBack(ctx, d); err != nil {
			return err
		}
		if err := p.takeUp(ctx, d); err != nil {
			return err
		}
		p.acknowledge(out)
		settings = p.account
		err = p.save(ctx, d)
		out.Stale = len(p.batch.Stale) > 0
		return err
	})
	return settings, err
}

// acknowledge gives each entry the outcome that this push came to in the end.
func (p *push) acknowledge(out *wire.SyncResponse) {
	final := map[int64]wire.Ack{}
	for _, m := range p.batch.Mutations {
		final[m.N] = m.Ack
	}
	for i, ack := range out.Acks {
		if now, is := final[ack.N]; is && ack.Outcome == wire.Quarantined {
			out.Acks[i] = now
		}
	}
	p.acknowledgeRepeats(out)
}

func newPush(ctx context.Context, tx Tx, who Author, now time.Time) (*push, error) {
	head, err := tx.Head(ctx)
	return &push{
		who: who, tx: tx, states: map[string]*merge.State{}, changed: map[string]bool{},
		fields: map[string]bool{}, stored: map[string]bool{}, fresh: map[string]bool{},
		again: map[merge.Place]bool{}, own: merge.Own{},
		now: now.UTC().Format(time.RFC3339), epoch: head.Epoch,
		batch: Batch{From: head.Head, Head: head.Head, Device: who.Device, Person: who.Person,
			Role: who.Role},
	}, err
}

func openPush(
	ctx context.Context,
	tx Tx,
	who Author,
	entries []entry,
	now time.Time,
) (*push, error) {
	device, err := tx.Device(ctx, who.Device)
	if err != nil {
		return nil, err
	}
	if device.Revoked {
		return nil, fault.New(fault.Unauthorized, "signin", "this device no longer has access")
	}
	p, err := newPush(ctx, tx, who, now)
	if err != nil {
		return nil, err
	}
	p.lastN = device.LastN
	var numbers []int64
	ids, hashes := map[string]bool{}, []string{}
	for _, e := range entries {
		if e.N <= device.LastN {
			numbers = append(numbers, e.N)
		} else if e.wrong == nil {
			collect(who.Farm, e.Mutation, ids, &hashes)
		}
	}
	if len(numbers) > 0 {
		if p.taken, err = tx.Taken(ctx, who.Device, numbers); err != nil {
			return nil, err
		}
	}
	if err := p.recall(ctx, device, entries); err != nil {
		return nil, err
	}
	return p, p.know(ctx, ids, hashes)
}

// collect names the records and the pictures that a mutation can meet.
func collect(farm string, m wire.Mutation, ids map[string]bool, hashes *[]string) {
	collectIDs(farm, m, ids)
	if m.Kind == "photo" {
		*hashes = append(*hashes, hashOf(m.Set))
	}
}

// collectIDs names the records that a mutation can meet: its own, those it points to, and the
// conflicts over its values.
func collectIDs(farm string, m wire.Mutation, ids map[string]bool) {
	ids[m.Rec] = true
	if m.Kind == kind.Settle {
		collectSettled(farm, m, ids)
		return
	}
	of := kind.All[m.Kind]
	for id := range of.Links(m.Set) {
		if kind.IsID(id) {
			ids[id] = true
		}
	}
	for _, name := range of.Contested() {
		if _, given := m.Set[name]; given || m.Del || name == merge.Life {
			ids[kind.ID(farm, "conflict", kind.ConflictKey(m.Rec, name))] = true
		}
	}
}

// collectSettled adds the record in question and, since settling can delete it, all its conflicts.
func collectSettled(farm string, m wire.Mutation, ids map[string]bool) {
	var record string
	if json.Unmarshal(m.Set["record"], &record) != nil || !kind.IsID(record) {
		return
	}
	ids[record] = true
	for name := range kind.AllContested() {
		ids[kind.ID(farm, "conflict", kind.ConflictKey(record, name))] = true
	}
}

// know reads records and pictures, but for those that this push knows already.
func (p *push) know(ctx context.Context, ids map[string]bool, hashes []string) error {
	if len(hashes) > 0 {
		stored, err := p.tx.Photos(ctx, hashes)
		if err != nil {
			return err
		}
		maps.Copy(p.stored, stored)
	}
	maps.DeleteFunc(ids, func(id string, _ bool) bool { return p.states[id] != nil })
	if len(ids) == 0 {
		return nil
	}
	found, err := p.tx.Records(ctx, slices.Sorted(maps.Keys(ids)))
	if err != nil {
		return err
	}
	for _, s := range found {
		p.states[s.ID] = &s
	}
	return nil
}

// apply merges one new entry into its record. An error sets the entry aside and changes nothing.
func (p *push) apply(e entry) (wire.Ack, error) {
	if e.wrong != nil {
		return wire.Ack{}, e.wrong
	}
	if e.Kind == kind.Settle {
		return p.settle(e)
	}
	of, old := kind.All[e.Kind], p.states[e.Rec]
	if !of.MayWrite(p.who.Role) {
		return wire.Ack{}, fault.At(
			"kind",
			"role",
			"is %s, which a %s may not write",
			e.Kind,
			p.who.Role,
		)
	}
	if old != nil && old.Kind != e.Kind {
		return wire.Ack{}, fault.At(
			"kind",
			"kind",
			"is %s, but this record is a %s",
			e.Kind,
			old.Kind,
		)
	}
	set, err := tidySet(e.Set)
	if err != nil {
		return wire.Ack{}, err
	}
	seq := p.batch.Head + 1
	met := merge.Apply(old, e.Rec, e.Kind, merge.Change{
		Stamp: p.stamp(e), Base: e.Base, Set: set, Del: e.Del, Own: p.own,
	}, of.ClassOf)
	if err := p.judge(of, met, set); err != nil && old == nil {
		return wire.Ack{}, wanting(err, of, e)
	} else if err != nil {
		return wire.Ack{}, err
	}
	p.markStored(&met.State)
	p.keep(met, old)
	return wire.Ack{N: e.N, Outcome: met.Outcome, Seq: seq}, p.review(met, set)
}

// stamp marks what an entry sets; its number is the next one.
func (p *push) stamp(e entry) merge.Stamp {
	return merge.Stamp{Seq: p.batch.Head + 1, N: e.N, Device: p.who.Device, Person: p.who.Person,
		At: p.now, Said: cutSaid(e.PhoneTime)}
}

// cutSaid keeps a phone's time only if it can be one.
func cutSaid(said string) string {
	if _, err := time.Parse(time.RFC3339, said); err != nil {
		return ""
	}
	return said
}

// judge refuses a merged record that breaks a rule.
func (p *push) judge(of kind.Kind, met merge.Result, set map[string]json.RawMessage) error {
	switch met.Refused {
	case "":
	case "del":
		return fault.At("rec", "link", "is not a record of this account, so it cannot be deleted")
	default:
		return fault.At(
			met.Refused,
			"closed",
			"belongs to a closed %s and cannot change; send a new record",
			of.Name,
		)
	}
	if err := of.Served(set); err != nil {
		return err
	}
	if met.State.Deleted && of.Lasting {
		return fault.At("del", "closed", "a %s is kept for good; send a new one", of.Name)
	}
	if met.State.Deleted {
		return nil
	}
	if err := of.Check(met.State.Body, p.who.Farm, met.State.ID); err != nil {
		return err
	}
	linked := map[string]merge.State{}
	links := of.Links(set)
	for _, id := range slices.Sorted(maps.Keys(links)) {
		const message = "points to %s, which is no %s of this account"
		switch to := p.states[id]; {
		case to == nil:
			return unknown(id, links[id], message, id, links[id])
		case to.Kind != links[id]:
			return fault.At(links[id], "link", message, id, links[id])
		}
		linked[id] = *p.states[id]
	}
	if len(linked) < len(of.Links(met.State.Body)) {
		return nil // held together before, and untouched now
	}
	return of.Fits(met.State.Body, linked)
}

// keep makes the merged record the one that later entries of this push see.
func (p *push) keep(met merge.Result, old *merge.State) {
	s := met.State
	p.batch.Head = s.Seq
	p.states[s.ID] = &s
	p.changed[s.ID] = true
	for _, r := range met.Replaced {
		p.batch.Values = append(p.batch.Values, Value{Record: s.ID, Replaced: r, Seq: s.Seq})
	}
	for _, o := range met.Opened {
		p.batch.Conflicts = append(p.batch.Conflicts, Conflict{Record: s.ID, Seq: s.Seq, Open: o})
	}
	p.touch(&s)
	if old == nil {
		p.fresh[s.ID] = true
		return
	}
	p.touch(old) // a season or test that moved to another field
}

func (p *push) touch(s *merge.State) {
	switch s.Kind {
	case "photo":
	case "settings":
		p.account = true
	default:
		if id := groundOf(s); id != "" {
			p.fields[id] = true
		}
	}
}

// save computes the touched fields again and stores the batch.
func (p *push) save(ctx context.Context, d Door) error {
	if err := p.finish(ctx, d); err != nil {
		return err
	}
	return p.tx.Save(ctx, p.batch)
}

// finish computes the touched fields again, or puts that off, and closes the batch.
func (p *push) finish(ctx context.Context, d Door) error {
	for id := range p.changed {
		p.batch.Records = append(p.batch.Records, *p.states[id])
	}
	touched := slices.Sorted(maps.Keys(p.fields))
	if d.PutOff != nil && d.PutOff() {
		p.batch.Stale, touched = touched, nil
	}
	c := computing{tx: p.tx, farm: p.who.Farm, batch: &p.batch, now: d.Now(), overlay: p.states}
	if err := c.fields(ctx, touched); err != nil {
		return err
	}
	slices.SortFunc(p.batch.Records, func(a, b merge.State) int { return int(a.Seq - b.Seq) })
	return nil
}

func fieldOf(s *merge.State) string {
	var id string
	if json.Unmarshal(s.Body["field"], &id) != nil || !kind.IsID(id) {
		return ""
	}
	return id
}

func index(list string, i int) string { return list + "." + strconv.Itoa(i) }
