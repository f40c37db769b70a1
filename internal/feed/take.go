package feed

import "hilum/internal/wire"

// takeAll gives the entries their outcomes, up to a gap: then expect is the number that is wanted. What
// follows a cloned number comes again under an id of its own, but for what is on record already: that
// must not come a second time.
func (p *push) takeAll(entries []entry) (acks []wire.Ack, expect int64) {
	acks = []wire.Ack{}
	cloned := false
	for _, e := range entries {
		switch {
		case cloned && !p.onRecord(e):
			continue
		case e.N > p.lastN+1:
			return acks, p.lastN + 1
		}
		ack := p.take(e)
		acks = append(acks, ack)
		cloned = cloned || ack.Outcome == wire.Cloned
	}
	return acks, 0
}

// onRecord says that an entry is a repeat.
func (p *push) onRecord(e entry) bool {
	before, ok := p.taken[e.N]
	return e.N <= p.lastN && ok && before.Hash == e.hash
}

// take gives one entry its outcome. A repeat gets the outcome that is on record.
func (p *push) take(e entry) wire.Ack {
	if p.onRecord(e) {
		// The server may have died between taking the settings and computing by them.
		p.account = p.account || e.Kind == "settings"
		return p.taken[e.N].Ack
	}
	if e.N <= p.lastN {
		ack := wire.Ack{N: e.N, Outcome: wire.Cloned}
		p.batch.Clones = append(
			p.batch.Clones,
			Mutation{N: e.N, Hash: e.hash, Raw: e.raw, Ack: ack},
		)
		return ack
	}
	if known, is := p.known[p.firstOf(e)]; is {
		return p.repeat(e, known)
	}
	ack, err := p.apply(e)
	if err != nil {
		ack = setAside(e.N, err)
	}
	p.lastN = e.N
	p.batch.LastN = e.N
	p.batch.Mutations = append(p.batch.Mutations, Mutation{
		N: e.N, Hash: e.hash, Schema: max(e.Schema, 0), Raw: e.raw, Ack: ack,
		Lacks: lacks(err), Former: e.former})
	p.remember(e, ack)
	return ack
}
