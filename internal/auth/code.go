package auth

import (
	"crypto/rand"
	"fmt"
	"math/big"
	"strings"
	"time"

	"hilum/internal/fault"
)

// A code to type: eight of twenty letters, 34.6 bits. The letters are consonants, so that no word
// comes out, without those that look like a figure (RFC 8628, 6.1).
const (
	letters      = "BCDFGHJKLMNPQRSTVWXZ"
	codeLength   = 8
	selectorSize = 3
	CodeLife     = 10 * time.Minute
	MaxTries     = 5  // wrong ones per code
	MaxCodes     = 20 // per account and hour
)

// NewCode draws a code to type.
func NewCode() (string, error) {
	var code strings.Builder
	for range codeLength {
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(letters))))
		if err != nil {
			return "", fmt.Errorf("drawing a code: %w", err)
		}
		code.WriteByte(letters[n.Int64()])
	}
	return code.String(), nil
}

// ReadCode gives the letters of a typed code, however they were spaced and in whatever case, and
// the first of them, by which it is found.
func ReadCode(typed string) (code, selector string, err error) {
	var out strings.Builder
	for _, r := range strings.ToUpper(typed) {
		switch {
		case strings.ContainsRune(letters, r) && out.Len() < codeLength+1:
			out.WriteRune(r)
		case r == ' ' || r == '-':
		default:
			return "", "", badCode()
		}
	}
	if out.Len() != codeLength {
		return "", "", badCode()
	}
	return out.String(), out.String()[:selectorSize], nil
}

func badCode() error {
	return fault.At("code", "code", "must be the %d letters shown, of: %s", codeLength, letters)
}

// HashCode is what is stored of a typed code.
func HashCode(code string) []byte { return Hash("code to type:" + code) }
