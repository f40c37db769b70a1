package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"time"

	"hilum/deploy/prove/program"
)

// The faults of the link. Of 100 pushes the rest go through.
const (
	drops       = 20 // the server answers, the phone never hears it
	doubles     = 8  // sent twice; the phone hears the second answer
	late        = 4  // goes through, and comes again up to ten seconds later
	cutRequests = 6  // the server gets half of it
	cutAnswers  = 7  // the phone gets half of it
	lost        = 5  // the server never gets it
)

// proxy stands between phones and server.
type proxy struct {
	url    string
	server *program.Program
	client *http.Client
	mu     sync.Mutex
	random *rand.Rand
	quiet  bool
	seen   map[string]int
	later  sync.WaitGroup
}

func newProxy(s *program.Program, seed uint64) (*proxy, error) {
	p := &proxy{server: s, random: rand.New(rand.NewPCG(seed, 11)), seen: map[string]int{},
		client: &http.Client{Timeout: 30 * time.Second}}
	p.url = httptest.NewServer(http.HandlerFunc(p.serve)).URL
	return p, nil
}

// pick draws the fate of one push.
func (p *proxy) pick() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.quiet {
		return ""
	}
	roll := p.random.IntN(100)
	for _, f := range []struct {
		name  string
		share int
	}{{"dropped", drops}, {"doubled", doubles}, {"late", late}, {"cut request", cutRequests},
		{"cut answer", cutAnswers}, {"lost", lost}} {
		if roll -= f.share; roll < 0 {
			return f.name
		}
	}
	return ""
}

func (p *proxy) note(fault string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.seen[fault]++
}

func (p *proxy) dropped() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.seen["dropped"]
}

func (p *proxy) counts() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var parts []string
	for _, name := range []string{"dropped", "doubled", "late", "cut request", "cut answer", "lost"} {
		parts = append(parts, fmt.Sprintf("%d %s", p.seen[name], name))
	}
	return strings.Join(parts, ", ")
}

// calm lets everything through from now on, once what was to come late has come.
func (p *proxy) calm() {
	p.mu.Lock()
	p.quiet = true
	p.mu.Unlock()
	p.later.Wait()
}

func (p *proxy) serve(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		panic(http.ErrAbortHandler)
	}
	fate := ""
	if strings.HasSuffix(r.URL.Path, "/sync") {
		fate = p.pick()
	}
	switch fate {
	case "lost":
		p.note(fate)
		panic(http.ErrAbortHandler)
	case "cut request":
		p.half(r, body)
		p.note(fate)
		panic(http.ErrAbortHandler)
	case "doubled":
		_, _ = p.forward(r, body)
	case "late":
		p.again(r, body)
	}
	answer, err := p.forward(r, body)
	if err != nil {
		panic(http.ErrAbortHandler) // the server is down
	}
	if fate != "" {
		p.note(fate)
	}
	if fate == "dropped" {
		panic(http.ErrAbortHandler)
	}
	maps.Copy(w.Header(), answer.header)
	w.Header().Set("Content-Length", fmt.Sprint(len(answer.body)))
	w.WriteHeader(answer.status)
	if fate == "cut answer" {
		_, _ = w.Write(answer.body[:len(answer.body)/2])
		panic(http.ErrAbortHandler)
	}
	_, _ = w.Write(answer.body)
}

// reply is an answer of the server as it came, packed or not.
type reply struct {
	status int
	header http.Header
	body   []byte
}

func (p *proxy) forward(r *http.Request, body []byte) (reply, error) {
	// A phone that has gone does not stop a request that is on its way.
	ctx := context.WithoutCancel(r.Context())
	req, err := http.NewRequestWithContext(ctx, r.Method, p.server.URL(r.URL.Path), bytes.NewReader(body))
	if err != nil {
		return reply{}, err
	}
	req.Header = r.Header.Clone()
	answer, err := p.client.Do(req)
	if err != nil {
		return reply{}, err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	return reply{answer.StatusCode, answer.Header, text}, err
}

// again sends the same request once more at a later time.
func (p *proxy) again(r *http.Request, body []byte) {
	p.mu.Lock()
	wait := time.Duration(p.random.IntN(10_000)) * time.Millisecond
	p.mu.Unlock()
	copied := r.Clone(context.WithoutCancel(r.Context()))
	p.later.Go(func() {
		time.Sleep(wait)
		_, _ = p.forward(copied, body)
	})
}

// half sends the server the first half of a request that promises a whole one.
func (p *proxy) half(r *http.Request, body []byte) {
	conn, err := net.DialTimeout("tcp", p.server.Address(), time.Second)
	if err != nil {
		return
	}
	defer conn.Close()
	fmt.Fprintf(conn, "%s %s HTTP/1.1\r\nHost: %s\r\nAuthorization: %s\r\n"+
		"Content-Type: application/json\r\nContent-Length: %d\r\n\r\n", r.Method, r.URL.Path,
		p.server.Address(), r.Header.Get("Authorization"), len(body))
	_, _ = conn.Write(body[:len(body)/2])
}
