package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Log is the feed's log on PostgreSQL.
type Log struct {
	store *Store
}

// Log gives the feed's log.
func (s *Store) Log() *Log { return &Log{store: s} }

// Write implements feed.Log: the row of farm_head is locked before anything else is read.
func (l *Log) Write(ctx context.Context, farm string, use func(feed.Tx) error) error {
	return l.store.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		t := &logTx{tx: tx, farm: farm}
		head, err := t.head(ctx, lockHead)
		if err != nil {
			return err
		}
		t.locked = &head
		return use(t)
	})
}

// Read implements feed.Log.
func (l *Log) Read(ctx context.Context, farm string, use func(feed.View) error) error {
	return l.store.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		return use(&logTx{tx: tx, farm: farm})
	})
}

type logTx struct {
	tx     pgx.Tx
	farm   string
	locked *feed.Head
}

const (
	lockHead = `SELECT epoch::text AS epoch, head, floor FROM farm_head WHERE farm_id = @farm FOR NO KEY UPDATE`
	readHead = `SELECT epoch::text AS epoch, head, floor FROM farm_head WHERE farm_id = @farm`
)

// Head gives the account's head; NotFound when there is no such account.
func (t *logTx) Head(ctx context.Context) (feed.Head, error) {
	if t.locked != nil {
		return *t.locked, nil
	}
	return t.head(ctx, readHead)
}

func (t *logTx) head(ctx context.Context, query string) (feed.Head, error) {
	rows, err := t.tx.Query(ctx, query, pgx.NamedArgs{"farm": t.farm})
	if err != nil {
		return feed.Head{}, fmt.Errorf("reading the head: %w", err)
	}
	head, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[feed.Head])
	if errors.Is(err, pgx.ErrNoRows) {
		return feed.Head{}, fault.New(fault.NotFound, "farm", "there is no such account")
	}
	if err != nil {
		return feed.Head{}, fmt.Errorf("reading the head: %w", err)
	}
	return head, nil
}

// A body comes as text: as jsonb it would be checked to be JSON once more for every row.
const rowsAfter = `
	SELECT r.id::text AS id, r.kind, r.seq, r.deleted,
		r.by_person AS by,
		CASE WHEN r.deleted THEN '{}' ELSE r.body::text END AS body
	FROM record r
	WHERE r.farm_id = @farm AND r.seq > @after AND r.seq <= @up_to
		AND (NOT r.deleted OR r.seq > (SELECT h.floor FROM farm_head h WHERE h.farm_id = @farm))
	ORDER BY r.seq
	LIMIT @limit`

// Rows implements feed.View.
func (t *logTx) Rows(ctx context.Context, after, upTo int64, limit int) ([]wire.Row, error) {
	rows, err := t.tx.Query(ctx, rowsAfter, pgx.NamedArgs{
		"farm": t.farm, "after": after, "up_to": upTo, "limit": limit})
	if err != nil {
		return nil, fmt.Errorf("reading rows: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[wire.Row])
}

const liveRows = `
	SELECT r.id::text, r.kind, r.seq,
		r.by_person,
		r.body::text
	FROM record r
	WHERE r.farm_id = @farm AND r.seq <= @up_to AND NOT r.deleted
	ORDER BY r.seq`

// Live implements feed.View, a row at a time.
func (t *logTx) Live(ctx context.Context, upTo int64, use func(wire.Row) error) error {
	rows, err := t.tx.Query(ctx, liveRows, pgx.NamedArgs{"farm": t.farm, "up_to": upTo})
	if err != nil {
		return fmt.Errorf("reading live rows: %w", err)
	}
	var row wire.Row
	to := []any{&row.ID, &row.Kind, &row.Seq, &row.By, &row.Body}
	if _, err = pgx.ForEachRow(rows, to, func() error { return use(row) }); err != nil {
		return fmt.Errorf("reading live rows: %w", err)
	}
	return nil
}

const findDevice = `
	SELECT last_n AS last_n, revoked_at IS NOT NULL AS revoked, cursor_seen AS cursor, seen_at AS seen_at,
		EXISTS (SELECT FROM mutation m WHERE m.farm_id = @farm AND m.was_device = @device)
			OR EXISTS (SELECT FROM repeat r WHERE r.farm_id = @farm AND r.device_id = @device)
			OR EXISTS (SELECT FROM repeat r WHERE r.farm_id = @farm AND r.of_device = @device) AS moved
	FROM device WHERE farm_id = @farm AND device_id = @device`

// Device implements feed.Tx.
func (t *logTx) Device(ctx context.Context, device string) (feed.Device, error) {
	rows, err := t.tx.Query(ctx, findDevice, pgx.NamedArgs{"farm": t.farm, "device": device})
	if err != nil {
		return feed.Device{}, fmt.Errorf("reading the device: %w", err)
	}
	found, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[feed.Device])
	if errors.Is(err, pgx.ErrNoRows) {
		return feed.Device{}, fault.New(
			fault.NotFound,
			"device",
			"this device is not known here; sign in again",
		)
	}
	if err != nil {
		return feed.Device{}, fmt.Errorf("reading the device: %w", err)
	}
	return found, nil
}

// A repeat is taken too, with the outcome of the entry that it repeats.
const findTaken = `
	SELECT t.n, t.sha256, coalesce(j.outcome, m.outcome) AS outcome,
		coalesce(CASE WHEN j.outcome IS NULL THEN m.seq ELSE j.seq END, 0) AS seq,
		CASE WHEN j.outcome IS NULL THEN m.problem ELSE j.problem END AS problem
	FROM (SELECT n, sha256, device_id AS of_device, n AS of_n FROM mutation
			WHERE farm_id = @farm AND device_id = @device AND n = ANY (@numbers)
		UNION ALL SELECT n, sha256, of_device, of_n FROM repeat
			WHERE farm_id = @farm AND device_id = @device AND n = ANY (@numbers)) t
	JOIN mutation m ON m.farm_id = @farm AND m.device_id = t.of_device AND m.n = t.of_n
	LEFT JOIN LATERAL (
		SELECT g.outcome, g.seq, g.problem FROM judgement g
		WHERE g.farm_id = m.farm_id AND g.device_id = m.device_id AND g.n = m.n
		ORDER BY g.judged_seq DESC LIMIT 1) j ON true
	ORDER BY t.n`

// Taken implements feed.Tx.
func (t *logTx) Taken(
	ctx context.Context,
	device string,
	numbers []int64,
) (map[int64]feed.Taken, error) {
	rows, err := t.tx.Query(
		ctx,
		findTaken,
		pgx.NamedArgs{"farm": t.farm, "device": device, "numbers": numbers},
	)
	if err != nil {
		return nil, fmt.Errorf("reading earlier mutations: %w", err)
	}
	type line struct {
		N       int64
		SHA256  []byte `db:"sha256"`
		Outcome string
		Seq     int64
		Problem *wire.Problem
	}
	lines, err := pgx.CollectRows(rows, pgx.RowToStructByName[line])
	if err != nil {
		return nil, fmt.Errorf("reading earlier mutations: %w", err)
	}
	taken := make(map[int64]feed.Taken, len(lines))
	for _, l := range lines {
		taken[l.N] = feed.Taken{Hash: [32]byte(l.SHA256),
			Ack: wire.Ack{N: l.N, Outcome: l.Outcome, Seq: l.Seq, Problem: l.Problem}}
	}
	return taken, nil
}

const (
	findRecords = `
		SELECT id::text AS id, kind, seq, deleted, body, stamps
		FROM record WHERE farm_id = @farm AND id = ANY (@ids::uuid[])
		ORDER BY id`
	findOfFields = `
		SELECT id::text AS id, kind, seq, deleted, body, stamps
		FROM record
		WHERE farm_id = @farm AND NOT deleted AND kind <> 'photo'
			AND (kind = 'settings' OR id = ANY (@ids::uuid[]) OR body ->> 'field' = ANY (@ids::text[]))
		ORDER BY id`
	findFields = `
		SELECT id::text FROM record
		WHERE farm_id = @farm AND kind = 'field' AND NOT deleted
		ORDER BY id`
)

// Records implements feed.Tx.
func (t *logTx) Records(ctx context.Context, ids []string) ([]merge.State, error) {
	return t.states(ctx, findRecords, ids)
}

// OfFields implements feed.Tx.
func (t *logTx) OfFields(ctx context.Context, fields []string) ([]merge.State, error) {
	return t.states(ctx, findOfFields, fields)
}

func (t *logTx) states(ctx context.Context, query string, ids []string) ([]merge.State, error) {
	rows, err := t.tx.Query(ctx, query, pgx.NamedArgs{"farm": t.farm, "ids": ids})
	if err != nil {
		return nil, fmt.Errorf("reading records: %w", err)
	}
	type line struct {
		ID      string
		Kind    string
		Seq     int64
		Deleted bool
		Body    map[string]json.RawMessage
		Stamps  map[string]merge.Stamp
	}
	lines, err := pgx.CollectRows(rows, pgx.RowToStructByName[line])
	if err != nil {
		return nil, fmt.Errorf("reading records: %w", err)
	}
	states := make([]merge.State, len(lines))
	for i, l := range lines {
		states[i] = merge.State(l)
	}
	return states, nil
}

// Fields implements feed.Tx.
func (t *logTx) Fields(ctx context.Context) ([]string, error) {
	rows, err := t.tx.Query(ctx, findFields, pgx.NamedArgs{"farm": t.farm})
	if err != nil {
		return nil, fmt.Errorf("listing fields: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowTo[string])
}
