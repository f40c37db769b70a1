package api

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/kind"
	"hilum/internal/photo"
	"hilum/internal/wire"
)

func (s *server) put(path string, q seat, body []byte) *httptest.ResponseRecorder {
	h := q.bearer()
	h["Content-Type"], h["If-None-Match"] = "image/jpeg", "*"
	return s.send("PUT", "/api/v1/farms/"+s.farm+path, body, h)
}

// shot is a picture with a record of it, pushed.
func (s *server) shot(t *testing.T, q seat) (raw []byte, path string) {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 40, 30)), nil); err != nil {
		t.Fatal(err)
	}
	raw = out.Bytes()
	grower, field := uuid.NewString(), uuid.NewString()
	push := q.request(
		edit(t, 1, grower, "grower", map[string]any{"name": "Somebody's farm"}),
		edit(t, 2, field, "field", map[string]any{"grower": grower, "name": "North"}),
		edit(t, 3, uuid.NewString(), "photo", map[string]any{"field": field, "w": 40, "h": 30,
			"sha256": photo.Hash(raw), "size": len(raw), "takenAt": "2027-06-12T14:02:00Z"}))
	rec := s.send("POST", s.syncPath(), push, q.bearer())
	if rec.Code != http.StatusOK || strings.Count(rec.Body.String(), wire.Applied) != 3 {
		t.Fatalf("pushing: %d %s", rec.Code, rec.Body)
	}
	return raw, "/photos/" + photo.Hash(raw)
}

func TestAPhotoGoesUpOnceAndComesDown(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	raw, path := s.shot(t, q)
	if code, _, _ := s.get(path, q, nil); code != http.StatusNotFound {
		t.Errorf("before it came: %d, want 404", code)
	}
	for range 2 {
		if rec := s.put(path, q, raw); rec.Code != http.StatusNoContent {
			t.Fatalf("sending: %d %s", rec.Code, rec.Body)
		}
	}
	code, h, body := s.get(path, q, nil)
	if _, err := jpeg.Decode(bytes.NewReader(body)); code != http.StatusOK || err != nil ||
		h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Content-Type") != "image/jpeg" ||
		!strings.HasPrefix(h.Get("Content-Disposition"), "inline; filename=") {
		t.Errorf("fetching: %d %v %v", code, h, err)
	}
	rec := s.send("POST", s.syncPath(), q.request(), q.bearer())
	if !strings.Contains(rec.Body.String(), `"stored":true`) {
		t.Errorf("the record does not say stored: %s", rec.Body)
	}
}

func TestWrongPhotoBytesAreRefused(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	raw, path := s.shot(t, q)
	other := bytes.Clone(raw)
	other[len(other)/2] ^= 1
	for name, tt := range map[string]struct {
		path string
		body []byte
		want int
	}{
		"no such record": {"/photos/" + strings.Repeat("ab", 32), raw, 404},
		"no hash":        {"/photos/..%2f..%2fx", raw, 404},
		"other bytes":    {path, other, 422},
		"cut off":        {path, raw[:len(raw)-5], 422},
		"too large":      {path, make([]byte, 1<<20+1), 413},
	} {
		if rec := s.put(tt.path, q, tt.body); rec.Code != tt.want {
			t.Errorf("%s: %d %s, want %d", name, rec.Code, rec.Body, tt.want)
		}
	}
	if code, _, _ := s.get(path, q, nil); code != http.StatusNotFound {
		t.Errorf("after refusals: %d, want 404", code)
	}
	if kind.IsHash(strings.Repeat("A", 64)) {
		t.Error("capital letters make a second name for one picture")
	}
}

// TestRecordsGoOnWhilePicturesCannotBeStored: a folder that takes nothing refuses the bytes, says
// that the phone keeps them, and stops no record; when it takes them again, a repeat is enough.
func TestRecordsGoOnWhilePicturesCannotBeStored(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	raw, path := s.shot(t, q)
	if err := os.Chmod(s.photos, 0o500); err != nil {
		t.Fatal(err)
	}
	blocked := filepath.Join(s.photos, s.farm) // root passes any mode; a file in the way stops it too
	if err := os.WriteFile(blocked, nil, 0o600); err != nil && os.Getuid() == 0 {
		t.Fatal(err)
	}
	if rec := s.put(path, q, raw); rec.Code < 500 {
		t.Fatalf("a folder that takes nothing answered %d %s", rec.Code, rec.Body)
	}
	push := q.request(edit(t, 4, uuid.NewString(), "grower", map[string]any{"name": "Another"}))
	rec := s.send("POST", s.syncPath(), push, q.bearer())
	if rec.Code != http.StatusOK || strings.Count(rec.Body.String(), wire.Applied) != 1 {
		t.Fatalf("a record meanwhile: %d %s", rec.Code, rec.Body)
	}
	if err := errors.Join(os.RemoveAll(blocked), os.Chmod(s.photos, 0o700)); err != nil {
		t.Fatal(err)
	}
	if rec := s.put(path, q, raw); rec.Code != http.StatusNoContent {
		t.Errorf("then: %d %s", rec.Code, rec.Body)
	}
}
