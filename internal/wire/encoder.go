package wire

import (
	"math"
	"slices"
	"strconv"
	"unicode/utf8"
)

// encoder writes JSON, byte for byte as encoding/json does (a test holds it to that), without
// reflection: that costs the phone 240 kB. Errors are kept until the end.
type encoder struct {
	buf []byte
	bad bool // a number was not finite: JSON has no words for it
}

// usual is a little more than what most answers take: reports are of 24 to 45 kB.
const usual = 48 << 10

// newEncoder makes room for a report at once.
func newEncoder() encoder { return encoder{buf: make([]byte, 0, usual)} }

func (e *encoder) open()  { e.buf = append(e.buf, '{') }
func (e *encoder) close() { e.buf = append(e.buf, '}') }

// key writes the name of the next value, after a comma where one is due. No value ends in a brace
// that opens, so the last byte tells. Names are plain ASCII letters and digits.
//
//go:noinline
func (e *encoder) key(name string) *encoder {
	if e.buf[len(e.buf)-1] != '{' {
		e.buf = append(e.buf, ',')
	}
	e.buf = append(append(append(e.buf, '"'), name...), '"', ':')
	return e
}

// The values with their keys; those with "some" leave an empty value out.

//go:noinline
func (e *encoder) text(name, v string) { e.key(name).quote(v) }

//go:noinline
func (e *encoder) someText(name, v string) {
	if v != "" {
		e.text(name, v)
	}
}

//go:noinline
func (e *encoder) number(name string, v float64) { e.key(name).float(v) }

//go:noinline
func (e *encoder) someNumber(name string, v *float64) {
	if v != nil {
		e.number(name, *v)
	}
}

//go:noinline
func (e *encoder) whole(name string, v int) {
	e.key(name)
	e.buf = strconv.AppendInt(e.buf, int64(v), 10)
}

func (e *encoder) someWhole(name string, v int) {
	if v != 0 {
		e.whole(name, v)
	}
}

func (e *encoder) long(name string, v int64) {
	e.key(name)
	e.buf = strconv.AppendInt(e.buf, v, 10)
}

func (e *encoder) someLong(name string, v int64) {
	if v != 0 {
		e.long(name, v)
	}
}

// raw writes a value that was JSON before, without its blanks; an empty one is null. It does not look
// whether it is JSON: it comes out of the database.
func (e *encoder) raw(name string, v []byte) {
	if e.key(name); len(v) == 0 {
		e.null()
		return
	}
	e.buf = slices.Grow(e.buf, len(v))
	quoted := false
	for i := 0; i < len(v); i++ {
		switch c := v[i]; {
		case c == '"':
			quoted = !quoted
		case quoted && c == '\\':
			e.buf = append(e.buf, c)
			i++
		case !quoted && (c == ' ' || c == '\n' || c == '\r' || c == '\t'):
			continue
		}
		if i < len(v) {
			e.buf = append(e.buf, v[i])
		}
	}
}

func (e *encoder) maybeWhole(name string, v *int) {
	if v != nil {
		e.whole(name, *v)
	}
}

func (e *encoder) flag(name string, v bool) {
	e.key(name)
	e.buf = strconv.AppendBool(e.buf, v)
}

func (e *encoder) someFlag(name string, v bool) {
	if v {
		e.flag(name, v)
	}
}

func (e *encoder) maybeFlag(name string, v *bool) {
	if v != nil {
		e.flag(name, *v)
	}
}

//go:noinline
func (e *encoder) texts(name string, list []string) {
	writeList(e.key(name), list, func(e *encoder, v *string) { e.quote(*v) })
}

func (e *encoder) someTexts(name string, list []string) {
	if len(list) > 0 {
		e.texts(name, list)
	}
}

func (e *encoder) null() { e.buf = append(e.buf, "null"...) }

func writeList[T any](e *encoder, list []T, one func(*encoder, *T)) {
	if list == nil {
		e.null()
		return
	}
	e.buf = append(e.buf, '[')
	for i := range list {
		if i > 0 {
			e.buf = append(e.buf, ',')
		}
		one(e, &list[i])
	}
	e.buf = append(e.buf, ']')
}

// writeMap writes the keys in order.
func writeMap[T any](e *encoder, all map[string]T, one func(*encoder, *T)) {
	names := make([]string, 0, len(all))
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	e.open()
	for _, name := range names {
		v := all[name]
		one(e.key(name), &v)
	}
	e.close()
}

// float writes the shortest digits that read back as v, with an exponent below 1e-6 and from 1e21.
func (e *encoder) float(v float64) {
	size := math.Abs(v)
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		e.bad = true
		e.null()
	case size != 0 && (size < 1e-6 || size >= 1e21):
		e.buf = strconv.AppendFloat(e.buf, v, 'e', -1, 64)
		// strconv writes 1e-07, JSON's writer 1e-7.
		if n := len(e.buf); e.buf[n-2] == '0' && e.buf[n-3] == '-' && e.buf[n-4] == 'e' {
			e.buf = append(e.buf[:n-2], e.buf[n-1])
		}
	default:
		e.buf = strconv.AppendFloat(e.buf, v, 'f', -1, 64)
	}
}

const hexDigits = "0123456789abcdef"

// quote writes a string. The signs <, > and &, which would matter inside a web page, and the line
// breaks of JavaScript are escaped; bytes that are not UTF-8 become the replacement character.
func (e *encoder) quote(s string) {
	e.buf = append(e.buf, '"')
	start := 0
	for i := 0; i < len(s); {
		if ordinary[s[i]] {
			i++
			continue
		}
		r, n := rune(s[i]), 1
		if r >= utf8.RuneSelf {
			r, n = utf8.DecodeRuneInString(s[i:])
		}
		if plain(r, n) {
			i += n
			continue
		}
		e.buf = append(e.buf, s[start:i]...)
		e.escape(r)
		i += n
		start = i
	}
	e.buf = append(append(e.buf, s[start:]...), '"')
}

// ordinary holds the bytes that stand for themselves wherever they are: ASCII without what plain takes
// out.
var ordinary = func() (table [256]bool) {
	for c := range utf8.RuneSelf {
		table[c] = plain(rune(c), 1)
	}
	return table
}()

// plain says whether a character of n bytes stands for itself.
func plain(r rune, n int) bool {
	switch r {
	case '"', '\\', '<', '>', '&', '\u2028', '\u2029':
		return false
	case utf8.RuneError:
		return n > 1
	}
	return r >= ' '
}

func (e *encoder) escape(r rune) {
	short := byte(0)
	switch r {
	case '"', '\\':
		short = byte(r)
	case '\b':
		short = 'b'
	case '\f':
		short = 'f'
	case '\n':
		short = 'n'
	case '\r':
		short = 'r'
	case '\t':
		short = 't'
	}
	if short != 0 {
		e.buf = append(e.buf, '\\', short)
		return
	}
	e.buf = append(e.buf, '\\', 'u', hexDigits[r>>12&15], hexDigits[r>>8&15], hexDigits[r>>4&15],
		hexDigits[r&15])
}
