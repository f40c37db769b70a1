package pgrun

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// The kill tests need a program to kill: this test binary, started again with these set.
const (
	helperFolder = "PGRUN_HELPER_FOLDER"
	helperOrphan = "PGRUN_HELPER_ORPHAN"
)

func TestMain(m *testing.M) {
	if folder := os.Getenv(helperFolder); folder != "" {
		if err := helper(folder); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// helper starts a durable cluster, prints its process id and then the number of every row
// whose commit was acknowledged, until it is killed.
func helper(folder string) error {
	ctx := context.Background()
	s, err := Start(ctx, Options{DataDir: folder, noDeathSignal: os.Getenv(helperOrphan) != ""})
	if err != nil {
		return err
	}
	if err := s.EnsureDatabase(ctx, "hilum"); err != nil {
		return err
	}
	conn, err := pgx.Connect(ctx, s.DSN("hilum"))
	if err != nil {
		return err
	}
	if _, err := conn.Exec(ctx, "CREATE TABLE IF NOT EXISTS kept (n int PRIMARY KEY)"); err != nil {
		return err
	}
	fmt.Println(s.PID())
	for {
		var n int
		const insert = "INSERT INTO kept SELECT coalesce(max(n), 0) + 1 FROM kept RETURNING n"
		if err := conn.QueryRow(ctx, insert).Scan(&n); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

// victim is a running helper.
type victim struct {
	cmd        *exec.Cmd
	lines      *bufio.Scanner
	postmaster int
	last       int // the highest number it has printed, as far as it was read
}

func startVictim(t *testing.T, folder string, env ...string) *victim {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(append(os.Environ(), helperFolder+"="+folder), env...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	v := &victim{cmd: cmd, lines: bufio.NewScanner(out)}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	v.postmaster = v.next(t)
	v.last = 0
	return v
}

// next reads one number that the helper printed.
func (v *victim) next(t *testing.T) int {
	t.Helper()
	if !v.lines.Scan() {
		t.Fatalf("the helper ended early: %v", v.lines.Err())
	}
	n, err := strconv.Atoi(strings.TrimSpace(v.lines.Text()))
	if err != nil {
		t.Fatal(err)
	}
	v.last = n
	return n
}

// kill ends the helper with SIGKILL and gives the last number it printed.
func (v *victim) kill(t *testing.T) int {
	t.Helper()
	if err := v.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	// What it had printed and nobody read yet was acknowledged too. Lines are whole: a pipe
	// takes a write this short at once or not at all.
	for v.lines.Scan() {
		if n, err := strconv.Atoi(v.lines.Text()); err == nil {
			v.last = n
		}
	}
	_ = v.cmd.Wait()
	return v.last
}

// folder is an empty data folder that the database's user can reach; t.TempDir is closed to it.
func folder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "hilum-pgrun")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(dir); err != nil {
			t.Errorf("removing the data folder: %v", err)
		}
	})
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	return dir
}

// started is a cluster that is stopped at the end of the test.
func started(t *testing.T, o Options) *Server {
	t.Helper()
	s, err := Start(limit(t), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Stop(30 * time.Second); err != nil {
			t.Errorf("Stop() = %v", err)
		}
	})
	return s
}

func limit(t *testing.T) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// count asks how many rows there are and what the highest is.
func count(t *testing.T, s *Server) (rows, highest int) {
	t.Helper()
	ctx := limit(t)
	conn, err := pgx.Connect(ctx, s.DSN("hilum"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(ctx)
	const sums = "SELECT count(*), coalesce(max(n), 0) FROM kept"
	if err := conn.QueryRow(ctx, sums).Scan(&rows, &highest); err != nil {
		t.Fatal(err)
	}
	return rows, highest
}

// ended waits for the reason a cluster gives for its end.
func ended(s *Server) error {
	select {
	case err := <-s.Done():
		return err
	case <-time.After(30 * time.Second):
		return errors.New("nothing within 30 s")
	}
}
