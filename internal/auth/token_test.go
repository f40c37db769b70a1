package auth

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/rsa"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/golang-jwt/jwt/v5"
	"github.com/google/uuid"

	"hilum/internal/fault"
)

var testKey = bytes.Repeat([]byte("k"), 32)

// forge makes tokens that are good but for one thing.
type forge struct {
	t   *testing.T
	now time.Time
}

func (f forge) claims() jwt.MapClaims {
	return jwt.MapClaims{
		"iss": issuer, "aud": audience, "typ": typeAccess, "sub": uuid.NewString(),
		"farm": uuid.NewString(), "device": uuid.NewString(), "sid": uuid.NewString(),
		"iat": f.now.Unix(), "exp": f.now.Add(time.Minute).Unix(),
	}
}

func (f forge) sign(method jwt.SigningMethod, key any, change func(*jwt.Token)) string {
	f.t.Helper()
	token := jwt.NewWithClaims(method, f.claims())
	change(token)
	text, err := token.SignedString(key)
	if err != nil {
		f.t.Fatal(err)
	}
	return text
}

func same(*jwt.Token) {}

func set(key string, value any) func(*jwt.Token) {
	return func(t *jwt.Token) { t.Claims.(jwt.MapClaims)[key] = value }
}

func drop(key string) func(*jwt.Token) {
	return func(t *jwt.Token) { delete(t.Claims.(jwt.MapClaims), key) }
}

func named(kid string) func(*jwt.Token) {
	return func(t *jwt.Token) { t.Header["kid"] = kid }
}

// forged are all the ways of forging that we know of.
func (f forge) forged() map[string]string {
	f.t.Helper()
	rsaKey, errRSA := rsa.GenerateKey(rand.Reader, 2048)
	refresh, _, errSecret := NewSecret()
	if err := errors.Join(errRSA, errSecret); err != nil {
		f.t.Fatal(err)
	}
	hs := jwt.SigningMethodHS256
	ours := func(change func(*jwt.Token)) string { return f.sign(hs, testKey, change) }
	return map[string]string{
		"no algorithm":       f.sign(jwt.SigningMethodNone, jwt.UnsafeAllowNoneSignatureType, same),
		"other algorithm":    f.sign(jwt.SigningMethodHS512, testKey, same),
		"signed by RSA":      f.sign(jwt.SigningMethodRS256, rsaKey, same),
		"other key":          f.sign(hs, bytes.Repeat([]byte("x"), 32), same),
		"expired":            ours(set("exp", f.now.Add(-time.Second).Unix())),
		"no expiry":          ours(drop("exp")),
		"expiry as text":     ours(set("exp", "9999999999")),
		"issued later":       ours(set("iat", f.now.Add(time.Hour).Unix())),
		"no issue date":      ours(drop("iat")),
		"other issuer":       ours(set("iss", "somebody")),
		"no issuer":          ours(drop("iss")),
		"other audience":     ours(set("aud", "somebody")),
		"no audience":        ours(drop("aud")),
		"other type":         ours(set("typ", "refresh")),
		"no type":            ours(drop("typ")),
		"a hand-in ticket":   ours(set("typ", typeHandIn)),
		"farm is no id":      ours(set("farm", "../../etc")),
		"device is no id":    ours(set("device", "1' OR '1'='1")),
		"no session":         ours(drop("sid")),
		"no person":          ours(drop("sub")),
		"a key by path":      ours(named("../../../dev/null")),
		"a key by SQL":       ours(named("' UNION SELECT 'k' --")),
		"a refresh token":    refresh,
		"cut short":          ours(same)[:40],
		"empty":              "",
		"a megabyte of dots": strings.Repeat(".", 1<<20),
	}
}

func TestForgedTokensAreRefused(t *testing.T) {
	f := forge{t, time.Now()}
	s, err := NewSigner(testKey, func() time.Time { return f.now })
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Check(f.sign(jwt.SigningMethodHS256, testKey, same)); err != nil {
		t.Fatalf("a good token was refused: %v", err)
	}
	for name, token := range f.forged() {
		if _, err := s.Check(token); fault.KindOf(err) != fault.Unauthorized {
			t.Errorf("%s: got %v, want Unauthorized", name, err)
		}
	}
}

func TestAnOldKeySignsNothingAfterAChange(t *testing.T) {
	old, err := NewSigner(testKey, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	fresh, err := NewSigner(bytes.Repeat([]byte("n"), 32), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	h := Holder{Farm: uuid.NewString(), Person: uuid.NewString(), Device: uuid.NewString(), Session: uuid.NewString()}
	token, _, err := old.Access(h)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := old.Check(token); err != nil {
		t.Errorf("under its own key: %v", err)
	}
	if _, err := fresh.Check(token); fault.KindOf(err) != fault.Unauthorized || fresh.Fresh(old.Nonce()) {
		t.Errorf("token or nonce of the old key passed: %v", err)
	}
}

// One row for each way in which a refresh token can come back.
func TestJudge(t *testing.T) {
	const old = 11 * time.Minute
	for name, tt := range map[string]struct {
		s    Shown
		want Verdict
	}{
		"the first":                  {Shown{Generation: 1, Age: old, Proved: true}, Renew},
		"the first, young":           {Shown{Generation: 1, Age: time.Second, Proved: true}, Keep},
		"again, its answer was lost": {Shown{Generation: 4, Arrived: 4, Age: old, Proved: true}, Renew},
		"the successor":              {Shown{Generation: 5, Arrived: 4, Age: old, Proved: true}, Renew},
		"replaced":                   {Shown{Generation: 3, Arrived: 4, Age: old, Proved: true}, Reused},
		"replaced, no key":           {Shown{Generation: 3, Arrived: 4, Age: old}, Reused},
		"stolen, no key":             {Shown{Generation: 5, Arrived: 4, Age: old}, Refuse},
		"ended":                      {Shown{Generation: 5, Arrived: 4, Age: old, Proved: true, Ended: true}, Refuse},
		"shut out":                   {Shown{Generation: 5, Arrived: 4, Proved: true, Ended: true, ShutOut: true}, HandIn},
		"shut out, no key":           {Shown{Generation: 5, Arrived: 4, Ended: true, ShutOut: true}, Refuse},
	} {
		if got := Judge(tt.s); got != tt.want {
			t.Errorf("%s: %d, want %d", name, got, tt.want)
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

func TestWhichPasswordsAreTaken(t *testing.T) {
	long := func(n int) string { return strings.Repeat("grün und blau ", n)[:n] }
	for password, ok := range map[string]bool{
		"": false, "fourteen chars": false, "fifteen chars!!": true, "pod-and-tendril-and-root": true,
		"une phrase entière de mots": true, long(MaxPassword): true, strings.Repeat("x", 16): false,
		strings.Repeat("qa ws ed rf tg ", 30): false, "passwordpassword": false, "abcabcabcabcabcabc": false,
		"abcdefghijklmnopq": false, "123456789012345678": false, "987654321098765": false,
		"hilum-farm-2027!!": false, "runa sedge lentil": false, "1qaz2wsx3edc4rfv5tgb": true,
	} {
		if err := CheckPassword(password, "runa", "Runa Sedge"); (err == nil) != ok {
			t.Errorf("CheckPassword(%.30q) = %v, want ok %v", password, err, ok)
		}
	}
	for password, ok := range map[string]bool{"seven77": false, "baseball": false, "Sunshine": false,
		"bog-moth-9": true} {
		if err := CheckWithSecond(password); (err == nil) != ok {
			t.Errorf("CheckWithSecond(%q) = %v, want ok %v", password, err, ok)
		}
	}
	if n := len(commonWords()); n < 100_000 {
		t.Errorf("%d common passwords are known, want 100,460", n)
	}
}
