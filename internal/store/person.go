package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// Account is one person's place in one account, found by a login name.
type Account struct {
	Farm         string
	Person       string
	Name         string
	Role         string
	PasswordHash string
	Second       string // secret of the second step, "" when none is asked for
	Step         int64  // the last step that was used
}

const findByLogin = `
	SELECT farm_id::text AS farm, person_id::text AS person, name, role, coalesce(password_hash, '') AS password_hash,
		CASE WHEN second_since IS NULL THEN '' ELSE second_secret END AS second, second_step AS step
	FROM person
	WHERE login = @login AND NOT archived
	ORDER BY created_at, farm_id, person_id`

// AccountsOf gives the places that a login name has, in any account.
func (s *Store) AccountsOf(ctx context.Context, login string) ([]Account, error) {
	var found []Account
	err := s.inFarm(ctx, "", reading, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, setLogin, pgx.NamedArgs{"login": login}); err != nil {
			return fmt.Errorf("naming the login: %w", err)
		}
		rows, err := tx.Query(ctx, findByLogin, pgx.NamedArgs{"login": login})
		if err != nil {
			return fmt.Errorf("finding a login: %w", err)
		}
		found, err = pgx.CollectRows(rows, pgx.RowToStructByName[Account])
		return err
	})
	return found, err
}

const addPerson = `
	INSERT INTO person (farm_id, person_id, name, login, role, password_hash)
	VALUES (@farm, @person, @name, @login, @role, @hash)`

// CreatePerson adds somebody to an account; Conflict when the login name is taken there.
func (s *Store) CreatePerson(
	ctx context.Context,
	farm string,
	p wire.Person,
	hash string,
	by Actor,
) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		if err := insertPerson(ctx, tx, farm, p, hash); err != nil {
			return err
		}
		return audit(ctx, tx, farm, by, "person_added", p.ID)
	})
}

func insertPerson(ctx context.Context, tx pgx.Tx, farm string, p wire.Person, hash string) error {
	_, err := tx.Exec(ctx, addPerson, pgx.NamedArgs{"farm": farm, "person": p.ID,
		"name": p.Name, "login": p.Login, "role": p.Role, "hash": hash})
	return loginTaken(err, "adding a person")
}

// loginTaken names the one fault of a person that the database finds; nil stays nil.
func loginTaken(err error, doing string) error {
	var pg *pgconn.PgError
	if errors.As(err, &pg) && pg.ConstraintName == "person_login_once" {
		return &fault.Error{Kind: fault.Conflict, Code: "taken", Field: "login",
			Message: "is taken in this account; choose another"}
	}
	if err != nil {
		return fmt.Errorf("%s: %w", doing, err)
	}
	return nil
}

// Actor is who does something, for the audit.
type Actor struct {
	Person string
	Device string
}

const addAudit = `
	INSERT INTO audit (farm_id, person_id, device_id, action, subject)
	VALUES (@farm, nullif(@person, '')::uuid, nullif(@device, '')::uuid, @action, @subject)`

func audit(ctx context.Context, tx pgx.Tx, farm string, by Actor, action, subject string) error {
	_, err := tx.Exec(ctx, addAudit, pgx.NamedArgs{"farm": farm, "person": by.Person,
		"device": by.Device, "action": action, "subject": subject})
	if err != nil {
		return fmt.Errorf("writing the audit: %w", err)
	}
	return nil
}

// Note writes one line of the audit.
func (s *Store) Note(ctx context.Context, farm string, by Actor, action, subject string) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		return audit(ctx, tx, farm, by, action, subject)
	})
}

const (
	addFarm     = `INSERT INTO farm (farm_id, demo) VALUES (@farm, @demo)`
	addFarmHead = `INSERT INTO farm_head (farm_id) VALUES (@farm)`
	useLink     = `
		UPDATE access_link SET used_at = now()
		WHERE farm_id = @farm AND token_hash = @hash AND used_at IS NULL AND expires_at > now()
		RETURNING coalesce(person_id::text, '')`
)

// CreateFarm makes an account with its first person. When link is not empty, it is a one-time
// link's hash and is used up in the same transaction; NotFound when it is used, expired or unknown.
func (s *Store) CreateFarm(
	ctx context.Context,
	farm string,
	demo bool,
	owner wire.Person,
	hash string,
	link []byte,
) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		if link != nil {
			if _, err := takeLink(ctx, tx, farm, link); err != nil {
				return err
			}
		}
		if _, err := tx.Exec(ctx, addFarm, pgx.NamedArgs{"farm": farm, "demo": demo}); err != nil {
			return fmt.Errorf("making the account: %w", err)
		}
		if _, err := tx.Exec(ctx, addFarmHead, pgx.NamedArgs{"farm": farm}); err != nil {
			return fmt.Errorf("making the account's feed: %w", err)
		}
		if err := insertPerson(ctx, tx, farm, owner, hash); err != nil {
			return err
		}
		return audit(ctx, tx, farm, Actor{Person: owner.ID}, "account_made", farm)
	})
}

func takeLink(ctx context.Context, tx pgx.Tx, farm string, link []byte) (person string, err error) {
	err = tx.QueryRow(ctx, useLink, pgx.NamedArgs{"farm": farm, "hash": link}).Scan(&person)
	if errors.Is(err, pgx.ErrNoRows) {
		return "", fault.New(
			fault.NotFound,
			"link",
			"this one-time link was used or has expired; start the server again, or run reset-access, for a new one",
		)
	}
	if err != nil {
		return "", fmt.Errorf("taking a one-time link: %w", err)
	}
	return person, nil
}

const (
	setPassword = `UPDATE person SET password_hash = @hash WHERE farm_id = @farm AND person_id = @person`
	endAll      = `
		UPDATE session s SET ended_at = now(), ended_why = @why
		FROM device d
		WHERE s.farm_id = @farm AND s.ended_at IS NULL AND d.farm_id = s.farm_id
			AND d.device_id = s.device_id AND d.person_id = @person`
)

// ResetPassword uses up a one-time link, sets a new password and ends the person's sessions.
func (s *Store) ResetPassword(
	ctx context.Context,
	farm string,
	link []byte,
	hash string,
) (wire.Person, error) {
	var who wire.Person
	err := s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		person, err := takeLink(ctx, tx, farm, link)
		if err != nil {
			return err
		}
		named := pgx.NamedArgs{"farm": farm, "person": person, "hash": hash}
		if _, err := tx.Exec(ctx, setPassword, named); err != nil {
			return fmt.Errorf("setting a password: %w", err)
		}
		ended := pgx.NamedArgs{"farm": farm, "person": person, "why": "password"}
		if _, err := tx.Exec(ctx, endAll, ended); err != nil {
			return fmt.Errorf("ending sessions: %w", err)
		}
		if who, err = findPerson(ctx, tx, farm, person); err != nil {
			return err
		}
		return audit(ctx, tx, farm, Actor{Person: person}, "password_reset", person)
	})
	return who, err
}

const onePerson = `
	SELECT person_id::text AS id, name, coalesce(login, '') AS login, role, archived
	FROM person WHERE farm_id = @farm AND person_id = @person`

func findPerson(ctx context.Context, tx pgx.Tx, farm, person string) (wire.Person, error) {
	rows, err := tx.Query(ctx, onePerson, pgx.NamedArgs{"farm": farm, "person": person})
	if err != nil {
		return wire.Person{}, fmt.Errorf("reading a person: %w", err)
	}
	found, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[wire.Person])
	if errors.Is(err, pgx.ErrNoRows) {
		return found, fault.New(fault.NotFound, "person", "there is no such person in this account")
	}
	return found, err
}

const (
	countFailures = `
		SELECT failures, extract(epoch FROM now() - last_at)::bigint FROM sign_in_failure WHERE login_hash = @hash`
	addFailure = `
		INSERT INTO sign_in_failure (login_hash, failures) VALUES (@hash, 1)
		ON CONFLICT (login_hash) DO UPDATE SET failures = sign_in_failure.failures + 1, last_at = now()`
	clearFailures = `DELETE FROM sign_in_failure WHERE login_hash = @hash`
)

// Failures gives how many sign-ins failed in a row under a login name, and how long ago the last.
func (s *Store) Failures(
	ctx context.Context,
	loginHash []byte,
) (count int, ago time.Duration, err error) {
	var seconds int64
	err = s.inFarm(ctx, "", reading, func(tx pgx.Tx) error {
		return tx.QueryRow(ctx, countFailures, pgx.NamedArgs{"hash": loginHash}).
			Scan(&count, &seconds)
	})
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, 0, nil
	}
	return count, time.Duration(seconds) * time.Second, err
}

// NoteSignIn counts a failed sign-in, or forgets the earlier ones after a good one.
func (s *Store) NoteSignIn(ctx context.Context, loginHash []byte, good bool) error {
	query := addFailure
	if good {
		query = clearFailures
	}
	return s.inFarm(ctx, "", writing, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, query, pgx.NamedArgs{"hash": loginHash})
		return err
	})
}
