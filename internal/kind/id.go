package kind

import (
	"crypto/sha1" //nolint // RFC 9562 version 5 is defined over SHA-1; nothing secret hangs on it.
	"encoding/hex"
	"strconv"
	"strings"
)

// ID makes the id of a record that may exist once in an account: a version 5 UUID (RFC 9562,
// section 5.5) in the account's namespace over "kind:key". Keys: settings "", season
// "field/year/part", result and assignment "field/year", conflict "record/name". The client makes
// the same ones; testdata/ids.json holds cases for both. Written here, since the usual library
// draws the net package into WebAssembly.
func ID(farm, kind, key string) string {
	space, err := hex.DecodeString(strings.ReplaceAll(farm, "-", ""))
	if err != nil {
		return ""
	}
	sum := sha1.Sum(append(space, kind+":"+key...))
	b := sum[:16]
	b[6] = b[6]&0x0f | 0x50
	b[8] = b[8]&0x3f | 0x80
	h := hex.EncodeToString(b)
	return strings.Join([]string{h[:8], h[8:12], h[12:16], h[16:20], h[20:]}, "-")
}

// SeasonKey is the natural key of a season.
func SeasonKey(field string, cropYear int, part string) string {
	if part == "" {
		part = "whole"
	}
	return field + "/" + strconv.Itoa(cropYear) + "/" + part
}

// ResultKey is the natural key of a result, and of an assignment.
func ResultKey(field string, cropYear int) string {
	return field + "/" + strconv.Itoa(cropYear)
}

// ConflictKey is the natural key of the conflict over one value of a record; name may be empty.
func ConflictKey(record, name string) string { return record + "/" + name }

// IsID says whether a text is a UUID in its usual lower-case form.
func IsID(id string) bool {
	if len(id) != 36 {
		return false
	}
	for i, c := range []byte(id) {
		dash := i == 8 || i == 13 || i == 18 || i == 23
		digit := c >= '0' && c <= '9' || c >= 'a' && c <= 'f'
		if dash != (c == '-') || !dash && !digit {
			return false
		}
	}
	return true
}

func index(list string, i int) string { return list + "." + strconv.Itoa(i) }
