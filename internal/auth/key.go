package auth

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math/big"
	"time"

	"hilum/internal/fault"
)

// A device makes a P-256 key that never leaves it, and signs a nonce of ours to renew its session
// (as WebCrypto does: ECDSA with SHA-256, r and s side by side). A stolen cookie alone opens nothing.
const (
	keySize       = 65 // uncompressed point
	signatureSize = 64
	nonceLife     = 5 * time.Minute
	nonceSize     = 8 + 16 // the time, and our mark over it
)

var b64 = base64.RawURLEncoding

// ReadKey takes a device's public key from base64; nil for "", a program that has none.
func ReadKey(text string) ([]byte, error) {
	if text == "" {
		return nil, nil
	}
	raw, err := b64.DecodeString(text)
	if err == nil {
		_, err = ecdsa.ParseUncompressedPublicKey(elliptic.P256(), raw)
	}
	if err != nil {
		return nil, fault.At("key", "key", "must be a P-256 public key, %d bytes in base64url", keySize)
	}
	return raw, nil
}

// Statement is the text that a device signs to renew its session.
func Statement(farm, device, nonce string) []byte {
	return []byte("hilum refresh\n" + farm + "\n" + device + "\n" + nonce)
}

// Proves says whether the key signed the statement.
func Proves(key []byte, statement []byte, signature string) bool {
	public, err := ecdsa.ParseUncompressedPublicKey(elliptic.P256(), key)
	if err != nil {
		return false
	}
	raw, err := b64.DecodeString(signature)
	if err != nil || len(raw) != signatureSize {
		return false
	}
	r, s := new(big.Int).SetBytes(raw[:32]), new(big.Int).SetBytes(raw[32:])
	sum := sha256.Sum256(statement)
	return ecdsa.Verify(public, sum[:], r, s)
}

// Nonce gives a text that a device signs within five minutes.
func (s *Signer) Nonce() string {
	at := binary.BigEndian.AppendUint64(nil, uint64(s.now().Unix()))
	return b64.EncodeToString(append(at, s.mark(at)...))
}

// Fresh says whether a nonce is ours and not too old.
func (s *Signer) Fresh(nonce string) bool {
	raw, err := b64.DecodeString(nonce)
	if err != nil || len(raw) != nonceSize || !hmac.Equal(s.mark(raw[:8]), raw[8:]) {
		return false
	}
	age := s.now().Sub(time.Unix(int64(binary.BigEndian.Uint64(raw)), 0))
	return age >= 0 && age < nonceLife
}

func (s *Signer) mark(at []byte) []byte {
	h := hmac.New(sha256.New, s.key)
	h.Write([]byte("nonce of a device\n"))
	h.Write(at)
	return h.Sum(nil)[:nonceSize-8]
}

// Key is a device's key for programs of our own that act as one; a browser makes its own.
type Key struct {
	private *ecdsa.PrivateKey
}

// NewKey draws a key.
func NewKey() (Key, error) {
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return Key{}, fmt.Errorf("drawing a key: %w", err)
	}
	return Key{private}, nil
}

// Public gives the half that the server gets.
func (k Key) Public() (string, error) {
	raw, err := k.private.PublicKey.Bytes()
	if err != nil {
		return "", fmt.Errorf("writing a key: %w", err)
	}
	return b64.EncodeToString(raw), nil
}

// Sign gives the signature over a statement.
func (k Key) Sign(statement []byte) (string, error) {
	sum := sha256.Sum256(statement)
	r, s, err := ecdsa.Sign(rand.Reader, k.private, sum[:])
	if err != nil {
		return "", fmt.Errorf("signing: %w", err)
	}
	raw := make([]byte, signatureSize)
	r.FillBytes(raw[:32])
	s.FillBytes(raw[32:])
	return b64.EncodeToString(raw), nil
}
