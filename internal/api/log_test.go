package api

import (
	"bytes"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// lines is a log that requests write to at the same time.
type lines struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.buf.Write(p)
}

func (l *lines) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.buf.String()
}

// TestTheLogHoldsNoSecretAndNoWork puts marks into everything that a person or a phone can send, and
// looks for them in the log.
func TestTheLogHoldsNoSecretAndNoWork(t *testing.T) {
	s := newServer(t)
	const mark = "canary-4711"
	s.knock("owner", mark+" as a password", "")
	s.knock(mark, password, "")
	q := s.signIn("owner")
	secret, recovery := s.secondStep(q)
	s.refresh(&q, false)
	grower := map[string]any{"n": 1, "schema": wire.Schema, "rec": uuid.NewString(), "kind": "grower",
		"base": 0, "set": map[string]any{"name": mark, "note": mark}, "phoneTime": mark}
	for _, body := range []any{
		map[string]any{"proto": wire.Proto, "schema": wire.Schema, "device": q.device, "push": []any{grower}},
		`{"` + mark, map[string]any{mark: mark},
	} {
		s.send(http.MethodPost, "/api/v1/farms/"+s.farm+"/sync", body, q.bearer())
	}
	s.send(http.MethodGet, "/api/v1/farms/"+s.farm+"/fields?token="+mark, nil, q.bearer())
	s.send(http.MethodGet, "/api/v1/"+mark, nil, map[string]string{"Authorization": "Bearer " + mark})
	code := s.code(q, s.ids["scout"])

	logged := s.logs.String()
	if !strings.Contains(logged, "msg=request") || !strings.Contains(logged, "/sync") {
		t.Fatalf("the requests are not in the log: %.300s", logged)
	}
	for what, hidden := range map[string]string{"a mark": mark, "the password": password,
		"the access token": q.Access, "the cookie": valueOf(q.cookie), "the second step's secret": secret,
		"a recovery code": recovery[0], "a code for a phone": code.Code} {
		if hidden == "" || strings.Contains(logged, hidden) {
			t.Errorf("%s is in the log, or was empty", what)
		}
	}
}
