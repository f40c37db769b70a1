package store

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
)

const (
	setFarms  = `SELECT set_config('app.farms', @farms, true)`
	listHeads = `SELECT farm_id::text, head FROM farm_head WHERE farm_id = ANY (@farms::uuid[]) ORDER BY farm_id`
)

// Heads gives the heads of these accounts; one that does not exist is left out.
func (s *Store) Heads(ctx context.Context, farms []string) (map[string]int64, error) {
	heads := make(map[string]int64, len(farms))
	err := s.inFarm(ctx, "", reading, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farms": strings.Join(farms, ",")}
		if _, err := tx.Exec(ctx, setFarms, named); err != nil {
			return fmt.Errorf("naming accounts: %w", err)
		}
		rows, err := tx.Query(ctx, listHeads, pgx.NamedArgs{"farms": farms})
		if err != nil {
			return fmt.Errorf("reading heads: %w", err)
		}
		var farm string
		var head int64
		_, err = pgx.ForEachRow(rows, []any{&farm, &head}, func() error {
			heads[farm] = head
			return nil
		})
		return err
	})
	return heads, err
}
