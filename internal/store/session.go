package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hilum/internal/auth"
	"hilum/internal/fault"
)

// Opening is a session to be opened: who, on which device, and the key that the device made.
type Opening struct {
	Farm, Person, Device string
	DeviceName           string
	Key                  []byte // nil: the session cannot be renewed
	Token                []byte // hash of the first refresh token
	At                   time.Time
}

const (
	endOnDevice = `
		UPDATE session SET ended_at = @at, ended_why = @why
		WHERE farm_id = @farm AND device_id = @device AND ended_at IS NULL`
	addSession = `
		INSERT INTO session (farm_id, session_id, device_id, public_key, created_at, used_at, idle_until, ends_at)
		VALUES (@farm, @session, @device, @key, @at, @at, @idle, @ends)`
	addToken = `
		INSERT INTO session_token (farm_id, token_hash, session_id, generation, created_at)
		VALUES (@farm, @hash, @session, @generation, @at)`
)

// OpenSession gives a device to a person and opens the one session that the device has; an earlier
// one ends.
func (s *Store) OpenSession(ctx context.Context, o Opening) (seat Seat, err error) {
	err = s.inFarm(ctx, o.Farm, writing, func(tx pgx.Tx) error {
		seat, err = openSession(ctx, tx, o)
		return err
	})
	return seat, err
}

func openSession(ctx context.Context, tx pgx.Tx, o Opening) (seat Seat, err error) {
	if seat.LastN, err = takeDevice(ctx, tx, o.Farm, o.Person, o.Device, o.DeviceName); err != nil {
		return seat, err
	}
	if seat.Person, err = findPerson(ctx, tx, o.Farm, o.Person); err != nil {
		return seat, err
	}
	id, err := uuid.NewRandom()
	if err != nil {
		return seat, fmt.Errorf("drawing an id: %w", err)
	}
	life := auth.LifeOf(seat.Person.Role)
	seat.Session, seat.Device, seat.Until = id.String(), o.Device, o.At.Add(life.Whole)
	named := pgx.NamedArgs{"farm": o.Farm, "device": o.Device, "session": seat.Session,
		"key": o.Key, "at": o.At, "idle": o.At.Add(life.Idle), "ends": seat.Until,
		"hash": o.Token, "generation": 1, "why": "signed in again"}
	for _, query := range []string{endOnDevice, addSession, addToken} {
		if _, err := tx.Exec(ctx, query, named); err != nil {
			return seat, fmt.Errorf("opening a session: %w", err)
		}
	}
	if seat.Account, err = accountName(ctx, tx, o.Farm); err != nil {
		return seat, err
	}
	return seat, audit(ctx, tx, o.Farm, Actor{Person: o.Person, Device: o.Device}, "signed_in", o.Device)
}

// Renewal is a refresh token shown to renew a session.
type Renewal struct {
	Farm   string
	Device string // that the phone is now
	Former string // that it was, when it has just become another
	Shown  []byte // hash of the token shown
	Next   []byte // hash of the token that may follow it
	At     time.Time
	Proves func(key []byte) bool
}

type session struct {
	ID         string
	Device     string
	Person     string
	Key        []byte
	Arrived    int64
	Generation int64
	Made       time.Time
	Idle       time.Time
	Ends       time.Time
	Ended      bool
	ShutOut    bool
	Drain      *time.Time
}

const (
	findSession = `
		SELECT s.session_id::text AS id, s.device_id::text AS device, d.person_id::text AS person,
			s.public_key AS key, s.generation AS arrived, t.generation, t.created_at AS made,
			s.idle_until AS idle, s.ends_at AS ends, s.ended_at IS NOT NULL AS ended,
			d.revoked_at IS NOT NULL OR p.archived AS shut_out, d.drain_until AS drain
		FROM session_token t
		JOIN session s ON s.farm_id = t.farm_id AND s.session_id = t.session_id
		JOIN device d ON d.farm_id = s.farm_id AND d.device_id = s.device_id
		JOIN person p ON p.farm_id = d.farm_id AND p.person_id = d.person_id
		WHERE t.farm_id = @farm AND t.token_hash = @shown
		FOR UPDATE OF s`
	renewSession = `
		UPDATE session SET generation = greatest(generation, @arrived), used_at = @at, idle_until = @idle
		WHERE farm_id = @farm AND session_id = @session`
	endSession = `
		UPDATE session SET ended_at = @at, ended_why = @why
		WHERE farm_id = @farm AND session_id = @session AND ended_at IS NULL`
)

// Renewed is the outcome of a refresh.
type Renewed struct {
	Verdict auth.Verdict
	Seat    Seat      // for Renew and Keep; its names also for HandIn
	Drain   time.Time // for HandIn: until when
}

// Renew judges a refresh token and does what follows. A refused token is a verdict, no error, so
// that what it tells (a stolen session ends) is kept.
func (s *Store) Renew(ctx context.Context, r Renewal) (out Renewed, err error) {
	err = s.inFarm(ctx, r.Farm, writing, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, findSession, pgx.NamedArgs{"farm": r.Farm, "shown": r.Shown})
		if err != nil {
			return fmt.Errorf("finding a session: %w", err)
		}
		found, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[session])
		if errors.Is(err, pgx.ErrNoRows) {
			return nil // out refuses
		}
		if err != nil {
			return fmt.Errorf("finding a session: %w", err)
		}
		out.Verdict = auth.Judge(found.shown(r))
		return out.follow(ctx, tx, r, found)
	})
	return out, err
}

func (s session) shown(r Renewal) auth.Shown {
	here, age := s.Device == r.Device || s.Device == r.Former, r.At.Sub(s.Made)
	if s.Device != r.Device {
		age = r.At.Sub(time.Time{}) // its cookie carries the device's name, so it needs a new one
	}
	return auth.Shown{
		Generation: s.Generation, Arrived: s.Arrived, Age: age,
		Proved:  here && r.Proves(s.Key),
		Ended:   s.Ended || r.At.After(s.Idle) || r.At.After(s.Ends),
		ShutOut: s.ShutOut,
	}
}

// follow carries a verdict out.
func (out *Renewed) follow(ctx context.Context, tx pgx.Tx, r Renewal, found session) (err error) {
	actor := Actor{Person: found.Person, Device: found.Device}
	out.Seat.Session, out.Seat.Device = found.ID, found.Device
	out.Seat.Until = found.Ends
	if out.Seat.Person, err = findPerson(ctx, tx, r.Farm, found.Person); err != nil {
		return err
	}
	switch out.Verdict {
	case auth.Refuse:
		return nil
	case auth.HandIn:
		if found.Drain != nil {
			out.Drain = *found.Drain
		}
		return nil
	case auth.Reused:
		named := pgx.NamedArgs{"farm": r.Farm, "session": found.ID, "at": r.At, "why": "reused"}
		if _, err := tx.Exec(ctx, endSession, named); err != nil {
			return fmt.Errorf("ending a session: %w", err)
		}
		return audit(ctx, tx, r.Farm, actor, "authn_token_reuse", found.Device)
	}
	return out.renew(ctx, tx, r, found)
}

func (out *Renewed) renew(ctx context.Context, tx pgx.Tx, r Renewal, found session) (err error) {
	life := auth.LifeOf(out.Seat.Person.Role)
	named := pgx.NamedArgs{"farm": r.Farm, "session": found.ID, "at": r.At, "hash": r.Next,
		"arrived": found.Generation, "generation": found.Generation + 1, "idle": r.At.Add(life.Idle)}
	queries := []string{renewSession, addToken}
	if out.Verdict == auth.Keep {
		named["arrived"], queries = found.Arrived, queries[:1]
	}
	for _, query := range queries {
		if _, err := tx.Exec(ctx, query, named); err != nil {
			return fmt.Errorf("renewing a session: %w", err)
		}
	}
	if out.Seat.LastN, err = out.Seat.move(ctx, tx, r); err != nil {
		return err
	}
	out.Seat.Account, err = accountName(ctx, tx, r.Farm)
	return err
}

const (
	deviceState = `SELECT last_n, name FROM device WHERE farm_id = @farm AND device_id = @device`
	moveSession = `
		UPDATE session SET device_id = @device WHERE farm_id = @farm AND session_id = @session`
)

// move takes a session along when its phone has become another device (after a copied number, or a
// gap that the phone cannot fill), so that nobody has to sign in for it.
func (seat *Seat) move(ctx context.Context, tx pgx.Tx, r Renewal) (lastN int64, err error) {
	name := ""
	named := pgx.NamedArgs{"farm": r.Farm, "device": seat.Device, "session": seat.Session}
	if err = tx.QueryRow(ctx, deviceState, named).Scan(&lastN, &name); err != nil {
		return 0, fmt.Errorf("reading a device: %w", err)
	}
	if seat.Device == r.Device {
		return lastN, nil
	}
	if lastN, err = takeDevice(ctx, tx, r.Farm, seat.Person.ID, r.Device, name); err != nil {
		return 0, err
	}
	seat.Device, named["device"] = r.Device, r.Device
	if _, err = tx.Exec(ctx, moveSession, named); err != nil {
		return 0, fmt.Errorf("moving a session: %w", err)
	}
	return lastN, audit(ctx, tx, r.Farm, Actor{Person: seat.Person.ID, Device: r.Device},
		"device_changed", r.Device)
}

const findOwnToken = `
	SELECT s.session_id::text FROM session_token t
	JOIN session s ON s.farm_id = t.farm_id AND s.session_id = t.session_id
	WHERE t.farm_id = @farm AND t.token_hash = @hash`

// SignOut ends the session of a refresh token; a token that is none ends nothing.
func (s *Store) SignOut(ctx context.Context, farm string, token []byte, at time.Time) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		var id string
		err := tx.QueryRow(ctx, findOwnToken, pgx.NamedArgs{"farm": farm, "hash": token}).Scan(&id)
		if errors.Is(err, pgx.ErrNoRows) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("finding a session: %w", err)
		}
		named := pgx.NamedArgs{"farm": farm, "session": id, "at": at, "why": "signed out"}
		_, err = tx.Exec(ctx, endSession, named)
		return err
	})
}

const (
	shutOut = `
		UPDATE device SET revoked_at = @at, drain_until = @drain
		WHERE farm_id = @farm AND device_id = @device AND revoked_at IS NULL`
	deviceOwner = `SELECT person_id::text FROM device WHERE farm_id = @farm AND device_id = @device`
)

// Revoke shuts a device out, from its next request on. What it holds may be handed in until drain.
func (s *Store) Revoke(ctx context.Context, farm, device string, at time.Time, by Actor) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		var person string
		named := pgx.NamedArgs{"farm": farm, "device": device, "at": at,
			"drain": at.Add(auth.HandInLife), "why": "revoked"}
		err := tx.QueryRow(ctx, deviceOwner, named).Scan(&person)
		if errors.Is(err, pgx.ErrNoRows) {
			return fault.New(fault.NotFound, "device", "there is no such device in this account")
		}
		if err != nil {
			return fmt.Errorf("finding a device: %w", err)
		}
		for _, query := range []string{shutOut, endOnDevice} {
			if _, err := tx.Exec(ctx, query, named); err != nil {
				return fmt.Errorf("shutting a device out: %w", err)
			}
		}
		return audit(ctx, tx, farm, by, "device_revoked", device)
	})
}

// EndDevice ends the session that a device has; the device may sign in again.
func (s *Store) EndDevice(ctx context.Context, farm, device string, at time.Time, by Actor) error {
	return s.inFarm(ctx, farm, writing, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "device": device, "at": at, "why": "ended by its person"}
		if _, err := tx.Exec(ctx, endOnDevice, named); err != nil {
			return fmt.Errorf("ending a session: %w", err)
		}
		return audit(ctx, tx, farm, by, "session_ended", device)
	})
}

const isShutOut = `
	SELECT EXISTS (SELECT FROM device
		WHERE farm_id = @farm AND device_id = @device AND person_id = @person
			AND revoked_at IS NOT NULL AND drain_until > @at)`

// ShutOut says whether a device has no access any more but may still hand in.
func (s *Store) ShutOut(ctx context.Context, farm, person, device string, at time.Time) (shut bool, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		named := pgx.NamedArgs{"farm": farm, "person": person, "device": device, "at": at}
		return tx.QueryRow(ctx, isShutOut, named).Scan(&shut)
	})
	return shut, err
}
