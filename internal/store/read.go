package store

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/jackc/pgx/v5"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

const listFields = `
	SELECT f.id::text AS id, f.body AS field,
		(SELECT r.body FROM result r
			WHERE r.farm_id = f.farm_id AND r.field_id = f.id
			ORDER BY r.crop_year DESC, r.seq DESC LIMIT 1) AS result
	FROM record f
	WHERE f.farm_id = @farm AND f.kind = 'field' AND NOT f.deleted
	ORDER BY f.body ->> 'name', f.id`

// Fields lists the live fields of an account with their newest results.
func (s *Store) Fields(ctx context.Context, farm string) ([]wire.FieldLine, error) {
	var lines []wire.FieldLine
	err := s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, listFields, pgx.NamedArgs{"farm": farm})
		if err != nil {
			return fmt.Errorf("listing fields: %w", err)
		}
		lines, err = pgx.CollectRows(rows, pgx.RowToStructByName[wire.FieldLine])
		return err
	})
	return lines, err
}

const listResults = `
	SELECT body, report FROM result
	WHERE farm_id = @farm AND field_id = @field AND crop_year = @crop_year
	ORDER BY seq DESC
	LIMIT 50`

// FieldResult gives the stored result of one field and crop year, with the whole report and the
// earlier results; NotFound when none was computed.
func (s *Store) FieldResult(
	ctx context.Context,
	farm, field string,
	cropYear int,
) (wire.FieldResult, error) {
	type line struct {
		Body   wire.Result
		Report []byte
	}
	var lines []line
	err := s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(
			ctx,
			listResults,
			pgx.NamedArgs{"farm": farm, "field": field, "crop_year": cropYear},
		)
		if err != nil {
			return fmt.Errorf("reading results: %w", err)
		}
		lines, err = pgx.CollectRows(rows, pgx.RowToStructByName[line])
		return err
	})
	if err != nil {
		return wire.FieldResult{}, err
	}
	if len(lines) == 0 {
		return wire.FieldResult{}, fault.New(
			fault.NotFound,
			"result",
			"no result is stored for this field and crop year",
		)
	}
	out := wire.FieldResult{Result: lines[0].Body, Older: []wire.Result{}}
	report, err := unpack(lines[0].Report)
	if err != nil {
		return wire.FieldResult{}, err
	}
	out.Report = json.RawMessage(report)
	if len(report) == 0 {
		out.Report = json.RawMessage("null")
	}
	for _, l := range lines[1:] {
		out.Older = append(out.Older, l.Body)
	}
	return out, nil
}

// exports are the parts of an account's export, each one JSON object a row.
var exports = []struct{ kind, query string }{
	{"person", exportPeople}, {"record", exportRecords}, {"mutation", exportMutations},
	{
		"value",
		exportValues,
	}, {"conflict", exportConflicts}, {"judgement", exportJudgements}, {"repeat", exportRepeats},
	{"result", exportResults}, {"photo", exportPhotos}, {"audit", exportAudit},
}

const (
	exportPeople = `
		SELECT jsonb_build_object('id', person_id, 'name', name, 'login', login, 'role', role, 'archived', archived)
		FROM person WHERE farm_id = @farm ORDER BY person_id`
	exportRecords = `
		SELECT jsonb_build_object('id', id, 'kind', kind, 'seq', seq, 'deleted', deleted,
			'body', body, 'stamps', stamps)
		FROM record WHERE farm_id = @farm ORDER BY seq`
	exportMutations = `
		SELECT jsonb_build_object('device', device_id, 'n', n, 'receivedAt', received_at, 'seq', seq,
			'outcome', outcome, 'problem', problem, 'sha256', encode(sha256, 'hex'), 'raw', encode(raw, 'base64'))
		FROM mutation WHERE farm_id = @farm ORDER BY device_id, n`
	exportValues = `
		SELECT to_jsonb(v) - 'farm_id' FROM field_value v WHERE farm_id = @farm ORDER BY record_id, field, seq`
	exportConflicts = `
		SELECT to_jsonb(c) - 'farm_id' FROM conflict c WHERE farm_id = @farm ORDER BY record_id, field, opened_seq`
	exportJudgements = `
		SELECT to_jsonb(j) - 'farm_id' FROM judgement j WHERE farm_id = @farm
		ORDER BY device_id, n, judged_seq`
	exportRepeats = `
		SELECT to_jsonb(r) - 'farm_id' - 'sha256' FROM repeat r WHERE farm_id = @farm
		ORDER BY device_id, n`
	exportResults = `
		SELECT jsonb_build_object('id', id, 'seq', seq, 'inputSeq', input_seq, 'body', body)
		FROM result WHERE farm_id = @farm ORDER BY seq`
	exportPhotos = `
		SELECT jsonb_build_object('sha256', encode(sha256, 'hex'), 'size', size, 'storedSeq', stored_seq)
		FROM photo WHERE farm_id = @farm ORDER BY sha256`
	exportAudit = `
		SELECT to_jsonb(a) - 'farm_id' FROM audit a WHERE farm_id = @farm ORDER BY audit_id`
)

// Export hands every row of an account to write, kind by kind, as JSON objects.
func (s *Store) Export(
	ctx context.Context,
	farm string,
	write func(kind string, row json.RawMessage) error,
) error {
	return s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		for _, part := range exports {
			rows, err := tx.Query(ctx, part.query, pgx.NamedArgs{"farm": farm})
			if err != nil {
				return fmt.Errorf("exporting %s: %w", part.kind, err)
			}
			var row json.RawMessage
			_, err = pgx.ForEachRow(
				rows,
				[]any{&row},
				func() error { return write(part.kind, row) },
			)
			if err != nil {
				return fmt.Errorf("exporting %s: %w", part.kind, err)
			}
		}
		return nil
	})
}
