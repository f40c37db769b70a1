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

// peakMB is the most memory that the server's process held, as the kernel counts it.
func (w *world) peakMB() int {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", w.server.Process.Pid))
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(status), "VmHWM:")
	kB, err := strconv.Atoi(strings.Fields(after + " 0")[0])
	if err != nil {
		return 0
	}
	return kB / 1024
}

// worked gives the processor time that the server, and all processes of the database, have used.
// Unlike the times of a wave it says the same on a busy machine.
func (w *world) worked() (server, database time.Duration) {
	stats, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		return 0, 0
	}
	for _, path := range stats {
		raw, err := os.ReadFile(path)
		if err != nil {
			continue // it has ended
		}
		_, after, _ := strings.Cut(string(raw), ") ")
		part := strings.Fields(after)
		if len(part) < 15 {
			continue
		}
		pid := filepath.Base(filepath.Dir(path))
		used := ticks(part[11]) + ticks(part[12])
		switch {
		case pid == strconv.Itoa(w.server.Process.Pid):
			server += used
		case pid == strconv.Itoa(w.database.PID()):
			database += used + ticks(part[13]) + ticks(part[14]) // and its children that have ended
		case part[1] == strconv.Itoa(w.database.PID()):
			database += used
		}
	}
	return server, database
}

func ticks(text string) time.Duration {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0
	}
	return time.Duration(n) * tick
}
