package agro

import (
	"slices"
	"strings"
	"testing"

	"hilum/internal/fault"
)

const noon = "2027-06-14T12:00"

func some(v float64) *float64 { return &v }

// visit is a stop with one window.
func visit(field, from, to string) Stop {
	return Stop{Field: field, Visits: []Visit{{Visit: "look", From: from, Date: from, To: to}}}
}

func fieldsOf(t *testing.T, now string, stops ...Stop) []string {
	t.Helper()
	order, err := InOrder(Round{Now: now, Stops: stops})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, turn := range order.Turns {
		out = append(out, turn.Field)
	}
	return out
}

func turnOf(t *testing.T, now string, s Stop) Turn {
	t.Helper()
	order, err := InOrder(Round{Now: now, Stops: []Stop{s}})
	if err != nil {
		t.Fatal(err)
	}
	return order.Turns[0]
}

func codesOf(list []Message) string {
	var out []string
	for _, m := range list {
		out = append(out, m.Code)
	}
	return strings.Join(out, " ")
}

func TestUrgencyComesBeforeStakeAndStakeBeforeDistance(t *testing.T) {
	closing := visit("closing", "2027-06-08", "2027-06-15")
	rich := visit("rich", "2027-06-10", "2027-06-20")
	rich.Worth = some(900)
	near, far := visit("near", "2027-06-10", "2027-06-20"), visit("far", "2027-06-10", "2027-06-20")
	near.Worth, near.Metres = some(130), some(500)
	far.Worth, far.Metres = some(190), some(9000) // the same step of worth
	missed, soon := visit("missed", "2027-06-01", "2027-06-10"), visit("soon", "2027-06-18", "2027-06-25")
	late, blind := visit("late", "2027-07-01", "2027-07-05"), visit("blind", "", "")
	rest := Stop{Field: "rest", Visits: []Visit{{Visit: "none"}}}
	got := fieldsOf(t, noon, rest, late, blind, soon, missed, far, near, rich, closing)
	want := []string{"closing", "rich", "near", "far", "missed", "soon", "blind", "late", "rest"}
	if !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
	if again := fieldsOf(t, noon, closing, rich, near, far, missed, soon, blind, late, rest); !slices.Equal(again, want) {
		t.Errorf("given the other way round: %v, want %v", again, want)
	}
}

func TestChanceStandsInWhereNobodyKnowsAWorth(t *testing.T) {
	risky, safe := visit("risky", "2027-06-10", "2027-06-20"), visit("safe", "2027-06-10", "2027-06-20")
	risky.Fail, safe.Fail = some(0.4), some(0.02)
	if got := fieldsOf(t, noon, safe, risky); got[0] != "risky" {
		t.Errorf("order %v, want risky first", got)
	}
	byAcre := visit("byAcre", "2027-06-10", "2027-06-20")
	byAcre.WorthAcre, byAcre.Area = some(6), &Quantity{160, "ac"}
	if got := fieldsOf(t, noon, risky, byAcre); got[0] != "byAcre" {
		t.Errorf("order %v, want byAcre, worth $960, first", got)
	}
}

// TestDueBoundaries: both sides of each bound.
func TestDueBoundaries(t *testing.T) {
	for _, tt := range []struct{ from, to, want string }{
		{"2027-06-14", "2027-06-14", "closing"}, {"2027-06-01", "2027-06-16", "closing"},
		{"2027-06-14", "2027-06-17", "open"}, {"2027-06-01", "2027-06-13", "past"},
		{"2027-06-15", "2027-06-15", "coming"}, {"2027-06-21", "2027-06-25", "coming"},
		{"2027-06-22", "2027-06-25", "later"}, {"", "", "unknown"},
	} {
		if got := turnOf(t, noon, visit("f", tt.from, tt.to)).Due; got != tt.want {
			t.Errorf("%s to %s on 14 June is %s, want %s", tt.from, tt.to, got, tt.want)
		}
	}
}

func TestAMissedLookLeavesTheDecidingDig(t *testing.T) {
	s := visit("f", "2027-06-01", "2027-06-10")
	s.Visits = append(s.Visits, Visit{Visit: "decide", From: "2027-06-12", Date: "2027-06-16", To: "2027-06-20"},
		Visit{Visit: "record", From: "2027-06-28", Date: "2027-07-01", To: "2027-07-05"})
	for now, want := range map[string]string{"2027-06-10T23:59": "look", "2027-06-11T00:00": "decide",
		"2027-06-21T06:00": "record", "2027-07-09T06:00": "record"} {
		if got := turnOf(t, now, s).Visit; got != want {
			t.Errorf("%s: %s, want %s", now, got, want)
		}
	}
	if got := turnOf(t, "2027-07-09T06:00", s); got.Due != "past" {
		t.Errorf("after all windows the field is %s, want past", got.Due)
	}
}

// TestNobodyWalksUnderAReEntryTime: to the minute, the longest pass counts, and closed fields stand
// behind those that can be walked.
func TestNobodyWalksUnderAReEntryTime(t *testing.T) {
	s := visit("f", "2027-06-10", "2027-06-20")
	s.Passes = []Pass{{Product: "a", Date: "2027-06-13", Time: "16:00", ReEntryHours: some(48)},
		{Product: "b", Date: "2027-06-14", Time: "06:00", ReEntryHours: some(4)}}
	got := turnOf(t, noon, s)
	if got.Entry != "closed" || got.Until != "2027-06-15T16:00" || codesOf(got.Passes) != "pass.clear" {
		t.Errorf("%s until %s for %s, want closed until 2027-06-15T16:00 for one pass", got.Entry,
			got.Until, codesOf(got.Passes))
	}
	if got := turnOf(t, "2027-06-15T15:59", s); got.Entry != "closed" {
		t.Errorf("a minute before: %s", got.Entry)
	}
	if got := turnOf(t, "2027-06-15T16:00", s); got.Entry != "open" || got.Until != "" {
		t.Errorf("when it is over: %s %s", got.Entry, got.Until)
	}
	closing := visit("closed", "2027-06-10", "2027-06-14")
	closing.Passes = s.Passes
	if got := fieldsOf(t, noon, closing, visit("soon", "2027-06-18", "2027-06-20"),
		visit("missed", "2027-06-01", "2027-06-02")); !slices.Equal(got, []string{"missed", "closed", "soon"}) {
		t.Errorf("order %v, want what can be walked first", got)
	}
}

// TestAnUnreadLabelIsAskedAbout, for as long as the longest time that is taken; so is a pass to come.
func TestAnUnreadLabelIsAskedAbout(t *testing.T) {
	for _, tt := range []struct {
		pass        Pass
		entry, says string
	}{
		{Pass{Product: "a", Date: "2027-06-12"}, "ask", "pass.unread"},
		{Pass{Product: "a", Date: "2027-03-23", Time: "04:01"}, "ask", "pass.unread"},
		{Pass{Product: "a", Date: "2027-03-23", Time: "04:00"}, "open", ""},
		{Pass{Product: "a", Date: "2027-06-15", ReEntryHours: some(12)}, "ask", "turn.planned"},
		{Pass{Product: "a", Date: "2027-06-14", ReEntryHours: some(0)}, "closed", "pass.clear"}, // hour unknown: till midnight
		{Pass{Product: "a", Date: "2027-06-14", Time: "11:59", ReEntryHours: some(0)}, "open", ""},
	} {
		got := turnOf(t, noon, Stop{Field: "f", Passes: []Pass{tt.pass}})
		if got.Entry != tt.entry || codesOf(got.Passes) != tt.says {
			t.Errorf("%+v: %s %q, want %s %q", tt.pass, got.Entry, codesOf(got.Passes), tt.entry, tt.says)
		}
	}
}

func TestDatesByDaysAloneAreNamedWide(t *testing.T) {
	s := visit("f", "2027-06-10", "2027-06-20")
	s.Basis = "daysPerNode"
	if got := codesOf(turnOf(t, noon, s).Why); !strings.Contains(got, "turn.wide") {
		t.Errorf("reasons %q do not say that the dates are wide", got)
	}
	s.Basis = "measured"
	if got := codesOf(turnOf(t, noon, s).Why); strings.Contains(got, "turn.wide") {
		t.Errorf("reasons %q call measured dates wide", got)
	}
}

func TestARoundOfNonsenseIsRefused(t *testing.T) {
	for _, r := range []Round{{}, {Now: "2027-06-14"}, {Now: "2027-02-30T10:00"}, {Now: "2027-06-14T24:00"},
		{Now: noon, Stops: []Stop{{Area: &Quantity{-1, "ac"}}}},
		{Now: noon, Stops: []Stop{{Passes: []Pass{{Date: "yesterday"}}}}},
	} {
		if _, err := InOrder(r); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%+v: %v, want Invalid", r, err)
		}
	}
}
