package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"sync"

	"github.com/jackc/pgx/v5"

	"hilum/internal/feed"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

const (
	reserveSeq = `SELECT set_config('app.seq_low', @low, true), set_config('app.seq_high', @high, true)`
	saveHead   = `UPDATE farm_head SET head = @head WHERE farm_id = @farm`
	saveFloor  = `UPDATE farm_head SET floor = @floor WHERE farm_id = @farm AND floor < @floor`
	saveDevice = `
		UPDATE device SET last_n = @last_n, cursor_seen = greatest(cursor_seen, @cursor),
			seen_at = coalesce(@seen_at, seen_at)
		WHERE farm_id = @farm AND device_id = @device`
	saveRecords = `
		INSERT INTO record (farm_id, id, kind, seq, deleted, body, stamps, by_person)
		SELECT @farm, r.id, r.kind, r.seq, r.deleted, r.body, r.stamps, r.by_person
		FROM unnest(@ids::uuid[], @kinds::text[], @seqs::bigint[], @deleted::boolean[], @bodies::jsonb[],
			@stamps::jsonb[], @by::text[]) AS r (id, kind, seq, deleted, body, stamps, by_person)
		ON CONFLICT (farm_id, id) DO UPDATE
		SET seq = excluded.seq, deleted = excluded.deleted, body = excluded.body,
			stamps = excluded.stamps, by_person = excluded.by_person`
	saveMutations = `
		INSERT INTO mutation (farm_id, device_id, n, sha256, schema, raw, seq, outcome, problem,
			was_device, was_n, was_sha256)
		SELECT @farm, @device, m.n, m.sha256, m.schema, m.raw, nullif(m.seq, 0), m.outcome,
			nullif(m.problem, '')::jsonb, nullif(m.was_device, '')::uuid, nullif(m.was_n, 0), m.was_sha256
		FROM unnest(@ns::bigint[], @hashes::bytea[], @schemas::integer[], @raws::bytea[],
			@seqs::bigint[], @outcomes::text[], @problems::text[],
			@was_devices::text[], @was_ns::bigint[], @was_hashes::bytea[])
			AS m (n, sha256, schema, raw, seq, outcome, problem, was_device, was_n, was_sha256)`
	saveQuarantine = `
		INSERT INTO quarantine (farm_id, device_id, n, reason, lacks)
		VALUES (@farm, @device, @n, @problem, nullif(@lacks, '')::uuid)`
	saveClone = `
		INSERT INTO clone (farm_id, device_id, n, sha256, raw)
		VALUES (@farm, @device, @n, @sha256, @raw)
		ON CONFLICT DO NOTHING`
	saveValue = `
		INSERT INTO field_value (farm_id, record_id, field, seq, value, device_id, n, person_id, lost)
		VALUES (@farm, @record, @field, @seq, @value, nullif(@device, '')::uuid, @n, nullif(@person, '')::uuid, @lost)
		ON CONFLICT (farm_id, record_id, field, seq) DO NOTHING`
	saveConflict = `
		INSERT INTO conflict (farm_id, record_id, field, opened_seq, shown, other)
		VALUES (@farm, @record, @field, @seq, @shown, @other)`
	saveSettled = `
		UPDATE conflict SET settled_by = nullif(@person, '')::uuid, settled_seq = @seq, settled_value = @value
		WHERE farm_id = @farm AND record_id = @record AND field = @field
			AND settled_seq IS NULL AND opened_seq <= @seen`
	saveResult = `
		INSERT INTO result (farm_id, id, seq, input_seq, field_id, crop_year, crop, input_hash, engine_version,
			computed_at, starter_n_lb_ac, fail_chance, loss_share, loss_share_low, loss_share_high, body, report)
		VALUES (@farm, @id, @seq, @input_seq, @field, @crop_year, @crop, @input_hash, @engine_version,
			@computed_at, @starter, @fail, @loss, @loss_low, @loss_high, @body, @report)`
)

// Save implements feed.Tx. Change numbers outside (From, Head] are refused by the database.
func (t *logTx) Save(ctx context.Context, b feed.Batch) error {
	batch := &pgx.Batch{}
	batch.Queue(reserveSeq, pgx.NamedArgs{"low": fmt.Sprint(b.From), "high": fmt.Sprint(b.Head)})
	if err := t.queueRecords(batch, b.Records); err != nil {
		return err
	}
	if err := t.queueMutations(batch, b); err != nil {
		return err
	}
	t.queueRepeats(batch, b.Repeats)
	t.queueJudgements(batch, b.Judgements)
	if len(b.Stale) > 0 {
		batch.Queue(markStale, t.args("ids", b.Stale))
	}
	if len(b.Freshened) > 0 {
		batch.Queue(dropStale, t.args("ids", b.Freshened))
	}
	for _, v := range b.Values {
		batch.Queue(
			saveValue,
			t.args("record", v.Record, "field", v.Field, "seq", v.Seq, "value", v.Value,
				"device", v.By.Device, "n", v.By.N, "person", v.By.Person, "lost", v.Lost),
		)
	}
	for _, c := range b.Conflicts {
		batch.Queue(saveConflict, t.args("record", c.Record, "field", c.Field, "seq", c.Seq,
			"shown", c.Shown, "other", c.Other))
	}
	for _, c := range b.Settled {
		batch.Queue(saveSettled, t.args("record", c.Record, "field", c.Field, "person", c.By,
			"seq", c.Seq, "seen", c.Seen, "value", c.Value))
	}
	for _, p := range b.Photos {
		batch.Queue(savePhoto, t.args("hash", p.Hash, "size", p.Size, "seq", b.Head,
			"clean", p.Clean))
	}
	for _, r := range b.Results {
		if err := t.queueResult(batch, r); err != nil {
			return err
		}
	}
	if b.Head > b.From {
		batch.Queue(saveHead, t.args("head", b.Head))
	}
	if b.Floor > 0 {
		batch.Queue(saveFloor, t.args("floor", b.Floor))
	}
	if b.LastN > 0 {
		batch.Queue(saveDevice, t.args("last_n", b.LastN, "device", b.Device, "cursor", b.Cursor,
			"seen_at", someTime(b.SeenAt)))
	}
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return fmt.Errorf("saving a batch: %w", err)
	}
	if t.locked != nil {
		t.locked.Head = b.Head
	}
	return nil
}

// args makes named arguments of pairs, the account among them.
func (t *logTx) args(pairs ...any) pgx.NamedArgs {
	named := pgx.NamedArgs{"farm": t.farm}
	for i := 0; i < len(pairs); i += 2 {
		named[pairs[i].(string)] = pairs[i+1]
	}
	return named
}

func (t *logTx) queueRecords(batch *pgx.Batch, states []merge.State) error {
	if len(states) == 0 {
		return nil
	}
	var (
		ids, kinds, bodies, stamps, by []string
		seqs                           []int64
		deleted                        []bool
	)
	for _, s := range states {
		body, err := json.Marshal(s.Body)
		if err != nil {
			return fmt.Errorf("encoding record %s: %w", s.ID, err)
		}
		stamp, err := json.Marshal(s.Stamps)
		if err != nil {
			return fmt.Errorf("encoding stamps of %s: %w", s.ID, err)
		}
		ids, kinds = append(ids, s.ID), append(kinds, s.Kind)
		seqs, deleted = append(seqs, s.Seq), append(deleted, s.Deleted)
		bodies, stamps = append(bodies, string(body)), append(stamps, string(stamp))
		by = append(by, s.By())
	}
	batch.Queue(saveRecords, t.args("ids", ids, "kinds", kinds, "seqs", seqs, "deleted", deleted,
		"bodies", bodies, "stamps", stamps, "by", by))
	return nil
}

func (t *logTx) queueMutations(batch *pgx.Batch, b feed.Batch) error {
	var (
		ns, seqs           []int64
		schemas            []int32
		hashes, raws       [][]byte
		outcomes, problems []string
		was                formers
	)
	for _, m := range b.Mutations {
		problem := ""
		if m.Ack.Problem != nil {
			raw, err := json.Marshal(m.Ack.Problem)
			if err != nil {
				return fmt.Errorf("encoding a problem: %w", err)
			}
			problem = string(raw)
		}
		ns, seqs, schemas = append(ns, m.N), append(seqs, m.Ack.Seq), append(schemas, int32(m.Schema))
		hashes, raws = append(hashes, m.Hash[:]), append(raws, m.Raw)
		outcomes, problems = append(outcomes, m.Ack.Outcome), append(problems, problem)
		was.add(m.Former)
	}
	if len(ns) > 0 {
		batch.Queue(saveMutations, t.args("device", b.Device, "ns", ns, "hashes", hashes,
			"schemas", schemas, "raws", raws, "seqs", seqs, "outcomes", outcomes, "problems", problems,
			"was_devices", was.devices, "was_ns", was.ns, "was_hashes", was.hashes))
	}
	for _, m := range b.Mutations {
		if m.Ack.Outcome == wire.Quarantined {
			batch.Queue(saveQuarantine, t.args("device", b.Device, "n", m.N,
				"problem", m.Ack.Problem, "lacks", m.Lacks))
		}
	}
	for _, c := range b.Clones {
		batch.Queue(saveClone, t.args("device", b.Device, "n", c.N, "sha256", c.Hash[:], "raw", c.Raw))
	}
	return nil
}

func (t *logTx) queueResult(batch *pgx.Batch, r feed.Result) error {
	packed, err := pack(r.Report)
	if err != nil {
		return err
	}
	h := r.Body.Headline
	batch.Queue(
		saveResult,
		t.args(
			"id",
			r.ID,
			"seq",
			r.Seq,
			"input_seq",
			r.InputSeq,
			"field",
			r.Body.Field,
			"crop_year",
			r.Body.CropYear,
			"crop",
			r.Body.Crop,
			"input_hash",
			r.Body.InputHash,
			"engine_version",
			r.Body.EngineVersion,
			"computed_at",
			r.ComputedAt,
			"starter",
			h.StarterN,
			"fail",
			h.Fail,
			"loss",
			h.LossShare,
			"loss_low",
			h.LossLow,
			"loss_high",
			h.LossHigh,
			"body",
			r.Body,
			"report",
			packed,
		),
	)
	return nil
}

// packers are kept, since each takes close to a megabyte to make.
var packers = sync.Pool{New: func() any {
	w, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed) // the level is a known one
	return w
}}

// pack keeps a report byte for byte in a tenth of its size; an empty one stays NULL.
func pack(report []byte) ([]byte, error) {
	if len(report) == 0 {
		return nil, nil
	}
	var out bytes.Buffer
	w, _ := packers.Get().(*gzip.Writer)
	defer packers.Put(w)
	w.Reset(&out)
	if _, err := w.Write(report); err != nil {
		return nil, fmt.Errorf("packing a report: %w", err)
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("packing a report: %w", err)
	}
	return out.Bytes(), nil
}

func unpack(packed []byte) ([]byte, error) {
	if len(packed) == 0 {
		return nil, nil
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("unpacking a report: %w", err)
	}
	defer r.Close()
	return io.ReadAll(r)
}
