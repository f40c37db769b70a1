// Package auth makes and checks passwords, tokens and one-time links. It stores nothing.
package auth

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
	"golang.org/x/sync/semaphore"

	"hilum/internal/fault"
)

// Argon2id at the floor of the OWASP password storage cheat sheet: 19 MiB, two passes, one lane.
const (
	memoryKiB = 19456
	passes    = 2
	lanes     = 1
	saltBytes = 16
	keyBytes  = 32
)

// Lengths of a password in characters, alone and beside a second step (NIST SP 800-63B-4: 15 and 8;
// no rules of composition, no expiry), and the most that is hashed.
const (
	MinPassword     = 15
	MinWithSecond   = 8
	MaxPassword     = 256
	hashedBytesMost = 4 * MaxPassword
)

// hashing bounds memory and time: two at once on two cores.
var hashing = semaphore.NewWeighted(2)

// CheckPassword says whether a new password is acceptable for somebody without a second step. own
// are the names that belong to the person and so make no secret.
func CheckPassword(password string, own ...string) error {
	return checkPassword(password, MinPassword, own)
}

// CheckWithSecond says the same for somebody whose sign-in has a second step.
func CheckWithSecond(password string, own ...string) error {
	return checkPassword(password, MinWithSecond, own)
}

func checkPassword(password string, least int, own []string) error {
	n := utf8.RuneCountInString(password)
	if n < least || n > MaxPassword {
		return fault.At("password", "length", "has %d characters, accepted %d to %d", n, least, MaxPassword)
	}
	return guessed(password, own)
}

// HashPassword gives the PHC string of a password.
func HashPassword(ctx context.Context, password string) (string, error) {
	salt := make([]byte, saltBytes)
	if _, err := rand.Read(salt); err != nil {
		return "", fmt.Errorf("drawing a salt: %w", err)
	}
	key, err := derive(ctx, password, salt)
	if err != nil {
		return "", err
	}
	b64 := base64.RawStdEncoding
	return fmt.Sprintf(
		"$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s",
		argon2.Version,
		memoryKiB,
		passes,
		lanes,
		b64.EncodeToString(salt),
		b64.EncodeToString(key),
	), nil
}

// VerifyPassword says whether a password fits a PHC string made by HashPassword. An empty or
// foreign string fits nothing, in the same time.
func VerifyPassword(ctx context.Context, phc, password string) (bool, error) {
	salt, want, ok := parsePHC(phc)
	if !ok {
		salt, want = make([]byte, saltBytes), make([]byte, keyBytes)
	}
	got, err := derive(ctx, password, salt)
	if err != nil {
		return false, err
	}
	return subtle.ConstantTimeCompare(got, want) == 1 && ok, nil
}

func derive(ctx context.Context, password string, salt []byte) ([]byte, error) {
	password = password[:min(len(password), hashedBytesMost)]
	if err := hashing.Acquire(ctx, 1); err != nil {
		return nil, fmt.Errorf("waiting to hash: %w", err)
	}
	defer hashing.Release(1)
	return argon2.IDKey([]byte(password), salt, passes, memoryKiB, lanes, keyBytes), nil
}

func parsePHC(phc string) (salt, key []byte, ok bool) {
	parts := strings.Split(phc, "$")
	head := fmt.Sprintf("m=%d,t=%d,p=%d", memoryKiB, passes, lanes)
	if len(parts) != 6 || parts[1] != "argon2id" || parts[3] != head {
		return nil, nil, false
	}
	salt, errSalt := base64.RawStdEncoding.DecodeString(parts[4])
	key, errKey := base64.RawStdEncoding.DecodeString(parts[5])
	return salt, key, errSalt == nil && errKey == nil && len(key) == keyBytes
}
