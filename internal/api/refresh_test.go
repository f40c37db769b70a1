package api

import (
	"encoding/json"
	"maps"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/auth"
	"hilum/internal/feed"
	"hilum/internal/store"
	"hilum/internal/wire"
)

var ownPageHeader = map[string]string{"X-Hilum": "1", "Sec-Fetch-Site": "same-origin"}

// refreshBody is what the device sends, signed by key.
func (s *server) refreshBody(farm, device, former string, key auth.Key) wire.Refresh {
	s.t.Helper()
	var n wire.Nonce
	rec := s.send("POST", "/api/v1/nonce", map[string]string{}, ownPageHeader)
	if err := json.Unmarshal(rec.Body.Bytes(), &n); err != nil || n.Nonce == "" {
		s.t.Fatalf("nonce: %d %s", rec.Code, rec.Body)
	}
	signature, err := key.Sign(auth.Statement(farm, device, n.Nonce))
	if err != nil {
		s.t.Fatal(err)
	}
	return wire.Refresh{Farm: farm, Device: device, Former: former, Nonce: n.Nonce, Signature: signature}
}

func (s *server) refreshWith(body any, cookie string) *httptest.ResponseRecorder {
	header := maps.Clone(ownPageHeader)
	header["Cookie"] = cookie
	return s.send("POST", "/api/v1/refresh", body, header)
}

// refresh renews as the browser does, and takes the new cookie unless the answer got lost.
func (s *server) refresh(q *seat, lost bool) int {
	rec := s.refreshWith(s.refreshBody(s.farm, q.device, "", q.key), q.cookie)
	if lost || rec.Code != http.StatusOK {
		return rec.Code
	}
	q.take(s, rec)
	return rec.Code
}

func (q *seat) take(s *server, rec *httptest.ResponseRecorder) {
	if err := json.Unmarshal(rec.Body.Bytes(), &q.Session); err != nil {
		s.t.Fatal(err)
	}
	if set := rec.Header().Get("Set-Cookie"); set != "" {
		q.cookie, _, _ = strings.Cut(set, ";")
	}
}

func TestRefreshNeedsTheOwnPageTheDeviceAndItsKey(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	stranger, err := auth.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	with := func(key, value string) map[string]string {
		h := maps.Clone(ownPageHeader)
		h["Cookie"] = q.cookie
		h[key] = value
		return h
	}
	good := func() wire.Refresh { return s.refreshBody(s.farm, q.device, "", q.key) }
	stale := good()
	s.clock = s.clock.Add(6 * time.Minute)
	unsigned, elsewhere := good(), good()
	unsigned.Signature = ""
	elsewhere.Nonce = strings.Repeat("A", 32)
	other := uuid.NewString()
	for name, tt := range map[string]struct {
		body   wire.Refresh
		header map[string]string
		want   int
	}{
		"other site":         {good(), with("Sec-Fetch-Site", "cross-site"), 403},
		"no own header":      {good(), with("X-Hilum", ""), 403},
		"no cookie":          {good(), with("Cookie", ""), 401},
		"forged cookie":      {good(), with("Cookie", q.cookie+"x"), 401},
		"another device":     {s.refreshBody(s.farm, other, "", q.key), with("Cookie", cookieName+other+"="+valueOf(q.cookie)), 401},
		"another account":    {s.refreshBody(uuid.NewString(), q.device, "", q.key), with("Cookie", q.cookie), 401},
		"stolen, other key":  {s.refreshBody(s.farm, q.device, "", stranger), with("Cookie", q.cookie), 401},
		"stolen, no key":     {unsigned, with("Cookie", q.cookie), 401},
		"nonce of an hour":   {stale, with("Cookie", q.cookie), 401},
		"nonce of a forger":  {elsewhere, with("Cookie", q.cookie), 401},
		"the device itself":  {good(), with("Cookie", q.cookie), 200},
		"the same once more": {good(), with("Cookie", q.cookie), 200},
	} {
		if rec := s.send("POST", "/api/v1/refresh", tt.body, tt.header); rec.Code != tt.want {
			t.Errorf("%s: %d %s, want %d", name, rec.Code, rec.Body, tt.want)
		}
	}
}

func valueOf(cookie string) string {
	_, value, _ := strings.Cut(cookie, "=")
	return value
}

func TestSigningOutEndsTheAccessTokenToo(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	header := maps.Clone(ownPageHeader)
	header["Cookie"] = q.cookie
	body := map[string]string{"farm": s.farm, "device": q.device}
	if rec := s.send("POST", "/api/v1/signout", body, header); rec.Code != http.StatusNoContent {
		t.Fatalf("sign-out: %d", rec.Code)
	}
	if got := s.refresh(&q, false); got != 401 {
		t.Errorf("refresh after sign-out: %d, want 401", got)
	}
	if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != 401 {
		t.Errorf("sync after sign-out: %d, want 401", rec.Code)
	}
}

// Five hundred answers get lost on the way, in every mixture of single and repeated losses.
func TestLostRefreshAnswersLogNobodyOut(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	for lost := 0; lost < 500; {
		for range 1 + lost%4 {
			s.clock = s.clock.Add(11 * time.Minute)
			if got := s.refresh(&q, true); got != http.StatusOK {
				t.Fatalf("after %d lost answers: %d, want 200", lost, got)
			}
			lost++
		}
		if got := s.refresh(&q, false); got != http.StatusOK {
			t.Fatalf("after %d lost answers: %d, want 200", lost, got)
		}
	}
}

func TestAUsedTokenFromElsewhereEndsTheSession(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	for _, withKey := range []bool{true, false} {
		q := s.signIn("scout")
		stolen := q.cookie
		for range 2 {
			s.clock = s.clock.Add(11 * time.Minute)
			if got := s.refresh(&q, false); got != http.StatusOK {
				t.Fatalf("refresh: %d", got)
			}
		}
		key := q.key
		if !withKey {
			key, _ = auth.NewKey()
		}
		if rec := s.refreshWith(s.refreshBody(s.farm, q.device, "", key), stolen); rec.Code != 401 {
			t.Errorf("the old token: %d, want 401", rec.Code)
		}
		if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != 401 {
			t.Errorf("the session's access token after the reuse: %d, want 401", rec.Code)
		}
		if got := s.refresh(&q, false); got != 401 {
			t.Errorf("the session after the reuse: %d, want 401", got)
		}
	}
}

// A browser writes its cookies up to half a minute late: a phone that dies comes back with the
// token before.
func TestACookieThatFellBackIsForgiven(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	before := q.cookie
	s.clock = s.clock.Add(11 * time.Minute)
	for range 3 {
		if got := s.refresh(&q, false); got != http.StatusOK {
			t.Fatalf("refresh: %d", got)
		}
		s.clock = s.clock.Add(10 * time.Second)
	}
	q.cookie = before
	if got := s.refresh(&q, false); got != http.StatusOK {
		t.Errorf("the token before, half a minute later: %d, want 200", got)
	}
}

func TestSessionsEndInTime(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	const day = 24 * time.Hour
	for _, tt := range []struct {
		login       string
		step, until time.Duration
		want        int
	}{
		{"scout", 29 * day, 170 * day, 200}, {"scout", 29 * day, 190 * day, 401}, {"scout", 31 * day, 31 * day, 401},
		{"owner", 50 * time.Minute, 23 * time.Hour, 200}, {"owner", 50 * time.Minute, 25 * time.Hour, 401},
		{"owner", 61 * time.Minute, 61 * time.Minute, 401},
	} {
		start := s.clock
		q := s.signIn(tt.login)
		got := 0
		for s.clock.Sub(start) < tt.until {
			s.clock = s.clock.Add(tt.step)
			got = s.refresh(&q, false)
		}
		if got != tt.want {
			t.Errorf("%s used every %s: %d after %s, want %d", tt.login, tt.step, got, tt.until, tt.want)
		}
		s.clock = start
	}
}

func TestARevokedDeviceIsShutOutAtItsNextRequest(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	ctx := t.Context()
	for round := range 100 {
		q := s.seatOf("scout")
		if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != 200 {
			t.Fatalf("round %d, before: %d %s", round, rec.Code, rec.Body)
		}
		if err := s.store.Revoke(ctx, s.farm, q.device, s.clock, store.Actor{}); err != nil {
			t.Fatal(err)
		}
		if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != 401 {
			t.Fatalf("round %d, the next request: %d, want 401", round, rec.Code)
		}
		rec := s.refreshWith(s.refreshBody(s.farm, q.device, "", q.key), q.cookie)
		if rec.Code != 403 || !strings.Contains(rec.Body.String(), `"code":"handin"`) {
			t.Fatalf("round %d, refresh: %d %s, want 403 handin", round, rec.Code, rec.Body)
		}
	}
}

func TestTheHandInTicketOpensNothingElse(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	ticket := func() *httptest.ResponseRecorder {
		header := maps.Clone(ownPageHeader)
		header["Cookie"] = q.cookie
		return s.send("POST", "/api/v1/hand-in-ticket", s.refreshBody(s.farm, q.device, "", q.key), header)
	}
	if rec := ticket(); rec.Code != 401 {
		t.Errorf("a ticket for a device with access: %d, want 401", rec.Code)
	}
	if err := s.store.Revoke(t.Context(), s.farm, q.device, s.clock, store.Actor{}); err != nil {
		t.Fatal(err)
	}
	rec := ticket()
	var got wire.Ticket
	if err := json.Unmarshal(rec.Body.Bytes(), &got); err != nil || rec.Code != 200 {
		t.Fatalf("ticket: %d %s", rec.Code, rec.Body)
	}
	bearer := map[string]string{"Authorization": "Bearer " + got.Ticket}
	for _, path := range []string{"/fields", "/snapshot", "/poke", "/people"} {
		if rec := s.send("GET", "/api/v1/farms/"+s.farm+path, nil, bearer); rec.Code != 401 {
			t.Errorf("%s with a ticket: %d, want 401", path, rec.Code)
		}
	}
	mutation, err := feed.NewMutation(1, uuid.NewString(), "dig", 0, wire.Dig{Field: uuid.NewString()}, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	for range 2 { // a repeat is answered as the first
		rec := s.send("POST", "/api/v1/hand-in", q.request(mutation), bearer)
		if rec.Code != 200 || !strings.Contains(rec.Body.String(), `"outcome":"quarantined"`) ||
			!strings.Contains(rec.Body.String(), `"rows":[]`) {
			t.Errorf("handing in: %d %s", rec.Code, rec.Body)
		}
	}
	if rec := s.send("POST", "/api/v1/hand-in", q.request(), s.seatOf("scout").bearer()); rec.Code != 401 {
		t.Errorf("handing in with an access token: %d, want 401", rec.Code)
	}
	s.clock = s.clock.Add(auth.HandInLife)
	if rec := s.send("POST", "/api/v1/hand-in", q.request(), bearer); rec.Code != 401 {
		t.Errorf("handing in after two weeks: %d, want 401", rec.Code)
	}
	if rec := ticket(); rec.Code != 401 {
		t.Errorf("a ticket after two weeks: %d, want 401", rec.Code)
	}
}

func TestASessionMovesWithItsPhoneToANewDeviceID(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	moved := uuid.NewString()
	body := func() wire.Refresh { return s.refreshBody(s.farm, moved, q.device, q.key) }
	for range 2 { // the first answer gets lost
		if rec := s.refreshWith(body(), q.cookie); rec.Code != 200 {
			t.Fatalf("moving: %d %s", rec.Code, rec.Body)
		}
	}
	rec := s.refreshWith(body(), q.cookie)
	if rec.Code != 200 {
		t.Fatalf("moving: %d %s", rec.Code, rec.Body)
	}
	q.take(s, rec)
	q.device = moved
	if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != 200 {
		t.Errorf("sync as the new device: %d %s", rec.Code, rec.Body)
	}
	taken := s.signIn("owner")
	if rec := s.refreshWith(s.refreshBody(s.farm, taken.device, q.device, q.key), q.cookie); rec.Code == 200 {
		t.Error("a session moved onto somebody else's device")
	}
}
