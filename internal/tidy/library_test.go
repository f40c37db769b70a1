package tidy

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// least are the versions below which a library has a hole that is known to us. Raise them with each
// advisory; the time to do so is 48 hours for a critical one, 7 days for a high one, 30 for the rest.
var least = map[string]string{
	"github.com/labstack/echo/v4":  "4.16.0", // escaped paths past guards, forged addresses, open redirect
	"github.com/golang-jwt/jwt/v5": "5.3.1",  // many dots take memory (CVE-2025-30204)
	"github.com/jackc/pgx/v5":      "5.12.0", // memory safety, simple protocol, channel binding
	"github.com/pressly/goose/v3":  "3.29.0", // two starts at once
	"golang.org/x/crypto":          "0.45.0", // ssh and agent, not used here, kept out all the same
	"golang.org/x/net":             "0.45.0", // http2
	"github.com/pquerna/otp":       "1.5.0",
}

func TestLibrariesAreNotBelowTheirKnownHoles(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(root(t), "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	for name, version := range least {
		found := regexp.MustCompile(`(?m)^\s+` + regexp.QuoteMeta(name) + ` v(\S+)`).FindStringSubmatch(string(raw))
		if found == nil {
			t.Error(problem{"go.mod", 0, name + " is not there", "take it out of this table"})
			continue
		}
		if older(found[1], version) {
			t.Error(problem{"go.mod", 0, name + " is v" + found[1],
				"go get " + name + "@latest: below v" + version + " it has a known hole"})
		}
	}
}

// older compares versions part by part.
func older(a, b string) bool {
	as, bs := strings.Split(a, "."), strings.Split(b, ".")
	for i := range min(len(as), len(bs)) {
		x, _ := strconv.Atoi(as[i])
		y, _ := strconv.Atoi(bs[i])
		if x != y {
			return x < y
		}
	}
	return false
}

func TestOlder(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{{"4.9.0", "4.16.0", true}, {"4.16.0", "4.16.0", false}, {"5.12.1", "5.12.0", false}, {"0.62.0", "0.45.0", false}} {
		if got := older(tt.a, tt.b); got != tt.want {
			t.Errorf("older(%s, %s) = %v", tt.a, tt.b, got)
		}
	}
}
