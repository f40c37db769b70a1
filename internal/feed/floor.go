package feed

import (
	"context"
	"time"

	"hilum/internal/wire"
)

const (
	// retention is how long a device may stay away and still go on from its cursor. Past it, it
	// loads afresh; its outbox is taken all the same.
	retention = 400 * 24 * time.Hour
	// noteEvery is how often a device with nothing new is noted as alive.
	noteEvery = 24 * time.Hour
)

// note remembers how far a device has stored the feed. The cursor it sends is one it has stored.
func (d Door) note(ctx context.Context, who Author, req wire.SyncRequest, epoch string) error {
	if req.Epoch != epoch {
		return nil
	}
	now := d.Now()
	if req.Cursor <= who.Cursor && now.Sub(who.SeenAt) < noteEvery {
		return nil
	}
	return d.Log.Seen(ctx, who.Farm, who.Device, req.Cursor, now)
}

// Tidy raises the floor to what every device has passed, those aside that were shut out or have
// stayed away longer than the retention. Tombstones from the floor down go to nobody any more; a
// cursor below it starts afresh. The records themselves stay, since a late edit can bring one
// back. It gives the floor.
func (d Door) Tidy(ctx context.Context, farm string) (floor int64, err error) {
	err = d.Log.Write(ctx, farm, func(tx Tx) error {
		head, err := tx.Head(ctx)
		if err != nil {
			return err
		}
		devices, err := tx.Devices(ctx)
		if err != nil {
			return err
		}
		floor = max(head.Floor, passed(devices, head.Head, d.Now()))
		if floor == head.Floor {
			return nil
		}
		return tx.Save(ctx, Batch{From: head.Head, Head: head.Head, Floor: floor})
	})
	return floor, err
}

// passed gives the number that all devices have behind them. A device that has said nothing yet
// holds nothing, so it needs no tombstone.
func passed(devices []Device, head int64, now time.Time) int64 {
	least := head
	for _, d := range devices {
		if !d.Revoked && d.Cursor > 0 && now.Sub(d.SeenAt) < retention {
			least = min(least, d.Cursor)
		}
	}
	return least
}
