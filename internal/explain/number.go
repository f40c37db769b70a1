package explain

import (
	"math"
	"strconv"
	"strings"

	"hilum/internal/agro"
)

// digits is how many digits of a number are shown: more would be a precision that is not there.
const digits = 3

// plain writes a number with three digits, whole where it is larger, in the language's way.
func (c *catalogue) plain(v float64) string {
	if v == 0 {
		v = 0 // a zero below zero is a zero
	}
	places := 0
	if size := math.Abs(v); size > 0 && size < 100 {
		places = max(0, digits-1-int(math.Floor(math.Log10(size))))
		if places > 6 {
			return c.point(strconv.FormatFloat(v, 'e', digits-1, 64))
		}
	} else if size >= 1e7 {
		return c.point(strconv.FormatFloat(v, 'e', digits-1, 64))
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		text = "0"
	}
	return c.point(text)
}

func (c *catalogue) point(text string) string {
	if c.language == "fr" {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// amount writes a number with its unit; chances and shares in percent.
func (c *catalogue) amount(v float64, unit string) string {
	number, unit := c.apart(v, unit)
	return join(number, unit, c.language)
}

// apart gives number and unit as they are shown.
func (c *catalogue) apart(v float64, unit string) (number, shown string) {
	switch {
	case unit == "chance" || unit == "share":
		return c.plain(math.Round(v*1000) / 10), "%"
	case unit == "pH":
		return c.plain(v), ""
	}
	number = c.plain(v)
	if strings.HasPrefix(unit, "$") {
		number = c.point(strconv.FormatFloat(v, 'f', 2, 64))
	}
	if text, ok := c.engine["unit."+unit]; ok {
		unit = text
	} else if text, ok := c.titles["unit."+unit]; ok {
		unit = text
	}
	return number, unit
}

// join sets the unit where the language has it: $14.20/ac, 14,20 $/ac.
func join(number, unit, language string) string {
	if per, money := strings.CutPrefix(unit, "$"); money && language == "en" {
		if amount, negative := strings.CutPrefix(number, "-"); negative {
			return "-$" + amount + per
		}
		return "$" + number + per
	}
	return strings.TrimSpace(number + " " + unit)
}

// value writes a figure with its range, or why it is unknown.
func (c *catalogue) value(f agro.Figure) string {
	switch {
	case f.Unknown != nil:
		return c.phrase("unknown") + " " + c.say(*f.Unknown)
	case f.Value == nil && f.Low != nil && f.High != nil:
		return c.between(f)
	case f.Value == nil:
		return c.phrase("none")
	}
	text := c.amount(*f.Value, f.Unit)
	if f.Low != nil && f.High != nil && *f.Low != *f.High {
		text += " (" + c.between(f) + ")"
	}
	if f.Median != nil && *f.Median != *f.Value {
		text += ", " + c.phrase("median") + " " + c.amount(*f.Median, f.Unit)
	}
	return text
}

func (c *catalogue) between(f agro.Figure) string {
	low, unit := c.apart(*f.Low, f.Unit)
	if c.language == "en" && strings.HasPrefix(unit, "$") {
		low = join(low, "$", c.language)
	}
	return low + " " + c.phrase("to") + " " + c.amount(*f.High, f.Unit)
}
