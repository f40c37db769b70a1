package site

import (
	"crypto/tls"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/labstack/echo/v4"
)

// client is a small built client. Its compressed files only have to be recognised again.
var client = fstest.MapFS{
	"index.html":          file("<!doctype html><title>the page</title>"),
	"index.html.br":       file("page in br"),
	"index.html.gz":       file("page in gzip"),
	"sw.js":               file("// the service worker"),
	"app.webmanifest":     file(`{"name":"Hilum"}`),
	"engine.wasm":         file("\x00asm and more than the small one"),
	"engine.wasm.br":      file("wasm in br"),
	"icon.svg":            file("<svg/>"),
	"icon.svg.gz":         file("longer than the plain file"),
	"assets/app-1a2b.js":  file("console.log('app')"),
	"assets/face-1.woff2": file("face"),
}

func file(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

func newServer(t *testing.T, files fstest.MapFS) *echo.Echo {
	t.Helper()
	e := echo.New()
	e.Use(Headers)
	e.GET("/api/v1/known", func(c echo.Context) error { return c.String(http.StatusOK, "known") })
	if err := Mount(e, files); err != nil {
		t.Fatal(err)
	}
	return e
}

// ask sends one request to localhost; pairs are header names and values.
func ask(e *echo.Echo, method, target string, pairs ...string) *http.Response {
	r := httptest.NewRequest(method, target, nil)
	r.Host = "localhost:8080"
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] == "Host" {
			r.Host = pairs[i+1]
		}
		r.Header.Set(pairs[i], pairs[i+1])
	}
	w := httptest.NewRecorder()
	e.ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestAddresses(t *testing.T) {
	const page, none = "the page", "Not Found"
	const html, js = "text/html; charset=utf-8", "text/javascript; charset=utf-8"
	tests := []struct {
		name, target string
		status       int
		want         string // a part of the body
		kind, cache  string
	}{
		{"root", "/", 200, page, html, askAgain},
		{"the page by name", "/index.html", 200, page, html, askAgain},
		{"a screen", "/fields/0190", 200, page, html, askAgain},
		{"a screen with a slash", "/fields/", 200, page, html, askAgain},
		{"a screen with a question", "/fields?sort=risk", 200, page, html, askAgain},
		{"worker", "/sw.js", 200, "service worker", js, askAgain},
		{"manifest", "/app.webmanifest", 200, "Hilum", "application/manifest+json", askAgain},
		{"engine", "/engine.wasm", 200, "asm", "application/wasm", askAgain},
		{"hashed script", "/assets/app-1a2b.js", 200, "app", js, forEver},
		{"face", "/assets/face-1.woff2", 200, "face", "font/woff2", forEver},
		{"missing script", "/assets/app-old.js", 404, none, "", ""},
		{"missing file", "/nothing.png", 404, none, "", ""},
		{"a folder is no listing", "/assets", 200, page, html, askAgain},
		{"compressed file by name", "/index.html.br", 404, none, "", ""},
		{"route", "/api/v1/known", 200, "known", "text/plain; charset=UTF-8", ""},
		{"missing route", "/api/v1/unknown", 404, none, "", ""},
		{"bare api", "/api", 404, none, "", ""},
		{"escaped letter", "/%61pi/v1/known", 404, none, "", ""},
		{"escaped slash", "/api%2Fv1%2Fknown", 404, none, "", ""},
		{"escaped slash in a file", "/assets%2Fapp-1a2b.js", 404, none, "", ""},
		{"escaped letter in a file", "/%73w.js", 404, none, "", ""},
		{"escaped letter in a screen", "/%66ields", 404, none, "", ""},
		{"dots", "/assets/../sw.js", 404, none, "", ""},
		{"escaped dots", "/%2e%2e/%2e%2e/etc/passwd", 404, none, "", ""},
		{"doubled slash", "//api/v1/known", 404, none, "", ""},
		{"doubled slash inside", "/fields//x", 404, none, "", ""},
	}
	e := newServer(t, client)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := ask(e, http.MethodGet, "http://localhost"+tt.target)
			text := body(t, r)
			if r.StatusCode != tt.status || !strings.Contains(text, tt.want) {
				t.Fatalf("GET %s = %d %q, want %d %q",
					tt.target, r.StatusCode, text, tt.status, tt.want)
			}
			if tt.status == 200 && r.Header.Get("Content-Type") != tt.kind {
				t.Errorf("type %q, want %q", r.Header.Get("Content-Type"), tt.kind)
			}
			if tt.status == 200 && r.Header.Get("Cache-Control") != tt.cache {
				t.Errorf("cache %q, want %q", r.Header.Get("Cache-Control"), tt.cache)
			}
		})
	}
}

func TestTheBestAllowedVariantIsSent(t *testing.T) {
	tests := []struct{ target, accept, want string }{
		{"/", "gzip, deflate, br, zstd", "br"},
		{"/", "gzip", "gzip"},
		{"/", "GZIP", "gzip"},
		{"/", "br;q=0, gzip;q=0.5", "gzip"},
		{"/", "br ; q=0.000, gzip; q=0", ""},
		{"/", "*", "br"},
		{"/", "*;q=0", ""},
		{"/", "gzip;q=nonsense", ""},
		{"/", "", ""},
		{"/engine.wasm", "gzip", ""},
		{"/icon.svg", "gzip", ""}, // larger than the plain file
	}
	e := newServer(t, client)
	for _, tt := range tests {
		r := ask(e, http.MethodGet, tt.target, "Accept-Encoding", tt.accept)
		if got := r.Header.Get("Content-Encoding"); got != tt.want {
			t.Errorf("GET %s with %q came in %q, want %q", tt.target, tt.accept, got, tt.want)
		}
		if r.Header.Get("Vary") != "Accept-Encoding" {
			t.Errorf("GET %s: Vary %q", tt.target, r.Header.Get("Vary"))
		}
	}
}

func TestEachVariantHasATagOfItsOwn(t *testing.T) {
	e := newServer(t, client)
	seen := map[string]bool{}
	for _, accept := range []string{"br", "gzip", ""} {
		tag := ask(e, http.MethodGet, "/", "Accept-Encoding", accept).Header.Get("ETag")
		if tag == "" || seen[tag] {
			t.Errorf("tag %q for %q is empty or not its own", tag, accept)
		}
		seen[tag] = true
		for _, have := range []string{tag, "W/" + tag, `"other", ` + tag, "*"} {
			r := ask(e, http.MethodGet, "/", "Accept-Encoding", accept, "If-None-Match", have)
			if r.StatusCode != http.StatusNotModified || body(t, r) != "" {
				t.Errorf("having %s: %d, want 304 without a body", have, r.StatusCode)
			}
		}
		if r := ask(e, http.MethodGet, "/", "If-None-Match", `"other"`); r.StatusCode != 200 {
			t.Errorf("having another: %d, want 200", r.StatusCode)
		}
	}
}

func TestOtherMethods(t *testing.T) {
	e := newServer(t, client)
	if r := ask(e, http.MethodHead, "/sw.js"); r.StatusCode != 200 || r.ContentLength < 1 {
		t.Errorf("HEAD = %d with length %d", r.StatusCode, r.ContentLength)
	}
	if r := ask(e, http.MethodPost, "/"); r.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("POST = %d, want 405", r.StatusCode)
	}
}

func TestEveryAnswerCarriesTheHeaders(t *testing.T) {
	e := newServer(t, client)
	for _, target := range []string{"/", "/sw.js", "/engine.wasm", "/api/v1/known", "/api/none",
		"/missing.js", "/%61pi", "/server/page.css"} {
		r := ask(e, http.MethodGet, target)
		for name, value := range fixed {
			if got := r.Header.Get(name); got != value {
				t.Errorf("GET %s: %s is %q, want %q", target, name, got, value)
			}
		}
		if r.Header.Get("Strict-Transport-Security") != "" {
			t.Errorf("GET %s over http pins TLS", target)
		}
	}
}

func TestTLSIsPinnedOnlyOverTLSAndNotOnThisMachine(t *testing.T) {
	e := newServer(t, client)
	pinned := func(r *http.Response) bool { return r.Header.Get("Strict-Transport-Security") != "" }
	if !pinned(ask(e, http.MethodGet, "/", "Host", "farm.test", "X-Forwarded-Proto", "https")) {
		t.Error("not pinned behind a TLS proxy")
	}
	if pinned(ask(e, http.MethodGet, "/", "X-Forwarded-Proto", "https")) {
		t.Error("pinned for localhost")
	}
	r := httptest.NewRequest(http.MethodGet, "https://farm.test/", nil)
	r.TLS = &tls.ConnectionState{}
	w := httptest.NewRecorder()
	e.ServeHTTP(w, r)
	if !pinned(w.Result()) || w.Code != 200 {
		t.Errorf("direct TLS: %d, pinned %t", w.Code, pinned(w.Result()))
	}
}

func TestPlainHTTPFromElsewhereSaysWhatIsMissing(t *testing.T) {
	e := newServer(t, client)
	for _, host := range []string{"192.168.1.20:8080", "farm.test", "[fd00::1]:8080",
		"localhost.evil.test", "127.0.0.1.evil.test"} {
		r := ask(e, http.MethodGet, "/fields", "Host", host)
		text := body(t, r)
		if r.StatusCode != http.StatusUpgradeRequired {
			t.Errorf("%s: %d, want 426", host, r.StatusCode)
		}
		words := []string{"HTTPS", "TLS_CERT", "TLS_KEY", "ACME_HOST", "docker compose"}
		for _, word := range words {
			if !strings.Contains(text, word) {
				t.Errorf("%s: the page does not name %s", host, word)
			}
		}
	}
	for _, host := range []string{"localhost", "LOCALHOST:80", "127.0.0.1:8080", "127.8.9.1",
		"[::1]:8080", "app.localhost"} {
		if r := ask(e, http.MethodGet, "/fields", "Host", host); r.StatusCode != 200 {
			t.Errorf("%s: %d, want the client", host, r.StatusCode)
		}
	}
}

func TestThePagesOfTheServerObeyItsPolicy(t *testing.T) {
	e := newServer(t, client)
	for _, address := range []string{needsTLS, notBuilt} {
		text := body(t, ask(e, http.MethodGet, address))
		for _, banned := range []string{"<style", "style=", "<script", "http://www", "https://"} {
			if strings.Contains(text, banned) {
				t.Errorf("%s holds %q, which the policy blocks", address, banned)
			}
		}
	}
	if r := ask(e, http.MethodGet, "/server/page.css"); r.StatusCode != 200 {
		t.Errorf("their stylesheet: %d", r.StatusCode)
	}
}

func TestAClientThatIsNotBuiltSaysSo(t *testing.T) {
	for name, files := range map[string]fstest.MapFS{
		"nothing": {}, "placeholder": {".keep": file("")},
	} {
		e := newServer(t, files)
		r := ask(e, http.MethodGet, "/")
		if text := body(t, r); r.StatusCode != 503 || !strings.Contains(text, "./deploy/run") {
			t.Errorf("%s: %d %q, want 503 and the command", name, r.StatusCode, text)
		}
		if r := ask(e, http.MethodGet, "/sw.js"); r.StatusCode != 404 {
			t.Errorf("%s: /sw.js = %d, want 404", name, r.StatusCode)
		}
	}
}
