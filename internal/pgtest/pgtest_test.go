package pgtest

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/jackc/pgx/v5"
)

func TestEachDatabaseIsMigratedAndItsOwn(t *testing.T) {
	ctx := context.Background()
	one, two := connect(t, Database(t)), connect(t, Database(t))
	if _, err := one.Exec(ctx, "CREATE TABLE only_here (n int)"); err != nil {
		t.Fatal(err)
	}
	const tables = `SELECT count(*) FROM information_schema.tables
		WHERE table_schema = 'public' AND table_name = ANY($1)`
	var versions, foreign int
	names := []string{"goose_db_version"}
	if err := two.QueryRow(ctx, tables, names).Scan(&versions); err != nil {
		t.Fatal(err)
	}
	if err := two.QueryRow(ctx, tables, []string{"only_here"}).Scan(&foreign); err != nil {
		t.Fatal(err)
	}
	if versions != 1 || foreign != 0 {
		t.Errorf("%d version tables, %d tables of the other test, want 1, 0", versions, foreign)
	}
}

func TestEmptyHasNoTables(t *testing.T) {
	var tables int
	const public = "SELECT count(*) FROM pg_tables WHERE schemaname = 'public'"
	row := connect(t, Empty(t)).QueryRow(context.Background(), public)
	if err := row.Scan(&tables); err != nil {
		t.Fatal(err)
	}
	if tables != 0 {
		t.Errorf("%d tables, want 0", tables)
	}
}

func TestTheTemplateNameFollowsTheMigrations(t *testing.T) {
	name := func(files map[string]string) string {
		t.Helper()
		tree := fstest.MapFS{}
		for path, text := range files {
			tree[path] = &fstest.MapFile{Data: []byte(text)}
		}
		name, err := templateName(tree)
		if err != nil {
			t.Fatal(err)
		}
		return name
	}
	base := name(map[string]string{"1.sql": "one", "2.sql": "two"})
	for _, other := range []map[string]string{
		{"1.sql": "one"}, {"1.sql": "one", "2.sql": "twO"}, {"1.sql": "one", "3.sql": "two"},
		{"1.sql": "onet", "2.sql": "wo"},
	} {
		if name(other) == base {
			t.Errorf("templateName(%v) equals that of other migrations", other)
		}
	}
	if name(map[string]string{"2.sql": "two", "1.sql": "one"}) != base {
		t.Error("templateName differs for equal migrations")
	}
}

func TestBothFormsOfDSNTakeAnotherDatabase(t *testing.T) {
	for _, dsn := range []string{
		"host=/somewhere user=app dbname=postgres",
		"postgres://app@localhost:5432/postgres?sslmode=disable",
	} {
		config, err := pgx.ParseConfig(withDatabase(dsn, "mine"))
		if err != nil || config.Database != "mine" || config.User != "app" {
			t.Errorf("withDatabase(%q) leads to %v, %v", dsn, config, err)
		}
	}
	if strings.Contains(withDatabase("postgres://u:p@h/a", "b"), "/a") {
		t.Error("the old database is still named")
	}
}

func connect(t *testing.T, dsn string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(context.Background(), dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close(context.Background()) })
	return conn
}
