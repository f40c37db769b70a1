package store

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/fault"
)

// Secrets are what a person signs in with.
type Secrets struct {
	Name, Login  string
	PasswordHash string
	Second       string // the second step's secret, "" without one
	On           bool   // it was confirmed and is asked for
	Step         int64  // the last step that was used
	Left         int    // recovery codes that are not used yet
}

const findSecrets = `
	SELECT name, coalesce(login, '') AS login, coalesce(password_hash, '') AS password_hash,
		coalesce(second_secret, '') AS second, second_since IS NOT NULL AS on, second_step AS step,
		(SELECT count(*) FROM recovery_code c
			WHERE c.farm_id = p.farm_id AND c.person_id = p.person_id AND c.used_at IS NULL)::int AS left
	FROM person p WHERE farm_id = @farm AND person_id = @person`

// SecretsOf gives what a person signs in with.
func (s *Store) SecretsOf(ctx context.Context, farm, person string) (found Secrets, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, findSecrets, pgx.NamedArgs{"farm": farm, "person": person})
		if err != nil {
			return fmt.Errorf("reading a person's secrets: %w", err)
		}
		found, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Secrets])
		return err
	})
	return found, err
}

const (
	startSecond = `
		UPDATE person SET second_secret = @secret, second_step = 0
		WHERE farm_id = @farm AND person_id = @person AND second_since IS NULL`
	confirmSecond = `
		UPDATE person SET second_since = @at, second_step = @step
		WHERE farm_id = @farm AND person_id = @person AND second_since IS NULL`
	endSecond = `
		UPDATE person SET second_secret = NULL, second_since = NULL, second_step = 0
		WHERE farm_id = @farm AND person_id = @person`
	useStep = `
		UPDATE person SET second_step = @step
		WHERE farm_id = @farm AND person_id = @person AND second_step < @step`
	dropRecovery = `DELETE FROM recovery_code WHERE farm_id = @farm AND person_id = @person`
	addRecovery  = `
		INSERT INTO recovery_code (farm_id, person_id, code_hash)
		SELECT @farm, @person, unnest(@hashes::bytea[])`
	useRecovery = `
		UPDATE recovery_code SET used_at = @at
		WHERE farm_id = @farm AND person_id = @person AND code_hash = @hash AND used_at IS NULL`
)

// StartSecond stores the secret of a second step that is not asked for yet. Conflict when one is.
func (s *Store) StartSecond(ctx context.Context, farm, person, secret string) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person, "secret": secret}
		return once(ctx, tx, startSecond, named)
	})
}

// once runs a statement that must find its row.
func once(ctx context.Context, tx pgx.Tx, query string, named pgx.NamedArgs) error {
	tag, err := tx.Exec(ctx, query, named)
	if err != nil {
		return fmt.Errorf("changing a second step: %w", err)
	}
	if tag.RowsAffected() == 0 {
		return fault.New(fault.Conflict, "second", "the second step is on already; end it first")
	}
	return nil
}

// ConfirmSecond switches the second step on, with its recovery codes.
func (s *Store) ConfirmSecond(
	ctx context.Context, farm, person string, step int64, hashes [][]byte, at time.Time, by Actor,
) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person, "step": step, "at": at, "hashes": hashes}
		if err := once(ctx, tx, confirmSecond, named); err != nil {
			return err
		}
		for _, query := range []string{dropRecovery, addRecovery} {
			if _, err := tx.Exec(ctx, query, named); err != nil {
				return fmt.Errorf("storing recovery codes: %w", err)
			}
		}
		return audit(ctx, tx, farm, by, "second_step_on", person)
	})
}

// EndSecond switches the second step off.
func (s *Store) EndSecond(ctx context.Context, farm, person string, by Actor) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person}
		for _, query := range []string{endSecond, dropRecovery} {
			if _, err := tx.Exec(ctx, query, named); err != nil {
				return fmt.Errorf("ending a second step: %w", err)
			}
		}
		return audit(ctx, tx, farm, by, "second_step_off", person)
	})
}

// UseStep marks a step's code as used; false when it, or a later one, was used before.
func (s *Store) UseStep(ctx context.Context, farm, person string, step int64) (fresh bool, err error) {
	return s.useUp(ctx, farm, useStep, pgx.NamedArgs{"farm": farm, "person": person, "step": step}, "")
}

// UseRecovery marks a recovery code as used; false when it is none or was used before.
func (s *Store) UseRecovery(
	ctx context.Context, farm, person string, hash []byte, at time.Time,
) (fresh bool, err error) {
	named := pgx.NamedArgs{"farm": farm, "person": person, "hash": hash, "at": at}
	return s.useUp(ctx, farm, useRecovery, named, "recovery_code_used")
}

func (s *Store) useUp(
	ctx context.Context, farm, query string, named pgx.NamedArgs, action string,
) (fresh bool, err error) {
	err = s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, query, named)
		if err != nil {
			return fmt.Errorf("using a code up: %w", err)
		}
		if fresh = tag.RowsAffected() == 1; !fresh || action == "" {
			return nil
		}
		person, _ := named["person"].(string)
		return audit(ctx, tx, farm, Actor{Person: person}, action, person)
	})
	return fresh, err
}

const endOthers = `
	UPDATE session s SET ended_at = now(), ended_why = 'password'
	FROM device d
	WHERE s.farm_id = @farm AND s.ended_at IS NULL AND s.session_id <> @session AND d.farm_id = s.farm_id
		AND d.device_id = s.device_id AND d.person_id = @person`

// SetPassword sets a new password and ends all sessions of the person but the one in use.
func (s *Store) SetPassword(ctx context.Context, farm, person, session, hash string, by Actor) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person, "session": session, "hash": hash}
		for _, query := range []string{setPassword, endOthers} {
			if _, err := tx.Exec(ctx, query, named); err != nil {
				return fmt.Errorf("setting a password: %w", err)
			}
		}
		return audit(ctx, tx, farm, by, "password_changed", person)
	})
}
