package api

import (
	"bufio"
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/auth"
)

// stream opens the events of an account over a real connection and hands over its data lines.
func (s *server) stream(t *testing.T, q seat) (<-chan string, int) {
	t.Helper()
	web := httptest.NewServer(s.e)
	t.Cleanup(web.Close)
	ctx, cancel := context.WithCancel(context.Background())
	t.Cleanup(cancel)
	req, err := http.NewRequestWithContext(ctx, "GET", web.URL+"/api/v1/farms/"+s.farm+"/poke", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+q.Access)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	lines := make(chan string, 100)
	go func() {
		defer close(lines)
		defer res.Body.Close()
		for in := bufio.NewScanner(res.Body); in.Scan(); {
			if data, ok := strings.CutPrefix(in.Text(), "data: "); ok {
				lines <- data
			}
		}
	}()
	return lines, res.StatusCode
}

func next(t *testing.T, lines <-chan string) (line string, open bool) {
	t.Helper()
	select {
	case line, open = <-lines:
	case <-time.After(20 * time.Second):
		t.Fatal("nothing came for 20 s")
	}
	return line, open
}

func TestAPokeCarriesTheHeadUntilAccessEnds(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner, scout := s.signIn("owner"), s.signIn("scout")
	lines, code := s.stream(t, scout)
	if code != http.StatusOK {
		t.Fatalf("opening the stream: %d", code)
	}
	if got, _ := next(t, lines); got != `{"head":0}` {
		t.Errorf("the first event is %q, want head 0", got)
	}
	push := owner.mutation(t, 1, "grower", map[string]any{"name": "Somebody's farm"})
	if rec := s.send("POST", s.syncPath(), owner.request(push), owner.bearer()); rec.Code != 200 {
		t.Fatalf("pushing: %d %s", rec.Code, rec.Body)
	}
	if got, _ := next(t, lines); got != `{"head":1}` {
		t.Errorf("the next event is %q, want head 1", got)
	}
	s.sql(`UPDATE device SET revoked_at = now() WHERE device_id = $1`, scout.device)
	push = owner.mutation(t, 2, "grower", map[string]any{"name": "Somebody else's"})
	if rec := s.send("POST", s.syncPath(), owner.request(push), owner.bearer()); rec.Code != 200 {
		t.Fatalf("pushing: %d %s", rec.Code, rec.Body)
	}
	if got, open := next(t, lines); open {
		t.Errorf("a device that was shut out still heard %q", got)
	}
}

func TestAPokeEndsWithItsTokenAndKeepsOutOthers(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	if _, code := s.stream(t, seat{}); code != http.StatusUnauthorized {
		t.Errorf("without a token: %d, want 401", code)
	}
	rec := s.send("GET", "/api/v1/farms/"+uuid.NewString()+"/poke", nil, q.bearer())
	if rec.Code != http.StatusNotFound {
		t.Errorf("another account's stream: %d, want 404", rec.Code)
	}
	s.clock = s.clock.Add(auth.AccessLife - time.Second)
	lines, _ := s.stream(t, q)
	for {
		if _, open := next(t, lines); !open {
			return
		}
	}
}
