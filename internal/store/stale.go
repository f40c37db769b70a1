package store

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

const (
	markStale = `
		INSERT INTO stale (farm_id, field_id) SELECT @farm, unnest(@ids::uuid[])
		ON CONFLICT DO NOTHING`
	dropStale = `DELETE FROM stale WHERE farm_id = @farm AND field_id = ANY (@ids::uuid[])`
	listStale = `SELECT field_id::text FROM stale WHERE farm_id = @farm ORDER BY field_id LIMIT @limit`
	// staleFarms runs as the login that migrates, which may list accounts.
	staleFarms = `SELECT DISTINCT farm_id::text FROM stale`
)

// Stale implements feed.Tx.
func (t *logTx) Stale(ctx context.Context, limit int) ([]string, error) {
	rows, err := t.tx.Query(ctx, listStale, t.args("limit", limit))
	if err != nil {
		return nil, fmt.Errorf("listing results put off: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowTo[string])
}

// StaleFarms lists the accounts whose results a server put off and never came to compute.
func (a *Admin) StaleFarms(ctx context.Context) ([]string, error) {
	rows, err := a.conn.Query(ctx, staleFarms)
	if err != nil {
		return nil, fmt.Errorf("listing results put off: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowTo[string])
}

// someTime makes NULL of no time.
func someTime(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}
