package feed

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// Enroller makes a device known, so that it may push.
type Enroller interface {
	EnrolServer(ctx context.Context, farm, person, device, name string) error
}

// FirstSettings writes the settings of a new account through the door, from a device that stands
// for the server itself, so that the first record too has an author, a number and a history.
func FirstSettings(
	ctx context.Context,
	d Door,
	e Enroller,
	farm, person string,
	settings wire.Settings,
) error {
	device := kind.ID(farm, "device", "server")
	if err := e.EnrolServer(ctx, farm, person, device, "Server"); err != nil {
		return err
	}
	mutation, err := NewMutation(1, kind.ID(farm, "settings", ""), "settings", 0, settings, d.Now())
	if err != nil {
		return err
	}
	out, err := d.Sync(
		ctx,
		Author{Farm: farm, Person: person, Device: device, Role: "owner"},
		wire.SyncRequest{
			Proto:  wire.Proto,
			Schema: wire.Schema,
			Device: device,
			Push:   []json.RawMessage{mutation},
		},
	)
	if err != nil {
		return fmt.Errorf("writing the first settings: %w", err)
	}
	if out.Acks[0].Outcome != wire.Applied {
		return fault.New(
			fault.Invalid,
			"settings",
			"the settings were not taken: %s",
			out.Acks[0].Problem.Message,
		)
	}
	return nil
}

// NewMutation makes the bytes of a mutation that sets every value of body.
func NewMutation(
	n int64,
	rec, kind string,
	base int64,
	body any,
	at time.Time,
) (json.RawMessage, error) {
	raw, err := json.Marshal(body)
	if err != nil {
		return nil, fmt.Errorf("encoding a %s: %w", kind, err)
	}
	m := wire.Mutation{N: n, Schema: wire.Schema, Rec: rec, Kind: kind, Base: base,
		PhoneTime: at.UTC().Format(time.RFC3339)}
	if err := json.Unmarshal(raw, &m.Set); err != nil {
		return nil, fmt.Errorf("encoding a %s: %w", kind, err)
	}
	return json.Marshal(m)
}
