package pgrun

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"hilum/internal/fault"
)

func TestStartMakesAClusterOnlyTheOwnerReaches(t *testing.T) {
	s := started(t, Options{DataDir: folder(t), Volatile: true})
	if s.Major() < OldestMajor {
		t.Errorf("Major() = %d, want at least %d", s.Major(), OldestMajor)
	}
	for _, dir := range []string{s.layout.cluster, s.layout.socket} {
		info, err := os.Stat(dir)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != 0o700 {
			t.Errorf("%s has mode %o, want 700", dir, info.Mode().Perm())
		}
	}
	if base := filepath.Base(s.layout.cluster); base != fmt.Sprintf("pg%d", s.Major()) {
		t.Errorf("cluster folder %s, want pg%d", base, s.Major())
	}
}

func TestEnsureDatabaseTwiceIsFine(t *testing.T) {
	s := started(t, Options{DataDir: folder(t), Volatile: true})
	for range 2 {
		if err := s.EnsureDatabase(limit(t), "hilum"); err != nil {
			t.Fatalf("EnsureDatabase() = %v", err)
		}
	}
}

func TestASecondProgramIsToldWhoHoldsTheFolder(t *testing.T) {
	data := folder(t)
	started(t, Options{DataDir: data, Volatile: true})
	_, err := Start(limit(t), Options{DataDir: data, Volatile: true})
	expectFault(t, err, fault.Conflict, fmt.Sprint(os.Getpid()))
}

func TestStopGivesNoReasonAndFreesTheFolder(t *testing.T) {
	data := folder(t)
	s := started(t, Options{DataDir: data, Volatile: true})
	if err := s.Stop(30 * time.Second); err != nil {
		t.Fatalf("Stop() = %v", err)
	}
	if err := ended(s); err != nil {
		t.Errorf("Done() gave %v, want nil", err)
	}
	started(t, Options{DataDir: data, Volatile: true})
}

func TestALongFolderGetsAShortSocket(t *testing.T) {
	data := filepath.Join(folder(t), strings.Repeat("long", 30))
	s := started(t, Options{DataDir: data, Volatile: true})
	if !s.layout.borrowed {
		t.Fatalf("socket in %s, want a short folder", s.layout.socket)
	}
	if err := s.Stop(30 * time.Second); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(s.layout.socket); !os.IsNotExist(err) {
		t.Errorf("the short folder is still there: %v", err)
	}
}

func TestACancelledStartLeavesNothingRunning(t *testing.T) {
	data := folder(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Start(ctx, Options{DataDir: data, Volatile: true}); err == nil {
		t.Fatal("Start() succeeded with a cancelled context")
	}
	started(t, Options{DataDir: data, Volatile: true})
}

func TestAHalfMadeClusterIsMadeAnew(t *testing.T) {
	data := folder(t)
	b, err := findBinary("", 0)
	if err != nil {
		t.Fatal(err)
	}
	half := clusterFolder(data, b.major) + ".init"
	if err := os.MkdirAll(filepath.Join(half, "base"), 0o700); err != nil {
		t.Fatal(err)
	}
	started(t, Options{DataDir: data, Volatile: true})
}

func TestSettingsOfTheSurroundingsDoNotReachTheCluster(t *testing.T) {
	t.Setenv("PGPORT", "6543")
	t.Setenv("PGDATA", "/nowhere")
	started(t, Options{DataDir: folder(t), Volatile: true})
}

func TestAFolderBehindAClosedOneIsNamed(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Log("nothing to check: only root starts the database as another user")
		return
	}
	closed := filepath.Join(folder(t), "closed")
	if err := os.Mkdir(closed, 0o700); err != nil {
		t.Fatal(err)
	}
	_, err := Start(limit(t), Options{DataDir: filepath.Join(closed, "data")})
	expectFault(t, err, fault.Invalid, closed)
}

func expectFault(t *testing.T, err error, kind fault.Kind, words ...string) {
	t.Helper()
	if err == nil || fault.KindOf(err) != kind {
		t.Fatalf("got %v (kind %d), want kind %d", err, fault.KindOf(err), kind)
	}
	for _, word := range words {
		if !strings.Contains(err.Error(), word) {
			t.Errorf("%q does not say %q", err, word)
		}
	}
}

// unrelated starts a process of the database's user that has nothing to do with the database.
func unrelated(t *testing.T, who owner) int {
	t.Helper()
	cmd := exec.Command("sleep", "300")
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: who}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	return cmd.Process.Pid
}

// writePID forges the pid file that a reused process number makes dangerous.
func writePID(t *testing.T, cluster string, pid int, who owner) {
	t.Helper()
	file := filepath.Join(cluster, "postmaster.pid")
	text := fmt.Sprintf("%d\n%s\n0\n5432\n\n\n", pid, cluster)
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if who != nil {
		if err := os.Chown(file, int(who.Uid), int(who.Gid)); err != nil {
			t.Fatal(err)
		}
	}
}
