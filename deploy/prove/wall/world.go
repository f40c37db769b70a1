package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hilum/deploy/prove/program"
	"hilum/internal/demo"
	"hilum/internal/pgrun"
	"hilum/internal/wire"
)

// side is one database with its server and the phone that pulls from it.
type side struct {
	name, database string
	server         *program.Program
	access         string
	device         string
	epoch          string
	head           int64
}

// world is everything that runs.
type world struct {
	o        options
	database *pgrun.Server
	sides    [2]*side
}

func open(ctx context.Context, o options, data string) (*world, error) {
	w := &world{o: o, sides: [2]*side{
		{name: "with the policies", database: "walled"}, {name: "without", database: "bare"}}}
	if err := os.Mkdir(data, 0o755); err != nil {
		return w, err
	}
	var err error
	if w.database, err = pgrun.Start(ctx, pgrun.Options{DataDir: data}); err != nil {
		return w, err
	}
	walled, bare := w.sides[0], w.sides[1]
	if err := w.database.EnsureDatabase(ctx, walled.database); err != nil {
		return w, err
	}
	for _, s := range w.sides {
		s.server = &program.Program{Binary: o.program, DSN: w.database.DSN(s.database), Data: data,
			Log: os.Stderr}
	}
	if err := walled.server.Start(ctx, "--demo"); err != nil {
		return w, err
	}
	walled.server.Stop() // it has made the demo account; the copy needs a database that nobody uses
	if err := w.fill(ctx); err != nil {
		return w, fmt.Errorf("filling: %w", err)
	}
	for _, s := range w.sides {
		if err := s.server.Start(ctx); err != nil {
			return w, err
		}
	}
	// Only now: a server refuses to start on a database without its walls.
	if err := w.exec(ctx, bare.database, `DO $$ DECLARE t text; BEGIN
		FOR t IN SELECT relname FROM pg_class WHERE relrowsecurity LOOP
			EXECUTE format('ALTER TABLE %I NO FORCE ROW LEVEL SECURITY, DISABLE ROW LEVEL SECURITY', t);
		END LOOP; END $$`); err != nil {
		return w, err
	}
	for _, s := range w.sides {
		if err := w.signIn(ctx, s); err != nil {
			return w, fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return w, nil
}

func (w *world) close() {
	for _, s := range w.sides {
		if s.server != nil {
			s.server.Stop()
		}
	}
	if w.database == nil {
		return
	}
	if err := w.database.Stop(20 * time.Second); err != nil {
		fmt.Fprintf(os.Stderr, "wall: stopping the database: %v\n", err)
	}
}

// made fills an account past the door, which would take long for many records.
const made = `
	INSERT INTO record (farm_id, id, kind, seq, body)
	SELECT $1::uuid, gen_random_uuid(), 'grower', s, jsonb_build_object('name', 'Grower ' || s,
		'note', repeat('a note of some length ', 14))
	FROM generate_series((SELECT head FROM farm_head WHERE farm_id = $1::uuid) + 1, $2::bigint) AS s`

// fill brings the demo account and the other ones to their size, then copies the database.
func (w *world) fill(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, w.database.DSN(w.sides[0].database))
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	for i := range w.o.farms + 1 {
		farm := demo.Farm
		if i > 0 {
			farm = uuid.NewString()
		}
		if err := pgx.BeginFunc(ctx, conn, func(tx pgx.Tx) error { return w.fillOne(ctx, tx, farm) }); err != nil {
			return err
		}
	}
	if _, err := conn.Exec(ctx, "VACUUM ANALYZE"); err != nil {
		return err
	}
	if err := conn.Close(ctx); err != nil {
		return err
	}
	return w.exec(ctx, "postgres", "CREATE DATABASE "+w.sides[1].database+" TEMPLATE "+w.sides[0].database)
}

func (w *world) fillOne(ctx context.Context, tx pgx.Tx, farm string) error {
	for _, step := range []struct {
		sql  string
		args []any
	}{
		{`INSERT INTO farm (farm_id) VALUES ($1) ON CONFLICT DO NOTHING`, []any{farm}},
		{`INSERT INTO farm_head (farm_id) VALUES ($1) ON CONFLICT DO NOTHING`, []any{farm}},
		{`SELECT set_config('app.seq_low', '0', true), set_config('app.seq_high', $1, true)`,
			[]any{strconv.Itoa(w.o.size)}},
		{made, []any{farm, w.o.size}},
		{`UPDATE farm_head SET head = $2 WHERE farm_id = $1`, []any{farm, w.o.size}},
	} {
		if _, err := tx.Exec(ctx, step.sql, step.args...); err != nil {
			return err
		}
	}
	return nil
}

func (w *world) exec(ctx context.Context, database, sql string) error {
	conn, err := pgx.Connect(ctx, w.database.DSN(database))
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, sql)
	return err
}

func (w *world) signIn(ctx context.Context, s *side) error {
	s.device = uuid.NewString()
	var session wire.Session
	in := wire.SignIn{Login: "owner", Password: demo.Password, Device: s.device, DeviceName: "Phone"}
	if err := s.server.Post(ctx, "/api/v1/signin", "", in, &session); err != nil {
		return err
	}
	s.access = session.Access
	var out wire.SyncResponse
	if err := s.server.Post(ctx, syncPath, s.access, s.request(0), &out); err != nil {
		return err
	}
	s.epoch, s.head = out.Epoch, out.Head
	return nil
}

var syncPath = "/api/v1/farms/" + demo.Farm + "/sync"

func (s *side) request(cursor int64) wire.SyncRequest {
	return wire.SyncRequest{Proto: wire.Proto, Schema: wire.Schema, Device: s.device, Epoch: s.epoch,
		Cursor: cursor, Push: []json.RawMessage{}}
}

// pull asks for the last changes, and wants exactly those.
func (w *world) pull(ctx context.Context, s *side, behind int) error {
	var out wire.SyncResponse
	if err := s.server.Post(ctx, syncPath, s.access, s.request(s.head-int64(behind)), &out); err != nil {
		return err
	}
	if len(out.Rows) != behind {
		return fmt.Errorf("%d rows came, want %d", len(out.Rows), behind)
	}
	return nil
}
