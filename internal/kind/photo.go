package kind

import (
	"encoding/base64"
	"regexp"
	"slices"
	"time"

	"hilum/internal/fault"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Ranges of a photo's record.
const (
	maxPhoto = 1 << 20 // bytes as sent
	maxThumb = 4 << 10 // bytes before base64
	maxSide  = 20000   // pixels
)

var isHash = regexp.MustCompile(`^[0-9a-f]{64}$`)

// IsHash says whether a text is a SHA-256 in lower-case hex.
func IsHash(text string) bool { return isHash.MatchString(text) }

// photoClass lets the note be edited; all else is what was taken.
var photoClass = map[string]merge.Class{
	"note": merge.Text, "field": merge.Fact, "dig": merge.Fact, "spot": merge.Fact,
	"sha256": merge.Fact, "size": merge.Fact, "w": merge.Fact, "h": merge.Fact,
	"thumb": merge.Fact, "takenAt": merge.Fact, "place": merge.Fact,
}

func checkPhoto(p wire.Photo) error {
	var hash, taken error
	if !IsHash(p.SHA256) {
		hash = fault.At("sha256", "hash", "is %q, expected 64 hex digits", p.SHA256)
	}
	if _, err := time.Parse(time.RFC3339, p.TakenAt); err != nil {
		taken = fault.At("takenAt", "date", "is %q, expected a time like 2027-06-12T14:02:00-06:00",
			p.TakenAt)
	}
	return firstOf(
		checkID("field", p.Field), hash, taken,
		checkRange("size", float64(p.Size), 1, maxPhoto, "bytes"),
		checkRange("w", float64(p.W), 1, maxSide, "pixels"),
		checkRange("h", float64(p.H), 1, maxSide, "pixels"),
		checkText("note", p.Note, 0, wire.MaxNote),
		checkThumb(p.Thumb),
		checkPlace(p.Place),
	)
}

func checkThumb(thumb string) error {
	raw, err := base64.StdEncoding.DecodeString(thumb)
	if err != nil {
		return fault.At("thumb", "base64", "is not base64")
	}
	return checkRange("thumb", float64(len(raw)), 0, maxThumb, "bytes")
}

func checkPlace(p *wire.PhotoPlace) error {
	if p == nil {
		return nil
	}
	const far = 100_000 // metres: a phone that knows no better says nothing
	return firstOf(
		checkDegree("place.longitude", &p.Longitude, 180),
		checkDegree("place.latitude", &p.Latitude, 90),
		checkRange("place.within", p.Within, 0, far, "m"),
	)
}

// photoFits wants the dig to be on the photo's field, and the spot to be one of the dig's.
func photoFits(body []byte, linked map[string]merge.State) error {
	var p wire.Photo
	if err := wire.Lenient(body, &p); err != nil {
		return err
	}
	if p.Dig == "" {
		if p.Spot != "" {
			return fault.At("spot", "link", "is given without its dig")
		}
		return nil
	}
	dig, err := digOf(linked[p.Dig])
	if err != nil {
		return err
	}
	if dig.Field != p.Field {
		return fault.At("field", "link", "is %s, but the dig was on %s", p.Field, dig.Field)
	}
	known := slices.ContainsFunc(dig.Spots, func(s wire.DigSpot) bool { return s.ID == p.Spot })
	if p.Spot != "" && !known {
		return fault.At("spot", "link", "is %s, which is no spot of this dig", p.Spot)
	}
	return nil
}
