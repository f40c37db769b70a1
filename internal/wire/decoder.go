package wire

import (
	"strconv"
	"strings"

	"hilum/internal/fault"
)

// decoder reads JSON into known shapes without reflection (see encoder). Keys match exactly, the
// last of two equal keys holds, null leaves a plain value as it is. The first fault is kept; after
// it nothing is read any more.
type decoder struct {
	raw    []byte
	at     int
	strict bool   // a key that the shape does not have is a fault
	key    []byte // the key whose value comes next
	path   []step // where we are, for faults
	err    error
}

// step is a key of an object, or a place in a list where key is nil.
type step struct {
	key   []byte
	place int
}

// decode reads one whole document.
func decode[T any](raw []byte, strict bool, v *T, one func(*decoder, *T)) error {
	d := decoder{raw: raw, strict: strict}
	one(&d, v)
	if d.space(); d.err == nil && d.at < len(d.raw) {
		return fault.New(fault.Invalid, "json", "there is more text after the JSON document")
	}
	return d.err
}

// where is the path of the value at hand, for example "soilTest.layers.1.nitrate.value".
func (d *decoder) where() string {
	var names []string
	for _, s := range d.path {
		if s.key != nil {
			names = append(names, string(s.key))
		} else {
			names = append(names, strconv.Itoa(s.place))
		}
	}
	return strings.Join(names, ".")
}

// bad keeps a fault of the text itself.
//
//go:noinline
func (d *decoder) bad(what string) {
	if d.err != nil {
		return
	}
	if d.at >= len(d.raw) {
		d.err = fault.New(fault.Invalid, "json", "the JSON document ends too early")
		return
	}
	d.err = fault.New(fault.Invalid, "json", "is not JSON: %s at byte %d", what, d.at+1)
}

// wrong keeps a fault of the value's type.
//
//go:noinline
func (d *decoder) wrong(want string) {
	found := d.found()
	start := d.at
	if d.skip(0); d.err != nil {
		return
	}
	if found == "a number" {
		found = string(d.raw[start:d.at])
	}
	d.err = fault.At(d.where(), "type", "is %s, expected %s", found, want)
}

// found names the kind of value that comes next.
func (d *decoder) found() string {
	switch d.peek() {
	case '"':
		return "text"
	case '{':
		return "an object"
	case '[':
		return "a list"
	case 't', 'f':
		return "true or false"
	case 'n':
		return "null"
	}
	return "a number"
}

// space passes over white space.
func (d *decoder) space() {
	for d.at < len(d.raw) {
		switch d.raw[d.at] {
		case ' ', '\t', '\n', '\r':
			d.at++
		default:
			return
		}
	}
}

// peek gives the first byte of what comes next, 0 at the end and after a fault.
//
//go:noinline
func (d *decoder) peek() byte {
	if d.err != nil {
		return 0
	}
	d.space()
	if d.at >= len(d.raw) {
		return 0
	}
	return d.raw[d.at]
}

// take passes over one expected byte.
//
//go:noinline
func (d *decoder) take(c byte) bool {
	if d.peek() != c {
		return false
	}
	d.at++
	return true
}

// null passes over a null and says whether there was one.
//
//go:noinline
func (d *decoder) null() bool {
	if d.peek() != 'n' {
		return false
	}
	d.word("null")
	return true
}

func (d *decoder) word(w string) {
	if end := d.at + len(w); end <= len(d.raw) && string(d.raw[d.at:end]) == w {
		d.at = end
		return
	}
	d.bad("a word that is none of true, false, null")
}

// firstKey opens an object and reads its first key; false if it has none, or is null or a fault.
//
//go:noinline
func (d *decoder) firstKey() bool {
	if d.null() || d.err != nil {
		return false
	}
	if !d.take('{') {
		d.wrong("an object")
		return false
	}
	if d.take('}') {
		return false
	}
	d.path = append(d.path, step{})
	return d.readKey()
}

// nextKey passes on to the next key of the object; false at its end.
//
//go:noinline
func (d *decoder) nextKey() bool {
	if d.take(',') {
		return d.readKey()
	}
	if !d.take('}') {
		d.bad("expected a comma or }")
		return false
	}
	d.path = d.path[:len(d.path)-1]
	return false
}

func (d *decoder) readKey() bool {
	if d.peek() != '"' {
		d.bad("expected a key in quotes")
		return false
	}
	d.key = d.quoted()
	d.path[len(d.path)-1].key = d.key
	if !d.take(':') {
		d.bad("expected a colon")
	}
	return d.err == nil
}

// unknown deals with a key that the shape does not have.
func (d *decoder) unknown() {
	if d.strict {
		d.err = fault.At(d.where(), "key", "is not a key that is known here")
		return
	}
	d.skip(0)
}

// readList reads a list; null gives no list, [] an empty one.
func readList[T any](d *decoder, into *[]T, one func(*decoder, *T)) {
	*into = nil
	if d.null() || d.err != nil {
		return
	}
	if !d.take('[') {
		d.wrong("a list")
		return
	}
	*into = []T{}
	if d.take(']') {
		return
	}
	d.path = append(d.path, step{})
	for d.err == nil {
		var item T
		one(d, &item)
		*into = append(*into, item)
		d.path[len(d.path)-1].place++
		if d.take(',') {
			continue
		}
		if !d.take(']') {
			d.bad("expected a comma or ]")
		}
		break
	}
	d.path = d.path[:len(d.path)-1]
}

// readSome reads a value that may be null or absent.
func readSome[T any](d *decoder, into **T, one func(*decoder, *T)) {
	if d.null() {
		*into = nil
		return
	}
	if *into == nil {
		*into = new(T)
	}
	one(d, *into)
}
