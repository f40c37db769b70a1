package api

import (
	"context"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/store"
	"hilum/internal/wire"
)

var roles = []string{"owner", "consultant", "scout", "grower"}

// people gives the server one person of each role, by the name of the role.
func (s *server) people() {
	s.t.Helper()
	for _, role := range roles {
		if s.ids[role] != "" {
			continue
		}
		p := wire.Person{ID: uuid.NewString(), Name: role, Login: role, Role: role}
		if err := s.store.CreatePerson(s.t.Context(), s.farm, p, "none", store.Actor{}); err != nil {
			s.t.Fatal(err)
		}
		s.ids[role] = p.ID
	}
}

// try sends a request with an empty body to a route; a stream is cut off.
func (s *server) try(r rule, farm string, header map[string]string) int {
	path := strings.NewReplacer(":farm", farm, ":sha256", strings.Repeat("0", 64)).Replace(r.path)
	for strings.Contains(path, "/:") {
		head, tail, _ := strings.Cut(path, "/:")
		_, rest, more := strings.Cut(tail, "/")
		path = head + "/" + uuid.NewString()
		if more {
			path += "/" + rest
		}
	}
	ctx, stop := context.WithTimeout(s.t.Context(), 100*time.Millisecond)
	if !strings.HasSuffix(r.path, "/poke") {
		ctx, stop = context.WithCancel(s.t.Context())
	}
	defer stop()
	req := httptest.NewRequestWithContext(ctx, r.method, "/api/v1"+path, strings.NewReader("{}"))
	req.Header.Set("Content-Type", "application/json")
	for k, v := range header {
		req.Header.Set(k, v)
	}
	rec := httptest.NewRecorder()
	s.e.ServeHTTP(rec, req)
	return rec.Code
}

// Every route, with every role, in its own account, in another one, and without a token.
func TestEveryRouteWithEveryRole(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	s.people()
	tried := 0
	for _, r := range s.deps.rules() {
		inside := strings.HasPrefix(r.path, account)
		if inside == (r.may == nil) {
			t.Errorf("%s %s: a route is of an account if and only if its rule names roles", r.method, r.path)
		}
		if !inside {
			continue
		}
		if got := s.try(r, s.farm, nil); got != http.StatusUnauthorized {
			t.Errorf("%s %s without a token: %d, want 401", r.method, r.path, got)
		}
		for _, role := range roles {
			bearer := s.seatOf(role).bearer()
			own, foreign := s.try(r, s.farm, bearer), s.try(r, uuid.NewString(), bearer)
			refused := own == http.StatusUnauthorized || own == http.StatusForbidden
			if may := slices.Contains(r.may, role); refused == may || own >= 500 {
				t.Errorf("%s %s as %s: %d, but the table says %v", r.method, r.path, role, own, may)
			}
			if foreign != http.StatusNotFound {
				t.Errorf("%s %s as %s in a foreign account: %d, want 404", r.method, r.path, role, foreign)
			}
			tried += 2
		}
	}
	t.Logf("%d requests tried", tried)
}

func TestEveryRouteHasARule(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	ruled := map[string]bool{"GET /livez": true, "GET /readyz": true}
	for _, r := range s.deps.rules() {
		ruled[r.method+" /api/v1"+r.path] = true
	}
	for _, route := range s.e.Routes() {
		if !ruled[route.Method+" "+route.Path] && route.Path != "/api/*" && route.Path != "/api/v1/*" &&
			route.Path != "/api/v1" {
			t.Errorf("%s %s has no rule; add a row to rules()", route.Method, route.Path)
		}
	}
}
