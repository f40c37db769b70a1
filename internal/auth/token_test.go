package auth

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"github.com/golang-jwt/jwt/v5"
	"github.com/google/uuid"

	"hilum/internal/fault"
)

var testKey = bytes.Repeat([]byte("k"), 32)

func TestForgedTokensAreRefused(t *testing.T) {
	now := time.Now()
	s, err := NewSigner(testKey, func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	good := func() jwt.MapClaims {
		return jwt.MapClaims{
			"iss":    issuer,
			"aud":    audience,
			"typ":    typeAccess,
			"sub":    uuid.NewString(),
			"farm":   uuid.NewString(),
			"device": uuid.NewString(),
			"iat":    now.Unix(),
			"exp":    now.Add(time.Minute).Unix(),
		}
	}
	sign := func(method jwt.SigningMethod, key any, change func(jwt.MapClaims)) string {
		claims := good()
		change(claims)
		token, err := jwt.NewWithClaims(method, claims).SignedString(key)
		if err != nil {
			t.Fatal(err)
		}
		return token
	}
	same := func(jwt.MapClaims) {}
	if _, err := s.Check(sign(jwt.SigningMethodHS256, testKey, same)); err != nil {
		t.Fatalf("a good token was refused: %v", err)
	}
	set := func(key string, value any) func(jwt.MapClaims) { return func(c jwt.MapClaims) { c[key] = value } }
	drop := func(key string) func(jwt.MapClaims) { return func(c jwt.MapClaims) { delete(c, key) } }
	hs := jwt.SigningMethodHS256
	for name, token := range map[string]string{
		"no algorithm":       sign(jwt.SigningMethodNone, jwt.UnsafeAllowNoneSignatureType, same),
		"other algorithm":    sign(jwt.SigningMethodHS512, testKey, same),
		"other key":          sign(hs, bytes.Repeat([]byte("x"), 32), same),
		"expired":            sign(hs, testKey, set("exp", now.Add(-time.Second).Unix())),
		"no expiry":          sign(hs, testKey, drop("exp")),
		"expiry as text":     sign(hs, testKey, set("exp", "9999999999")),
		"issued later":       sign(hs, testKey, set("iat", now.Add(time.Hour).Unix())),
		"no issue date":      sign(hs, testKey, drop("iat")),
		"other issuer":       sign(hs, testKey, set("iss", "somebody")),
		"other audience":     sign(hs, testKey, set("aud", "somebody")),
		"other type":         sign(hs, testKey, set("typ", "refresh")),
		"farm is no id":      sign(hs, testKey, set("farm", "../../etc")),
		"empty":              "",
		"a megabyte of dots": strings.Repeat(".", 1<<20),
	} {
		if _, err := s.Check(token); fault.KindOf(err) != fault.Unauthorized {
			t.Errorf("%s: got %v, want Unauthorized", name, err)
		}
	}
}

func TestPasswordFitsOnlyItself(t *testing.T) {
	ctx := context.Background()
	phc, err := HashPassword(ctx, "plain words for a test")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		phc, password string
		want          bool
	}{
		{phc, "plain words for a test", true}, {phc, "plain words for a tesT", false}, {phc, "", false},
		{"", "", false}, {"$argon2id$v=19$m=1,t=1,p=1$AA$AA", "x", false},
	} {
		if got, err := VerifyPassword(ctx, tt.phc, tt.password); got != tt.want || err != nil {
			t.Errorf(
				"VerifyPassword(%.12q, %q) = %v, %v, want %v",
				tt.phc,
				tt.password,
				got,
				err,
				tt.want,
			)
		}
	}
}

func TestPasswordLength(t *testing.T) {
	for password, ok := range map[string]bool{"": false, "fourteen chars": false, "fifteen chars!!": true,
		strings.Repeat("é", MaxPassword): true, strings.Repeat("x", MaxPassword+1): false} {
		if err := CheckPassword(password); (err == nil) != ok {
			t.Errorf("CheckPassword of %d letters = %v, want ok %v", len([]rune(password)), err, ok)
		}
	}
}
