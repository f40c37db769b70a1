package feed

import (
	"hilum/internal/fault"
	"hilum/internal/wire"
)

// Upcaster lifts a mutation from one record schema to the next. It changes the values in place and
// leaves alone what it does not know; the bytes as sent are kept beside it.
type Upcaster func(m *wire.Mutation) error

// released are the upcasters of all schemas that a released client has written: the first lifts 1
// to 2. One is added with each new wire.Schema and none is ever taken away, since a phone may come
// with an outbox of any age.
var released []Upcaster

// upcast brings a mutation to the present schema. One from a newer client is set aside with the
// code "newer": what its values mean is not known here.
func (d Door) upcast(m *wire.Mutation) error {
	steps := d.Upcasters
	if steps == nil {
		steps = released
	}
	now := len(steps) + 1
	switch {
	case m.Schema < 1:
		return fault.At("schema", "range", "is %d, accepted 1 to %d", m.Schema, now)
	case m.Schema > now:
		return fault.At("schema", "newer", "is %d, which this server does not know; accepted 1 to %d",
			m.Schema, now)
	}
	for _, step := range steps[m.Schema-1:] {
		if err := step(m); err != nil {
			return err
		}
	}
	return nil
}
