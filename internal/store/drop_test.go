package store

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"hilum/internal/pgtest"
)

// A table whose rows hold on to another's must go before it when a demo account is dropped, or the
// account could not be dropped once it has such rows.
func TestADroppedAccountLosesItsChildrenFirst(t *testing.T) {
	ctx := context.Background()
	s, err := Open(ctx, pgtest.Database(t))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	rows, err := s.pool.Query(ctx, `
		SELECT c.conrelid::regclass::text, c.confrelid::regclass::text FROM pg_constraint c
		WHERE c.contype = 'f' AND c.confdeltype = 'a' AND c.conrelid <> c.confrelid`)
	if err != nil {
		t.Fatal(err)
	}
	at := func(table string) int {
		return slices.IndexFunc(dropFarm, func(q string) bool {
			return strings.HasPrefix(q, "DELETE FROM "+table+" ")
		})
	}
	var child, parent string
	_, err = pgx.ForEachRow(rows, []any{&child, &parent}, func() error {
		if at(parent) >= 0 && (at(child) < 0 || at(parent) < at(child)) {
			t.Errorf("%s holds on to %s and is not dropped before it", child, parent)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
