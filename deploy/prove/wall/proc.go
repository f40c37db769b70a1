package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// tick is the kernel's unit of processor time in /proc, a hundredth of a second on Linux.
const tick = 10 * time.Millisecond

// used is processor time, user and system.
type used struct{ server, database time.Duration }

func (u used) all() time.Duration { return u.server + u.database }

func (u used) plus(v used) used { return used{u.server + v.server, u.database + v.database} }

func (u used) less(v used) used { return used{u.server - v.server, u.database - v.database} }

// used gives what a side's server and the backends of its database have used. Backends name their
// database in their command line; those of a pool live for the whole run.
func (w *world) used(s *side) (u used) {
	u.server = cpu(s.process.Process.Pid)
	paths, _ := filepath.Glob("/proc/[0-9]*/cmdline")
	for _, path := range paths {
		line, err := os.ReadFile(path)
		if err != nil || !strings.HasPrefix(string(line), "postgres: ") ||
			!strings.Contains(string(line), " "+s.database+" ") {
			continue
		}
		pid, err := strconv.Atoi(filepath.Base(filepath.Dir(path)))
		if err == nil && parent(pid) == w.database.PID() {
			u.database += cpu(pid)
		}
	}
	return u
}

// stat gives the words of /proc/PID/stat from the state on; none when the process has ended.
func stat(pid int) []string {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return nil
	}
	_, after, _ := strings.Cut(string(raw), ") ")
	return strings.Fields(after)
}

func parent(pid int) int {
	if part := stat(pid); len(part) > 1 {
		n, _ := strconv.Atoi(part[1])
		return n
	}
	return 0
}

func cpu(pid int) time.Duration {
	part := stat(pid)
	if len(part) < 13 {
		return 0
	}
	user, _ := strconv.ParseInt(part[11], 10, 64)
	system, _ := strconv.ParseInt(part[12], 10, 64)
	return time.Duration(user+system) * tick
}
