package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/wire"
)

const readAudit = `
	SELECT a.audit_id AS id, a.at, coalesce(p.name, '') AS who, coalesce(a.person_id::text, '') AS person,
		coalesce(d.name, '') AS device_name, coalesce(a.device_id::text, '') AS device, a.action, a.subject,
		coalesce(o.name, e.name, '') AS subject_name
	FROM audit a
	LEFT JOIN person p ON p.farm_id = a.farm_id AND p.person_id = a.person_id
	LEFT JOIN device d ON d.farm_id = a.farm_id AND d.device_id = a.device_id
	LEFT JOIN person o ON o.farm_id = a.farm_id AND o.person_id::text = a.subject
	LEFT JOIN device e ON e.farm_id = a.farm_id AND e.device_id::text = a.subject
	WHERE a.farm_id = @farm AND (@before = 0 OR a.audit_id < @before)
	ORDER BY a.audit_id DESC
	LIMIT @most`

type auditLine struct {
	ID                              int64
	At                              time.Time
	Who, Person, DeviceName, Device string
	Action, Subject, SubjectName    string
}

// Audit hands the lines of the audit to write, newest first, below the line before (0: from the
// newest), at most so many.
func (s *Store) Audit(
	ctx context.Context, farm string, before int64, most int, write func(wire.AuditLine) error,
) error {
	return s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, readAudit, pgx.NamedArgs{"farm": farm, "before": before, "most": most})
		if err != nil {
			return fmt.Errorf("reading the audit: %w", err)
		}
		lines, err := pgx.CollectRows(rows, pgx.RowToStructByName[auditLine])
		if err != nil {
			return fmt.Errorf("reading the audit: %w", err)
		}
		for _, l := range lines {
			err := write(wire.AuditLine{ID: l.ID, At: l.At.UTC().Format(time.RFC3339), Who: l.Who,
				Person: l.Person, Device: l.Device, DeviceName: l.DeviceName, Action: l.Action,
				Subject: l.Subject, SubjectName: l.SubjectName})
			if err != nil {
				return err
			}
		}
		return nil
	})
}

// personal are the parts of what is stored about one person, each one JSON object a row.
var personal = []struct{ kind, query string }{
	{"person", personalRow}, {"device", personalDevices}, {"session", personalSessions},
	{"audit", personalAudit}, {"entry", personalEntries},
}

const (
	personalRow = `
		SELECT jsonb_build_object('id', person_id, 'name', name, 'login', login, 'role', role,
			'language', language, 'archived', archived, 'createdAt', created_at,
			'secondStep', second_since IS NOT NULL)
		FROM person WHERE farm_id = @farm AND person_id = @person`
	personalDevices = `
		SELECT jsonb_build_object('id', device_id, 'name', name, 'entries', last_n, 'appVersion', app_version,
			'clockOffsetMS', clock_offset_ms, 'seenAt', seen_at, 'revokedAt', revoked_at)
		FROM device WHERE farm_id = @farm AND person_id = @person ORDER BY device_id`
	personalSessions = `
		SELECT jsonb_build_object('device', s.device_id, 'from', s.created_at, 'lastUsed', s.used_at,
			'endsAt', s.ends_at, 'endedAt', s.ended_at, 'endedWhy', s.ended_why)
		FROM session s JOIN device d ON d.farm_id = s.farm_id AND d.device_id = s.device_id
		WHERE s.farm_id = @farm AND d.person_id = @person ORDER BY s.created_at`
	personalAudit = `
		SELECT jsonb_build_object('at', at, 'action', action, 'device', device_id, 'subject', subject)
		FROM audit WHERE farm_id = @farm AND (person_id = @person OR subject = @person::text)
		ORDER BY audit_id`
	personalEntries = `
		SELECT jsonb_build_object('device', m.device_id, 'n', m.n, 'receivedAt', m.received_at,
			'outcome', m.outcome, 'raw', convert_from(m.raw, 'UTF8'))
		FROM mutation m JOIN device d ON d.farm_id = m.farm_id AND d.device_id = m.device_id
		WHERE m.farm_id = @farm AND d.person_id = @person ORDER BY m.device_id, m.n`
)

// Personal hands all that is stored about one person to write, kind by kind.
func (s *Store) Personal(
	ctx context.Context, farm, person string, write func(kind string, row json.RawMessage) error,
) error {
	return s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		for _, part := range personal {
			rows, err := tx.Query(ctx, part.query, pgx.NamedArgs{"farm": farm, "person": person})
			if err != nil {
				return fmt.Errorf("exporting a person's %s: %w", part.kind, err)
			}
			var row json.RawMessage
			_, err = pgx.ForEachRow(rows, []any{&row}, func() error { return write(part.kind, row) })
			if err != nil {
				return fmt.Errorf("exporting a person's %s: %w", part.kind, err)
			}
		}
		return nil
	})
}

const listOwn = `
	SELECT f.id::text AS id, f.body AS field,
		(SELECT r.body FROM result r
			WHERE r.farm_id = f.farm_id AND r.field_id = f.id
			ORDER BY r.crop_year DESC, r.seq DESC LIMIT 1) AS result
	FROM record f
	JOIN person p ON p.farm_id = f.farm_id AND p.person_id = @person
	WHERE f.farm_id = @farm AND f.kind = 'field' AND NOT f.deleted AND f.body ->> 'grower' = p.grower_id::text
	ORDER BY f.body ->> 'name', f.id`

// OwnFields lists the live fields of the grower whom a person is, with their newest results.
func (s *Store) OwnFields(ctx context.Context, farm, person string) (lines []wire.FieldLine, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, listOwn, pgx.NamedArgs{"farm": farm, "person": person})
		if err != nil {
			return fmt.Errorf("listing a grower's fields: %w", err)
		}
		lines, err = pgx.CollectRows(rows, pgx.RowToStructByName[wire.FieldLine])
		return err
	})
	return lines, err
}
