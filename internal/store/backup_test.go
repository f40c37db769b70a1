package store

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"hilum/internal/pgtest"
)

const backedUp = `SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace
	AND relkind IN ('r', 'p') ORDER BY relname`

// in gives a transaction of the login that owns the database, undone at the end.
func in(t *testing.T, dsn string, use func(pgx.Tx)) {
	t.Helper()
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(ctx)
	tx, err := conn.Begin(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback(ctx)
	use(tx)
}

func counts(t *testing.T, tx pgx.Tx, tables []string) map[string]int {
	t.Helper()
	found := map[string]int{}
	for _, table := range tables {
		var n int
		if err := tx.QueryRow(context.Background(), "SELECT count(*) FROM "+pgx.Identifier{table}.Sanitize()).Scan(&n); err != nil {
			t.Fatalf("%s: %v", table, err)
		}
		found[table] = n
	}
	return found
}

func TestTheBackupRoleReadsAllAccountsAndWritesNothing(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s, dsn := open(t)
	newFarm(t, s)
	newFarm(t, s)
	tables := namesOf(t, s, backedUp)
	in(t, dsn, func(tx pgx.Tx) {
		want := counts(t, tx, tables)
		if _, err := tx.Exec(ctx, `SET LOCAL ROLE hilum_backup`); err != nil {
			t.Fatal(err)
		}
		for table, n := range counts(t, tx, tables) {
			if n != want[table] {
				t.Errorf("%s: hilum_backup sees %d rows of %d", table, n, want[table])
			}
		}
		if want["person"] != 2 || len(tables) < 15 {
			t.Errorf("%d persons, %d tables: too few to mean anything", want["person"], len(tables))
		}
		for _, table := range tables {
			name := pgx.Identifier{table}.Sanitize()
			for _, sql := range []string{"DELETE FROM " + name, "TRUNCATE " + name,
				"INSERT INTO " + name + " DEFAULT VALUES", "DROP TABLE " + name} {
				if err := attempt(ctx, tx, sql); err == nil || !strings.Contains(err.Error(), "permission denied") &&
					!strings.Contains(err.Error(), "must be owner") {
					t.Errorf("hilum_backup: %s: %v, want permission denied", sql, err)
				}
			}
		}
	})
}

// attempt runs a statement of which nothing stays.
func attempt(ctx context.Context, tx pgx.Tx, sql string) error {
	inner, err := tx.Begin(ctx)
	if err != nil {
		return err
	}
	defer inner.Rollback(ctx)
	_, err = inner.Exec(ctx, sql)
	return err
}

// Roles belong to the whole cluster: each hole is made and looked at in one transaction that is
// undone, so that no other test sees it.
func TestAWrongBackupRoleStopsTheStart(t *testing.T) {
	t.Parallel()
	ctx, dsn := context.Background(), pgtest.Database(t)
	for hole, want := range map[string]string{
		``:                                       ``,
		`GRANT INSERT ON record TO hilum_backup`: `may change table record`,
		`GRANT UPDATE (name) ON person TO hilum_backup`:                                  `may change table person`,
		`GRANT DELETE ON mutation TO PUBLIC`:                                             `may change table mutation`,
		`REVOKE SELECT ON audit FROM hilum_backup`:                                       `does not see all of table audit`,
		`DROP POLICY record_of_backup ON record`:                                         `does not see all of table record`,
		`ALTER POLICY device_of_backup ON device USING (device_id IS NULL)`:              `does not see all of table device`,
		`CREATE POLICY less ON photo AS RESTRICTIVE USING (false)`:                       `does not see all of table photo`,
		`CREATE TABLE left_out (n int)`:                                                  `does not see all of table left_out`,
		`CREATE TABLE mine (n int); ALTER TABLE mine OWNER TO hilum_backup`:              `owns mine`,
		`ALTER ROLE hilum_backup LOGIN`:                                                  `may sign in`,
		`ALTER ROLE hilum_backup BYPASSRLS`:                                              `may sign in, make roles or databases, or pass`,
		`GRANT hilum_app TO hilum_backup`:                                                `hilum_backup may take role hilum_app`,
		`GRANT hilum_backup TO hilum_app`:                                                `role hilum_app may take role hilum_backup`,
		`CREATE ROLE between; GRANT between TO hilum_app; GRANT hilum_backup TO between`: `role hilum_app may take role hilum_backup`,
	} {
		in(t, dsn, func(tx pgx.Tx) {
			if hole != "" {
				if _, err := tx.Exec(ctx, `GRANT CREATE ON SCHEMA public TO hilum_backup; `+hole); err != nil {
					t.Fatalf("%s: %v", hole, err)
				}
			}
			if _, err := tx.Exec(ctx, setRole); err != nil {
				t.Fatal(err)
			}
			faults, err := wallFaults(ctx, tx)
			if err != nil {
				t.Fatal(err)
			}
			found := slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, want) })
			if hole == "" && len(faults) > 0 || hole != "" && !found {
				t.Errorf("after %q: %q, want %q", hole, faults, want)
			}
		})
	}
}
