package auth

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/golang-jwt/jwt/v5"
	"github.com/google/uuid"

	"hilum/internal/fault"
)

// Lifetimes; those of sessions stand in session.go.
const (
	AccessLife = 10 * time.Minute
	LinkLife   = 24 * time.Hour
)

const (
	issuer     = "hilum"
	audience   = "hilum-api"
	typeAccess = "access"
	typeHandIn = "handin"
	secretSize = 32
	maxToken   = 4096
)

// Claims say who holds an access token.
type Claims struct {
	Farm    string `json:"farm"`
	Device  string `json:"device"`
	Session string `json:"sid"`
	Type    string `json:"typ"`
	jwt.RegisteredClaims
}

// Holder is whom a token is made for.
type Holder struct {
	Farm    string
	Person  string
	Device  string
	Session string
}

// UnmarshalJSON refuses dates written as text, which the library would read.
func (c *Claims) UnmarshalJSON(raw []byte) error {
	var dates struct {
		Expires *float64 `json:"exp"`
		Issued  *float64 `json:"iat"`
	}
	if err := json.Unmarshal(raw, &dates); err != nil {
		return err
	}
	type plain Claims
	return json.Unmarshal(raw, (*plain)(c))
}

// Signer makes and checks access tokens with one key and one algorithm.
type Signer struct {
	key []byte
	now func() time.Time
}

// NewSigner takes a key of at least 32 bytes.
func NewSigner(key []byte, now func() time.Time) (*Signer, error) {
	if len(key) < secretSize {
		return nil, fault.New(
			fault.Internal,
			"key",
			"the signing key is shorter than %d bytes",
			secretSize,
		)
	}
	return &Signer{key: key, now: now}, nil
}

// Access makes a token for one person on one device, and says until when it holds.
func (s *Signer) Access(h Holder) (token string, until time.Time, err error) {
	until = s.now().Add(AccessLife)
	token, err = s.sign(typeAccess, h, until)
	return token, until, err
}

// Ticket makes a token with which a device that was shut out may hand in what it holds, and
// nothing else.
func (s *Signer) Ticket(h Holder, until time.Time) (string, error) {
	return s.sign(typeHandIn, h, until)
}

func (s *Signer) sign(kind string, h Holder, until time.Time) (string, error) {
	claims := Claims{
		Farm: h.Farm, Device: h.Device, Session: h.Session, Type: kind,
		RegisteredClaims: jwt.RegisteredClaims{
			Issuer: issuer, Audience: jwt.ClaimStrings{audience}, Subject: h.Person,
			IssuedAt: jwt.NewNumericDate(s.now()), ExpiresAt: jwt.NewNumericDate(until),
		},
	}
	token, err := jwt.NewWithClaims(jwt.SigningMethodHS256, claims).SignedString(s.key)
	if err != nil {
		return "", fmt.Errorf("signing a token: %w", err)
	}
	return token, nil
}

// Check gives the claims of a valid access token; Unauthorized for any other, with no reason that
// would help a forger.
func (s *Signer) Check(token string) (Claims, error) { return s.check(typeAccess, token) }

// CheckTicket gives the claims of a valid hand-in ticket; Unauthorized for any other token.
func (s *Signer) CheckTicket(token string) (Claims, error) { return s.check(typeHandIn, token) }

func (s *Signer) check(kind, token string) (Claims, error) {
	refused := fault.New(
		fault.Unauthorized,
		"token",
		"the access token is missing, wrong or too old; refresh it",
	)
	if len(token) == 0 || len(token) > maxToken {
		return Claims{}, refused
	}
	var claims Claims
	parsed, err := jwt.ParseWithClaims(token, &claims, s.keyFor,
		jwt.WithValidMethods([]string{jwt.SigningMethodHS256.Alg()}),
		jwt.WithIssuer(issuer), jwt.WithAudience(audience),
		jwt.WithExpirationRequired(), jwt.WithIssuedAt(), jwt.WithTimeFunc(s.now))
	if err != nil || !parsed.Valid || claims.Type != kind || claims.IssuedAt == nil ||
		!isID(claims.Farm) || !isID(claims.Device) || !isID(claims.Subject) || !isID(claims.Session) {
		return Claims{}, refused
	}
	return claims, nil
}

func (s *Signer) keyFor(t *jwt.Token) (any, error) {
	_, hashed := t.Method.(*jwt.SigningMethodHMAC)
	_, named := t.Header["kid"] // we have one key and name none
	if !hashed || named {
		return nil, fault.New(fault.Unauthorized, "token", "wrong algorithm or key")
	}
	return s.key, nil
}

func isID(text string) bool {
	id, err := uuid.Parse(text)
	return err == nil && id.String() == text
}

// NewSecret draws a random secret and gives it with the hash that is stored in its place.
func NewSecret() (secret string, hash []byte, err error) {
	raw := make([]byte, secretSize)
	if _, err := rand.Read(raw); err != nil {
		return "", nil, fmt.Errorf("drawing a secret: %w", err)
	}
	secret = base64.RawURLEncoding.EncodeToString(raw)
	return secret, Hash(secret), nil
}

// Hash is what is stored of a secret or a login name.
func Hash(secret string) []byte {
	sum := sha256.Sum256([]byte(secret))
	return sum[:]
}

// NewLink makes the text of a one-time link for one account: the account's id and a secret.
func NewLink(farm string) (link string, hash []byte, err error) {
	secret, hash, err := NewSecret()
	return farm + "." + secret, hash, err
}

// ReadLink takes a one-time link apart; NotFound when it is none.
func ReadLink(link string) (farm string, hash []byte, err error) {
	farm, secret, ok := strings.Cut(link, ".")
	if !ok || !isID(farm) || len(secret) > 100 {
		return "", nil, fault.New(
			fault.NotFound,
			"link",
			"this is not a whole one-time link; copy it from the first letter to the last",
		)
	}
	return farm, Hash(secret), nil
}
