package api

import (
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/auth"
	"hilum/internal/wire"
)

// Every route answers with the headers that guard a browser, whatever it answers.
func TestEveryRouteCarriesTheGuardingHeaders(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	want := map[string]string{
		"Content-Security-Policy":      "require-trusted-types-for 'script'",
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Cache-Control":                "no-store",
		"Strict-Transport-Security":    "max-age=31536000; includeSubDomains",
	}
	for _, r := range s.deps.rules() {
		for _, target := range []string{r.path, r.path + "/nothing"} {
			path := strings.NewReplacer(":farm", s.farm, ":field", uuid.NewString(), ":person", uuid.NewString(),
				":device", uuid.NewString(), ":sha256", strings.Repeat("0", 64)).Replace(target)
			req := httptest.NewRequest(r.method, "https://farm.example/api/v1"+path, strings.NewReader("{}"))
			req.Header.Set("Content-Type", "application/json")
			rec := httptest.NewRecorder()
			s.e.ServeHTTP(rec, req)
			for name, part := range want {
				if got := rec.Header().Get(name); !strings.Contains(got, part) {
					t.Errorf("%s %s: %s is %q, want %q in it", r.method, target, name, got, part)
				}
			}
			if got := rec.Header().Get("Access-Control-Allow-Origin"); got != "" {
				t.Errorf("%s %s lets %q read it", r.method, target, got)
			}
			if strings.Contains(rec.Header().Get("Clear-Site-Data"), "storage") {
				t.Errorf("%s %s would wipe unsent work", r.method, target)
			}
		}
	}
}

// Nobody outside chooses the address that rate limits count by.
func TestAForgedForwardingHeaderCountsForNothing(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	refused := 0
	for range 40 {
		header := map[string]string{"X-Forwarded-For": uuid.NewString(), "X-Real-IP": "192.0.2.1"}
		if rec := s.send("POST", "/api/v1/enrol", map[string]string{"code": "BBBBBBBB"}, header); rec.Code == 429 {
			refused++
			if rec.Header().Get("Retry-After") == "" {
				t.Error("429 without Retry-After")
			}
		}
	}
	if refused == 0 {
		t.Error("40 guesses at once passed the limit under forged addresses")
	}
}

func TestTheCookieIsHostBoundSecureAndUnreadable(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	key, err := auth.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	public, err := key.Public()
	if err != nil {
		t.Fatal(err)
	}
	rec := s.send("POST", "/api/v1/signin", wire.SignIn{Login: "scout", Password: password,
		Device: uuid.NewString(), Key: public}, nil)
	set := rec.Header().Get("Set-Cookie")
	for _, part := range []string{"__Host-hilum-", "Path=/", "HttpOnly", "Secure", "SameSite=Strict"} {
		if !strings.Contains(set, part) {
			t.Errorf("the cookie lacks %s: %s", part, set)
		}
	}
	if strings.Contains(set, "Domain=") {
		t.Errorf("the cookie goes to other hosts: %s", set)
	}
}
