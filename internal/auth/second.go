package auth

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base32"
	"fmt"
	"net/url"
	"strings"
	"time"

	"github.com/pquerna/otp"
	"github.com/pquerna/otp/totp"
)

// The second step is a code of six figures from an app (TOTP, RFC 6238: SHA-1, 30 s), or one of ten
// printed recovery codes. A code counts once: the step that was used is stored.
const (
	stepSeconds   = 30
	secondBytes   = 20
	recoveryCodes = 10
)

var secretText = base32.StdEncoding.WithPadding(base32.NoPadding)

// NewSecond draws the secret of a second step.
func NewSecond() (string, error) {
	raw := make([]byte, secondBytes)
	if _, err := rand.Read(raw); err != nil {
		return "", fmt.Errorf("drawing a secret: %w", err)
	}
	return secretText.EncodeToString(raw), nil
}

// SecondAddress is what an app reads to make the codes.
func SecondAddress(secret, account, login string) string {
	query := url.Values{"secret": {secret}, "issuer": {"Hilum"}, "algorithm": {"SHA1"},
		"digits": {"6"}, "period": {"30"}}
	return "otpauth://totp/" + url.PathEscape("Hilum:"+account+" "+login) + "?" + query.Encode()
}

// SecondStep gives the step whose code was typed: the present one or a neighbour, but none up to
// last, which was used before.
func SecondStep(secret, typed string, at time.Time, last int64) (step int64, ok bool) {
	typed = strings.ReplaceAll(strings.TrimSpace(typed), " ", "")
	now := at.Unix() / stepSeconds
	options := totp.ValidateOpts{Period: stepSeconds, Digits: otp.DigitsSix, Algorithm: otp.AlgorithmSHA1}
	for _, s := range []int64{now, now - 1, now + 1} {
		code, err := totp.GenerateCodeCustom(secret, time.Unix(s*stepSeconds, 0), options)
		if err == nil && s > last && subtle.ConstantTimeCompare([]byte(code), []byte(typed)) == 1 {
			return s, true
		}
	}
	return 0, false
}

// NewRecovery draws the printed codes, with the hashes that are stored in their place.
func NewRecovery() (codes []string, hashes [][]byte, err error) {
	for range recoveryCodes {
		a, errA := NewCode()
		b, errB := NewCode()
		if errA != nil || errB != nil {
			return nil, nil, fmt.Errorf("drawing recovery codes: %w %w", errA, errB)
		}
		codes = append(codes, a[:4]+"-"+a[4:]+"-"+b[:4])
		hashes = append(hashes, HashRecovery(codes[len(codes)-1]))
	}
	return codes, hashes, nil
}

// HashRecovery is what is stored of a recovery code, however it was spaced.
func HashRecovery(typed string) []byte {
	keep := func(r rune) rune {
		if strings.ContainsRune(letters, r) {
			return r
		}
		return -1
	}
	return Hash("recovery code:" + strings.Map(keep, strings.ToUpper(typed[:min(len(typed), 100)])))
}
