package api

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"net/http"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/google/uuid"
)

func (q seat) mutation(t *testing.T, n int64, kind string, set map[string]any) json.RawMessage {
	t.Helper()
	return edit(t, n, uuid.NewString(), kind, set)
}

func edit(t *testing.T, n int64, rec, kind string, set map[string]any) json.RawMessage {
	t.Helper()
	raw, err := json.Marshal(map[string]any{"n": n, "schema": 1, "rec": rec, "kind": kind,
		"base": 0, "set": set, "phoneTime": ""})
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func (s *server) get(path string, q seat, header map[string]string) (int, http.Header, []byte) {
	s.t.Helper()
	all := q.bearer()
	for k, v := range header {
		all[k] = v
	}
	rec := s.send("GET", "/api/v1/farms/"+s.farm+path, nil, all)
	return rec.Code, rec.Header(), rec.Body.Bytes()
}

func TestASnapshotIsPackedTaggedAndResumed(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	push := q.mutation(t, 1, "grower", map[string]any{"name": "Somebody's farm"})
	if rec := s.send("POST", s.syncPath(), q.request(push), q.bearer()); rec.Code != http.StatusOK {
		t.Fatalf("pushing: %d %s", rec.Code, rec.Body)
	}
	code, plainHeader, plain := s.get("/snapshot", q, nil)
	var d struct {
		Seq   int64
		Kinds []struct{ Kind string }
	}
	if err := json.Unmarshal(plain, &d); code != http.StatusOK || err != nil || d.Seq != 1 ||
		len(d.Kinds) != 1 || d.Kinds[0].Kind != "grower" {
		t.Fatalf("plain: %d %s", code, plain)
	}
	unpackers := map[string]func(io.Reader) io.Reader{
		"br":   func(r io.Reader) io.Reader { return brotli.NewReader(r) },
		"gzip": func(r io.Reader) io.Reader { g, _ := gzip.NewReader(r); return g },
	}
	for encoding, unpack := range unpackers {
		code, h, packed := s.get("/snapshot", q, map[string]string{"Accept-Encoding": encoding})
		if code != http.StatusOK || h.Get("Content-Encoding") != encoding {
			t.Fatalf("%s: %d %v", encoding, code, h)
		}
		if got, err := io.ReadAll(unpack(bytes.NewReader(packed))); err != nil || !bytes.Equal(got, plain) {
			t.Errorf("%s unpacks to %s, %v", encoding, got, err)
		}
		if h.Get("ETag") == plainHeader.Get("ETag") {
			t.Errorf("%s has the tag of the plain document", encoding)
		}
		again, _, _ := s.get("/snapshot", q, map[string]string{"Accept-Encoding": encoding,
			"If-None-Match": h.Get("ETag")})
		if again != http.StatusNotModified {
			t.Errorf("%s: a second load of the same got %d, want 304", encoding, again)
		}
	}
	code, _, rest := s.get("/snapshot", q, map[string]string{"Range": "bytes=20-",
		"If-Range": plainHeader.Get("ETag")})
	if code != http.StatusPartialContent || !bytes.Equal(rest, plain[20:]) {
		t.Errorf("resuming got %d %s", code, rest)
	}
	code, _, whole := s.get("/snapshot", q, map[string]string{"Range": "bytes=20-",
		"If-Range": `"` + uuid.NewString() + `.7"`})
	if code != http.StatusOK || !bytes.Equal(whole, plain) {
		t.Errorf("resuming another version got %d, want the whole", code)
	}
}

func TestASnapshotOfAnotherAccountIsNotFound(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	rec := s.send("GET", "/api/v1/farms/"+uuid.NewString()+"/snapshot", nil, q.bearer())
	if rec.Code != http.StatusNotFound {
		t.Errorf("got %d, want 404", rec.Code)
	}
}
