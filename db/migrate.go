package db

import (
	"context"
	"fmt"
	"io/fs"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// Migrate brings the schema of a database to this program's version. Several may start at once: a
// session lock lets one work and the others wait. The roles follow, see role.sql.
func Migrate(ctx context.Context, dsn string) error {
	err := Migrating(ctx, dsn, func(p *goose.Provider) error {
		_, err := p.Up(ctx)
		return err
	})
	if err != nil {
		return err
	}
	return MakeRoles(ctx, dsn)
}

// MakeRoles makes the roles that are lacking, and lets the one for backups read every table.
func MakeRoles(ctx context.Context, dsn string) error {
	conn, err := pgx.Connect(ctx, dsn)
	if err != nil {
		return fmt.Errorf("opening the database: %w", err)
	}
	defer conn.Close(ctx)
	if _, err := conn.Exec(ctx, roles); err != nil {
		return fmt.Errorf("making the roles: %w", err)
	}
	return nil
}

// Migrating hands the migrations of a database to use.
func Migrating(ctx context.Context, dsn string, use func(*goose.Provider) error) error {
	pool, err := pgxpool.New(ctx, dsn)
	if err != nil {
		return fmt.Errorf("opening the database: %w", err)
	}
	defer pool.Close()
	files, err := fs.Sub(Migrations, "migrations")
	if err != nil {
		return fmt.Errorf("reading the migrations: %w", err)
	}
	locker, err := lock.NewPostgresSessionLocker()
	if err != nil {
		return fmt.Errorf("making the migration lock: %w", err)
	}
	handle := stdlib.OpenDBFromPool(pool)
	defer handle.Close()
	provider, err := goose.NewProvider(
		goose.DialectPostgres,
		handle,
		files,
		goose.WithSessionLocker(locker),
	)
	if err != nil {
		return fmt.Errorf("preparing the migrations: %w", err)
	}
	if err := use(provider); err != nil {
		return fmt.Errorf("migrating: %w", err)
	}
	return nil
}
