package agro

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hilum/internal/date"
	"hilum/internal/fault"
)

// check gathers the first fault of an input. Every test after a fault is a no-op.
type check struct{ err error }

func (c *check) fail(field, code, message string) {
	if c.err == nil {
		c.err = fault.At(field, code, "%s", message)
	}
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// within demands low <= v <= high; NaN and infinity are outside every range.
func (c *check) within(field string, v, low, high float64, unit string) {
	if v >= low && v <= high {
		return
	}
	text := "is " + number(v) + ", accepted is " + number(low) + " to " + number(high)
	if unit != "" {
		text += " " + unit
	}
	c.fail(field, "range", text)
}

// word demands one of the accepted words; "" passes where it is optional.
func (c *check) word(field, v string, optional bool, accepted ...string) {
	if optional && v == "" || slices.Contains(accepted, v) {
		return
	}
	said := "is missing"
	if v != "" {
		said = "is " + strconv.Quote(cut(v))
	}
	c.fail(field, "word", said+", accepted is "+strings.Join(accepted, ", "))
}

// cut keeps a wrong word short in a message.
func cut(s string) string {
	const most = 40
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "..."
}

// span is the accepted range of a quantity in one of its units.
type span struct {
	unit      string
	low, high float64
}

// quantity demands a known unit and a value within that unit's range.
func (c *check) quantity(field string, q Quantity, spans ...span) {
	units := make([]string, len(spans))
	for i, s := range spans {
		if s.unit == q.Unit {
			c.within(field+".value", q.Value, s.low, s.high, s.unit)
			return
		}
		units[i] = s.unit
	}
	c.word(field+".unit", q.Unit, false, units...)
}

// optional is quantity for a quantity that may be absent.
func (c *check) optional(field string, q *Quantity, spans ...span) {
	if q != nil {
		c.quantity(field, *q, spans...)
	}
}

// count demands a number of items.
func (c *check) count(field string, n, low, high int, what string) {
	if n < low || n > high {
		c.fail(field, "count", "has "+strconv.Itoa(n)+" "+what+", accepted is "+
			strconv.Itoa(low)+" to "+strconv.Itoa(high)+" "+what)
	}
}

// text demands a text of at most 80 characters.
func (c *check) text(field, s string) {
	const most = 80
	if n := utf8.RuneCountInString(s); n > most {
		c.fail(field, "length", "has "+strconv.Itoa(n)+" characters, accepted is 0 to 80")
	}
}

// date demands a calendar date between two dates; bounds and their meaning go into the message.
func (c *check) date(field, s, from, to string) {
	if _, ok := day(s); !ok {
		c.fail(field, "date", "is "+strconv.Quote(cut(s))+", accepted is a date like 2027-06-12")
		return
	}
	if s < from || s > to {
		c.fail(field, "date", "is "+s+", accepted is "+from+" to "+to)
	}
}

// day gives a date as a count of days.
func day(s string) (days int, ok bool) {
	d, ok := date.Parse(s)
	return int(d), ok
}

// at joins a path.
func at(parent string, i int, rest string) string {
	path := parent + "." + strconv.Itoa(i)
	if rest != "" {
		path += "." + rest
	}
	return path
}

func year(n int) string { return strconv.Itoa(n) }
