package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// Seat is a device with the person who uses it.
type Seat struct {
	Person  wire.Person
	Account string // the account's name as its settings give it, "" before they exist
	LastN   int64
}

const (
	enrolDevice = `
		INSERT INTO device (farm_id, device_id, person_id, name)
		VALUES (@farm, @device, @person, @name)
		ON CONFLICT (farm_id, device_id) DO UPDATE SET name = excluded.name, seen_at = now()
		WHERE device.person_id = excluded.person_id AND device.revoked_at IS NULL
		RETURNING last_n`
	addToken = `
		INSERT INTO refresh_token (farm_id, token_hash, device_id, expires_at)
		VALUES (@farm, @hash, @device, @expires)`
	dropStaleTokens = `
		DELETE FROM refresh_token WHERE farm_id = @farm AND device_id = @device AND expires_at < now()`
)

// Enrol gives a device to a person and stores its refresh token's hash. Conflict when the device
// belongs to somebody else or was shut out: the client then makes a new device id.
func (s *Store) Enrol(
	ctx context.Context,
	farm, person, device, name string,
	token []byte,
	expires time.Time,
) (Seat, error) {
	var seat Seat
	err := s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		err := tx.QueryRow(ctx, enrolDevice, pgx.NamedArgs{"farm": farm, "device": device,
			"person": person, "name": name}).Scan(&seat.LastN)
		if errors.Is(err, pgx.ErrNoRows) {
			return fault.New(
				fault.Conflict,
				"device",
				"this device id is in use by somebody else; a new one is needed",
			)
		}
		if err != nil {
			return fmt.Errorf("enrolling a device: %w", err)
		}
		named := pgx.NamedArgs{"farm": farm, "hash": token, "device": device, "expires": expires}
		if _, err := tx.Exec(ctx, dropStaleTokens, named); err != nil {
			return fmt.Errorf("dropping stale tokens: %w", err)
		}
		if _, err := tx.Exec(ctx, addToken, named); err != nil {
			return fmt.Errorf("storing a token: %w", err)
		}
		if seat.Person, err = findPerson(ctx, tx, farm, person); err != nil {
			return err
		}
		if seat.Account, err = accountName(ctx, tx, farm); err != nil {
			return err
		}
		return audit(ctx, tx, farm, Actor{Person: person, Device: device}, "signed_in", device)
	})
	return seat, err
}

const findAccountName = `SELECT coalesce((SELECT name FROM settings WHERE farm_id = @farm), '')`

func accountName(ctx context.Context, tx pgx.Tx, farm string) (name string, err error) {
	err = tx.QueryRow(ctx, findAccountName, pgx.NamedArgs{"farm": farm}).Scan(&name)
	return name, err
}

const (
	touchToken = `
		UPDATE refresh_token t SET used_at = now(), expires_at = @expires
		FROM device d, person p
		WHERE t.farm_id = @farm AND t.token_hash = @hash AND t.device_id = @device AND t.expires_at > now()
			AND d.farm_id = t.farm_id AND d.device_id = t.device_id AND d.revoked_at IS NULL
			AND p.farm_id = d.farm_id AND p.person_id = d.person_id AND NOT p.archived
		RETURNING d.person_id::text, d.last_n`
	dropToken = `DELETE FROM refresh_token WHERE farm_id = @farm AND token_hash = @hash`
)

// Refresh takes a refresh token's hash and renews its life; Unauthorized when it is not valid for
// this device any more.
func (s *Store) Refresh(
	ctx context.Context,
	farm, device string,
	token []byte,
	expires time.Time,
) (Seat, error) {
	var seat Seat
	err := s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		var person string
		err := tx.QueryRow(ctx, touchToken, pgx.NamedArgs{"farm": farm, "device": device,
			"hash": token, "expires": expires}).Scan(&person, &seat.LastN)
		if errors.Is(err, pgx.ErrNoRows) {
			return fault.New(
				fault.Unauthorized,
				"signin",
				"please sign in again; everything on this phone stays",
			)
		}
		if err != nil {
			return fmt.Errorf("renewing a session: %w", err)
		}
		if seat.Person, err = findPerson(ctx, tx, farm, person); err != nil {
			return err
		}
		seat.Account, err = accountName(ctx, tx, farm)
		return err
	})
	return seat, err
}

// SignOut ends one session.
func (s *Store) SignOut(ctx context.Context, farm string, token []byte) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, dropToken, pgx.NamedArgs{"farm": farm, "hash": token})
		return err
	})
}

const findSeat = `
	SELECT p.role, d.cursor_seen AS cursor, d.seen_at
	FROM device d JOIN person p ON p.farm_id = d.farm_id AND p.person_id = d.person_id
	WHERE d.farm_id = @farm AND d.device_id = @device AND d.person_id = @person
		AND d.revoked_at IS NULL AND NOT p.archived`

// Access is what a person may do from a device, and how far the device has stored the feed.
type Access struct {
	Role   string
	Cursor int64
	SeenAt time.Time
}

// AccessOf gives the access in force of a person on a device, read anew at each request, so that
// a revocation counts at once. Unauthorized when device or person may no longer work here.
func (s *Store) AccessOf(ctx context.Context, farm, person, device string) (a Access, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "device": device, "person": person}
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
