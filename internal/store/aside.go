package store

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/feed"
	"hilum/internal/wire"
)

const (
	findLacking = `
		SELECT q.device_id::text AS device, d.person_id::text AS person, p.role, q.n,
			m.raw
		FROM quarantine q
		JOIN mutation m USING (farm_id, device_id, n)
		JOIN device d USING (farm_id, device_id)
		JOIN person p USING (farm_id, person_id)
		WHERE q.farm_id = @farm AND q.lacks = ANY (@ids::uuid[])
		ORDER BY q.device_id, q.n`
	findEnded = `
		SELECT q.device_id::text AS device, d.person_id::text AS person, p.role, q.n,
			m.raw
		FROM quarantine q
		JOIN mutation m USING (farm_id, device_id, n)
		JOIN device d USING (farm_id, device_id)
		JOIN person p USING (farm_id, person_id)
		WHERE q.farm_id = @farm AND q.lacks IS NOT NULL
			AND EXISTS (SELECT FROM record r WHERE r.farm_id = q.farm_id AND r.id = q.lacks)
		ORDER BY q.device_id, q.n
		LIMIT 1000`
	findAsides = `
		SELECT q.device_id::text AS device, d.person_id::text AS person, p.role, q.n, m.raw
		FROM quarantine q
		JOIN mutation m USING (farm_id, device_id, n)
		JOIN device d USING (farm_id, device_id)
		JOIN person p USING (farm_id, person_id)
		WHERE q.farm_id = @farm AND q.device_id = @device AND q.n = ANY (@numbers)
			AND NOT EXISTS (SELECT FROM judgement j WHERE j.farm_id = q.farm_id
				AND j.device_id = q.device_id AND j.n = q.n AND j.outcome <> 'quarantined')
		ORDER BY q.n`
	listAsides = `
		SELECT q.device_id::text AS device, d.name AS device_name,
			d.revoked_at IS NOT NULL OR p.archived AS shut_out, p.person_id::text AS person,
			p.name AS person_name, q.n, m.received_at, q.reason AS problem, m.raw
		FROM quarantine q
		JOIN mutation m USING (farm_id, device_id, n)
		JOIN device d USING (farm_id, device_id)
		JOIN person p USING (farm_id, person_id)
		WHERE q.farm_id = @farm
			AND NOT EXISTS (SELECT FROM judgement j WHERE j.farm_id = q.farm_id
				AND j.device_id = q.device_id AND j.n = q.n AND j.outcome <> 'quarantined')
		ORDER BY p.name, q.device_id, q.n
		LIMIT 1000`
	countHandedIn = `
		SELECT count(*) + (SELECT count(*) FROM repeat r
				WHERE r.farm_id = @farm AND r.device_id = @device AND r.shut),
			coalesce(sum(octet_length(raw)), 0)
		FROM mutation
		WHERE farm_id = @farm AND device_id = @device AND outcome = 'quarantined'
			AND problem ->> 'code' = @code`
	saveJudgement = `
		INSERT INTO judgement (farm_id, device_id, n, judged_seq, outcome, seq, problem, person_id)
		VALUES (@farm, @device, @n, @judged, @outcome, nullif(@seq, 0), @problem, nullif(@person, '')::uuid)`
	saveLack = `
		UPDATE quarantine SET lacks = nullif(@lacks, '')::uuid, reason = coalesce(@problem, reason),
			handled_by = coalesce(nullif(@person, '')::uuid, handled_by)
		WHERE farm_id = @farm AND device_id = @device AND n = @n`
	listJudged = `
		SELECT t.device_id::text AS device, t.n, j.outcome, coalesce(j.seq, 0) AS seq, j.problem
		FROM judgement j
		CROSS JOIN LATERAL (SELECT j.device_id, j.n
			UNION ALL SELECT r.device_id, r.n FROM repeat r
			WHERE r.farm_id = @farm AND r.of_device = j.device_id AND r.of_n = j.n) t
		JOIN device d ON d.farm_id = @farm AND d.device_id = t.device_id
		WHERE j.farm_id = @farm AND j.judged_seq > @after AND j.judged_seq <= @up_to
			AND d.person_id = @person
		ORDER BY j.judged_seq, t.device_id, t.n`
)

// Lacking implements feed.Tx.
func (t *logTx) Lacking(ctx context.Context, ids []string) ([]feed.Aside, error) {
	query, args := findLacking, t.args("ids", ids)
	if len(ids) == 0 {
		query, args = findEnded, t.args()
	}
	rows, err := t.tx.Query(ctx, query, args)
	if err != nil {
		return nil, fmt.Errorf("reading what was set aside: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[feed.Aside])
}

// Judged implements feed.View.
func (t *logTx) Judged(
	ctx context.Context,
	person string,
	after, upTo int64,
) ([]wire.Judged, error) {
	rows, err := t.tx.Query(ctx, listJudged,
		t.args("person", person, "after", after, "up_to", upTo))
	if err != nil {
		return nil, fmt.Errorf("reading judgements: %w", err)
	}
	var found []wire.Judged
	var j wire.Judged
	to := []any{&j.Device, &j.N, &j.Outcome, &j.Seq, &j.Problem}
	_, err = pgx.ForEachRow(rows, to, func() error { found = append(found, j); return nil })
	return found, err
}

func (t *logTx) queueJudgements(batch *pgx.Batch, list []feed.Judgement) {
	for _, j := range list {
		batch.Queue(saveJudgement, t.args("device", j.Device, "n", j.Ack.N, "judged", j.Seq,
			"outcome", j.Ack.Outcome, "seq", j.Ack.Seq, "problem", j.Ack.Problem, "person", j.By))
		batch.Queue(saveLack, t.args("device", j.Device, "n", j.Ack.N, "lacks", j.Lacks,
			"problem", j.Ack.Problem, "person", j.By))
	}
}

// Asides implements feed.Tx.
func (t *logTx) Asides(ctx context.Context, device string, numbers []int64) ([]feed.Aside, error) {
	rows, err := t.tx.Query(ctx, findAsides, t.args("device", device, "numbers", numbers))
	if err != nil {
		return nil, fmt.Errorf("reading what was set aside: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[feed.Aside])
}

// HandedIn implements feed.Tx.
func (t *logTx) HandedIn(ctx context.Context, device string) (entries, bytes int64, err error) {
	named := t.args("device", device, "code", feed.HandInCode)
	err = t.tx.QueryRow(ctx, countHandedIn, named).Scan(&entries, &bytes)
	if err != nil {
		return 0, 0, fmt.Errorf("counting what was handed in: %w", err)
	}
	return entries, bytes, nil
}

// Asides lists what is set aside in an account and waits for a person.
func (s *Store) Asides(ctx context.Context, farm string) ([]wire.Aside, error) {
	list := []wire.Aside{}
	err := s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, listAsides, pgx.NamedArgs{"farm": farm})
		if err != nil {
			return fmt.Errorf("listing what is set aside: %w", err)
		}
		var a wire.Aside
		var at time.Time
		var raw []byte
		to := []any{&a.Device, &a.DeviceName, &a.ShutOut, &a.Person, &a.PersonName, &a.N, &at,
			&a.Problem, &raw}
		_, err = pgx.ForEachRow(rows, to, func() error {
			a.ReceivedAt, a.Text = at.UTC().Format(time.RFC3339), strings.ToValidUTF8(string(raw), "?")
			list = append(list, a)
			return nil
		})
		return err
	})
	return list, err
}
