package wire

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"hilum/internal/agro"
	"hilum/internal/fault"
)

// TestCodecWritesTheExamplesAsEncodingJSON: the hash of an input hangs on the bytes.
func TestCodecWritesTheExamplesAsEncodingJSON(t *testing.T) {
	files, err := filepath.Glob("../../testdata/evaluate/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		in, err := ReadInput(raw)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		answer, err := Evaluate(in)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		sameBytes(t, file, Reply{OK: &answer})
		canonical, _ := json.Marshal(in)
		sum := sha256.Sum256(canonical)
		if answer.InputHash != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: the hash is not that of the canonical input", file)
		}
	}
}

func sameBytes(t *testing.T, name string, reply Reply) {
	t.Helper()
	want, err := json.Marshal(reply)
	if err != nil {
		t.Fatal(err)
	}
	var e encoder
	writeReply(&e, &reply)
	if !bytes.Equal(e.buf, want) {
		i := 0
		for i < min(len(want), len(e.buf)) && want[i] == e.buf[i] {
			i++
		}
		t.Errorf("%s: byte %d of the codec is %.60q, want %.60q\n\tfix: go generate ./internal/wire",
			name, i, e.buf[i:], want[i:])
	}
}

// TestCodecWritesAnythingAsEncodingJSON fills every field with all that a value can be.
func TestCodecWritesAnythingAsEncodingJSON(t *testing.T) {
	r := filler{rand.New(rand.NewPCG(1, 2))}
	for range 300 {
		var reply Reply
		r.fill(reflect.ValueOf(&reply).Elem())
		sameBytes(t, "a filled reply", reply)
	}
}

// TestSyncResponseIsWrittenAsByEncodingJSON, and blanks in the bodies of rows are left out.
func TestSyncResponseIsWrittenAsByEncodingJSON(t *testing.T) {
	r := filler{rand.New(rand.NewPCG(7, 8))}
	for range 300 {
		var out SyncResponse
		r.fill(reflect.ValueOf(&out).Elem())
		want, err := json.Marshal(out)
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range out.Rows {
			var spaced bytes.Buffer
			_ = json.Indent(&spaced, row.Body, "", " \t")
			out.Rows[i].Body = spaced.Bytes()
		}
		if got := WriteSyncResponse(out); !bytes.Equal(got, want) {
			t.Fatalf("got  %s\nwant %s", got, want)
		}
	}
}

func TestQuotesAndBlanksInsideTextsStay(t *testing.T) {
	var e encoder
	e.open()
	e.raw("a", []byte(`{"k \" {": "x \\", "l": [1, "\\\" ", {}]}`))
	e.raw("b", nil)
	e.close()
	const want = `{"a":{"k \" {":"x \\","l":[1,"\\\" ",{}]},"b":null}`
	if string(e.buf) != want {
		t.Errorf("got  %s\nwant %s", e.buf, want)
	}
}

// TestCodecReadsAnythingAsEncodingJSON does the same the other way.
func TestCodecReadsAnythingAsEncodingJSON(t *testing.T) {
	r := filler{rand.New(rand.NewPCG(3, 4))}
	for range 300 {
		readsAlike(t, r, readRequest)
		readsAlike(t, r, readInput)
		readsAlike(t, r, readSettings)
		readsAlike(t, r, readField)
		readsAlike(t, r, readSeason)
		readsAlike(t, r, readSoilTest)
		readsAlike(t, r, readDig)
		readsAlike(t, r, readCorrection)
	}
}

func readsAlike[T any](t *testing.T, r filler, one func(*decoder, *T)) {
	t.Helper()
	var value, want, got T
	r.fill(reflect.ValueOf(&value).Elem())
	raw, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	if err := Strict(raw, &want); err != nil {
		t.Fatal(err)
	}
	if r.IntN(2) == 0 {
		var spaced bytes.Buffer
		_ = json.Indent(&spaced, raw, "\r", " \t")
		raw = spaced.Bytes()
		_ = Strict(raw, &want)
	}
	if err := decode(raw, true, &got, one); err != nil || !reflect.DeepEqual(got, want) {
		t.Fatalf("of %s\nthe codec reads %+v (%v)\nwant %+v", raw, got, err, want)
	}
}

// filler draws values, empty and nil ones among them.
type filler struct{ *rand.Rand }

func (r filler) fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			r.fill(v.Field(i))
		}
	case reflect.Pointer:
		if r.IntN(3) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			r.fill(v.Elem())
		}
	case reflect.Slice:
		r.slice(v)
	case reflect.Map:
		if n := r.IntN(4); n > 0 {
			v.Set(reflect.MakeMap(v.Type()))
			for range n - 1 {
				inner := reflect.New(v.Type().Elem()).Elem()
				r.fill(inner)
				v.SetMapIndex(reflect.ValueOf(string(rune('a'+r.IntN(26)))), inner)
			}
		}
	case reflect.String:
		v.SetString(r.text())
	case reflect.Float64:
		v.SetFloat(r.float())
	case reflect.Int, reflect.Int64:
		v.SetInt([]int64{0, 1, -1, 2027, math.MaxInt64, math.MinInt64}[r.IntN(6)])
	case reflect.Bool:
		v.SetBool(r.IntN(2) == 0)
	}
}

func (r filler) slice(v reflect.Value) {
	if v.Type() == reflect.TypeFor[Raw]() {
		values := []string{`{"a":[1,"x",{}]}`, `null`, `-1.5e-7`, `"\u00e9"`, `[]`}
		v.SetBytes([]byte(values[r.IntN(len(values))]))
		return
	}
	if n := r.IntN(4); n > 0 {
		v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
	}
	for i := range v.Len() {
		r.fill(v.Index(i))
	}
}

func (r filler) text() string {
	signs := []string{"a", "Z", "0", `"`, `\`, "/", "<", ">", "&", "\u2028", "\u2029", "é", "\U0001F331",
		"\x00", "\x1f", "\x7f", "\b", "\f", "\n", "\r", "\t", "\xff", "\xc3", "\xed\xa0\x80", "\ufffd"}
	var out strings.Builder
	for range r.IntN(8) {
		out.WriteString(signs[r.IntN(len(signs))])
	}
	return out.String()
}

func (r filler) float() float64 {
	edges := []float64{0, math.Copysign(0, -1), 1, -12.5, 1e-6, 9.999999e-7, 1e-7, 1e20, 1e21, 1e-10,
		5e-324, math.MaxFloat64, 1.0 / 3, 123456789.125}
	if r.IntN(2) == 0 {
		return edges[r.IntN(len(edges))]
	}
	for {
		v := math.Float64frombits(r.Uint64())
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v
		}
	}
}

func TestNumbersThatAreNotFiniteAreRefused(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		in := agro.Input{Acres: &agro.Quantity{Value: v}}
		if _, err := Hash(in); fault.KindOf(err) != fault.Invalid {
			t.Errorf("Hash of %g: %v, want Invalid", v, err)
		}
		if _, err := WriteAnswer(Answer{Input: in}); fault.KindOf(err) != fault.Internal || err == nil {
			t.Errorf("WriteAnswer of %g: %v, want Internal", v, err)
		}
	}
}

func TestDigestIsSHA256(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 300 {
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(r.Uint32())
		}
		sum := sha256.Sum256(data)
		if got := digest(data); got != hex.EncodeToString(sum[:]) {
			t.Fatalf("digest of %d bytes is %s, want %x", n, got, sum)
		}
	}
}

func TestFaultsOfTheDecoderSayWhereAndWhat(t *testing.T) {
	for raw, want := range map[string]string{
		`{"sauce":1}`:                         `sauce: is not a key that is known here`,
		`{"plan":{"yield":{"valeu":1}}}`:      `plan.yield.valeu: is not a key that is known here`,
		`{"Crop":"pea"}`:                      `Crop: is not a key that is known here`,
		`{"crop":1.50}`:                       `crop: is 1.50, expected text`,
		`{"cropYear":2027.5}`:                 `cropYear: is 2027.5, expected a whole number`,
		`{"cropYear":99999999999999999999}`:   `cropYear: is 99999999999999999999, expected a whole number`,
		`{"plan":{"yield":{"value":1e999}}}`:  `plan.yield.value: is 1e999, expected a number`,
		`{"plan":{"yield":{"value":"1"}}}`:    `plan.yield.value: is text, expected a number`,
		`{"plan":[]}`:                         `plan: is a list, expected an object`,
		`{"history":{}}`:                      `history: is an object, expected a list`,
		`{"history":[{},{"flooded":1}]}`:      `history.1.flooded: is 1, expected true or false`,
		`{"history":[{"alsoHosts":["a",2]}]}`: `history.0.alsoHosts.1: is 2, expected text`,
		`[]`:                                  `is a list, expected an object`,
		`{"crop":"pea"`:                       `the JSON document ends too early`,
		``:                                    `the JSON document ends too early`,
		`{"crop":"pe`:                         `the JSON document ends too early`,
		`{"crop":tru}`:                        `is not JSON: a word that is none of true, false, null at byte 9`,
		`{"crop":"pea",}`:                     `is not JSON: expected a key in quotes at byte 15`,
		`{"crop" "pea"}`:                      `is not JSON: expected a colon at byte 9`,
		`{"crop":"a` + "\n" + `"}`:            `is not JSON: a control character in a text at byte 11`,
		`{"crop":"\x"}`:                       `is not JSON: an unknown escape in a text at byte 11`,
		`{"cropYear":01}`:                     `is not JSON: expected a comma or } at byte 14`,
		`{} x`:                                `there is more text after the JSON document`,
	} {
		_, err := ReadInput([]byte(raw))
		if fault.KindOf(err) != fault.Invalid || err == nil || err.Error() != want {
			t.Errorf("ReadInput(%s): %v, want %s", raw, err, want)
		}
	}
}
