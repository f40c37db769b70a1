// Package stage tells when a crop stands where: by the degree days of its season, or by days alone
// where nobody has the weather.
package stage

import (
	"math"
	"slices"
)

// Methods of degree days: one equation, two readings (McMaster and Wilhelm 1997). They differ on
// days whose minimum is below the base and whose maximum is above it.
const (
	MeanThenFloor = "meanThenFloor" // the day's mean, then not below the base
	FloorThenMean = "floorThenMean" // minimum and maximum raised to the base, then their mean
)

// Temp is one day's air temperatures in degrees C.
type Temp struct{ Max, Min float64 }

// Heat gives one day's degree days above base, in degrees C.
func (t Temp) Heat(method string, base float64) float64 {
	if method == FloorThenMean {
		return (math.Max(t.Max, base)+math.Max(t.Min, base))/2 - base
	}
	return math.Max(0, (t.Max+t.Min)/2-base)
}

// Mean gives the day's mean as half the sum of its ends.
func (t Temp) Mean() float64 { return (t.Max + t.Min) / 2 }

// Clock counts a crop's time in degree days above Base, degrees C.
type Clock struct {
	Method string
	Base   float64
}

// Sum gives the degree days of consecutive days.
func (c Clock) Sum(days []Temp) float64 {
	sum := 0.0
	for _, d := range days {
		sum += d.Heat(c.Method, c.Base)
	}
	return sum
}

// Reach gives after how many days the sum comes to want, with the part of the last day; ok is false
// where the days end first.
func (c Clock) Reach(days []Temp, want float64) (after float64, ok bool) {
	sum := 0.0
	for i, d := range days {
		heat := d.Heat(c.Method, c.Base)
		if heat > 0 && sum+heat >= want {
			return float64(i) + math.Max(0, want-sum)/heat, true
		}
		sum += heat
	}
	return 0, want <= 0
}

// Season holds the temperatures of one year by its day, 0 to 364; 29 February has none.
type Season struct {
	temp [yearDays]Temp
	has  [yearDays]bool
}

const yearDays = 365

// before holds the days of a year before each month.
var before = [...]int{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334}

// DayOf gives the day of the year, 0 to 364, of a month and a day of the month; -1 for 29 February
// and for what no calendar has.
func DayOf(month, day int) int {
	if month < 1 || month > 12 || day < 1 || day > 31 || month == 2 && day > 28 {
		return -1
	}
	return before[month-1] + day - 1
}

// Set records a day; a day outside the year is passed over.
func (s *Season) Set(day int, t Temp) {
	if day >= 0 && day < yearDays {
		s.temp[day], s.has[day] = t, true
	}
}

// Days gives the consecutive days from first on for which this season, or else rest, has a record.
// rest may be nil.
func (s *Season) Days(first int, rest *Season) []Temp {
	var days []Temp
	for d := max(0, first); d < yearDays; d++ {
		switch {
		case s.has[d]:
			days = append(days, s.temp[d])
		case rest != nil && rest.has[d]:
			days = append(days, rest.temp[d])
		default:
			return days
		}
	}
	return days
}

// Quantile gives the value of sorted at the share q of them, the nearest by rank.
func Quantile(sorted []int, q float64) int {
	at := int(math.Floor(float64(q*float64(len(sorted)-1)) + 0.5))
	return sorted[at]
}

// Dates are the 10, 50 and 90 % days of a stage.
type Dates struct{ From, Middle, To int }

// Spread gives the dates of all the days that runs and rates lead to, each as likely as the other
// (ours); there must be at least one.
func Spread(days []int) Dates {
	slices.Sort(days)
	return Dates{Quantile(days, 0.1), Quantile(days, 0.5), Quantile(days, 0.9)}
}
