package store

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/wire"
)

const (
	findMembers = `
		SELECT person_id::text AS id, name, coalesce(login, '') AS login, role, archived, language,
			coalesce(grower_id::text, '') AS grower, alias, password_hash IS NOT NULL AS has_login
		FROM person WHERE farm_id = @farm
		ORDER BY archived, name, person_id`
	findDevices = `
		SELECT d.device_id::text AS id, d.person_id::text AS person, d.name, d.seen_at, d.last_n,
			EXISTS (SELECT FROM session s WHERE s.farm_id = d.farm_id AND s.device_id = d.device_id
				AND s.ended_at IS NULL AND s.idle_until > @at AND s.ends_at > @at) AS open,
			d.revoked_at
		FROM device d
		WHERE d.farm_id = @farm AND (@person = '' OR d.person_id::text = @person)
			AND EXISTS (SELECT FROM session s WHERE s.farm_id = d.farm_id AND s.device_id = d.device_id)
		ORDER BY d.seen_at DESC, d.device_id`
)

type deviceLine struct {
	ID, Person, Name string
	SeenAt           time.Time
	LastN            int64
	Open             bool
	RevokedAt        *time.Time
}

func (l deviceLine) wire() wire.Device {
	d := wire.Device{ID: l.ID, Person: l.Person, Name: l.Name, LastN: l.LastN, Open: l.Open,
		SeenAt: l.SeenAt.UTC().Format(time.RFC3339)}
	if l.RevokedAt != nil {
		d.Revoked = l.RevokedAt.UTC().Format(time.RFC3339)
	}
	return d
}

// Members lists who works in an account, with their devices.
func (s *Store) Members(ctx context.Context, farm string, at time.Time) (members []wire.Member, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, findMembers, pgx.NamedArgs{"farm": farm})
		if err != nil {
			return fmt.Errorf("listing people: %w", err)
		}
		members, err = pgx.CollectRows(rows, pgx.RowToStructByNameLax[wire.Member])
		if err != nil {
			return fmt.Errorf("listing people: %w", err)
		}
		devices, err := devicesOf(ctx, tx, farm, "", at)
		if err != nil {
			return err
		}
		for i := range members {
			members[i].Devices = []wire.Device{}
			for _, d := range devices {
				if d.Person == members[i].ID {
					members[i].Devices = append(members[i].Devices, d)
				}
			}
		}
		return nil
	})
	return members, err
}

// DevicesOf lists the devices of one person.
func (s *Store) DevicesOf(ctx context.Context, farm, person string, at time.Time) (found []wire.Device, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		found, err = devicesOf(ctx, tx, farm, person, at)
		return err
	})
	return found, err
}

func devicesOf(ctx context.Context, tx pgx.Tx, farm, person string, at time.Time) ([]wire.Device, error) {
	rows, err := tx.Query(ctx, findDevices, pgx.NamedArgs{"farm": farm, "person": person, "at": at})
	if err != nil {
		return nil, fmt.Errorf("listing devices: %w", err)
	}
	lines, err := pgx.CollectRows(rows, pgx.RowToStructByName[deviceLine])
	devices := make([]wire.Device, 0, len(lines))
	for _, l := range lines {
		devices = append(devices, l.wire())
	}
	return devices, err
}

// PersonOf gives one person of an account; NotFound if there is none.
func (s *Store) PersonOf(ctx context.Context, farm, person string) (p wire.Person, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		p, err = findPerson(ctx, tx, farm, person)
		return err
	})
	return p, err
}

const (
	hasGrower = `
		SELECT EXISTS (SELECT FROM record WHERE farm_id = @farm AND id::text = @grower
			AND kind = 'grower' AND NOT deleted)`
	addMember = `
		INSERT INTO person (farm_id, person_id, name, role, language, grower_id)
		VALUES (@farm, @person, @name, @role, @language, nullif(@grower, '')::uuid)`
)

// AddMember adds somebody who gets in by a code.
func (s *Store) AddMember(ctx context.Context, farm, id string, p wire.NewPerson, by Actor) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": id, "name": p.Name, "role": p.Role,
			"language": p.Language, "grower": p.Grower}
		known := true
		if p.Role == "grower" {
			if err := tx.QueryRow(ctx, hasGrower, named).Scan(&known); err != nil {
				return fmt.Errorf("finding a grower: %w", err)
			}
		}
		if !known {
			return fault.At("grower", "id", "there is no such grower in this account")
		}
		if _, err := tx.Exec(ctx, addMember, named); err != nil {
			return fmt.Errorf("adding a person: %w", err)
		}
		return audit(ctx, tx, farm, by, "person_added", id)
	})
}

const (
	editPerson = `
		UPDATE person SET name = coalesce(@name, name), language = coalesce(@language, language),
			archived = coalesce(@archived, archived)
		WHERE farm_id = @farm AND person_id = @person`
	shutOutAll = `
		UPDATE device SET revoked_at = @at, drain_until = @drain
		WHERE farm_id = @farm AND person_id = @person AND revoked_at IS NULL`
)

// EditMember changes what is given. Whoever is archived is shut out on every device at once.
func (s *Store) EditMember(
	ctx context.Context, farm, person string, e wire.EditPerson, at time.Time, by Actor,
) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person, "name": e.Name, "language": e.Language,
			"archived": e.Archived}
		if _, err := tx.Exec(ctx, editPerson, named); err != nil {
			return fmt.Errorf("changing a person: %w", err)
		}
		if e.Archived == nil {
			return audit(ctx, tx, farm, by, "person_changed", person)
		}
		if !*e.Archived {
			return audit(ctx, tx, farm, by, "person_brought_back", person)
		}
		if err := leave(ctx, tx, farm, person, "archived", at); err != nil {
			return err
		}
		return audit(ctx, tx, farm, by, "person_archived", person)
	})
}

// leave ends all sessions of a person and shuts all devices out.
func leave(ctx context.Context, tx pgx.Tx, farm, person, why string, at time.Time) error {
	named := pgx.NamedArgs{"farm": farm, "person": person, "why": why, "at": at,
		"drain": at.Add(auth.HandInLife)}
	for _, query := range []string{endAll, shutOutAll, endCodes} {
		if _, err := tx.Exec(ctx, query, named); err != nil {
			return fmt.Errorf("shutting a person out: %w", err)
		}
	}
	return nil
}

// takeOutName puts an alias in the place of a name and forgets how the person signed in. The
// records keep the person's id: what was dug stays, and stays one person's.
const takeOutName = `
	UPDATE person SET name = @alias, login = NULL, password_hash = NULL, alias = true, archived = true
	WHERE farm_id = @farm AND person_id = @person`

// Alias takes a person's name out of an account and keeps the records.
func (s *Store) Alias(ctx context.Context, farm, person, alias string, at time.Time, by Actor) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person, "alias": alias}
		if _, err := tx.Exec(ctx, takeOutName, named); err != nil {
			return fmt.Errorf("taking a name out: %w", err)
		}
		if _, err := tx.Exec(ctx, namelessDevices, named); err != nil {
			return fmt.Errorf("taking a name out: %w", err)
		}
		if err := leave(ctx, tx, farm, person, "name taken out", at); err != nil {
			return err
		}
		return audit(ctx, tx, farm, by, "person_name_taken_out", person)
	})
}

// namelessDevices: a device may be called after its person.
const namelessDevices = `UPDATE device SET name = '' WHERE farm_id = @farm AND person_id = @person`
