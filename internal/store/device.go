package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/wire"
)

// Seat is a device with the person who uses it.
type Seat struct {
	Person  wire.Person
	Account string // the account's name as its settings give it, "" before they exist
	LastN   int64
	Device  string
	Session string
	Until   time.Time // the session's end, however much it is used
}

const enrolDevice = `
	INSERT INTO device (farm_id, device_id, person_id, name)
	VALUES (@farm, @device, @person, @name)
	ON CONFLICT (farm_id, device_id) DO UPDATE SET name = excluded.name, seen_at = now()
	WHERE device.person_id = excluded.person_id AND device.revoked_at IS NULL
	RETURNING last_n`

// takeDevice gives a device to a person. Conflict when it belongs to somebody else or was shut
// out: the client then makes a new device id.
func takeDevice(ctx context.Context, tx pgx.Tx, farm, person, device, name string) (lastN int64, err error) {
	err = tx.QueryRow(ctx, enrolDevice, pgx.NamedArgs{"farm": farm, "device": device,
		"person": person, "name": name}).Scan(&lastN)
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, fault.New(fault.Conflict, "device",
			"this device id is in use by somebody else; a new one is needed")
	}
	if err != nil {
		return 0, fmt.Errorf("enrolling a device: %w", err)
	}
	return lastN, nil
}

const findAccountName = `SELECT coalesce((SELECT name FROM settings WHERE farm_id = @farm), '')`

func accountName(ctx context.Context, tx pgx.Tx, farm string) (name string, err error) {
	err = tx.QueryRow(ctx, findAccountName, pgx.NamedArgs{"farm": farm}).Scan(&name)
	return name, err
}

// AccountName gives what an account is called, "" while it has no settings.
func (s *Store) AccountName(ctx context.Context, farm string) (name string, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		name, err = accountName(ctx, tx, farm)
		return err
	})
	return name, err
}

const findSeat = `
	SELECT p.role, d.cursor_seen AS cursor, d.seen_at
	FROM device d
	JOIN person p ON p.farm_id = d.farm_id AND p.person_id = d.person_id
	JOIN session s ON s.farm_id = d.farm_id AND s.device_id = d.device_id AND s.session_id = @session
	WHERE d.farm_id = @farm AND d.device_id = @device AND d.person_id = @person
		AND d.revoked_at IS NULL AND NOT p.archived AND s.ended_at IS NULL`

// Access is what a person may do from a device, and how far the device has stored the feed.
type Access struct {
	Role   string
	Cursor int64
	SeenAt time.Time
}

// AccessOf gives the access in force of whoever holds a token, read anew at each request, so that
// a revocation counts at once. Unauthorized when device or person may no longer work here, or the
// session was ended.
func (s *Store) AccessOf(ctx context.Context, h auth.Holder) (a Access, err error) {
	err = s.inFarm(ctx, h.Farm, reading, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": h.Farm, "device": h.Device, "person": h.Person,
			"session": h.Session}
		return tx.QueryRow(ctx, findSeat, named).Scan(&a.Role, &a.Cursor, &a.SeenAt)
	})
	if errors.Is(err, pgx.ErrNoRows) {
		return a, fault.New(
			fault.Unauthorized,
			"signin",
			"you no longer have access from this device",
		)
	}
	return a, err
}

// EnrolServer makes a device of the program itself known, without a token: the first settings of
// an account and the demo's records come from such ones.
func (s *Store) EnrolServer(ctx context.Context, farm, person, device, name string) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, enrolDevice, pgx.NamedArgs{"farm": farm, "device": device,
			"person": person, "name": name})
		if err != nil {
			return fmt.Errorf("enrolling a device: %w", err)
		}
		return nil
	})
}
