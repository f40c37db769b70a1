// Package pgtest gives each test a migrated database of its own on a real PostgreSQL.
//
// The server is the one that HILUM_TEST_DSN names, or a private one per test program with fsync
// off. The schema is migrated once per server, into a template, and cloned for each test. No
// PostgreSQL is a failure, never a skip.
package pgtest

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// DSNVariable names the environment variable with the server for tests: its user must be a
// superuser, because the migrations make roles.
const DSNVariable = "HILUM_TEST_DSN"

// limit bounds everything done for one test; a cold machine takes seconds.
const limit = 2 * time.Minute

// Database makes a fresh migrated database for the test and gives its DSN. It is not dropped:
// the whole server is thrown away after the run, and a failed test names its database.
func Database(t testing.TB) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	server, err := server()
	if err != nil {
		t.Fatalf("no PostgreSQL for the tests: %v", err)
	}
	template, err := ensureTemplate(ctx, server)
	if err != nil {
		t.Fatalf("preparing the template database: %v", err)
	}
	name := "test_" + word()
	if err := clone(ctx, server, template, name); err != nil {
		t.Fatalf("cloning the template database: %v", err)
	}
	dsn := withDatabase(server, name)
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("the database of this test, while its server runs: %s", dsn)
		}
	})
	return dsn
}

// Empty makes a database without any schema, for tests of the migrations themselves.
func Empty(t testing.TB) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	server, err := server()
	if err != nil {
		t.Fatalf("no PostgreSQL for the tests: %v", err)
	}
	name := "empty_" + word()
	if err := clone(ctx, server, "template0", name); err != nil {
		t.Fatalf("making an empty database: %v", err)
	}
	return withDatabase(server, name)
}

// server is the DSN of the server for this test program.
var server = sync.OnceValues(func() (string, error) {
	if dsn := os.Getenv(DSNVariable); dsn != "" {
		return dsn, nil
	}
	cluster, err := StartCluster(context.Background())
	if err != nil {
		return "", err
	}
	// Nobody stops it: it ends with this program, and the next run removes its folder.
	return cluster.DSN("postgres"), nil
})

func clone(ctx context.Context, server, template, name string) error {
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return fmt.Errorf("connecting: %w", err)
	}
	defer conn.Close(ctx)
	// file_copy is the faster strategy here: the template is small and fsync is off.
	_, err = conn.Exec(ctx, fmt.Sprintf("CREATE DATABASE %s TEMPLATE %s STRATEGY file_copy",
		pgx.Identifier{name}.Sanitize(), pgx.Identifier{template}.Sanitize()))
	return err
}

// withDatabase is the same server's DSN for another database; both forms of DSN are understood.
func withDatabase(dsn, name string) string {
	if !strings.Contains(dsn, "://") {
		return dsn + " dbname=" + name // the last one counts
	}
	u, err := url.Parse(dsn)
	if err != nil {
		return dsn // connecting will say what is wrong with it
	}
	u.Path = "/" + name
	return u.String()
}

// word is a random name part, so that test programs that run side by side do not meet.
func word() string {
	var raw [8]byte
	_, _ = rand.Read(raw[:]) // never fails: it would end the program instead
	return hex.EncodeToString(raw[:])
}
