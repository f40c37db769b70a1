package wire

import (
	"strconv"
	"unicode/utf8"
)

// maxDepth bounds the nesting of values that no shape asks for, and with it the stack.
const maxDepth = 1000

//go:noinline
func (d *decoder) text(into *string) {
	if d.null() || d.err != nil {
		return
	}
	if d.peek() != '"' {
		d.wrong("text")
		return
	}
	*into = string(d.quoted())
}

func (d *decoder) flag(into *bool) {
	switch d.peek() {
	case 't':
		d.word("true")
		*into = true
	case 'f':
		d.word("false")
		*into = false
	default:
		if !d.null() {
			d.wrong("true or false")
		}
	}
}

//go:noinline
func (d *decoder) number(into *float64) {
	d.numeral("a number", func(digits string) error {
		v, err := strconv.ParseFloat(digits, 64)
		if err == nil {
			*into = v
		}
		return err
	})
}

//go:noinline
func (d *decoder) long(into *int64) {
	d.numeral("a whole number", func(digits string) error {
		v, err := strconv.ParseInt(digits, 10, 64)
		if err == nil {
			*into = v
		}
		return err
	})
}

func (d *decoder) whole(into *int) {
	v := int64(*into)
	d.long(&v)
	*into = int(v)
}

// numeral hands the digits of a number over; digits that are refused are a wrong type.
func (d *decoder) numeral(want string, parse func(string) error) {
	if c := d.peek(); c != '-' && (c < '0' || c > '9') {
		if !d.null() {
			d.wrong(want)
		}
		return
	}
	start := d.at
	if d.digits(); d.err != nil {
		return
	}
	if parse(string(d.raw[start:d.at])) != nil {
		d.at = start
		d.wrong(want)
	}
}

// bytes keeps a value as it stands; it shares the document's memory.
func (d *decoder) bytes(into *Raw) {
	d.space()
	start := d.at
	if d.skip(0); d.err == nil {
		*into = d.raw[start:d.at:d.at]
	}
}

func (d *decoder) texts(into *[]string) { readList(d, into, (*decoder).text) }

// digits passes over a number and holds it to the grammar of JSON (RFC 8259, section 6).
func (d *decoder) digits() {
	d.sign('-')
	if !d.sign('0') {
		d.run()
	}
	if d.sign('.') {
		d.run()
	}
	if d.sign('e') || d.sign('E') {
		if !d.sign('+') {
			d.sign('-')
		}
		d.run()
	}
}

// sign passes over one byte, without white space before it.
func (d *decoder) sign(c byte) bool {
	if d.at < len(d.raw) && d.raw[d.at] == c {
		d.at++
		return true
	}
	return false
}

// run passes over digits, of which there must be one.
func (d *decoder) run() {
	start := d.at
	for d.at < len(d.raw) && d.raw[d.at] >= '0' && d.raw[d.at] <= '9' {
		d.at++
	}
	if d.at == start {
		d.bad("expected a digit")
	}
}

// skip passes over one value of any kind.
func (d *decoder) skip(depth int) {
	if depth > maxDepth {
		d.bad("it is nested too deeply")
		return
	}
	switch c := d.peek(); c {
	case '{', '[':
		d.at++
		d.skipInside(c, depth)
	case '"':
		d.quoted()
	case 't':
		d.word("true")
	case 'f':
		d.word("false")
	case 'n':
		d.word("null")
	default:
		if c != '-' && (c < '0' || c > '9') {
			d.bad("expected a value")
			return
		}
		d.digits()
	}
}

func (d *decoder) skipInside(open byte, depth int) {
	end := open + 2 // in ASCII both braces and brackets close two signs after they open
	if d.take(end) {
		return
	}
	for d.err == nil {
		if open == '{' {
			if d.peek() != '"' {
				d.bad("expected a key in quotes")
				return
			}
			d.quoted()
			if !d.take(':') {
				d.bad("expected a colon")
			}
		}
		d.skip(depth + 1)
		if d.take(end) {
			return
		}
		if !d.take(',') {
			d.bad("expected a comma or the end of a list or object")
		}
	}
}

// quoted reads a string that starts here. Plain ones are a part of the document.
func (d *decoder) quoted() []byte {
	d.at++
	start := d.at
	for d.at < len(d.raw) {
		c := d.raw[d.at]
		switch {
		case c == '"':
			d.at++
			return d.raw[start : d.at-1]
		case c == '\\' || c >= utf8.RuneSelf:
			return d.mended(append([]byte{}, d.raw[start:d.at]...))
		case c < ' ':
			d.bad("a control character in a text")
			return nil
		}
		d.at++
	}
	d.bad("")
	return nil
}

// mended reads on where a string holds an escape or is not ASCII. Bytes that are not UTF-8 and
// halves of surrogate pairs become the replacement character.
func (d *decoder) mended(out []byte) []byte {
	for d.at < len(d.raw) && d.err == nil {
		switch c := d.raw[d.at]; {
		case c == '"':
			d.at++
			return out
		case c == '\\':
			d.at++
			out = d.escape(out)
		case c < ' ':
			d.bad("a control character in a text")
		case c < utf8.RuneSelf:
			out = append(out, c)
			d.at++
		default:
			r, n := utf8.DecodeRune(d.raw[d.at:])
			out = utf8.AppendRune(out, r)
			d.at += n
		}
	}
	d.bad("")
	return nil
}

func (d *decoder) escape(out []byte) []byte {
	if d.at >= len(d.raw) {
		return out
	}
	c := d.raw[d.at]
	switch c {
	case '"', '\\', '/':
	case 'b':
		c = '\b'
	case 'f':
		c = '\f'
	case 'n':
		c = '\n'
	case 'r':
		c = '\r'
	case 't':
		c = '\t'
	case 'u':
		d.at++
		return utf8.AppendRune(out, d.codePoint())
	default:
		d.bad("an unknown escape in a text")
		return out
	}
	d.at++
	return append(out, c)
}

// codePoint reads the four digits after \u, and a second escape where both make one character.
func (d *decoder) codePoint() rune {
	r := d.hex()
	if r < 0xd800 || r >= 0xe000 {
		return r
	}
	back := d.at
	if r < 0xdc00 && d.sign('\\') && d.sign('u') {
		if low := d.hex(); low >= 0xdc00 && low < 0xe000 {
			return (r-0xd800)<<10 + (low - 0xdc00) + 0x10000
		}
	}
	d.at = back
	return utf8.RuneError
}

func (d *decoder) hex() rune {
	r := rune(0)
	for range 4 {
		if d.at >= len(d.raw) {
			d.bad("")
			return 0
		}
		c := rune(d.raw[d.at])
		switch {
		case c >= '0' && c <= '9':
			c -= '0'
		case c >= 'a' && c <= 'f':
			c -= 'a' - 10
		case c >= 'A' && c <= 'F':
			c -= 'A' - 10
		default:
			d.bad("an unknown escape in a text")
			return 0
		}
		r = r<<4 | c
		d.at++
	}
	return r
}
