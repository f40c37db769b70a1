package store

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"

	"hilum/internal/pgtest"
	"hilum/internal/wire"
)

// A new table is tried as soon as it exists: its columns are read from the catalogue, and one
// foreign row is put into it behind the wall.

const columnsOf = `
	SELECT c.relname AS "table", a.attname AS name, format_type(a.atttypid, NULL) AS kind
	FROM pg_class c
	JOIN pg_attribute f ON f.attrelid = c.oid AND f.attname = 'farm_id' AND NOT f.attisdropped
	JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
	WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND a.attnotnull
		AND a.attidentity = '' AND a.attname <> 'farm_id'
	ORDER BY c.relname, a.attnum`

// values are something that fits each type.
var values = map[string]string{
	"uuid": "gen_random_uuid()", "text": "'x'", "bytea": `'\x00'`, "jsonb": "'{}'", "boolean": "false",
	"integer": "1", "bigint": "1", "timestamp with time zone": "now()", "double precision": "0", "date": "now()",
}

// seed puts one row of a farm into every table, checks and links aside.
func seed(t *testing.T, dsn, farm string) (tables []string) {
	t.Helper()
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(ctx)
	rows, err := conn.Query(ctx, columnsOf)
	if err != nil {
		t.Fatal(err)
	}
	type column struct{ Table, Name, Kind string }
	columns, err := pgx.CollectRows(rows, pgx.RowToStructByName[column])
	if err != nil {
		t.Fatal(err)
	}
	names, given := map[string]string{}, map[string]string{}
	for _, table := range namesOfAdmin(t, conn) {
		names[table], given[table] = "farm_id", "$1"
		tables = append(tables, table)
	}
	for _, c := range columns {
		if values[c.Kind] == "" {
			t.Fatalf("%s.%s has the type %s; give it a value here", c.Table, c.Name, c.Kind)
		}
		names[c.Table] += ", " + c.Name
		given[c.Table] += ", " + values[c.Kind]
	}
	for _, table := range tables {
		insert := fmt.Sprintf("INSERT INTO %s (%s) VALUES (%s)", table, names[table], given[table])
		for _, sql := range []string{"SET session_replication_role = replica", dropChecks(table)} {
			if _, err := conn.Exec(ctx, sql); err != nil {
				t.Fatalf("%s: %v", sql, err)
			}
		}
		if _, err := conn.Exec(ctx, insert, farm); err != nil && !strings.Contains(err.Error(), "23505") {
			t.Fatalf("%s: %v", insert, err)
		}
	}
	return tables
}

func namesOfAdmin(t *testing.T, conn *pgx.Conn) []string {
	t.Helper()
	rows, err := conn.Query(context.Background(), strings.Replace(strangers, "IN ('r', 'v')", "= 'r'", 1))
	if err != nil {
		t.Fatal(err)
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func dropChecks(table string) string {
	return fmt.Sprintf(`
		DO $$
		DECLARE c text;
		BEGIN
			FOR c IN SELECT conname FROM pg_constraint WHERE conrelid = '%s'::regclass AND contype = 'c' LOOP
				EXECUTE format('ALTER TABLE %s DROP CONSTRAINT %%I', c);
			END LOOP;
		END
		$$`, table, table)
}

// Every table with an account, each of the four verbs, a foreign account: no row.
func TestEveryTableEveryVerbKeepsForeignRowsOut(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s, dsn := open(t)
	mine, theirs := newFarm(t, s), newFarm(t, s)
	tables, tried := seed(t, dsn, theirs), 0
	for _, table := range tables {
		if n, err := count(ctx, s, theirs, table, theirs); err != nil || n == 0 {
			t.Errorf("%s: its own account sees %d rows, error %v; nothing is proven without one", table, n, err)
		}
		for _, farm := range []string{mine, ""} {
			for verb, sql := range map[string]string{
				"insert": "INSERT INTO " + table + " (farm_id) VALUES ($1)",
				"update": "UPDATE " + table + " SET farm_id = farm_id WHERE farm_id = $1",
				"delete": "DELETE FROM " + table + " WHERE farm_id = $1",
			} {
				rows, err := try(ctx, s, farm, sql, theirs)
				walled := err != nil && (strings.Contains(err.Error(), "row-level security") ||
					strings.Contains(err.Error(), "permission denied") ||
					strings.Contains(err.Error(), "outside the reserved range"))
				if rows != 0 || err != nil && !walled || verb == "insert" && !walled {
					t.Errorf("%s %s from %q: %d rows, %v", verb, table, farm, rows, err)
				}
				tried++
			}
			if n, err := count(ctx, s, farm, table, theirs); err != nil || n != 0 {
				t.Errorf("select %s from %q: %d foreign rows, %v", table, farm, n, err)
			}
			tried++
		}
	}
	t.Logf("%d tables, %d tries", len(tables), tried)
}

func try(ctx context.Context, s *Store, farm, sql, theirs string) (rows int64, err error) {
	err = s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, sql, theirs)
		rows = tag.RowsAffected()
		return err
	})
	return rows, err
}

func count(ctx context.Context, s *Store, farm, table, of string) (n int, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		return tx.QueryRow(ctx, "SELECT count(*) FROM "+table+" WHERE farm_id = $1", of).Scan(&n)
	})
	return n, err
}

// Two accounts share two connections: nothing of one stays behind for the other.
func TestTenThousandMixedRequestsOverTwoConnections(t *testing.T) {
	t.Parallel()
	const requests, workers = 10_000, 8
	ctx := context.Background()
	s, err := Open(ctx, pgtest.Database(t)+" pool_max_conns=2")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	farms := []string{newFarm(t, s), newFarm(t, s)}
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() {
			for i := range requests / workers {
				farm := farms[(w+i)%2]
				if why := foreign(ctx, s, farm, i); why != "" {
					t.Errorf("account %s: %s", farm, why)
					return
				}
			}
		})
	}
	group.Wait()
}

// foreign makes one request of an account, now of one kind, now of another, and says what is wrong.
func foreign(ctx context.Context, s *Store, farm string, i int) string {
	var err error
	seen := ""
	switch i % 3 {
	case 0:
		err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
			return tx.QueryRow(ctx, `SELECT string_agg(DISTINCT farm_id::text, ' ') FROM person`).Scan(&seen)
		})
	case 1:
		seen = farm
		err = s.Audit(ctx, farm, 0, 10, func(l wire.AuditLine) error {
			if l.Action == "account_made" {
				seen = l.Subject
			}
			return nil
		})
	case 2:
		seen = farm
		err = s.Note(ctx, farm, Actor{}, "tried", farm)
	}
	if err != nil || seen != farm {
		return fmt.Sprintf("saw %q, error %v", seen, err)
	}
	return ""
}
