package pgrun

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"hilum/internal/fault"
)

// clearPrevious deals with what a killed predecessor left: a postmaster that still runs, one
// that is dead but not reaped, or a pid file whose number now belongs to somebody else. We hold
// the folder's lock, so no living program of ours owns what is found.
func (s *Server) clearPrevious(ctx context.Context) error {
	deadline := time.Now().Add(clearLimit)
	for asked := false; ; wait(ctx, pause) {
		pid := pidOf(s.layout.cluster)
		state, command := describe(pid)
		switch {
		case pid == 0 || state == "":
			return nil // PostgreSQL itself replaces the pid file of a dead process
		case state == "Z":
			// A zombie still answers signals, so PostgreSQL would refuse: wait for its reaping.
		case !strings.Contains(command, s.layout.cluster):
			return s.dropPID(pid, command)
		case !asked:
			fmt.Fprintf(s.options.Log, "stopping postmaster %d, left by a killed program\n", pid)
			_ = syscall.Kill(pid, syscall.SIGINT)
			asked = true
		}
		if ctx.Err() != nil || time.Now().After(deadline) {
			return fault.New(fault.Conflict, "database.busy", "process %d still runs the database"+
				" in %s after %s: stop it and start again", pid, s.layout.cluster, clearLimit)
		}
	}
}

// dropPID removes a pid file that names an unrelated process of the same user: PostgreSQL would
// refuse for ever. In every other case the file stays, for it also guards against workers that
// outlived their postmaster.
func (s *Server) dropPID(pid int, command string) error {
	fmt.Fprintf(s.options.Log, "pid file names unrelated process %d (%s): removed\n", pid, command)
	lock := filepath.Join(s.layout.socket, fmt.Sprintf(".s.PGSQL.%d.lock", port))
	for _, file := range []string{lock, filepath.Join(s.layout.cluster, "postmaster.pid")} {
		if err := os.Remove(file); err != nil && !os.IsNotExist(err) {
			return fmt.Errorf("removing a stale pid file: %w", err)
		}
	}
	return nil
}

// pidOf reads the process number from the cluster's pid file, 0 if there is none.
func pidOf(cluster string) int {
	text, err := os.ReadFile(filepath.Join(cluster, "postmaster.pid"))
	if err != nil {
		return 0
	}
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil || pid < 1 {
		return 0
	}
	return pid
}

// describe gives the state letter and command line of a process, "" if there is none. Linux
// answers from /proc, since small systems lack ps; elsewhere ps does.
func describe(pid int) (state, command string) {
	if pid == 0 {
		return "", ""
	}
	proc := filepath.Join("/proc", strconv.Itoa(pid))
	if stat, err := os.ReadFile(filepath.Join(proc, "stat")); err == nil {
		line, err := os.ReadFile(filepath.Join(proc, "cmdline"))
		if err != nil {
			return "", ""
		}
		// The state follows the name, which is in parentheses and may itself hold some.
		rest := strings.TrimSpace(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
		return rest[:1], string(bytes.ReplaceAll(line, []byte{0}, []byte{' '}))
	}
	out, err := exec.Command("ps", "-o", "stat=,command=", "-p", strconv.Itoa(pid)).Output()
	if err != nil {
		return "", ""
	}
	state, command, _ = strings.Cut(strings.TrimSpace(string(out)), " ")
	return state[:min(1, len(state))], strings.TrimSpace(command)
}
