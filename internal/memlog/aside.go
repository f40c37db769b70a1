package memlog

import (
	"context"
	"maps"
	"slices"

	"hilum/internal/feed"
	"hilum/internal/wire"
)

// Latest gives a mutation with the outcome that the newest judgement of it came to.
func (f *Farm) Latest(device string, m feed.Mutation) feed.Mutation {
	for _, j := range f.Judged {
		if j.Device == device && j.Ack.N == m.N {
			m.Ack, m.Lacks = j.Ack, j.Lacks
		}
	}
	return m
}

func (t *tx) Lacking(_ context.Context, ids []string) ([]feed.Aside, error) {
	var found []feed.Aside
	for _, device := range slices.Sorted(maps.Keys(t.farm.Mutations)) {
		for _, m := range t.farm.Mutations[device] {
			if m = t.farm.Latest(device, m); m.Lacks == "" {
				continue
			}
			_, there := t.farm.Records[m.Lacks]
			if slices.Contains(ids, m.Lacks) || len(ids) == 0 && there {
				found = append(found, t.aside(device, m))
			}
		}
	}
	return found, nil
}

func (t *tx) aside(device string, m feed.Mutation) feed.Aside {
	who := t.farm.People[device]
	return feed.Aside{Device: device, Person: who.Person, Role: who.Role, N: m.N, Raw: m.Raw}
}

func (t *tx) Judged(_ context.Context, person string, after, upTo int64) ([]wire.Judged, error) {
	var found []wire.Judged
	for _, j := range t.farm.Judged {
		if j.Seq > after && j.Seq <= upTo && t.farm.People[j.Device].Person == person {
			found = append(found, wire.Judged{Device: j.Device, Ack: j.Ack})
		}
		if j.Seq > after && j.Seq <= upTo {
			found = append(found, t.farm.judgedOfRepeats(person, j)...)
		}
	}
	return found, nil
}

func (t *tx) Asides(_ context.Context, device string, numbers []int64) ([]feed.Aside, error) {
	var found []feed.Aside
	for _, m := range t.farm.Mutations[device] {
		now := t.farm.Latest(device, m)
		if slices.Contains(numbers, m.N) && now.Ack.Outcome == wire.Quarantined {
			found = append(found, t.aside(device, m))
		}
	}
	return found, nil
}

func (t *tx) HandedIn(_ context.Context, device string) (entries, bytes int64, err error) {
	for _, m := range t.farm.Mutations[device] {
		if m.Ack.Problem != nil && m.Ack.Problem.Code == feed.HandInCode {
			entries, bytes = entries+1, bytes+int64(len(m.Raw))
		}
	}
	for _, r := range t.farm.Repeats[device] {
		if r.Shut {
			entries++
		}
	}
	return entries, bytes, nil
}
