// Package program runs the server under test for the long proofs: it starts, kills and stops it,
// asks it, and reads from the kernel what it and its database have used.
package program

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"time"
)

const startLimit = 90 * time.Second

// Program is the server: one process after the other, on one port and the same data.
type Program struct {
	Binary, Data string
	DSN          string    // of its database; empty: it starts one of its own in Data
	Log          io.Writer // what it prints of errors; nil: thrown away
	Kills        int
	port         int
	mu           sync.Mutex // of what follows
	process      *exec.Cmd
	gone         chan struct{} // closed when the process has ended
}

// Start runs `serve` with the flags and waits until it is fit to serve.
func (p *Program) Start(ctx context.Context, flags ...string) error {
	if p.port == 0 {
		free, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return err
		}
		p.port = free.Addr().(*net.TCPAddr).Port
		free.Close()
	}
	cmd := exec.Command(p.Binary, append([]string{"serve"}, flags...)...)
	cmd.Env = append(os.Environ(), "DATABASE_URL="+p.DSN, "HILUM_DATA="+p.Data,
		"PORT="+strconv.Itoa(p.port))
	cmd.Stderr = p.Log
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("%s: %w (build it with ./deploy/run or go build)", p.Binary, err)
	}
	gone := make(chan struct{})
	go func() { _ = cmd.Wait(); close(gone) }()
	p.mu.Lock()
	p.process, p.gone = cmd, gone
	p.mu.Unlock()
	return p.Ready(ctx)
}

// Ready waits until the server says that it is fit to serve, 90 s at most.
func (p *Program) Ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	for !p.answers(ctx) {
		select {
		case <-p.Gone():
			return fmt.Errorf("the server ended by itself")
		case <-ctx.Done():
			return fmt.Errorf("the server is not ready: %w", ctx.Err())
		case <-time.After(20 * time.Millisecond):
		}
	}
	return nil
}

func (p *Program) answers(ctx context.Context) bool {
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, p.URL("/readyz"), nil)
	if err != nil {
		return false
	}
	answer, err := http.DefaultClient.Do(req)
	if err != nil {
		return false
	}
	answer.Body.Close()
	return answer.StatusCode == http.StatusOK
}

// Gone is closed when the process that was started last has ended.
func (p *Program) Gone() <-chan struct{} {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.gone
}

// Kill ends the process with SIGKILL and waits until it is gone.
func (p *Program) Kill() {
	if p.end(os.Kill) {
		p.Kills++
	}
}

// Stop lets the process end in its own way and waits for it.
func (p *Program) Stop() { p.end(os.Interrupt) }

func (p *Program) end(how os.Signal) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.process == nil {
		return false
	}
	_ = p.process.Process.Signal(how)
	<-p.gone
	p.process = nil
	return true
}

// PID is of the running process; 0 when there is none.
func (p *Program) PID() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.process == nil {
		return 0
	}
	return p.process.Process.Pid
}

// Address is the server's host and port.
func (p *Program) Address() string { return "127.0.0.1:" + strconv.Itoa(p.port) }

// URL is a path's whole address.
func (p *Program) URL(path string) string { return "http://" + p.Address() + path }

// Post sends a JSON body with an access token and reads the JSON answer; anything but 200 is an
// error that says what the server said.
func (p *Program) Post(ctx context.Context, path, access string, body, into any) error {
	raw, err := json.Marshal(body)
	if err != nil {
		return err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, p.URL(path), bytes.NewReader(raw))
	if err != nil {
		return err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+access)
	answer, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return err
	}
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("%s answered %d %s", path, answer.StatusCode, text)
	}
	return json.Unmarshal(text, into)
}
