// Package date is calendar dates and nothing else: no clock, no zone. The standard library's time
// would bring both, and files to read zones from, into the phone's engine.
package date

// Day is a day of the Gregorian calendar, counted from 1 January 1970.
type Day int

// Days of 400 years, 100 years, 4 years and a year, and the days between the epoch and 1 March of
// year 0, from which a leap day is always a year's last day.
const (
	era, century, leap, common = 146097, 36524, 1461, 365
	toEpoch                    = 719468
)

// Parse reads a date like 2027-06-12; ok is false for anything else and for days that do not exist.
func Parse(s string) (day Day, ok bool) {
	if len(s) != len("2027-06-12") || s[4] != '-' || s[7] != '-' {
		return 0, false
	}
	year, month, of := digits(s[:4]), digits(s[5:7]), digits(s[8:])
	if year < 0 || month < 1 || month > 12 || of < 1 {
		return 0, false
	}
	day = Of(year, month, of)
	return day, day.String() == s
}

// digits gives the number that s spells, -1 if a sign is no digit.
func digits(s string) int {
	n := 0
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return -1
		}
		n = n*10 + int(c-'0')
	}
	return n
}

// Of gives a day by year 0 to 9999, month 1 to 12 and day of the month. A day past the month's end
// is one of the next month.
func Of(year, month, day int) Day {
	if month <= 2 {
		year--
		month += 12
	}
	// Months from March on have 31 30 31 30 31 | 31 30 31 30 31 | 31 days: 153 in five.
	inYear := (153*(month-3)+2)/5 + day - 1
	return Day(floor(year, 4) - floor(year, 100) + floor(year, 400) + common*year + inYear - toEpoch)
}

// floor divides and rounds down.
func floor(a, b int) int {
	if a < 0 {
		return (a+1)/b - 1
	}
	return a / b
}

// Parts gives year, month (1 to 12) and day of the month.
func (d Day) Parts() (year, month, day int) {
	n := int(d) + toEpoch
	eras := floor(n, era)
	n -= eras * era
	year = (n - n/(leap-1) + n/century - n/(era-1)) / common
	n -= common*year + year/4 - year/100
	fifth := (5*n + 2) / 153
	day = n - (153*fifth+2)/5 + 1
	year += 400 * eras
	month = fifth + 3
	if month > 12 {
		month -= 12
		year++
	}
	return year, month, day
}

// Year gives the calendar year.
func (d Day) Year() int {
	year, _, _ := d.Parts()
	return year
}

// Month gives the month, 1 to 12.
func (d Day) Month() int {
	_, month, _ := d.Parts()
	return month
}

// String writes the day as 2027-06-12. Years are 0 to 9999.
func (d Day) String() string {
	year, month, day := d.Parts()
	text := []byte("0000-00-00")
	for i, n := range []int{year / 1000, year / 100, year / 10, year, -1, month / 10, month, -1,
		day / 10, day} {
		if n >= 0 {
			text[i] = byte('0' + n%10)
		}
	}
	return string(text)
}
