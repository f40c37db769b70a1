package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"hilum/internal/fault"
)

// Admin is a connection with the login of DATABASE_URL itself: migrations, keys and one-time
// links. It never serves a request.
type Admin struct {
	conn *pgx.Conn
}

// OpenAdmin connects as the login of the connection string.
func OpenAdmin(ctx context.Context, dsn string) (*Admin, error) {
	conn, err := pgx.Connect(ctx, dsn)
	if err != nil {
		return nil, plain(fmt.Errorf("opening the database: %w", err))
	}
	return &Admin{conn: conn}, nil
}

// Close ends the connection.
func (a *Admin) Close(ctx context.Context) { _ = a.conn.Close(ctx) }

const (
	addKey  = `INSERT INTO server_key (name, value) VALUES (@name, @value) ON CONFLICT (name) DO NOTHING`
	findKey = `SELECT value FROM server_key WHERE name = @name`
)

// Key gives the server's key of this name, made from fresh if there is none yet.
func (a *Admin) Key(ctx context.Context, name string, fresh []byte) ([]byte, error) {
	if _, err := a.conn.Exec(ctx, addKey, pgx.NamedArgs{"name": name, "value": fresh}); err != nil {
		return nil, fmt.Errorf("making a server key: %w", err)
	}
	var key []byte
	if err := a.conn.QueryRow(ctx, findKey, pgx.NamedArgs{"name": name}).Scan(&key); err != nil {
		return nil, fmt.Errorf("reading a server key: %w", err)
	}
	return key, nil
}

// Farm is an account as the command line sees it.
type Farm struct {
	ID   string
	Name string
	Demo bool
}

const listFarms = `
	SELECT f.farm_id::text AS id, f.demo,
		coalesce((SELECT r.body ->> 'name' FROM record r
			WHERE r.farm_id = f.farm_id AND r.kind = 'settings' LIMIT 1), '') AS name
	FROM farm f ORDER BY f.created_at, f.farm_id`

// Farms lists all accounts, oldest first.
func (a *Admin) Farms(ctx context.Context) ([]Farm, error) {
	rows, err := a.conn.Query(ctx, listFarms)
	if err != nil {
		return nil, fmt.Errorf("listing accounts: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowToStructByName[Farm])
}

const (
	dropUnusedLinks = `
		DELETE FROM access_link
		WHERE used_at IS NULL AND person_id IS NOT DISTINCT FROM nullif(@person, '')::uuid`
	addLink = `
		INSERT INTO access_link (farm_id, token_hash, person_id, expires_at)
		VALUES (@farm, @hash, nullif(@person, '')::uuid, @expires)`
	findLogin = `
		SELECT farm_id::text, person_id::text FROM person
		WHERE login = @login AND NOT archived AND (@farm = '' OR farm_id::text = @farm)
		ORDER BY created_at, farm_id`
)

// AddLink stores a one-time link's hash; earlier unused ones of the same purpose end. person is
// empty for the link that makes the first owner.
func (a *Admin) AddLink(
	ctx context.Context,
	farm, person string,
	hash []byte,
	expires time.Time,
) error {
	return pgx.BeginFunc(ctx, a.conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, dropUnusedLinks, pgx.NamedArgs{"person": person}); err != nil {
			return fmt.Errorf("ending earlier links: %w", err)
		}
		_, err := tx.Exec(
			ctx,
			addLink,
			pgx.NamedArgs{"farm": farm, "hash": hash, "person": person, "expires": expires},
		)
		if err != nil {
			return fmt.Errorf("storing a link: %w", err)
		}
		return nil
	})
}

// FindLogin gives account and person of a login name; farm may be empty. NotFound if there is none.
func (a *Admin) FindLogin(
	ctx context.Context,
	login, farm string,
) (foundFarm, person string, err error) {
	err = a.conn.QueryRow(ctx, findLogin, pgx.NamedArgs{"login": login, "farm": farm}).
		Scan(&foundFarm, &person)
	if errors.Is(err, pgx.ErrNoRows) {
		return "", "", fault.New(fault.NotFound, "login", "nobody here signs in as %q", login)
	}
	return foundFarm, person, err
}

// dropFarm removes an account from every table, children first.
var dropFarm = []string{
	dropResults,
	dropJudgements,
	dropQuarantine,
	dropConflicts,
	dropPhotos,
	dropValues,
	dropClones,
	dropRepeats,
	dropMutations,
	dropRecords,
	dropLinks,
	dropAccount,
}

const (
	dropResults    = `DELETE FROM result WHERE farm_id = @farm`
	dropQuarantine = `DELETE FROM quarantine WHERE farm_id = @farm`
	dropJudgements = `DELETE FROM judgement WHERE farm_id = @farm`
	dropRepeats    = `DELETE FROM repeat WHERE farm_id = @farm`
	dropPhotos     = `DELETE FROM photo WHERE farm_id = @farm`
	dropConflicts  = `DELETE FROM conflict WHERE farm_id = @farm`
	dropValues     = `DELETE FROM field_value WHERE farm_id = @farm`
	dropClones     = `DELETE FROM clone WHERE farm_id = @farm`
	dropMutations  = `DELETE FROM mutation WHERE farm_id = @farm`
	dropRecords    = `DELETE FROM record WHERE farm_id = @farm`
	dropLinks      = `DELETE FROM access_link WHERE farm_id = @farm`
	dropAccount    = `DELETE FROM farm WHERE farm_id = @farm AND demo`
)

const (
	dropOldSessions = `DELETE FROM session WHERE least(ended_at, idle_until, ends_at) < now() - interval '30 days'`
	dropOldTokens   = `DELETE FROM session_token WHERE created_at < now() - interval '30 days'`
	dropOldLinks    = `DELETE FROM access_link WHERE expires_at < now() - interval '30 days'`
	dropOldFailures = `DELETE FROM sign_in_failure WHERE last_at < now() - interval '1 day'`
)

// Sweep removes what has ended by itself: sessions, one-time links, counts of failed sign-ins.
func (a *Admin) Sweep(ctx context.Context) error {
	for _, query := range []string{dropOldSessions, dropOldTokens, dropOldLinks, dropOldFailures} {
		if _, err := a.conn.Exec(ctx, query); err != nil {
			return fmt.Errorf("sweeping: %w", err)
		}
	}
	return nil
}

// DropDemo removes a demo account whole; Conflict when the account is not a demo.
func (a *Admin) DropDemo(ctx context.Context, farm string) error {
	return pgx.BeginFunc(ctx, a.conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, setFarm, pgx.NamedArgs{"farm": farm}); err != nil {
			return fmt.Errorf("naming the account: %w", err)
		}
		for _, query := range dropFarm {
			tag, err := tx.Exec(ctx, query, pgx.NamedArgs{"farm": farm})
			if err != nil {
				return fmt.Errorf("dropping the demo account: %w", err)
			}
			if query == dropAccount && tag.RowsAffected() == 0 {
				return fault.New(
					fault.Conflict,
					"demo",
					"this account is not a demo and is left alone",
				)
			}
		}
		return nil
	})
}
