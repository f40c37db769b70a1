package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"time"
)

const startLimit = 90 * time.Second

// server is the program under test, started anew on the same data after each kill.
type server struct {
	program, data string
	port, kills   int
	year          int
	password      string
	mu            sync.Mutex
	process       *exec.Cmd
	gone          chan struct{}
}

func (s *server) start() error {
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	s.port = free.Addr().(*net.TCPAddr).Port
	free.Close()
	cmd := exec.Command(s.program, "serve", "--demo")
	cmd.Env = append(
		os.Environ(),
		"HILUM_DATA="+s.data,
		"PORT="+strconv.Itoa(s.port),
		"DATABASE_URL=",
	)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("%s: %w (build it with ./deploy/run or go build)", s.program, err)
	}
	gone := make(chan struct{})
	go s.listen(out)
	go func() { _ = cmd.Wait(); close(gone) }()
	s.mu.Lock()
	s.process, s.gone = cmd, gone
	s.mu.Unlock()
	return s.ready(gone)
}

// listen reads what the program prints and keeps the password of the demo.
func (s *server) listen(out io.Reader) {
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, after, ok := strings.Cut(lines.Text(), "password="); ok {
			s.mu.Lock()
			s.password = after
			s.mu.Unlock()
		}
	}
}

func (s *server) ready(gone chan struct{}) error {
	for deadline := time.Now().Add(startLimit); time.Now().Before(deadline); {
		answer, err := http.Get(s.url("/readyz"))
		if err == nil {
			answer.Body.Close()
			if answer.StatusCode == http.StatusOK {
				return nil
			}
		}
		select {
		case <-gone:
			return fmt.Errorf("the server ended while starting")
		case <-time.After(50 * time.Millisecond):
		}
	}
	return fmt.Errorf("not ready within %s", startLimit)
}

func (s *server) url(path string) string {
	return "http://127.0.0.1:" + strconv.Itoa(s.port) + path
}

func (s *server) kill() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.process != nil {
		_ = s.process.Process.Kill()
		s.process = nil
		s.kills++
	}
}

func (s *server) wait() { <-s.gone }

func (s *server) post(path, access string, body, into any) error {
	raw, err := json.Marshal(body)
	if err != nil {
		return err
	}
	req, err := http.NewRequest(http.MethodPost, s.url(path), bytes.NewReader(raw))
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
