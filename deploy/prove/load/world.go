package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hilum/db"
	"hilum/deploy/prove/program"
	"hilum/internal/auth"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/pgrun"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// fields is how many fields a scout visits in a day.
const fields = 12

// cropYear is the year of all that is made here.
const cropYear = 2027

// world is everything that runs.
type world struct {
	o        options
	database *pgrun.Server
	store    *store.Store
	admin    *store.Admin
	signer   *auth.Signer
	server   *program.Program
	client   *http.Client
	phones   []*phone
	last     string // the account made last, and its owner
	owner    string
}

// phone is a signed-in device of an account.
type phone struct {
	farm, person, device, access, epoch string
	fields                              []string
	n, cursor                           int64
}

func open(ctx context.Context, o options, data string) (*world, error) {
	w := &world{o: o, client: &http.Client{Timeout: o.limit,
		Transport: &http.Transport{MaxIdleConnsPerHost: o.phones}}}
	if err := os.Mkdir(data, 0o755); err != nil {
		return nil, err
	}
	var err error
	if w.database, err = pgrun.Start(ctx, pgrun.Options{DataDir: data}); err != nil {
		return nil, err
	}
	if err := w.prepare(ctx, data); err != nil {
		w.close()
		return nil, err
	}
	return w, nil
}

func (w *world) prepare(ctx context.Context, data string) error {
	if err := w.database.EnsureDatabase(ctx, "hilum"); err != nil {
		return err
	}
	dsn := w.database.DSN("hilum")
	err := db.Migrate(ctx, dsn)
	if err != nil {
		return err
	}
	if w.admin, err = store.OpenAdmin(ctx, dsn); err != nil {
		return err
	}
	// With the server's own key the phones get their tokens without 200 passwords.
	key, err := w.admin.Key(ctx, "access-token", bytes.Repeat([]byte("k"), 32))
	if err != nil {
		return err
	}
	if w.signer, err = auth.NewSigner(key, time.Now); err != nil {
		return err
	}
	if w.store, err = store.Open(ctx, dsn); err != nil {
		return err
	}
	for i := range w.o.accounts {
		if err := w.account(ctx, i); err != nil {
			return fmt.Errorf("making account %d: %w", i, err)
		}
	}
	w.server = &program.Program{Binary: w.o.program, DSN: dsn, Data: data, Log: os.Stderr}
	return w.server.Start(ctx)
}

// account makes one customer with its fields, and its share of the phones.
func (w *world) account(ctx context.Context, i int) error {
	farm := uuid.NewString()
	owner := wire.Person{ID: uuid.NewString(), Name: "Owner", Login: "owner" + strconv.Itoa(i),
		Role: "owner"}
	if err := w.store.CreateFarm(ctx, farm, false, owner, "none", nil); err != nil {
		return err
	}
	w.last, w.owner = farm, owner.ID
	door := feed.Door{Log: w.store.Log(), Now: time.Now}
	settings := wire.Settings{Name: "Account", TimeZone: "America/Regina", Currency: "CAD",
		Units: "imperial", StarterRule: "published", NodeCount: "withScale"}
	if err := feed.FirstSettings(ctx, door, w.store, farm, owner.ID, settings); err != nil {
		return err
	}
	desk, err := w.phone(ctx, farm, owner.ID)
	if err != nil {
		return err
	}
	push, ground := desk.ground(fields * w.share())
	out, err := door.Sync(ctx, feed.Author{Farm: farm, Person: owner.ID, Device: desk.device,
		Role: "owner"}, desk.request(push))
	if err != nil {
		return err
	}
	for _, a := range out.Acks {
		if a.Outcome != wire.Applied {
			return fmt.Errorf("entry %d got %s %+v", a.N, a.Outcome, a.Problem)
		}
	}
	for n := i; n < w.o.phones; n += w.o.accounts {
		p, err := w.phone(ctx, farm, owner.ID)
		if err != nil {
			return err
		}
		mine := len(w.phones) / w.o.accounts % w.share() * fields
		p.fields, p.epoch, p.cursor = ground[mine:mine+fields], out.Epoch, out.Head
		w.phones = append(w.phones, p)
	}
	return nil
}

// share is how many phones an account has at most.
func (w *world) share() int { return (w.o.phones + w.o.accounts - 1) / w.o.accounts }

func (w *world) phone(ctx context.Context, farm, person string) (*phone, error) {
	p := &phone{farm: farm, person: person, device: uuid.NewString()}
	seat, err := w.store.OpenSession(ctx, store.Opening{Farm: farm, Person: person,
		Device: p.device, DeviceName: "Phone", Token: auth.Hash(p.device), At: time.Now()})
	if err != nil {
		return nil, err
	}
	access, _, err := w.signer.Access(auth.Holder{Farm: farm, Person: person, Device: p.device,
		Session: seat.Session})
	p.access = access
	return p, err
}

// ground is a grower with fields, each with a pea season.
func (p *phone) ground(count int) (push []json.RawMessage, ground []string) {
	grower := uuid.NewString()
	push = append(push, p.entry(grower, "grower", map[string]any{"name": "Somebody's farm"}))
	for i := range count {
		field := uuid.NewString()
		ground = append(ground, field)
		season := kind.ID(p.farm, "season", kind.SeasonKey(field, cropYear, ""))
		push = append(push,
			p.entry(field, "field", map[string]any{"grower": grower, "name": fmt.Sprint("Field ", i)}),
			p.entry(season, "season", map[string]any{"field": field, "cropYear": cropYear, "crop": "pea"}))
	}
	return push, ground
}

func (p *phone) entry(rec, kind string, set map[string]any) json.RawMessage {
	p.n++
	raw, err := json.Marshal(map[string]any{"n": p.n, "schema": wire.Schema, "rec": rec,
		"kind": kind, "base": 0, "set": set, "phoneTime": time.Now().UTC().Format(time.RFC3339)})
	if err != nil {
		panic(fmt.Sprintf("an entry of ours that is not JSON: %v", err))
	}
	return raw
}

func (p *phone) request(push []json.RawMessage) wire.SyncRequest {
	return wire.SyncRequest{Proto: wire.Proto, Schema: wire.Schema, Device: p.device,
		Epoch: p.epoch, Cursor: p.cursor, Push: push}
}

func (w *world) close() {
	if w.server != nil {
		w.server.Kill()
	}
	if w.store != nil {
		w.store.Close()
	}
	if w.admin != nil {
		w.admin.Close(context.Background())
	}
	if err := w.database.Stop(20 * time.Second); err != nil {
		fmt.Fprintf(os.Stderr, "load: stopping the database: %v\n", err)
	}
}

// fill makes an account of some size past the door, which at a million records would take hours.
const fill = `
	INSERT INTO record (farm_id, id, kind, seq, body)
	SELECT $1::uuid, gen_random_uuid(), 'grower', s, jsonb_build_object('name', 'Grower ' || s,
		'note', repeat('a note of some length ', 14))
	FROM generate_series((SELECT head FROM farm_head WHERE farm_id = $1::uuid) + 1, $2::bigint) AS s`

func (w *world) fill(ctx context.Context, farm string, size int) error {
	conn, err := pgx.Connect(ctx, w.database.DSN("hilum"))
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	return pgx.BeginFunc(ctx, conn, func(tx pgx.Tx) error {
		for _, step := range []struct {
			sql  string
			args []any
		}{
			{`SELECT set_config('app.seq_low', '0', true), set_config('app.seq_high', $1, true)`,
				[]any{strconv.Itoa(size)}},
			{fill, []any{farm, size}},
			{`UPDATE farm_head SET head = $2 WHERE farm_id = $1`, []any{farm, size}},
		} {
			if _, err := tx.Exec(ctx, step.sql, step.args...); err != nil {
				return err
			}
		}
		return nil
	})
}
