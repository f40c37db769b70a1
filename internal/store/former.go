package store

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"hilum/internal/feed"
)

const (
	findOnRecord = `
		SELECT f.device_id::text, f.n, f.sha256, m.device_id::text, m.n,
			coalesce(j.outcome, m.outcome),
			coalesce(CASE WHEN j.outcome IS NULL THEN m.seq ELSE j.seq END, 0),
			CASE WHEN j.outcome IS NULL THEN m.problem ELSE j.problem END
		FROM unnest(@devices::uuid[], @ns::bigint[], @hashes::bytea[]) AS f (device_id, n, sha256)
		CROSS JOIN LATERAL (
			SELECT a.device_id, a.n, a.outcome, a.seq, a.problem FROM mutation a
			WHERE a.farm_id = @farm AND a.device_id = f.device_id AND a.n = f.n AND a.sha256 = f.sha256
				AND a.was_device IS NULL
			UNION ALL
			SELECT a.device_id, a.n, a.outcome, a.seq, a.problem FROM mutation a
			WHERE a.farm_id = @farm AND a.was_device = f.device_id AND a.was_n = f.n
				AND a.was_sha256 = f.sha256) m
		JOIN device d ON d.farm_id = @farm AND d.device_id = m.device_id AND d.person_id = @person
		LEFT JOIN LATERAL (
			SELECT g.outcome, g.seq, g.problem FROM judgement g
			WHERE g.farm_id = @farm AND g.device_id = m.device_id AND g.n = m.n
			ORDER BY g.judged_seq DESC LIMIT 1) j ON true
		ORDER BY m.device_id, m.n`
	findRepeats = `
		SELECT r.device_id::text, r.n, r.sha256, r.of_device::text, r.of_n, r.shut
		FROM repeat r
		WHERE r.farm_id = @farm AND (r.device_id = ANY (@devices::uuid[]) OR r.of_device = ANY (@devices::uuid[]))
		ORDER BY r.device_id, r.n`
	saveRepeat = `
		INSERT INTO repeat (farm_id, device_id, n, sha256, of_device, of_n, shut)
		VALUES (@farm, @device, @n, @sha256, @of_device, @of_n, @shut)`
)

// OnRecord implements feed.Tx.
func (t *logTx) OnRecord(
	ctx context.Context,
	person string,
	entries []feed.First,
) ([]feed.Known, error) {
	var asked formers
	for _, first := range entries {
		asked.add(&first)
	}
	rows, err := t.tx.Query(ctx, findOnRecord, t.args("person", person,
		"devices", asked.devices, "ns", asked.ns, "hashes", asked.hashes))
	if err != nil {
		return nil, fmt.Errorf("reading what is on record: %w", err)
	}
	var found []feed.Known
	var k feed.Known
	var hash []byte
	to := []any{&k.First.Device, &k.First.N, &hash, &k.At.Device, &k.At.N,
		&k.Ack.Outcome, &k.Ack.Seq, &k.Ack.Problem}
	_, err = pgx.ForEachRow(rows, to, func() error {
		k.Hash, k.Ack.N = [32]byte(hash), k.At.N
		found = append(found, k)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("reading what is on record: %w", err)
	}
	return found, nil
}

// Repeats implements feed.Tx.
func (t *logTx) Repeats(ctx context.Context, devices []string) ([]feed.Repeat, error) {
	rows, err := t.tx.Query(ctx, findRepeats, t.args("devices", devices))
	if err != nil {
		return nil, fmt.Errorf("reading repeats: %w", err)
	}
	var found []feed.Repeat
	var r feed.Repeat
	var hash []byte
	to := []any{&r.Device, &r.N, &hash, &r.Of.Device, &r.Of.N, &r.Shut}
	_, err = pgx.ForEachRow(rows, to, func() error {
		r.Hash = [32]byte(hash)
		found = append(found, r)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("reading repeats: %w", err)
	}
	return found, nil
}

func (t *logTx) queueRepeats(batch *pgx.Batch, list []feed.Repeat) {
	for _, r := range list {
		batch.Queue(saveRepeat, t.args("device", r.Device, "n", r.N, "sha256", r.Hash[:],
			"of_device", r.Of.Device, "of_n", r.Of.N, "shut", r.Shut))
	}
}

// formers are first places as the columns of an array each; nil leaves its place empty.
type formers struct {
	devices []string
	ns      []int64
	hashes  [][]byte
}

func (f *formers) add(first *feed.First) {
	if first == nil {
		f.devices, f.ns, f.hashes = append(f.devices, ""), append(f.ns, 0), append(f.hashes, nil)
		return
	}
	f.devices, f.ns = append(f.devices, first.Device), append(f.ns, first.N)
	f.hashes = append(f.hashes, first.Hash[:])
}
