package api

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

// FuzzBodies sends any body to any route, as the owner: no answer of 500 and no panic, whatever
// comes. 503 and 507 are honest answers.
func FuzzBodies(f *testing.F) {
	for i := range 60 {
		f.Add(uint8(i), []byte(`{}`), uint8(0))
	}
	for _, body := range []string{``, `null`, `[]`, `"x"`, `{"link":".","name":null}`, `{"name":"\u0000"}`,
		`{"code":"bcdf ghjk"}`, `{"device":"` + uuid.NewString() + `","key":"AAAA"}`, "\x1f\x8b\x08\x00",
		`{"proto":1,"schema":1,"device":"","epoch":"","cursor":0,"push":[{}]}`, `{"alias":"\ud800"}`} {
		for i := range 40 {
			f.Add(uint8(i), []byte(body), uint8(i))
		}
	}
	s := newServer(f)
	// Pushes and pictures without a rate, else most of the run would end at its door.
	s.deps.pushes, s.deps.photos = newPace(1e9, 1e9), newPace(1e9, 1e9)
	e := echo.New()
	Mount(e, s.deps)
	rules, bearer := s.deps.rules(), s.seatOf("owner").bearer()
	f.Fuzz(func(t *testing.T, which uint8, body []byte, kind uint8) {
		r := rules[int(which)%len(rules)]
		if strings.HasSuffix(r.path, "/end") || strings.HasSuffix(r.path, "/poke") {
			return // the one would end this run's session, the other waits
		}
		path := strings.NewReplacer(":farm", s.farm, ":field", uuid.Nil.String(), ":person", s.ids["scout"],
			":device", uuid.Nil.String(), ":sha256", strings.Repeat("0", 64)).Replace(r.path)
		ctx, stop := context.WithTimeout(t.Context(), 20*time.Second)
		defer stop()
		req := httptest.NewRequestWithContext(ctx, r.method, "/api/v1"+path, strings.NewReader(string(body)))
		// Each from an address of its own, so that the limits leave the run alone.
		req.RemoteAddr = "10." + strings.Join([]string{itoa(which), itoa(kind), itoa(uint8(len(body)))}, ".") + ":9"
		req.Header.Set("Content-Type", []string{"application/json", "image/jpeg", "", "text/plain"}[kind%4])
		if kind&4 != 0 {
			req.Header.Set("Content-Encoding", "gzip")
		}
		req.Header.Set("Authorization", bearer["Authorization"])
		req.Header.Set("X-Hilum", "1")
		rec := httptest.NewRecorder()
		e.ServeHTTP(rec, req)
		if rec.Code == http.StatusInternalServerError {
			t.Errorf("%s %s with %q: %d %s", r.method, r.path, body, rec.Code, rec.Body)
		}
		for _, leak := range []string{"SQLSTATE", "goroutine ", "pgx", "/internal/"} {
			if strings.Contains(rec.Body.String(), leak) {
				t.Errorf("%s %s tells %q: %s", r.method, r.path, leak, rec.Body)
			}
		}
	})
}

func itoa(n uint8) string { return string([]byte{'0' + n/100, '0' + n/10%10, '0' + n%10}) }
