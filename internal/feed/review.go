package feed

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// The review list: every open conflict is a record of kind "conflict", written here alone, in the
// transaction of the change that opened, moved or settled it.

func (p *push) conflictID(record, name string) string {
	return kind.ID(p.who.Farm, "conflict", kind.ConflictKey(record, name))
}

// openConflict gives the open conflict over one value; false when there is none.
func (p *push) openConflict(record, name string) (wire.Conflict, bool) {
	s := p.states[p.conflictID(record, name)]
	if s == nil || s.Deleted {
		return wire.Conflict{}, false
	}
	c, err := conflictOf(s)
	return c, err == nil
}

func conflictOf(s *merge.State) (c wire.Conflict, err error) {
	raw, err := json.Marshal(s.Body)
	if err != nil {
		return c, fmt.Errorf("reading conflict %s: %w", s.ID, err)
	}
	return c, wire.Lenient(raw, &c)
}

// review keeps the list in step with a record that just changed: new conflicts are opened, those
// that stand show what the record now shows, and those of a deleted record end.
func (p *push) review(met merge.Result, set map[string]json.RawMessage) error {
	s := &met.State
	if s.Deleted {
		for _, name := range kind.All[s.Kind].Contested() {
			if err := p.settled(s, name, s.Stamps[merge.Life]); err != nil {
				return err
			}
		}
		return nil
	}
	names := map[string]bool{}
	for name := range set {
		names[name] = true
	}
	opened := map[string]merge.Open{}
	for _, o := range met.Opened {
		opened[o.Field], names[o.Field] = o, true
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		c, stands := p.openConflict(s.ID, name)
		o, fresh := opened[name]
		var err error
		switch {
		case fresh && stands:
			err = p.contend(s, name, append([]wire.ConflictValue{side(o.Shown, o.ShownBy)}, c.Values...))
		case fresh:
			err = p.contend(s, name,
				[]wire.ConflictValue{side(o.Shown, o.ShownBy), side(o.Other, o.OtherBy)})
		case stands && s.Stamps[name].Seq == s.Seq:
			c.Values[0] = side(s.Body[name], s.Stamps[name])
			err = p.contend(s, name, c.Values)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func side(value json.RawMessage, by merge.Stamp) wire.ConflictValue {
	if len(value) == 0 {
		value = json.RawMessage("null")
	}
	return wire.ConflictValue{Value: value, Person: by.Person, Device: by.Device, Seq: by.Seq,
		At: by.At, Said: by.Said}
}

// contend writes the conflict over one value of s, the shown side first. Sides that say the same
// are one; a conflict with one side is over.
func (p *push) contend(s *merge.State, name string, sides []wire.ConflictValue) error {
	var apart []wire.ConflictValue
	for _, side := range sides {
		same := func(v wire.ConflictValue) bool { return bytes.Equal(v.Value, side.Value) }
		if !slices.ContainsFunc(apart, same) {
			apart = append(apart, side)
		}
	}
	if len(apart) < 2 {
		return p.settled(s, name, s.Stamps[name])
	}
	body := wire.Conflict{Record: s.ID, Of: s.Kind, Field: groundOf(s), Name: name, Values: apart}
	raw, err := json.Marshal(body)
	if err != nil {
		return fmt.Errorf("encoding a conflict: %w", err)
	}
	c := merge.State{ID: p.conflictID(s.ID, name), Kind: "conflict", Stamps: map[string]merge.Stamp{}}
	if err := json.Unmarshal(raw, &c.Body); err != nil {
		return fmt.Errorf("encoding a conflict: %w", err)
	}
	p.put(c)
	return nil
}

// settled takes the conflict over one value off the list, if it is on it.
func (p *push) settled(s *merge.State, name string, by merge.Stamp) error {
	id := p.conflictID(s.ID, name)
	old := p.states[id]
	if old == nil || old.Deleted {
		return nil
	}
	p.batch.Settled = append(p.batch.Settled, Settled{Record: s.ID, Field: name, By: by.Person,
		Seq: p.batch.Head, Seen: p.batch.Head, Value: shownOf(s, name)})
	gone := *old
	gone.Deleted = true
	p.put(gone)
	return nil
}

func shownOf(s *merge.State, name string) json.RawMessage {
	switch {
	case name == merge.Life && s.Deleted:
		return json.RawMessage(merge.Deleted)
	case name == merge.Life:
		return json.RawMessage(merge.Kept)
	}
	return s.Body[name]
}

// put gives a record of the server's own the next change number.
func (p *push) put(s merge.State) {
	p.batch.Head++
	s.Seq = p.batch.Head
	p.states[s.ID] = &s
	p.changed[s.ID] = true
	p.touch(&s)
}

// groundOf is the field that a record belongs to, which for a field is itself.
func groundOf(s *merge.State) string {
	if s.Kind == "field" {
		return s.ID
	}
	return fieldOf(s)
}

// settle is a person's word on an open conflict.
func (p *push) settle(e entry) (wire.Ack, error) {
	in, err := p.readSettle(e)
	if err != nil {
		return wire.Ack{}, err
	}
	c, stands := p.openConflict(in.Record, in.Name)
	if !stands {
		return wire.Ack{N: e.N, Outcome: wire.Merged}, nil
	}
	outcome := wire.Applied
	at := slices.IndexFunc(c.Values, func(v wire.ConflictValue) bool { return v.Seq == in.Take })
	switch {
	case at < 0:
		outcome = wire.Merged // somebody who knew that value has replaced it
	case at > 0:
		if err := p.show(e, in, c.Values[at].Value); err != nil {
			return wire.Ack{}, err
		}
	}
	s := p.states[in.Record]
	by := p.stamp(e)
	if s.Deleted {
		return wire.Ack{N: e.N, Outcome: outcome, Seq: p.batch.Head}, nil // review ended its conflicts
	}
	left := []wire.ConflictValue{c.Values[0]}
	if at > 0 {
		left[0] = side(s.Body[in.Name], s.Stamps[in.Name])
	}
	for i, v := range c.Values {
		stays := at <= 0 && i == 0 // it is the one shown, and first already
		if v.Seq > e.Base && v.Seq != in.Take && !stays {
			left = append(left, v)
		}
	}
	p.batch.Settled = append(p.batch.Settled, Settled{Record: s.ID, Field: in.Name, By: by.Person,
		Seq: p.batch.Head, Seen: e.Base, Value: left[0].Value})
	err = p.contend(s, in.Name, left)
	return wire.Ack{N: e.N, Outcome: outcome, Seq: p.batch.Head}, err
}

func (p *push) readSettle(e entry) (in wire.Settle, err error) {
	raw, err := json.Marshal(e.Set)
	if err != nil {
		return in, fault.New(fault.Invalid, "json", "is not JSON: %s", err)
	}
	if err := wire.Lenient(raw, &in); err != nil {
		return in, err
	}
	s := p.states[in.Record]
	switch {
	case e.Rec != p.conflictID(in.Record, in.Name):
		return in, fault.At("rec", "id", "is not the conflict over this value of this record")
	case s == nil:
		return in, unknown(in.Record, "record", "is not a record of this account")
	case !kind.All[s.Kind].MayWrite(p.who.Role):
		return in, fault.At("kind", "role", "settles a %s, which a %s may not write", s.Kind, p.who.Role)
	case in.Take < 1 || in.Take > e.Base:
		return in, fault.At("take", "range", "is %d, accepted 1 to %d (base)", in.Take, e.Base)
	}
	return in, nil
}

// show makes the side that was taken the record's value, as a change that knew all before it.
func (p *push) show(e entry, in wire.Settle, value json.RawMessage) error {
	old := p.states[in.Record]
	of := kind.All[old.Kind]
	change := merge.Change{Stamp: p.stamp(e), Base: old.Seq, Own: p.own}
	if in.Name == merge.Life {
		change.Del = true // the other side of a life is always its end
	} else {
		change.Set = map[string]json.RawMessage{in.Name: value}
	}
	met := merge.Apply(old, old.ID, old.Kind, change, of.ClassOf)
	if err := p.judge(of, met, change.Set); err != nil {
		return err
	}
	p.keep(met, old)
	if met.State.Deleted {
		return p.review(met, nil)
	}
	return nil
}
