package main

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"time"
)

const startLimit = 60 * time.Second

// server is the program under test, on one port for the whole run.
type server struct {
	program, dsn, data string
	port               int
	kills              int
	mu                 sync.Mutex
	process            *exec.Cmd
	gone               chan struct{}
}

func (s *server) start(ctx context.Context) error {
	if s.port == 0 {
		free, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return err
		}
		s.port = free.Addr().(*net.TCPAddr).Port
		free.Close()
	}
	cmd := exec.Command(s.program, "serve", "--demo")
	cmd.Env = append(os.Environ(), "DATABASE_URL="+s.dsn, "HILUM_DATA="+s.data,
		"PORT="+strconv.Itoa(s.port))
	cmd.Stderr = quiet{}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("%s: %w (build it with ./deploy/run or go build)", s.program, err)
	}
	gone := make(chan struct{})
	go func() { _ = cmd.Wait(); close(gone) }()
	s.mu.Lock()
	s.process, s.gone = cmd, gone
	s.mu.Unlock()
	return s.ready(ctx)
}

// quiet drops what the server logs: with its database killed it has much to say.
type quiet struct{}

func (quiet) Write(p []byte) (int, error) { return len(p), nil }

// ready waits until the server says that it is fit to serve.
func (s *server) ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	for {
		if s.answers(ctx) {
			return nil
		}
		select {
		case <-s.gone:
			return fmt.Errorf("the server ended by itself")
		case <-ctx.Done():
			return fmt.Errorf("the server is not ready: %w", ctx.Err())
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func (s *server) answers(ctx context.Context) bool {
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, s.url("/readyz"), nil)
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

func (s *server) url(path string) string { return "http://" + s.address() + path }

func (s *server) address() string { return "127.0.0.1:" + strconv.Itoa(s.port) }

// kill ends the process that start began, and waits until it is gone.
func (s *server) kill() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.process == nil {
		return
	}
	_ = s.process.Process.Kill()
	<-s.gone
	s.process = nil
	s.kills++
}
