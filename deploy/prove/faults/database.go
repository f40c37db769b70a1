package main

import (
	"context"
	"fmt"
	"os"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/demo"
	"hilum/internal/pgrun"
)

const (
	name       = "hilum"
	startLimit = 90 * time.Second
)

// database is a private cluster with fsync on.
type database struct {
	data  string
	kills int
	own   *pgrun.Server
}

func (d *database) start(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	own, err := pgrun.Start(ctx, pgrun.Options{DataDir: d.data})
	if err != nil {
		return err
	}
	d.own = own
	return own.EnsureDatabase(ctx, name)
}

func (d *database) dsn() string { return d.own.DSN(name) }

// kill sends SIGKILL to the postmaster that start began, and waits until it is gone.
func (d *database) kill() error {
	if err := syscall.Kill(d.own.PID(), syscall.SIGKILL); err != nil {
		return fmt.Errorf("killing the database: %w", err)
	}
	<-d.own.Done()
	d.kills++
	return d.own.Stop(time.Second) // it is gone; this lets go of its folder
}

func (d *database) stop() {
	if d.own == nil {
		return
	}
	if err := d.own.Stop(20 * time.Second); err != nil {
		fmt.Fprintf(os.Stderr, "faults: stopping the database: %v\n", err)
	}
}

const (
	allRows = `SELECT id::text, seq, deleted, CASE WHEN deleted THEN '{}' ELSE body::text END
		FROM record WHERE farm_id = $1 ORDER BY seq`
	allMutations = `SELECT device_id::text, n, outcome, coalesce(seq, 0)
		FROM mutation WHERE farm_id = $1 ORDER BY device_id, n`
	theHead = `SELECT head FROM farm_head WHERE farm_id = $1`
)

type held struct {
	Dev     string `json:"dev"`
	N       int64  `json:"n"`
	Outcome string `json:"outcome"`
	Seq     int64  `json:"seq"`
}

// truth reads what the database holds, past the server.
func (d *database) truth(ctx context.Context) (map[string]any, error) {
	conn, err := pgx.Connect(ctx, d.dsn())
	if err != nil {
		return nil, err
	}
	defer conn.Close(ctx)
	var head int64
	if err := conn.QueryRow(ctx, theHead, demo.Farm).Scan(&head); err != nil {
		return nil, err
	}
	found, err := conn.Query(ctx, allRows, demo.Farm)
	if err != nil {
		return nil, err
	}
	rows, err := pgx.CollectRows(found, func(r pgx.CollectableRow) (row, error) {
		var out row
		var body string
		err := r.Scan(&out.ID, &out.Seq, &out.Del, &body)
		out.Sum = sum([]byte(body))
		return out, err
	})
	if err != nil {
		return nil, err
	}
	found, err = conn.Query(ctx, allMutations, demo.Farm)
	if err != nil {
		return nil, err
	}
	mutations, err := pgx.CollectRows(found, pgx.RowToStructByPos[held])
	return map[string]any{"e": "truth", "head": head, "rows": rows, "mutations": mutations}, err
}
