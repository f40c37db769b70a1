package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"mime"
	"path"
	"strconv"
	"strings"
)

// asset is one file with its compressed variants.
type asset struct {
	kind     string // content type
	cache    string
	variants []variant // best first, the plain one last
}

// variant is one encoding of a file. Each has its own tag: a cache must not mix them up.
type variant struct {
	encoding string // "" for plain
	tag      string
	body     []byte
}

// The cache rules: names in assets/ carry a hash and never change; all else is asked for anew.
const (
	forEver  = "public, max-age=31536000, immutable"
	askAgain = "no-cache"
)

// kinds are set by hand: what the system knows differs from machine to machine.
var kinds = map[string]string{
	".css":         "text/css; charset=utf-8",
	".html":        "text/html; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".json":        "application/json",
	".png":         "image/png",
	".svg":         "image/svg+xml",
	".txt":         "text/plain; charset=utf-8",
	".wasm":        "application/wasm",
	".webmanifest": "application/manifest+json",
	".woff2":       "font/woff2",
}

// encodings are the variants that may lie beside a file, best first.
var encodings = []struct{ suffix, name string }{{".br", "br"}, {".gz", "gzip"}}

// isVariant reports whether a file is the compressed form of another.
func isVariant(name string) bool {
	for _, e := range encodings {
		if strings.HasSuffix(name, e.suffix) {
			return true
		}
	}
	return false
}

func newAsset(files fs.FS, name string) (*asset, error) {
	plain, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	a := &asset{kind: kindOf(name), cache: askAgain}
	if strings.HasPrefix(name, "assets/") {
		a.cache = forEver
	}
	sum := sha256.Sum256(plain)
	tag := hex.EncodeToString(sum[:8])
	for _, e := range encodings {
		body, err := fs.ReadFile(files, name+e.suffix)
		if errors.Is(err, fs.ErrNotExist) || err == nil && len(body) >= len(plain) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", name+e.suffix, err)
		}
		a.variants = append(a.variants, variant{e.name, strconv.Quote(tag + "-" + e.name), body})
	}
	a.variants = append(a.variants, variant{"", strconv.Quote(tag), plain})
	return a, nil
}

func kindOf(name string) string {
	if kind, ok := kinds[path.Ext(name)]; ok {
		return kind
	}
	if kind := mime.TypeByExtension(path.Ext(name)); kind != "" {
		return kind
	}
	return "application/octet-stream"
}

// choose picks the best variant that an Accept-Encoding header allows.
func (a *asset) choose(accept string) variant {
	for _, v := range a.variants {
		if v.encoding != "" && accepts(accept, v.encoding) {
			return v
		}
	}
	return a.variants[len(a.variants)-1]
}

// accepts reads an Accept-Encoding header (RFC 9110, section 12.5.3): an encoding counts if it
// is named, or meant by *, with a weight above zero.
func accepts(header, encoding string) bool {
	any := false
	for _, part := range strings.Split(header, ",") {
		name, parameters, _ := strings.Cut(part, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		if name == encoding {
			return weight(parameters) > 0
		}
		if name == "*" {
			any = weight(parameters) > 0
		}
	}
	return any
}

// weight reads "q=0.5"; without one it is 1, and one that cannot be read is 0.
func weight(parameters string) float64 {
	name, value, found := strings.Cut(strings.TrimSpace(parameters), "=")
	if !found || strings.TrimSpace(name) != "q" {
		return 1
	}
	q, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	if err != nil {
		return 0
	}
	return q
}

// matches reads an If-None-Match header: a list of tags, which a proxy may have marked weak.
func matches(header, tag string) bool {
	for _, part := range strings.Split(header, ",") {
		part = strings.TrimPrefix(strings.TrimSpace(part), "W/")
		if part == tag || part == "*" {
			return true
		}
	}
	return false
}
