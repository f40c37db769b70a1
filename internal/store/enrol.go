package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/wire"
)

// Invitation is a code by which one device of a person gets in, as hashes of it.
type Invitation struct {
	Farm, Person string
	Selector     string
	Code, Link   []byte
	At           time.Time
}

const (
	countCodes = `
		SELECT count(*), coalesce(min(made_at), @at) FROM enrolment
		WHERE farm_id = @farm AND made_at > @since`
	endCodes = `
		UPDATE enrolment SET expires_at = @at
		WHERE farm_id = @farm AND person_id = @person AND used_at IS NULL AND expires_at > @at`
	addCode = `
		INSERT INTO enrolment
			(farm_id, enrolment_id, person_id, made_by, selector, code_hash, link_hash, made_at, expires_at)
		VALUES (@farm, @id, @person, @by, @selector, @code, @link, @at, @expires)`
)

// Invite stores a code; an earlier one of the person ends. wait is positive, and nothing stored,
// when the account has made too many of late.
func (s *Store) Invite(ctx context.Context, in Invitation, by Actor) (wait time.Duration, err error) {
	err = s.inFarm(ctx, in.Farm, writing, func(tx pgx.Tx) error {
		var made int
		var first time.Time
		named := pgx.NamedArgs{"farm": in.Farm, "person": in.Person, "by": by.Person,
			"id": uuid.New(), "selector": in.Selector, "code": in.Code, "link": in.Link,
			"at": in.At, "since": in.At.Add(-time.Hour), "expires": in.At.Add(auth.CodeLife)}
		if err := tx.QueryRow(ctx, countCodes, named).Scan(&made, &first); err != nil {
			return fmt.Errorf("counting codes: %w", err)
		}
		if made >= auth.MaxCodes {
			wait = time.Hour - in.At.Sub(first)
			return nil
		}
		who, err := findPerson(ctx, tx, in.Farm, in.Person)
		if err != nil {
			return err
		}
		if who.Archived {
			return fault.New(fault.Conflict, "archived", "%s no longer works here; bring the person back first",
				who.Name)
		}
		for _, query := range []string{endCodes, addCode} {
			if _, err := tx.Exec(ctx, query, named); err != nil {
				return fmt.Errorf("storing a code: %w", err)
			}
		}
		return audit(ctx, tx, in.Farm, by, "code_made", in.Person)
	})
	return wait, err
}

// Invited is whom a code lets in.
type Invited struct {
	Farm   string
	ID     string // of the code
	Person wire.Person
}

type invitation struct {
	Farm, ID, Person string
	Hash             []byte
}

const (
	setCode   = `SELECT set_config('app.enrol', @selector, true)`
	findCodes = `
		SELECT farm_id::text AS farm, enrolment_id::text AS id, person_id::text AS person, code_hash AS hash
		FROM enrolment
		WHERE selector = @selector AND used_at IS NULL AND expires_at > @at AND tries < @most`
	countTry = `
		UPDATE enrolment SET tries = tries + 1 WHERE farm_id = @farm AND enrolment_id = @id`
	findLink = `
		SELECT farm_id::text AS farm, enrolment_id::text AS id, person_id::text AS person, link_hash AS hash
		FROM enrolment
		WHERE farm_id = @farm AND link_hash = @link AND used_at IS NULL AND expires_at > @at`
)

func wrongCode() error {
	return fault.New(fault.NotFound, "code",
		"this code is wrong, was used or is older than ten minutes; ask for a new one")
}

// ByCode finds whom a typed code lets in. A wrong one is counted against the code that it resembles.
func (s *Store) ByCode(ctx context.Context, selector string, code []byte, at time.Time) (in Invited, err error) {
	good := false
	err = s.inFarm(ctx, "", writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"selector": selector, "at": at, "most": auth.MaxTries}
		if _, err := tx.Exec(ctx, setCode, named); err != nil {
			return fmt.Errorf("naming a code: %w", err)
		}
		rows, err := tx.Query(ctx, findCodes, named)
		if err != nil {
			return fmt.Errorf("finding a code: %w", err)
		}
		near, err := pgx.CollectRows(rows, pgx.RowToStructByName[invitation])
		if err != nil {
			return fmt.Errorf("finding a code: %w", err)
		}
		for _, n := range near {
			if _, err := tx.Exec(ctx, setFarm, pgx.NamedArgs{"farm": n.Farm}); err != nil {
				return fmt.Errorf("naming the account: %w", err)
			}
			if good = bytes.Equal(n.Hash, code); good {
				in, err = invited(ctx, tx, n)
				return err
			}
			if _, err := tx.Exec(ctx, countTry, pgx.NamedArgs{"farm": n.Farm, "id": n.ID}); err != nil {
				return fmt.Errorf("counting a try: %w", err)
			}
		}
		return nil
	})
	if err == nil && !good {
		err = wrongCode()
	}
	return in, err
}

// ByLink finds whom a link lets in.
func (s *Store) ByLink(ctx context.Context, farm string, link []byte, at time.Time) (in Invited, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, findLink, pgx.NamedArgs{"farm": farm, "link": link, "at": at})
		if err != nil {
			return fmt.Errorf("finding a link: %w", err)
		}
		found, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[invitation])
		if errors.Is(err, pgx.ErrNoRows) {
			return wrongCode()
		}
		if err != nil {
			return fmt.Errorf("finding a link: %w", err)
		}
		in, err = invited(ctx, tx, found)
		return err
	})
	return in, err
}

func invited(ctx context.Context, tx pgx.Tx, n invitation) (in Invited, err error) {
	in = Invited{Farm: n.Farm, ID: n.ID}
	in.Person, err = findPerson(ctx, tx, n.Farm, n.Person)
	return in, err
}

const (
	takeCode = `
		UPDATE enrolment SET used_at = @at, device_id = @device
		WHERE farm_id = @farm AND enrolment_id = @id AND used_at IS NULL AND expires_at > @at
			AND tries < @most`
	setLoginAndPassword = `
		UPDATE person SET login = coalesce(nullif(@login, ''), login),
			password_hash = coalesce(nullif(@hash, ''), password_hash)
		WHERE farm_id = @farm AND person_id = @person`
)

// EnrolDevice uses a code up and opens the device's session, both or neither. login and hash may
// be empty: a scout needs none.
func (s *Store) EnrolDevice(ctx context.Context, in Invited, o Opening, login, hash string) (seat Seat, err error) {
	err = s.inFarm(ctx, in.Farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": in.Farm, "id": in.ID, "at": o.At, "device": o.Device,
			"most": auth.MaxTries, "person": o.Person, "login": login, "hash": hash}
		tag, err := tx.Exec(ctx, takeCode, named)
		if err != nil {
			return fmt.Errorf("using a code: %w", err)
		}
		if tag.RowsAffected() == 0 {
			return wrongCode()
		}
		if _, err := tx.Exec(ctx, setLoginAndPassword, named); err != nil {
			return loginTaken(err, "setting a sign-in name")
		}
		if seat, err = openSession(ctx, tx, o); err != nil {
			return err
		}
		return audit(ctx, tx, in.Farm, Actor{Person: o.Person, Device: o.Device}, "device_enrolled", o.Device)
	})
	return seat, err
}
