package stress

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestFieldIsKeptClearUntilTheLongestLabelEnds(t *testing.T) {
	until, ok, unread := KeepOut([]Spray{{1000, 12, true}, {1400, 1, true}, {900, 0, false}})
	if until != 1720 || !ok || !slices.Equal(unread, []int{2}) {
		t.Errorf("KeepOut = %v, %v, %v; want 1720, true, [2]", until, ok, unread)
	}
}

func TestNobodyReadTheLabelIsNotZeroHours(t *testing.T) {
	if _, ok, unread := KeepOut([]Spray{{0, 0, false}}); ok || len(unread) != 1 {
		t.Errorf("a pass without label hours gave ok %v, unread %v", ok, unread)
	}
}

func TestAnotherPassNeverOpensTheFieldEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spray := rapid.Custom(func(t *rapid.T) Spray {
			return Spray{rapid.IntRange(0, 1e6).Draw(t, "done"),
				rapid.Float64Range(0, 2000).Draw(t, "hours"), rapid.Bool().Draw(t, "read")}
		})
		passes := rapid.SliceOf(spray).Draw(t, "passes")
		before, had, _ := KeepOut(passes)
		after, has, _ := KeepOut(append(passes, spray.Draw(t, "one more")))
		if had && (!has || after < before) {
			t.Fatalf("until %d, with one more pass %d", before, after)
		}
	})
}

func TestNothingYellowNeedsNoExplaining(t *testing.T) {
	if got := Explain(Case{Nitrate: 60, Dry: true, Acid: true}); len(got) != 0 {
		t.Errorf("Explain = %v for a green field", got)
	}
}

func TestWhatWasSeenComesFirst(t *testing.T) {
	got := Explain(Case{Seen: []string{"weevil"}, Yellow: true, Nitrate: -1, DaysSown: -1})
	if len(got) != 3 || got[0].Code != causes["weevil"] {
		t.Errorf("Explain = %v, want the weevil, then sulphur and phosphorus", got)
	}
}
