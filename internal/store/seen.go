package store

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/feed"
)

const saveSeen = `
	UPDATE device SET cursor_seen = greatest(cursor_seen, @cursor), seen_at = @at
	WHERE farm_id = @farm AND device_id = @device`

// Seen implements feed.Log.
func (l *Log) Seen(ctx context.Context, farm, device string, cursor int64, at time.Time) error {
	return l.store.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, saveSeen, pgx.NamedArgs{"farm": farm, "device": device,
			"cursor": cursor, "at": at})
		if err != nil {
			return fmt.Errorf("noting a cursor: %w", err)
		}
		return nil
	})
}

const listDevices = `
	SELECT last_n AS last_n, revoked_at IS NOT NULL AS revoked, cursor_seen AS cursor, seen_at AS seen_at,
		false AS moved -- nobody asks that of all of them
	FROM device WHERE farm_id = @farm ORDER BY device_id`

// Devices implements feed.Tx.
func (t *logTx) Devices(ctx context.Context) ([]feed.Device, error) {
	rows, err := t.tx.Query(ctx, listDevices, pgx.NamedArgs{"farm": t.farm})
	if err != nil {
		return nil, fmt.Errorf("listing devices: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[feed.Device])
}
