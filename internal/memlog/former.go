package memlog

import (
	"context"
	"maps"
	"slices"

	"hilum/internal/feed"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

func (f *Farm) moved(device string) bool {
	if len(f.Repeats[device]) > 0 {
		return true
	}
	for _, list := range f.Mutations {
		if slices.ContainsFunc(list, func(m feed.Mutation) bool {
			return m.Former != nil && m.Former.Device == device
		}) {
			return true
		}
	}
	for _, list := range f.Repeats {
		if slices.ContainsFunc(list, func(r feed.Repeat) bool { return r.Of.Device == device }) {
			return true
		}
	}
	return false
}

// At gives the mutation in a place as it was judged last.
func (f *Farm) At(place merge.Place) feed.Mutation {
	for _, m := range f.Mutations[place.Device] {
		if m.N == place.N {
			return f.Latest(place.Device, m)
		}
	}
	return feed.Mutation{}
}

func (t *tx) OnRecord(_ context.Context, person string, entries []feed.First) ([]feed.Known, error) {
	asked := map[feed.First]bool{}
	for _, first := range entries {
		asked[first] = true
	}
	var found []feed.Known
	for _, device := range slices.Sorted(maps.Keys(t.farm.Mutations)) {
		if t.farm.People[device].Person != person {
			continue
		}
		for _, m := range t.farm.Mutations[device] {
			at := merge.Place{Device: device, N: m.N}
			first := feed.First{Place: at, Hash: m.Hash}
			if m.Former != nil {
				first = *m.Former
			}
			if asked[first] {
				ack := t.farm.Latest(device, m).Ack
				found = append(found, feed.Known{First: first, At: at, Ack: ack})
			}
		}
	}
	return found, nil
}

func (t *tx) Repeats(_ context.Context, devices []string) ([]feed.Repeat, error) {
	var found []feed.Repeat
	for _, device := range slices.Sorted(maps.Keys(t.farm.Repeats)) {
		for _, r := range t.farm.Repeats[device] {
			if slices.Contains(devices, device) || slices.Contains(devices, r.Of.Device) {
				found = append(found, r)
			}
		}
	}
	return found, nil
}

// judgedOfRepeats tells one judgement under the numbers by which a person's devices repeated it.
func (f *Farm) judgedOfRepeats(person string, j feed.Judgement) []wire.Judged {
	var found []wire.Judged
	for _, device := range slices.Sorted(maps.Keys(f.Repeats)) {
		for _, r := range f.Repeats[device] {
			if r.Of == (merge.Place{Device: j.Device, N: j.Ack.N}) && f.People[device].Person == person {
				ack := j.Ack
				ack.N = r.N
				found = append(found, wire.Judged{Device: device, Ack: ack})
			}
		}
	}
	return found
}
