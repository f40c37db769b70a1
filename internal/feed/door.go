package feed

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"time"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// Door is the one way in and out.
type Door struct {
	Log Log
	Now func() time.Time
	// Upcasters lift old mutations; nil stands for those of the released schemas.
	Upcasters []Upcaster
	// PutOff says that so many phones wait that results are better computed a little later, by
	// Freshen. nil: never.
	PutOff func() bool
}

// Author is who sends a push, as the sign-in proved it.
type Author struct {
	Farm   string
	Person string
	Device string
	Role   string // "owner", "consultant", "scout"
	Cursor int64  // as noted of the device before, so that it is noted once
	SeenAt time.Time
}

// Sync takes a push and answers with its outcomes and with what changed since the cursor. An
// envelope that cannot be read is a fault and stores nothing; each readable mutation gets an
// outcome of its own.
func (d Door) Sync(
	ctx context.Context,
	who Author,
	req wire.SyncRequest,
) (wire.SyncResponse, error) {
	pushed, err := d.readEnvelope(who, req)
	if err != nil {
		return wire.SyncResponse{}, err
	}
	out := wire.SyncResponse{Acks: []wire.Ack{}, Rows: []wire.Row{}}
	if len(pushed) > 0 {
		settings, err := d.push(ctx, who, req, pushed, &out)
		if err != nil {
			return wire.SyncResponse{}, err
		}
		if settings {
			if _, err := d.Recompute(ctx, who.Farm); err != nil {
				return wire.SyncResponse{}, err
			}
		}
	}
	if err := d.pull(ctx, who, req, &out); err != nil {
		return wire.SyncResponse{}, err
	}
	if len(pushed) > 0 {
		who.Cursor, who.SeenAt = max(who.Cursor, req.Cursor), d.Now() // the push has noted it
	}
	if err := d.note(ctx, who, req, out.Epoch); err != nil {
		return wire.SyncResponse{}, err
	}
	out.ServerTime = d.Now().UTC().Format(time.RFC3339)
	return out, nil
}

// entry is one pushed mutation with its bytes.
type entry struct {
	raw  []byte
	hash [32]byte
	wire.Mutation
	former *First // where it was before it came to this device id
	wrong  error  // of its shape; it will be set aside
}

func (d Door) readEnvelope(who Author, req wire.SyncRequest) ([]entry, error) {
	switch {
	case req.Proto != wire.Proto:
		return nil, fault.At(
			"proto",
			"range",
			"is %d, this server speaks %d",
			req.Proto,
			wire.Proto,
		)
	case req.Device != who.Device:
		return nil, fault.At("device", "id", "is not the device that signed in")
	case req.Cursor < 0:
		return nil, fault.At("cursor", "range", "is %d, accepted from 0", req.Cursor)
	case req.Floor < 0:
		return nil, fault.At("floor", "range", "is %d, accepted from 0", req.Floor)
	case req.Epoch != "" && !kind.IsID(req.Epoch):
		return nil, fault.At("epoch", "id", "is not a lower-case UUID")
	case len(req.Push) > wire.MaxPush:
		return nil, &fault.Error{Kind: fault.TooLarge, Code: "size", Field: "push",
			Message: "holds more than 1000 mutations; send fewer at a time"}
	}
	entries := make([]entry, len(req.Push))
	for i, raw := range req.Push {
		e, err := d.readEntry(raw)
		if err != nil {
			return nil, fault.Under(index("push", i), err)
		}
		if i > 0 && e.N <= entries[i-1].N {
			return nil, fault.At(
				index("push", i)+".n",
				"order",
				"is %d after %d; numbers must ascend",
				e.N,
				entries[i-1].N,
			)
		}
		entries[i] = e
	}
	return entries, nil
}

// readEntry needs only the number to be readable: all else can be set aside under it.
func (d Door) readEntry(raw json.RawMessage) (entry, error) {
	e := entry{raw: raw, hash: sha256.Sum256(raw)}
	if len(raw) > wire.MaxMutation+maxWas {
		return e, &fault.Error{Kind: fault.TooLarge, Code: "size",
			Message: "is larger than 256 KiB; split it, or put photos in their own lane"}
	}
	var number struct {
		N   int64           `json:"n"`
		Was json.RawMessage `json:"was"`
	}
	if err := wire.Lenient(raw, &number); err != nil {
		return e, err
	}
	if number.N < 1 {
		return e, fault.At("n", "range", "is %d, accepted from 1", number.N)
	}
	if e.wrong = wire.Lenient(raw, &e.Mutation); e.wrong == nil {
		e.wrong = d.upcast(&e.Mutation)
	}
	if e.wrong == nil {
		e.wrong = kind.Shape(e.Mutation)
	}
	e.N, e.former = number.N, formerOf(raw, number.N, number.Was)
	return e, nil
}

func (d Door) pull(
	ctx context.Context,
	who Author,
	req wire.SyncRequest,
	out *wire.SyncResponse,
) error {
	return d.Log.Read(ctx, who.Farm, func(v View) error {
		head, err := v.Head(ctx)
		if err != nil {
			return err
		}
		after := req.Cursor
		known := req.Epoch == head.Epoch && after <= head.Head &&
			(after >= head.Floor || req.Floor >= head.Floor)
		if !known {
			out.Reset = after > 0 || req.Epoch != "" && req.Epoch != head.Epoch
			after = 0
		}
		if out.Floor = req.Floor; after == 0 {
			out.Floor = head.Floor
		}
		rows, err := v.Rows(ctx, after, head.Head, wire.MaxRows)
		if err != nil {
			return err
		}
		out.Epoch, out.Head, out.Cursor = head.Epoch, head.Head, head.Head
		if len(rows) == wire.MaxRows {
			out.Cursor = rows[len(rows)-1].Seq
			out.More = out.Cursor < head.Head
		}
		out.Rows = append(out.Rows, rows...)
		out.Judged, err = v.Judged(ctx, who.Person, after, out.Cursor)
		return err
	})
}
