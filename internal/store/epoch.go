package store

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"hilum/internal/fault"
	"hilum/internal/feed"
)

const (
	newEpoch = `
		UPDATE farm_head SET epoch = gen_random_uuid(), head = head + @gap
		WHERE farm_id = @farm RETURNING epoch::text`
	forgetCursors = `UPDATE device SET cursor_seen = 0 WHERE farm_id = @farm`
	auditEpoch    = `
		INSERT INTO audit (farm_id, action, subject) VALUES (@farm, 'epoch_restored', @epoch)`
)

// RestoreEpoch begins a new epoch of an account whose database was restored from a backup: every
// phone then starts afresh and offers again what it holds. NotFound when there is no such account.
func (a *Admin) RestoreEpoch(ctx context.Context, farm string) (epoch string, err error) {
	err = pgx.BeginFunc(ctx, a.conn, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "gap": feed.RestoreGap}
		rows, err := tx.Query(ctx, newEpoch, named)
		if err != nil {
			return fmt.Errorf("beginning an epoch: %w", err)
		}
		found, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			return fmt.Errorf("beginning an epoch: %w", err)
		}
		if len(found) == 0 {
			return fault.New(fault.NotFound, "farm", "there is no such account")
		}
		epoch = found[0]
		if _, err := tx.Exec(ctx, forgetCursors, named); err != nil {
			return fmt.Errorf("forgetting cursors: %w", err)
		}
		_, err = tx.Exec(ctx, auditEpoch, pgx.NamedArgs{"farm": farm, "epoch": epoch})
		return err
	})
	return epoch, err
}
