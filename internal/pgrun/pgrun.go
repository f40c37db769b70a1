// Package pgrun finds PostgreSQL and runs a private cluster of it: one folder, one unix socket,
// no TCP port, stopped with the program that started it. Access is by file permission: the
// cluster and its socket lie in folders that only the database's user can enter.
package pgrun

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"hilum/internal/fault"
)

// Options says where the cluster lies and how it is run.
type Options struct {
	DataDir  string    // holds pg<major>, sock and lock; made if missing
	BinDir   string    // folder of postgres and initdb; empty means search
	Log      io.Writer // PostgreSQL's own log; nil discards it
	Volatile bool      // no fsync: for tests only, a power cut loses everything

	noDeathSignal bool // leaves an orphan when the parent dies, as on systems without the signal
}

// Server is a running cluster.
type Server struct {
	options Options
	layout  layout
	owner   owner
	lock    *os.File
	process *process
	done    chan error
}

// Start makes the cluster if there is none, starts it and blocks until a query is answered.
//
// It returns Conflict when another program holds the data folder, Invalid when a setting or the
// folder cannot be used, and Unavailable when there is no PostgreSQL or it does not come up.
func Start(ctx context.Context, o Options) (*Server, error) {
	if o.Log == nil {
		o.Log = io.Discard
	}
	folder, err := filepath.Abs(o.DataDir)
	if err != nil {
		return nil, fmt.Errorf("resolving the data folder: %w", err)
	}
	binary, err := findBinary(o.BinDir, newestCluster(folder))
	if err != nil {
		return nil, err
	}
	o.DataDir, o.BinDir = folder, binary.dir
	s := &Server{options: o, done: make(chan error, 1)}
	if s.owner, err = ownerOf(clusterFolder(folder, binary.major)); err != nil {
		return nil, err
	}
	if s.layout, s.lock, err = prepare(folder, binary.major, s.owner); err != nil {
		return nil, err
	}
	if err := s.start(ctx); err != nil {
		s.release()
		return nil, err
	}
	go s.watch()
	return s, nil
}

// DSN is the keyword connection string of one database of the cluster, as user "app", who is
// the cluster's superuser.
func (s *Server) DSN(database string) string {
	return fmt.Sprintf("host='%s' port=%d user=app dbname=%s sslmode=disable",
		s.layout.socket, port, database)
}

// PID is the process id of the postmaster.
func (s *Server) PID() int { return s.process.pid() }

// Major is the major version of the running PostgreSQL.
func (s *Server) Major() int { return s.layout.major }

// Done delivers one value when the cluster has ended: nil after Stop, otherwise the reason.
func (s *Server) Done() <-chan error { return s.done }

// Stop ends the cluster: at once for its clients, cleanly for its data. After the timeout it is
// cut off, which is safe (the next start recovers) but reported as Unavailable.
func (s *Server) Stop(timeout time.Duration) error {
	defer s.release()
	// SIGINT is the fast shutdown; SIGTERM would wait for every client to leave by itself.
	s.process.stop(syscall.SIGINT)
	select {
	case <-s.process.exited:
		return nil
	case <-time.After(timeout):
	}
	s.process.stop(syscall.SIGQUIT)
	<-s.process.exited
	return fault.New(fault.Unavailable, "database.stop",
		"PostgreSQL did not stop within %s and was cut off; it recovers at the next start", timeout)
}

// EnsureDatabase creates the database if it is not there yet.
func (s *Server) EnsureDatabase(ctx context.Context, name string) error {
	conn, err := pgx.Connect(ctx, s.DSN("postgres"))
	if err != nil {
		return fmt.Errorf("connecting to make database %s: %w", name, err)
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, "CREATE DATABASE "+pgx.Identifier{name}.Sanitize())
	var refused *pgconn.PgError
	if errors.As(err, &refused) && refused.Code == duplicateDatabase {
		return nil
	}
	if err != nil {
		return fmt.Errorf("making database %s: %w", name, err)
	}
	return nil
}

// duplicateDatabase is the SQLSTATE of a database that exists already.
const duplicateDatabase = "42P04"

// port only names the socket file; nothing listens on it over the network.
const port = 5432

// watch hands the end of the postmaster on to Done.
func (s *Server) watch() {
	<-s.process.exited
	s.done <- s.process.reason()
	close(s.done)
}

// release lets go of everything but the data.
func (s *Server) release() {
	s.lock.Close()
	if s.layout.borrowed {
		os.RemoveAll(s.layout.socket)
	}
}

// ping reports whether the cluster answers a query.
func (s *Server) ping(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, pingLimit)
	defer cancel()
	conn, err := pgx.Connect(ctx, s.DSN("postgres"))
	if err != nil {
		return fmt.Errorf("connecting: %w", err)
	}
	defer conn.Close(ctx)
	if _, err := conn.Exec(ctx, "SELECT 1"); err != nil {
		return fmt.Errorf("asking: %w", err)
	}
	return nil
}

// arguments is the command line of the postmaster.
func (s *Server) arguments() []string {
	args := []string{"-D", s.layout.cluster, "-k", s.layout.socket, "-p", strconv.Itoa(port),
		"-c", "listen_addresses=", "-c", "unix_socket_permissions=0700"}
	if s.options.Volatile {
		args = append(args, "-c", "fsync=off", "-c", "synchronous_commit=off",
			"-c", "full_page_writes=off", "-c", "max_wal_size=4GB", "-c", "max_connections=300",
			"-c", "app.volatile=on") // tells the program that losing data is meant here
	}
	return args
}
