// Command batch runs `hilum evaluate --batch` over generated fields and prints, for each count,
// time, processor time and the most memory held: time must grow as the count does, use the
// processors there are, and memory must stay as it is. "busy" is processor time over time; "ready"
// adds the time for which its threads waited for a processor that others held, so that it says how
// many processors it would use on an idle machine.
//
//	go run ./deploy/prove/batch [-most 100000]
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"time"

	"hilum/internal/sample"
)

// distinct is how many different fields there are; they come round again.
const distinct = 2000

// mostMemory is the budget for the memory held, in MB.
const mostMemory = 200.0

func main() {
	most := flag.Int("most", 100000, "the largest count")
	flag.Parse()
	if err := run(*most); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(most int) error {
	folder, err := os.MkdirTemp("", "batch-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	program := filepath.Join(folder, "hilum")
	if out, err := exec.Command("go", "build", "-o", program, "./server").CombinedOutput(); err != nil {
		return fmt.Errorf("building: %w\n%s", err, out)
	}
	lines, err := fields()
	if err != nil {
		return err
	}
	fmt.Println("processors  fields  seconds  processor s  busy  ready  ms/field  fields/s  most MB")
	for _, c := range []struct{ processors, count int }{
		{1, most / 50}, {2, most / 50}, {2, most / 10}, {2, most}} {
		used, err := evaluate(program, lines, c.processors, c.count)
		if err != nil {
			return err
		}
		fmt.Printf("%10d %7d %8.1f %12.1f %5.2f %6.2f %9.2f %9.0f %8.0f\n", c.processors, c.count,
			used.wall, used.processor, used.processor/used.wall, (used.processor+used.waited)/used.wall,
			1000*used.processor/float64(c.count), float64(c.count)/used.wall, used.memory)
		if used.memory > mostMemory {
			return fmt.Errorf("it held %.0f MB, at most %.0f are allowed", used.memory, mostMemory)
		}
	}
	return nil
}

func fields() ([][]byte, error) {
	r := rand.New(rand.NewPCG(2027, 1))
	lines := make([][]byte, distinct)
	for i := range lines {
		line, err := json.Marshal(sample.Field(r))
		if err != nil {
			return nil, err
		}
		lines[i] = append(line, '\n')
	}
	return lines, nil
}

type usage struct{ wall, processor, waited, memory float64 } // seconds, and MB

// evaluate hands so many lines in and counts what comes out.
func evaluate(program string, lines [][]byte, processors, count int) (usage, error) {
	cmd := exec.Command(program, "evaluate", "--batch", "-")
	cmd.Env = append(os.Environ(), "GOMAXPROCS="+strconv.Itoa(processors))
	var answers counter
	var stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &answers, &stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		return usage{}, err
	}
	began := time.Now()
	if err := cmd.Start(); err != nil {
		return usage{}, err
	}
	waited := watch(cmd.Process.Pid)
	for i := range count {
		if _, err := in.Write(lines[i%len(lines)]); err != nil {
			break // it has ended; Wait says why
		}
	}
	_ = in.Close()
	if err := cmd.Wait(); err != nil {
		return usage{}, fmt.Errorf("evaluate --batch: %w: %s", err, stderr.Bytes())
	}
	if int(answers) != count {
		return usage{}, fmt.Errorf("%d lines came out of %d", answers, count)
	}
	state := cmd.ProcessState
	memory := 0.0
	if r, ok := state.SysUsage().(*syscall.Rusage); ok {
		memory = float64(r.Maxrss) / 1024 // Linux counts in kB
	}
	return usage{time.Since(began).Seconds(), (state.UserTime() + state.SystemTime()).Seconds(),
		<-waited, memory}, nil
}

// watch adds up, until a process ends, how long its threads were ready and had no processor: the
// second number of Linux's schedstat, in nanoseconds. What comes after the last look is missed.
func watch(pid int) <-chan float64 {
	out := make(chan float64, 1)
	go func() {
		last := 0.0
		for {
			threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
			sum := 0.0
			for _, thread := range threads {
				var ran, ready float64
				text, e := os.ReadFile(thread)
				if _, scan := fmt.Sscan(string(text), &ran, &ready); e == nil && scan == nil {
					sum += ready
				}
			}
			if err != nil || len(threads) == 0 {
				out <- last / 1e9
				return
			}
			last = max(last, sum)
			time.Sleep(20 * time.Millisecond)
		}
	}()
	return out
}

// counter counts lines and forgets them.
type counter int

var _ io.Writer = (*counter)(nil)

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(bytes.Count(p, []byte{'\n'}))
	return len(p), nil
}
