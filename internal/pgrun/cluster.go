package pgrun

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"hilum/internal/fault"
)

const (
	startLimit = 2 * time.Minute // crash recovery of a busy season included
	clearLimit = 30 * time.Second
	pingLimit  = 2 * time.Second
	pause      = 20 * time.Millisecond
)

// start makes the cluster if need be and brings it up.
func (s *Server) start(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	if err := s.initialize(ctx); err != nil {
		return err
	}
	for {
		if err := s.clearPrevious(ctx); err != nil {
			return err
		}
		err := s.launch(ctx)
		if err == nil || !s.leftovers() || ctx.Err() != nil {
			return err
		}
		// Workers of a killed postmaster take a moment to notice; then the way is free.
		wait(ctx, 10*pause)
	}
}

// initialize makes the cluster in a side folder and renames it, so that an initdb that was
// killed never leaves half a cluster behind.
func (s *Server) initialize(ctx context.Context) error {
	if _, err := os.Stat(filepath.Join(s.layout.cluster, "PG_VERSION")); err == nil {
		return nil
	}
	side := s.layout.cluster + ".init"
	if err := os.RemoveAll(side); err != nil {
		return fmt.Errorf("removing a half-made cluster: %w", err)
	}
	if err := os.Mkdir(side, 0o700); err != nil {
		return fmt.Errorf("making the cluster's folder: %w", err)
	}
	if err := give(side, s.owner); err != nil {
		return err
	}
	args := []string{"-D", side, "-U", "app", "--auth=trust", "--encoding=UTF8", "--no-locale",
		"--data-checksums", "--no-instructions"}
	if s.options.Volatile {
		args = append(args, "--no-sync")
	}
	cmd := s.command(ctx, "initdb", side, args...)
	if out, err := cmd.CombinedOutput(); err != nil {
		return s.trouble("making the cluster failed", string(out), err)
	}
	// Fails on a folder that holds anything, so files of unknown origin are never replaced.
	if err := os.Rename(side, s.layout.cluster); err != nil {
		return fmt.Errorf("putting the new cluster in place: %w", err)
	}
	return nil
}

// command prepares one of PostgreSQL's programs: as its user, in its folder, out of reach of a
// Ctrl-C that is meant for us, and with nothing of our environment but the search path.
func (s *Server) command(ctx context.Context, name, dir string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, filepath.Join(s.options.BinDir, name), args...)
	cmd.Dir = dir
	cmd.Env = []string{"LC_ALL=C", "TZ=UTC", "PATH=" + os.Getenv("PATH")}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Credential: s.owner}
	return cmd
}

// launch starts the postmaster and waits for its first answer.
func (s *Server) launch(ctx context.Context) error {
	// The postmaster outlives ctx: that one only limits the start.
	cmd := s.command(context.WithoutCancel(ctx), "postgres", s.layout.cluster, s.arguments()...)
	if !s.options.noDeathSignal {
		setDeathSignal(cmd.SysProcAttr)
	}
	var err error
	if s.process, err = run(cmd, s.options.Log); err != nil {
		return s.trouble("starting PostgreSQL failed", "", err)
	}
	for s.ping(ctx) != nil {
		select {
		case <-s.process.exited:
			return s.trouble("PostgreSQL ended while starting", s.process.tail.String(), nil)
		case <-ctx.Done():
			s.process.stop(syscall.SIGQUIT)
			<-s.process.exited
			said := s.process.tail.String()
			return s.trouble("PostgreSQL did not answer in time", said, ctx.Err())
		case <-time.After(pause):
		}
	}
	return nil
}

// leftovers reports whether the postmaster gave up because of what a killed one left behind.
func (s *Server) leftovers() bool {
	if s.process == nil {
		return false
	}
	said := s.process.tail.String()
	return strings.Contains(said, "pre-existing shared memory block") ||
		strings.Contains(said, "lock file")
}

// trouble is a fault that ends with PostgreSQL's own words.
func (s *Server) trouble(what, said string, err error) error {
	message := what + " (programs in " + s.options.BinDir + ", data in " + s.options.DataDir + ")"
	if said = strings.TrimSpace(said); said != "" {
		message += ": " + said
	} else if err != nil {
		message += ": " + err.Error()
	}
	return &fault.Error{Kind: fault.Unavailable, Code: "database.start", Message: message, Err: err}
}

// wait pauses, or returns early when ctx ends.
func wait(ctx context.Context, d time.Duration) {
	select {
	case <-ctx.Done():
	case <-time.After(d):
	}
}
