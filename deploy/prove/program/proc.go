package program

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

// CPU is the processor time, user and system, that a process has used, and with ended also what its
// ended children have; zero when it is not there. It says the same on a busy machine as on an idle one.
func CPU(pid int, ended bool) time.Duration {
	part := stat(strconv.Itoa(pid))
	if len(part) < 15 {
		return 0
	}
	used := ticks(part[11]) + ticks(part[12])
	if ended {
		used += ticks(part[13]) + ticks(part[14])
	}
	return used
}

// Children are the running processes that a process started.
func Children(pid int) (list []int) {
	parent := strconv.Itoa(pid)
	paths, _ := filepath.Glob("/proc/[0-9]*") // the pattern is well formed
	for _, path := range paths {
		name := filepath.Base(path)
		if part := stat(name); len(part) > 1 && part[1] == parent {
			child, _ := strconv.Atoi(name)
			list = append(list, child)
		}
	}
	return list
}

// CommandLine is how a process was started, or what it has written there since; empty when it is gone.
func CommandLine(pid int) string {
	line, _ := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", pid))
	return string(line)
}

// PeakMB is the most memory that a process held, as the kernel counts it.
func PeakMB(pid int) int {
	status, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	_, after, _ := strings.Cut(string(status), "VmHWM:")
	kB, _ := strconv.Atoi(strings.Fields(after + " 0")[0])
	return kB / 1024
}

// stat gives the words of /proc/PID/stat from the state on; none when the process has ended.
func stat(pid string) []string {
	raw, err := os.ReadFile("/proc/" + pid + "/stat")
	if err != nil {
		return nil
	}
	_, after, _ := strings.Cut(string(raw), ") ")
	return strings.Fields(after)
}

func ticks(text string) time.Duration {
	n, _ := strconv.ParseInt(text, 10, 64) // the kernel writes numbers
	return time.Duration(n) * tick
}
