package main

import "fmt"

// mark is the identity of a mutation.
type mark struct {
	dev string
	n   int64
}

// state is what the events up to now have established.
type state struct {
	faults  []string
	invoked map[int]event   // open and closed operations
	closed  map[int]string  // how each ended
	acked   map[mark]ack    // first answer for each mutation
	maybe   map[mark]bool   // sent at least once without a certain refusal
	rec     map[mark]string // which record it was about
	sums    map[string]string
	heads   map[string]int64 // by epoch, the highest head that an answer gave
	atStart map[int]int64    // the highest head known when an operation began
	finals  map[string][]row
	truth   *event
}

func (s *state) fault(rule, format string, args ...any) {
	s.faults = append(s.faults, rule+": "+fmt.Sprintf(format, args...))
}

// check gives every breach of a rule, in words.
func check(events []event) []string {
	s := &state{invoked: map[int]event{}, closed: map[int]string{}, acked: map[mark]ack{},
		maybe: map[mark]bool{}, rec: map[mark]string{}, sums: map[string]string{},
		heads: map[string]int64{}, atStart: map[int]int64{}, finals: map[string][]row{}}
	for _, e := range events {
		switch e.E {
		case "invoke":
			s.invoke(e)
		case "ok", "fail", "unknown":
			s.complete(e)
		case "final":
			s.finals[e.Dev] = e.Rows
		case "truth":
			s.truth = &e
		}
	}
	for op := range s.invoked {
		if s.closed[op] == "" {
			s.fault("ends", "operation %d never ended", op)
		}
	}
	if s.truth == nil {
		s.fault("ends", "the log has no truth to compare with")
		return s.faults
	}
	s.compareMutations()
	s.compareRows()
	return s.faults
}

func (s *state) invoke(e event) {
	if _, again := s.invoked[e.Op]; again {
		s.fault("ends", "operation %d began twice", e.Op)
	}
	s.invoked[e.Op] = e
	s.atStart[e.Op] = s.heads[e.Epoch]
	for _, p := range e.Push {
		s.rec[mark{e.Dev, p.N}] = p.Rec
	}
}

func (s *state) complete(e event) {
	began, ok := s.invoked[e.Op]
	if !ok || s.closed[e.Op] != "" {
		s.fault("ends", "operation %d ended without a beginning, or twice", e.Op)
		return
	}
	s.closed[e.Op] = e.E
	if e.E != "fail" {
		for _, p := range began.Push {
			s.maybe[mark{began.Dev, p.N}] = true
		}
	}
	if e.E == "ok" {
		s.answer(began, e)
	}
}

// answer checks one answer in itself and against all before it.
func (s *state) answer(began, e event) {
	sent := map[int64]bool{}
	for _, p := range began.Push {
		sent[p.N] = true
	}
	for _, a := range e.Acks {
		m := mark{began.Dev, a.N}
		if !sent[a.N] {
			s.fault("answers", "operation %d acknowledged %v, which it did not send", e.Op, m)
		}
		if first, repeated := s.acked[m]; repeated && first != a {
			s.fault("repeats", "%v was answered %+v and then %+v", m, first, a)
		}
		s.acked[m] = a
	}
	if e.Head < s.atStart[e.Op] && e.Epoch == began.Epoch {
		s.fault("fresh", "operation %d saw head %d after somebody had seen %d",
			e.Op, e.Head, s.atStart[e.Op])
	}
	s.heads[e.Epoch] = max(s.heads[e.Epoch], e.Head)
	from := began.Cursor
	if e.Reset || e.Epoch != began.Epoch {
		from = 0
	}
	if e.Cursor < from || e.Cursor > e.Head {
		s.fault("cursor", "operation %d moved the cursor from %d to %d of %d", e.Op, from, e.Cursor, e.Head)
	}
	s.window(e, from)
}

// window checks that rows come in order from between the cursors, each number with one content.
func (s *state) window(e event, from int64) {
	before := from
	for _, r := range e.Rows {
		if r.Seq <= before || r.Seq > e.Cursor {
			s.fault("window", "operation %d got row %d after %d with cursor %d", e.Op, r.Seq, before, e.Cursor)
		}
		before = r.Seq
		s.content(e.Epoch, r)
	}
}

func (s *state) content(epoch string, r row) {
	key := fmt.Sprint(epoch, "/", r.Seq)
	said := fmt.Sprint(r.ID, " ", r.Sum, " ", r.Del)
	if had, ok := s.sums[key]; ok && had != said {
		s.fault("content", "change %s is both %s and %s", key, had, said)
	}
	s.sums[key] = said
}

// compareMutations holds the database's list of mutations against what was sent and answered.
func (s *state) compareMutations() {
	held, most := map[mark]ack{}, map[string]int64{}
	seqs := map[int64]mark{}
	for _, m := range s.truth.Mutations {
		id := mark{m.Dev, m.N}
		if _, twice := held[id]; twice {
			s.fault("once", "%v stands twice in the database", id)
		}
		held[id] = m.ack
		most[m.Dev] = max(most[m.Dev], m.N)
		if _, sent := s.rec[id]; sent && !s.maybe[id] {
			s.fault("refused", "%v was refused for certain and stands in the database", id)
		}
		if other, taken := seqs[m.Seq]; m.Seq > 0 && m.Outcome != "quarantined" && taken {
			s.fault("order", "%v and %v have one change number", id, other)
		}
		seqs[m.Seq] = id
		if m.Seq > s.truth.Head {
			s.fault("order", "%v has change %d above the head %d", id, m.Seq, s.truth.Head)
		}
	}
	for id, a := range s.acked {
		if got, ok := held[id]; !ok || got != a {
			s.fault("kept", "%v was acknowledged %+v, the database holds %+v", id, a, got)
		}
	}
	for dev, n := range most {
		s.dense(dev, n, held)
	}
}

// dense wants a device's numbers without a hole, and none that the device never sent. Devices that
// the log does not know, such as the demo's own, are left out.
func (s *state) dense(dev string, most int64, held map[mark]ack) {
	if _, ours := s.finals[dev]; !ours {
		return
	}
	for n := int64(1); n <= most; n++ {
		id := mark{dev, n}
		if _, ok := held[id]; !ok {
			s.fault("dense", "%v is missing below %d", id, most)
		}
		if _, sent := s.rec[id]; !sent {
			s.fault("invented", "%v stands in the database and was never sent", id)
		}
	}
}

// compareRows wants every phone to hold exactly the live rows of the database, and those to hold
// what was acknowledged.
func (s *state) compareRows() {
	held, numbers := map[string]row{}, map[int64]string{}
	for _, r := range s.truth.Rows {
		held[r.ID] = r
		if other, taken := numbers[r.Seq]; taken {
			s.fault("order", "records %s and %s have one change number %d", r.ID, other, r.Seq)
		}
		numbers[r.Seq] = r.ID
	}
	for dev, rows := range s.finals {
		have := map[string]bool{}
		for _, r := range rows {
			have[r.ID] = true
			if held[r.ID] != r {
				s.fault("same", "phone %s holds %+v, the database %+v", dev, r, held[r.ID])
			}
		}
		for id, r := range held {
			if !r.Del && !have[id] {
				s.fault("same", "phone %s lacks %s, change %d", dev, id, r.Seq)
			}
		}
	}
	for id, a := range s.acked {
		rec := s.rec[id]
		if a.Seq > 0 && a.Outcome != "quarantined" && held[rec].Seq < a.Seq {
			s.fault("effect", "%v made change %d of %s, which stands at %d", id, a.Seq, rec, held[rec].Seq)
		}
	}
}
