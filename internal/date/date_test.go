package date

import (
	"testing"
	"time"
)

// TestEveryDayOfFourCenturies is held against the standard library: a whole cycle of the calendar
// and both ends of what can be written.
func TestEveryDayOfFourCenturies(t *testing.T) {
	from, to := Of(1890, 1, 1), Of(2300, 12, 31)
	for _, span := range [][2]Day{{from, to}, {Of(0, 1, 1), Of(4, 12, 31)},
		{Of(9996, 1, 1), Of(9999, 12, 31)}} {
		for d := span[0]; d <= span[1]; d++ {
			want := time.Unix(int64(d)*86400, 0).UTC().Format(time.DateOnly)
			if d.String() != want {
				t.Fatalf("day %d is %s, want %s", d, d, want)
			}
			if back, ok := Parse(want); !ok || back != d {
				t.Fatalf("Parse(%s) = %d, %v, want %d", want, back, ok, d)
			}
		}
	}
	if d := Of(2027, 6, 12); d.Year() != 2027 || d.Month() != 6 {
		t.Errorf("%s is in year %d, month %d", d, d.Year(), d.Month())
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"2027-06-12", "2028-02-29", "2027-02-29", "2027-13-01", "2027-00-10",
		"2027-04-31", "2027-04-00", "27-04-01", "2027-4-1", "2027-04-01T", "", "0000-01-01",
		"9999-12-31", "2027_04_01", "-027-04-01", "+027-04-01"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		want, err := time.Parse(time.DateOnly, s)
		day, ok := Parse(s)
		if ok != (err == nil) || ok && int64(day)*86400 != want.Unix() {
			t.Errorf("Parse(%q) = %d, %v; the standard library says %v, %v", s, day, ok, want, err)
		}
	})
}
