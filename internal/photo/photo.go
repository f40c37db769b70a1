// Package photo makes sent pictures harmless and keeps them on disk. It trusts nothing about the
// bytes: they may be no picture, a bomb, or carry the place where they were taken.
package photo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image/jpeg"

	"golang.org/x/sync/semaphore"

	"hilum/internal/fault"
)

const (
	// MaxBytes is how large a picture may be as sent; phones send about 300 kB.
	MaxBytes = 1 << 20
	// maxPixels is the most that is decoded: 25 megapixels, three bytes each at worst.
	maxPixels = 25_000_000
	// smallPixels is what may be decoded two at a time, and the most for a progressive picture,
	// which takes twelve bytes a pixel while it is decoded.
	smallPixels = 6_000_000
	quality     = 85
)

// slots lets two small pictures, or one large, be decoded at once.
var slots = semaphore.NewWeighted(2)

// Hash gives the name of a picture: SHA-256 over its bytes as sent, hex.
func Hash(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// Clean decodes a JPEG and writes it anew, so that nothing but the picture is left. Invalid when
// it is no JPEG, damaged, or too many pixels.
func Clean(ctx context.Context, raw []byte) ([]byte, error) {
	config, err := jpeg.DecodeConfig(bytes.NewReader(raw))
	if err != nil {
		return nil, fault.New(fault.Invalid, "jpeg", "is not a JPEG picture")
	}
	pixels := int64(config.Width) * int64(config.Height)
	most := int64(maxPixels)
	if progressive(raw) {
		most = smallPixels
	}
	if pixels < 1 || pixels > most {
		return nil, fault.New(fault.Invalid, "pixels", "has %d x %d pixels, accepted up to %d million",
			config.Width, config.Height, most/1_000_000)
	}
	weight := int64(1)
	if pixels > smallPixels {
		weight = 2
	}
	if err := slots.Acquire(ctx, weight); err != nil {
		return nil, fault.New(fault.Unavailable, "busy", "too many pictures at once; try again")
	}
	defer slots.Release(weight)
	picture, err := jpeg.Decode(bytes.NewReader(raw))
	if err != nil {
		return nil, fault.New(fault.Invalid, "jpeg", "is a damaged JPEG picture")
	}
	var clean bytes.Buffer
	if err := jpeg.Encode(&clean, picture, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("writing a picture anew: %w", err)
	}
	return clean.Bytes(), nil
}

// progressive says whether any frame of the picture is progressive (marker SOF2). What it misses
// by following a broken chain of segments, the decoder refuses.
func progressive(raw []byte) bool {
	for at := 2; at+4 <= len(raw) && raw[at] == 0xff; {
		marker := raw[at+1]
		switch {
		case marker == 0xc2:
			return true
		case marker == 0xff: // padding
			at++
			continue
		case marker >= 0xd0 && marker <= 0xd9 || marker == 0x01: // without a length
			at += 2
			continue
		case marker == 0xda: // the picture itself
			return bytes.Contains(raw[at:], []byte{0xff, 0xc2})
		}
		at += 2 + int(raw[at+2])<<8 + int(raw[at+3])
	}
	return bytes.Contains(raw, []byte{0xff, 0xc2})
}
