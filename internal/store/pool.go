// Package store holds every SQL statement of the program. Each transaction belongs to one account
// and says so to the database, whose row-level security is the second wall.
package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"hilum/internal/fault"
)

// appRole is the role that every pooled connection takes: it owns nothing and cannot pass
// row-level security, unlike the login of the connection string.
const appRole = "hilum_app"

// Store runs transactions on a pool.
type Store struct {
	pool *pgxpool.Pool
}

// Open connects, takes the program's role on every connection and refuses to go on when the walls
// between accounts are not in force. Migrate must have run before.
func Open(ctx context.Context, dsn string) (*Store, error) {
	config, err := pgxpool.ParseConfig(dsn)
	if err != nil {
		return nil, fault.New(
			fault.Invalid,
			"dsn",
			"DATABASE_URL is not a PostgreSQL connection string",
		)
	}
	config.AfterConnect = func(ctx context.Context, conn *pgx.Conn) error {
		_, err := conn.Exec(ctx, setRole)
		return err
	}
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("opening the database: %w", err)
	}
	s := &Store{pool: pool}
	if err := s.checkWalls(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	return s, nil
}

const setRole = `SET ROLE ` + appRole

// Close ends all connections.
func (s *Store) Close() { s.pool.Close() }

// Ping says whether the database answers and holds the schema that this program needs.
func (s *Store) Ping(ctx context.Context) error {
	var n int
	return s.pool.QueryRow(ctx, pingFeed).Scan(&n)
}

const pingFeed = `SELECT count(*) FROM record WHERE false`

const (
	setFarm  = `SELECT set_config('app.farm_id', @farm, true)`
	setLogin = `SELECT set_config('app.login', @login, true)`
	// A stuck writer must not stop its account for longer than this. It goes with the BEGIN, which
	// saves each transaction a round trip.
	setLimits = `; SET LOCAL lock_timeout = '5s'; SET LOCAL statement_timeout = '20s';
		SET LOCAL idle_in_transaction_session_timeout = '10s'`
)

var (
	writing = pgx.TxOptions{BeginQuery: `BEGIN ISOLATION LEVEL READ COMMITTED` + setLimits}
	reading = pgx.TxOptions{BeginQuery: `BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY` + setLimits}
)

// inFarm runs use in one transaction of one account. An error of use, or of the commit, leaves
// nothing stored. farm may be empty for the few steps that come before an account is known.
func (s *Store) inFarm(
	ctx context.Context,
	farm string,
	options pgx.TxOptions,
	use func(pgx.Tx) error,
) error {
	return plain(pgx.BeginTxFunc(ctx, s.pool, options, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, setFarm, pgx.NamedArgs{"farm": farm}); err != nil {
			return fmt.Errorf("naming the account: %w", err)
		}
		return use(tx)
	}))
}

// plain turns the database's passing faults into Unavailable; the rest stays for the log.
func plain(err error) error {
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		switch pg.Code {
		case "55P03", "57014", "40001", "40P01", "57P01", "57P03", "53300", "53100":
			return &fault.Error{Kind: fault.Unavailable, Code: "busy",
				Message: "the database is busy; nothing was stored, try again", Err: err}
		}
	}
	var connect *pgconn.ConnectError
	if errors.As(err, &connect) || errors.Is(err, context.DeadlineExceeded) {
		return &fault.Error{Kind: fault.Unavailable, Code: "database",
			Message: "the database does not answer; nothing was stored, try again", Err: err}
	}
	return err
}

// wait is how long a start may wait for the database.
const wait = 30 * time.Second

const findWalls = `
	SELECT 'role ' || r.rolname || ' is a superuser or passes row security' AS fault
	FROM pg_roles r
	WHERE r.rolname = current_user AND (r.rolsuper OR r.rolbypassrls)
	UNION ALL
	SELECT 'role ' || current_user || ' owns table ' || c.relname
	FROM pg_class c
	WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p', 'v', 'm')
		AND pg_get_userbyid(c.relowner) = current_user
	UNION ALL
	SELECT 'table ' || c.relname || ' has a farm_id but no forced row security with a policy'
	FROM pg_class c
	JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'farm_id' AND NOT a.attisdropped
	WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p')
		AND NOT (c.relrowsecurity AND c.relforcerowsecurity
			AND EXISTS (SELECT FROM pg_policy p
				WHERE p.polrelid = c.oid AND p.polname = c.relname || '_of_farm' AND p.polcmd = '*'))
	UNION ALL
	SELECT 'view ' || c.relname || ' runs with the rights of its owner'
	FROM pg_class c
	WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('v', 'm')
		AND NOT coalesce('security_invoker=true' = ANY (c.reloptions), false)
	UNION ALL
	SELECT 'setting ' || name || ' is off: a crash could lose what was acknowledged'
	FROM pg_settings
	WHERE name IN ('fsync', 'synchronous_commit', 'full_page_writes') AND setting = 'off'
		AND current_setting('app.volatile', true) IS DISTINCT FROM 'on'
	ORDER BY fault`

// checkWalls refuses a database in which one account could read another, or lose its word.
func (s *Store) checkWalls(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	faults, err := wallFaults(ctx, s.pool)
	if err != nil {
		return fmt.Errorf("checking the walls between accounts: %w", err)
	}
	if len(faults) > 0 {
		return fault.New(fault.Invalid, "walls", "refusing to serve: %v", faults)
	}
	return nil
}
