package wire

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hilum/internal/agro"
	"hilum/internal/fault"
)

// FuzzCodecReads holds the decoder against encoding/json: what it takes the library takes with the
// same result, and what it refuses the library refuses, but for three rules of our own (see alike).
func FuzzCodecReads(f *testing.F) {
	files, err := filepath.Glob("../../testdata/evaluate/*.json")
	if err != nil || len(files) == 0 {
		f.Fatalf("no examples: %v", err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	for _, raw := range []string{`{"crop":"\ud83c\udf31\ud83c\u00e9\udc00"}`, "{\"crop\":\"\xff\"}",
		`{"history":null,"digs":[],"plan":null,"soilTest":null,"cropYear":-0}`, `null`, `{"":1}`,
		`{"acres":{"value":-1.5E+3,"unit":"\/"}}`, `{"cropYear":1e3}`, `{"op":"case","records":[]}`,
		`{"records":[{"id":"x","kind":"dig","seq":3,"body": {"spots":[{}]} }]}`} {
		f.Add([]byte(raw))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		alike(t, raw, readInput, func(v *agro.Input) error { return Strict(raw, v) }, true)
		alike(t, raw, readRequest, func(v *Request) error { return Strict(raw, v) }, true)
		alike(t, raw, readSeason, func(v *Season) error { return Lenient(raw, v) }, false)
		alike(t, raw, readDig, func(v *Dig) error { return Lenient(raw, v) }, false)
		alike(t, raw, readCorrection, func(v *Correction) error { return Lenient(raw, v) }, false)
	})
}

// alike reads a document both ways. Ours alone: keys must match in their case, nesting that no
// shape asks for ends at maxDepth, and of two equal keys with lists the last leaves no trace of the
// first.
func alike[T any](t *testing.T, raw []byte, one func(*decoder, *T), library func(*T) error,
	strict bool) {
	t.Helper()
	var got, want T
	err := decode(raw, strict, &got, one)
	theirs := library(&want)
	if err == nil && theirs != nil && !odd(raw) {
		t.Fatalf("%q: the codec takes it, the library says %v", raw, theirs)
	}
	if err != nil && theirs == nil && !odd(raw) {
		t.Fatalf("%q: the library takes it, the codec says %v", raw, err)
	}
	if err != nil && fault.KindOf(err) != fault.Invalid {
		t.Fatalf("%q: %v is not Invalid", raw, err)
	}
	if err == nil && theirs == nil && !odd(raw) && !reflect.DeepEqual(got, want) {
		t.Fatalf("%q: the codec reads %+v, the library %+v", raw, got, want)
	}
}

// odd says whether a document has deep nesting, an object with two keys that differ at most in
// their case, or a key that is a shape's but for its case.
func odd(raw []byte) bool {
	return json.Valid(raw) && oddValue(json.NewDecoder(bytes.NewReader(raw)), 0)
}

func oddValue(d *json.Decoder, depth int) bool {
	token, err := d.Token()
	if err != nil || depth > maxDepth/2 {
		return err == nil
	}
	switch token {
	case json.Delim('{'):
		var seen []string
		for d.More() {
			key, _ := d.Token()
			name, _ := key.(string)
			if oddKey(name, seen) || oddValue(d, depth+1) {
				return true
			}
			seen = append(seen, name)
		}
		_, _ = d.Token()
	case json.Delim('['):
		for d.More() {
			if oddValue(d, depth+1) {
				return true
			}
		}
		_, _ = d.Token()
	}
	return false
}

func oddKey(name string, seen []string) bool {
	alike := func(other string) bool { return strings.EqualFold(name, other) }
	return slices.ContainsFunc(seen, alike) ||
		!shapeKeys[name] && slices.ContainsFunc(slices.Collect(maps.Keys(shapeKeys)), alike)
}

var shapeKeys = func() map[string]bool {
	keys := map[string]bool{}
	for _, v := range []any{Request{}, Season{}, Dig{}, Correction{}} {
		gatherKeys(reflect.TypeOf(v), keys)
	}
	return keys
}()

func gatherKeys(t reflect.Type, keys map[string]bool) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		gatherKeys(t.Elem(), keys)
	case reflect.Struct:
		for i := range t.NumField() {
			name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			keys[name] = true
			gatherKeys(t.Field(i).Type, keys)
		}
	}
}
