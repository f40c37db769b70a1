package api

import (
	"bytes"
	"image"
	"image/jpeg"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/auth"
	"hilum/internal/photo"
	"hilum/internal/wire"
)

// waitOf demands a 429 that tells how long to wait.
func waitOf(t *testing.T, rec *httptest.ResponseRecorder) time.Duration {
	t.Helper()
	seconds, err := strconv.Atoi(rec.Header().Get("Retry-After"))
	if rec.Code != http.StatusTooManyRequests || err != nil || seconds < 1 {
		t.Fatalf("%d with Retry-After %q: %s; want 429 with a wait", rec.Code, rec.Header().Get("Retry-After"), rec.Body)
	}
	return time.Duration(seconds) * time.Second
}

func TestADevicePushesAHundredAndTwentyAMinute(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q, other := s.signIn("owner"), s.signIn("scout")
	n := int64(0)
	push := func(q seat) *httptest.ResponseRecorder {
		raw := edit(t, n+1, uuid.NewString(), "grower", map[string]any{"name": "Somebody's farm"})
		rec := s.send("POST", s.syncPath(), q.request(raw), q.bearer())
		if rec.Code == http.StatusOK {
			n++
		}
		return rec
	}
	for i := range pushesAtOnce {
		if rec := push(q); rec.Code != http.StatusOK {
			t.Fatalf("push %d: %d %s", i+1, rec.Code, rec.Body)
		}
	}
	wait := waitOf(t, push(q))
	if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != http.StatusOK {
		t.Errorf("a pull while pushes wait: %d", rec.Code)
	}
	if rec := s.send("POST", s.syncPath(), other.request(edit(t, 1, uuid.NewString(), "grower",
		map[string]any{"name": "x"})), other.bearer()); rec.Code != http.StatusOK {
		t.Errorf("another device's push: %d", rec.Code)
	}
	s.clock = s.clock.Add(wait)
	rec := push(q)
	if rec.Code != http.StatusOK || !strings.Contains(rec.Body.String(), wire.Applied) {
		t.Errorf("after the wait: %d %s", rec.Code, rec.Body)
	}
}

// backlog is a push of the records of many pictures, with the pictures' bytes.
func (s *server) backlog(t *testing.T, q seat, count int) (paths []string, shots [][]byte) {
	s.t.Helper()
	grower, field := uuid.NewString(), uuid.NewString()
	push := q.request(
		edit(t, 1, grower, "grower", map[string]any{"name": "Somebody's farm"}),
		edit(t, 2, field, "field", map[string]any{"grower": grower, "name": "North"}))
	for i := range count {
		img := image.NewGray(image.Rect(0, 0, 16, 16+i))
		var out bytes.Buffer
		if err := jpeg.Encode(&out, img, nil); err != nil {
			s.t.Fatal(err)
		}
		hash := photo.Hash(out.Bytes())
		push.Push = append(push.Push, edit(t, int64(3+i), uuid.NewString(), "photo", map[string]any{
			"field": field, "w": 16, "h": 16 + i, "sha256": hash, "size": out.Len(),
			"takenAt": "2027-06-12T14:02:00Z"}))
		paths, shots = append(paths, "/photos/"+hash), append(shots, out.Bytes())
	}
	if rec := s.send("POST", s.syncPath(), push, q.bearer()); rec.Code != http.StatusOK {
		s.t.Fatalf("pushing: %d %s", rec.Code, rec.Body)
	}
	return paths, shots
}

// A backlog of 200 pictures comes through by waiting as told, within the time that the rate gives.
func TestTwoHundredPhotosComeThroughByWaitingAsTold(t *testing.T) {
	t.Parallel()
	const count = 200
	s := newServer(t)
	q := s.signIn("owner")
	paths, shots := s.backlog(t, q, count)
	began, refused := s.clock, 0
	for i, path := range paths {
		rec := s.put(path, q, shots[i])
		for rec.Code == http.StatusTooManyRequests {
			refused++
			s.clock = s.clock.Add(waitOf(t, rec))
			q.Access = s.fresh(q)
			rec = s.put(path, q, shots[i])
		}
		if rec.Code != http.StatusNoContent {
			t.Fatalf("picture %d: %d %s", i, rec.Code, rec.Body)
		}
		if i == photosAtOnce-1 && refused > 0 {
			t.Errorf("%d refused among the first %d", refused, photosAtOnce)
		}
	}
	if took := s.clock.Sub(began); took > 5*time.Minute || refused == 0 {
		t.Errorf("took %s with %d refusals; want some, and at most 5 minutes", took, refused)
	}
	if rec := s.put(paths[0], q, shots[0]); rec.Code != http.StatusNoContent {
		t.Errorf("a repeat of what is there costs a turn: %d", rec.Code)
	}
}

// fresh is an access token of now, as a phone gets one every ten minutes.
func (s *server) fresh(q seat) string {
	s.t.Helper()
	claims, err := s.signer.Check(q.Access)
	if err != nil {
		s.t.Fatal(err)
	}
	access, _, err := s.signer.Access(auth.Holder{Farm: s.farm, Person: claims.Subject,
		Device: q.device, Session: claims.Session})
	if err != nil {
		s.t.Fatal(err)
	}
	return access
}

func TestWhoHasRestedIsForgotten(t *testing.T) {
	p, now := newPace(60, 2), time.Now()
	for range forgetAbove {
		if err := p.take(uuid.NewString(), now); err != nil {
			t.Fatal(err)
		}
	}
	busy := uuid.NewString()
	later := now.Add(time.Minute)
	_, _, _ = p.take(busy, later), p.take(busy, later), p.take(busy, later)
	if _, there := p.devices[busy]; len(p.devices) != 1 || !there {
		t.Errorf("%d devices are remembered, the busy one: %v", len(p.devices), there)
	}
	if p.take(busy, later) == nil {
		t.Error("the busy one was forgotten")
	}
}
