package pgrun

import (
	"errors"
	"fmt"
	"io"
	"os/exec"
	"runtime"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

// process is a postmaster that we started.
type process struct {
	cmd      *exec.Cmd
	tail     *tail
	exited   chan struct{} // closed when it has ended
	err      error         // how; read only after exited
	stopping atomic.Bool
}

// run starts the command and waits for its end in the background.
func run(cmd *exec.Cmd, log io.Writer) (*process, error) {
	p := &process{cmd: cmd, tail: &tail{next: log}, exited: make(chan struct{})}
	cmd.Stdout, cmd.Stderr = p.tail, p.tail
	// Workers of a killed postmaster may hold its output open; do not wait for them for ever.
	cmd.WaitDelay = 5 * time.Second
	started := make(chan error)
	go func() {
		// The death signal fires when the thread that forked ends, so this one has to stay.
		runtime.LockOSThread()
		err := cmd.Start()
		started <- err
		if err == nil {
			p.err = cmd.Wait()
			close(p.exited)
		}
	}()
	if err := <-started; err != nil {
		return nil, fmt.Errorf("starting %s: %w", cmd.Path, err)
	}
	return p, nil
}

func (p *process) pid() int { return p.cmd.Process.Pid }

// stop sends a signal that asks for the end. A process that is gone is what was wanted.
func (p *process) stop(signal syscall.Signal) {
	p.stopping.Store(true)
	_ = p.cmd.Process.Signal(signal)
}

// reason is nil for an end that was asked for. Call it after exited.
func (p *process) reason() error {
	if p.stopping.Load() {
		return nil
	}
	if p.err == nil {
		return errors.New("PostgreSQL was stopped by someone else")
	}
	return fmt.Errorf("PostgreSQL ended: %w", p.err)
}

// tailLimit is how much of PostgreSQL's log goes into an error, in bytes.
const tailLimit = 2000

// tail passes a log on and remembers its end.
type tail struct {
	mu   sync.Mutex
	next io.Writer
	last []byte
}

// Write never fails: a log that cannot be written must not stop the database.
func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.last = append(t.last, p...)
	if extra := len(t.last) - tailLimit; extra > 0 {
		t.last = append([]byte(nil), t.last[extra:]...)
	}
	_, _ = t.next.Write(p)
	return len(p), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return string(t.last)
}
