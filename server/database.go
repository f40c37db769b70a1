package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"hilum/db"
	"hilum/internal/fault"
	"hilum/internal/pgrun"
	"hilum/internal/photo"
	"hilum/internal/store"
)

const (
	databaseName = "hilum"
	startLimit   = 2 * time.Minute
	stopLimit    = 20 * time.Second
)

// database is a connection string that works, with the private PostgreSQL behind it if there is one.
type database struct {
	dsn  string
	data string        // data folder, "" with DATABASE_URL
	own  *pgrun.Server // nil with DATABASE_URL, or when another process of ours runs it
}

// openDatabase uses DATABASE_URL, or starts the private PostgreSQL. shared lets a command work
// beside a server that is running on the same data folder.
func openDatabase(ctx context.Context, c config, shared bool) (*database, error) {
	if c.databaseURL != "" {
		return &database{dsn: c.databaseURL}, nil
	}
	checkout, err := os.Getwd()
	if err != nil {
		return nil, fmt.Errorf("finding the working folder: %w", err)
	}
	data, err := pgrun.DataDir(checkout)
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	own, err := pgrun.Start(ctx, pgrun.Options{DataDir: data})
	if fault.KindOf(err) == fault.Conflict && shared {
		return runningDatabase(data, err)
	}
	if err != nil {
		return nil, err
	}
	d := &database{dsn: own.DSN(databaseName), data: data, own: own}
	if err := own.EnsureDatabase(ctx, databaseName); err != nil {
		d.close()
		return nil, err
	}
	if err := os.WriteFile(dsnFile(data), []byte(d.dsn), 0o600); err != nil {
		d.close()
		return nil, fmt.Errorf("noting the connection: %w", err)
	}
	return d, nil
}

// dsnFile is where a running server notes its connection for the other commands.
func dsnFile(data string) string { return filepath.Join(data, "dsn") }

func runningDatabase(data string, locked error) (*database, error) {
	dsn, err := os.ReadFile(dsnFile(data))
	if err != nil {
		return nil, locked
	}
	return &database{dsn: string(dsn), data: data}, nil
}

// stopped says when the private PostgreSQL ended by itself; never with DATABASE_URL.
func (d *database) stopped() <-chan error {
	if d.own == nil {
		return nil
	}
	return d.own.Done()
}

func (d *database) close() {
	if d.own == nil {
		return
	}
	if err := d.own.Stop(stopLimit); err != nil {
		fmt.Fprintf(os.Stderr, "hilum: stopping the database: %v\n", err)
	}
}

// withStore migrates, opens the store and hands both to use.
func withStore(ctx context.Context, use func(*store.Store, *store.Admin) error) error {
	return withPhotos(ctx, func(s *store.Store, admin *store.Admin, _ photo.Folder) error {
		return use(s, admin)
	})
}

// withPhotos gives the folder of pictures too.
func withPhotos(
	ctx context.Context,
	use func(*store.Store, *store.Admin, photo.Folder) error,
) error {
	return withDatabase(ctx, func(dsn, photos string) error {
		admin, err := store.OpenAdmin(ctx, dsn)
		if err != nil {
			return err
		}
		defer admin.Close(ctx)
		s, err := store.Open(ctx, dsn)
		if err != nil {
			return err
		}
		defer s.Close()
		return use(s, admin, photo.At(photos))
	})
}

// withDatabase migrates, and hands over the connection string and the folder of pictures.
func withDatabase(ctx context.Context, use func(dsn, photos string) error) error {
	c, err := readConfig()
	if err != nil {
		return err
	}
	d, err := openDatabase(ctx, c, true)
	if err != nil {
		return err
	}
	defer d.close()
	if err := db.Migrate(ctx, d.dsn); err != nil {
		return err
	}
	return use(d.dsn, c.photoFolder(d.data))
}
