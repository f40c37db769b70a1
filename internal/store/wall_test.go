package store

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/pressly/goose/v3"

	"hilum/db"
	"hilum/internal/pgtest"
	"hilum/internal/wire"
)

const strangers = `
	SELECT c.relname FROM pg_class c
	JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'farm_id' AND NOT a.attisdropped
	WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'v')
	ORDER BY c.relname`

// open gives a store as ./deploy/run opens it: the same pool, the same role.
func open(t *testing.T) (*Store, string) {
	t.Helper()
	dsn := pgtest.Database(t)
	s, err := Open(context.Background(), dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s, dsn
}

func newFarm(t *testing.T, s *Store) string {
	t.Helper()
	farm := uuid.NewString()
	owner := wire.Person{
		ID:    uuid.NewString(),
		Name:  "Owner",
		Login: "owner-" + farm[:8],
		Role:  "owner",
	}
	if err := s.CreateFarm(context.Background(), farm, false, owner, "hash", nil); err != nil {
		t.Fatal(err)
	}
	if err := s.EnrolServer(context.Background(), farm, owner.ID, uuid.NewString(), "Desk"); err != nil {
		t.Fatal(err)
	}
	return farm
}

func TestForeignAccountShowsNoRow(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s, _ := open(t)
	mine, theirs := newFarm(t, s), newFarm(t, s)
	tables := namesOf(t, s, strangers)
	if len(tables) < 15 {
		t.Fatalf("found %d tables and views with a farm_id, expected at least 15", len(tables))
	}
	for _, farm := range []string{mine, ""} {
		for _, table := range tables {
			var n int
			err := s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
				return tx.QueryRow(ctx, "SELECT count(*) FROM "+pgx.Identifier{table}.Sanitize()+
					" WHERE farm_id = $1", theirs).Scan(&n)
			})
			if err != nil || n != 0 {
				t.Errorf(
					"%s read from account %q: %d foreign rows, error %v; want 0, nil",
					table,
					farm,
					n,
					err,
				)
			}
		}
	}
}

func TestForeignAccountTakesNoRow(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s, _ := open(t)
	mine, theirs := newFarm(t, s), newFarm(t, s)
	writes := map[string]string{
		"insert person": `INSERT INTO person (farm_id, person_id, name, role) VALUES ($1, gen_random_uuid(), 'x', 'scout')`,
		"insert audit":  `INSERT INTO audit (farm_id, action) VALUES ($1, 'x')`,
		"insert device": `INSERT INTO device (farm_id, device_id, person_id) SELECT $1, gen_random_uuid(), gen_random_uuid()`,
		"update head":   `UPDATE farm_head SET head = 99 WHERE farm_id = $1`,
		"delete token":  `DELETE FROM session_token WHERE farm_id = $1`,
	}
	for name, sql := range writes {
		var rows int64
		err := s.inFarm(ctx, mine, writing, func(tx pgx.Tx) error {
			tag, err := tx.Exec(ctx, sql, theirs)
			rows = tag.RowsAffected()
			return err
		})
		if err == nil && rows != 0 {
			t.Errorf("%s into a foreign account wrote %d rows", name, rows)
		}
	}
}

func TestAuditIsAppendOnly(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s, _ := open(t)
	farm := newFarm(t, s)
	for _, sql := range []string{`UPDATE audit SET action = 'x'`, `DELETE FROM audit`, `DELETE FROM mutation`,
		`UPDATE result SET body = '{}'`, `SELECT value FROM server_key`} {
		err := s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
			_, err := tx.Exec(ctx, sql)
			return err
		})
		if err == nil || !strings.Contains(err.Error(), "permission denied") {
			t.Errorf("%s: got %v, want permission denied", sql, err)
		}
	}
}

func TestOpenRefusesAWallWithAHole(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	for _, hole := range []string{
		`ALTER TABLE record NO FORCE ROW LEVEL SECURITY`,
		`DROP POLICY record_of_farm ON record`,
		`CREATE TABLE leak (farm_id uuid)`,
		`CREATE VIEW leak AS SELECT farm_id FROM record`,
	} {
		dsn := pgtest.Database(t)
		conn, err := pgx.Connect(ctx, dsn)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := conn.Exec(ctx, hole); err != nil {
			t.Fatal(err)
		}
		conn.Close(ctx)
		if s, err := Open(ctx, dsn); err == nil {
			s.Close()
			t.Errorf("after %q the store opened; it must refuse", hole)
		}
	}
}

func TestPoolNeverWorksAsASuperuser(t *testing.T) {
	t.Parallel()
	s, _ := open(t)
	for range 20 {
		got := namesOf(
			t,
			s,
			`SELECT current_user::text || ' ' || (SELECT rolsuper FROM pg_roles WHERE rolname = current_user)`,
		)
		if got[0] != "hilum_app false" {
			t.Fatalf("a pooled connection works as %q, want %q", got[0], "hilum_app false")
		}
	}
}

func TestMigrationsGoUpDownUp(t *testing.T) {
	t.Parallel()
	ctx, dsn := context.Background(), pgtest.Empty(t)
	for _, step := range []string{"up", "down", "up"} {
		err := db.Migrating(ctx, dsn, func(p *goose.Provider) error {
			var err error
			if step == "up" {
				_, err = p.Up(ctx)
			} else {
				_, err = p.DownTo(ctx, 0)
			}
			return err
		})
		if err != nil {
			t.Fatalf("%s: %v", step, err)
		}
	}
}

func TestFiveParallelStartsMigrateOnce(t *testing.T) {
	t.Parallel()
	dsn, done := pgtest.Empty(t), make(chan error, 5)
	for range 5 {
		go func() { done <- db.Migrate(context.Background(), dsn) }()
	}
	for range 5 {
		if err := <-done; err != nil {
			t.Errorf("a parallel start failed: %v", err)
		}
	}
}

func namesOf(t *testing.T, s *Store, sql string) []string {
	t.Helper()
	rows, err := s.pool.Query(context.Background(), sql)
	if err != nil {
		t.Fatal(err)
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(fmt.Errorf("%s: %w", sql, err))
	}
	return names
}
