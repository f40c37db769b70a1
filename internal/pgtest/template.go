package pgtest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"

	"github.com/jackc/pgx/v5"

	"hilum/db"
)

// templateLock is the advisory lock that test programs take turns by; any number of ours.
const templateLock = 0x68696c756d

// ensureTemplate makes the migrated template if the server lacks it and gives its name. The
// name holds a hash of the migrations, so that a changed schema never meets an old template.
func ensureTemplate(ctx context.Context, server string) (string, error) {
	name, err := templateName(db.Migrations)
	if err != nil {
		return "", err
	}
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return "", fmt.Errorf("connecting: %w", err)
	}
	defer conn.Close(ctx) // also gives the lock back
	if _, err := conn.Exec(ctx, "SELECT pg_advisory_lock($1)", templateLock); err != nil {
		return "", fmt.Errorf("waiting for another test program: %w", err)
	}
	ready, err := templateReady(ctx, conn, name)
	if err != nil || ready {
		return name, err
	}
	return name, makeTemplate(ctx, conn, server, name)
}

// templateReady reports whether the template is complete: the mark is set after the migrations.
func templateReady(ctx context.Context, conn *pgx.Conn, name string) (bool, error) {
	const marked = "SELECT datistemplate FROM pg_database WHERE datname = $1"
	var ready bool
	err := conn.QueryRow(ctx, marked, name).Scan(&ready)
	if errors.Is(err, pgx.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("looking for the template: %w", err)
	}
	return ready, nil
}

func makeTemplate(ctx context.Context, conn *pgx.Conn, server, name string) error {
	quoted := pgx.Identifier{name}.Sanitize()
	// One that is there without the mark was left half-made by a killed run.
	for _, statement := range []string{
		"DROP DATABASE IF EXISTS " + quoted + " WITH (FORCE)", "CREATE DATABASE " + quoted,
	} {
		if _, err := conn.Exec(ctx, statement); err != nil {
			return fmt.Errorf("making the template: %w", err)
		}
	}
	if err := db.Migrate(ctx, withDatabase(server, name)); err != nil {
		return fmt.Errorf("migrating the template: %w", err)
	}
	// A template with a connection cannot be cloned, so nobody may connect from here on.
	mark := "ALTER DATABASE " + quoted + " WITH IS_TEMPLATE true ALLOW_CONNECTIONS false"
	if _, err := conn.Exec(ctx, mark); err != nil {
		return fmt.Errorf("closing the template: %w", err)
	}
	return nil
}

// templateName hashes names and contents of all migrations.
func templateName(migrations fs.FS) (string, error) {
	sum := sha256.New()
	err := fs.WalkDir(migrations, ".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := fs.ReadFile(migrations, path)
		fmt.Fprintf(sum, "%s %d\n%s", path, len(text), text)
		return err
	})
	if err != nil {
		return "", fmt.Errorf("reading the migrations: %w", err)
	}
	return "template_" + hex.EncodeToString(sum.Sum(nil)[:8]), nil
}
