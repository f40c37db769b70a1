package agro

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// ready draws an input whose rescue arithmetic is complete: a pea field with dates, yield, prices,
// a soil test and a dig of poor roots.
func ready(t *rapid.T) Input {
	in := tested(t)
	in.Crop = "pea"
	in.Plan.Inoculants = nil
	in.Plan.Seeded, in.Plan.Emerged = "2027-05-08", "2027-05-20"
	om := 3.0
	in.SoilTest.OrganicMatter = &om
	yield, price := amount(t, "yield", 10, 80, "bu/ac"), amount(t, "price", 2, 20, "$/bu")
	n, pass := Quantity{0.69, "$/lb N"}, Quantity{10, "$/ac"}
	in.Plan.Yield, in.Plan.Price, in.Plan.NitrogenPrice, in.Prices.Pass = &yield, &price, &n, &pass
	bad := Plant{Vigour: "pale", Nodules: "none", Position: "none"}
	in.Digs = []Dig{{ID: "d", Date: "2027-06-12", Spots: []Spot{{[]Plant{bad, bad, bad, bad, bad}},
		{[]Plant{bad, bad, bad, bad, bad}}, {[]Plant{bad, bad, bad, bad, bad}}}}}
	rate, rain := Quantity{50, "lb/ac"}, Quantity{0.6, "in"}
	in.Rescue = &Rescue{Rate: &rate, Rain: &rain, On: "2027-06-15"}
	return in
}

func TestRescueUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := ready(t)
		a := evaluate(t, in)
		rain, rate, pass := Quantity{0.6 * 25.4, "mm"}, Quantity{50 * 1.12085116, "kg/ha"},
			Quantity{10 / 0.40468564224, "$/ha"}
		n := Quantity{0.69 / 0.45359237, "$/kg N"}
		in.Rescue = &Rescue{Rate: &rate, Rain: &rain, On: in.Rescue.On}
		in.Plan.NitrogenPrice, in.Prices.Pass = &n, &pass
		for _, list := range []*[]DayTemp{&in.Weather, &in.Climate} {
			*list = slices.Clone(*list)
			for i, d := range *list {
				(*list)[i].Max = Quantity{d.Max.Value*1.8 + 32, "F"}
				(*list)[i].Min = Quantity{d.Min.Value*1.8 + 32, "F"}
			}
		}
		b := evaluate(t, in)
		if a.Rescue.Offered != b.Rescue.Offered || a.Rescue.Offered != "yes" ||
			math.Abs(*a.Rescue.Net.Value-*b.Rescue.Net.Value) > 1e-4 {
			t.Fatalf("net %v (%s) and %v (%s)", *a.Rescue.Net.Value, a.Rescue.Offered,
				*b.Rescue.Net.Value, b.Rescue.Offered)
		}
		for i, w := range windows(&a) {
			if v := windows(&b)[i]; v.Date != w.Date {
				t.Fatalf("window %d: %s in C, %s in F", i, w.Date, v.Date)
			}
		}
	})
}

func TestDearerNitrogenNeverMakesRescuePayMoreOften(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := ready(t)
		cheap := evaluate(t, in).Rescue
		n := Quantity{0.69 + rapid.Float64Range(0, 2).Draw(t, "more"), "$/lb N"}
		in.Plan.NitrogenPrice = &n
		dear := evaluate(t, in).Rescue
		if *dear.Pays.Value > *cheap.Pays.Value+1e-12 || *dear.Net.Value > *cheap.Net.Value+1e-9 {
			t.Fatalf("pays %v at first, %v dearer", *cheap.Pays.Value, *dear.Pays.Value)
		}
	})
}

func TestRescueIsNeverOfferedOnSuspectedRootRotOrOutsideItsWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := ready(t)
		if rapid.Bool().Draw(t, "rot") {
			in.Digs[0].Suspicions = []string{"rootRot"}
		} else {
			in.Rescue.On = word(t, "late", "2027-06-20", "2027-07-15", "2027-08-30")
		}
		r := evaluate(t, in).Rescue
		if r.Offered == "yes" || r.Net.Value != nil || r.Gain.Value != nil {
			t.Fatalf("offered %s with net %v", r.Offered, r.Net.Value)
		}
	})
}

func TestWindowsAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := evaluate(t, anyInput().Draw(t, "input")).Stage
		for _, w := range []Window{s.Emerged, s.Look, s.Decide, s.Record, s.LastN} {
			if (w.Date == "") == (w.Unknown == nil) || w.From > w.Date || w.Date > w.To || w.Kind == "" {
				t.Fatalf("window %+v", w)
			}
		}
		if s.Look.Date != "" && s.Look.Date < s.Emerged.Date {
			t.Fatalf("look %s before emergence %s", s.Look.Date, s.Emerged.Date)
		}
	})
}

// TestTheHeadlineIsTheLossThatRescueStandsOn holds a list to what the field's page says after a dig,
// and bare roots to no smaller loss than was expected before them.
func TestTheHeadlineIsTheLossThatRescueStandsOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := ready(t)
		after := evaluate(t, in)
		in.Digs = nil
		before := evaluate(t, in).Headline
		h := after.Headline
		if lost := *after.Rescue.Lost.High / in.Plan.Yield.Value; !near(*h.LossHigh, lost, 1e-9) {
			t.Fatalf("headline loss up to %v, rescue %v", *h.LossHigh, lost)
		}
		if *h.LossShare < *before.LossShare-1e-9 || h.DigEnough != after.Digs[0].Enough {
			t.Fatalf("after bare roots %+v, before %+v", h, before)
		}
	})
}

func TestOneMoreGoodDigNeverRaisesTheRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := ready(t)
		good := Plant{Vigour: "small", Nodules: "over5", Inside: "pink", Position: "crownAndLateral"}
		spot := Spot{[]Plant{good, good, good, good, good}}
		in.Digs[0].Spots = []Spot{spot, spot, spot}
		one := evaluate(t, in).Headline.Fail
		in.Digs = append(in.Digs, Dig{ID: "e", Date: word(t, "again", "2027-06-13", "2027-06-25"),
			Spots: []Spot{spot, spot}})
		if two := evaluate(t, in).Headline.Fail; *two > *one+1e-9 {
			t.Fatalf("a second good dig raised the risk from %v to %v", *one, *two)
		}
	})
}

func TestOrderOfDigsOfOneDayDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := ready(t)
		other := anyDig(t, in.Digs[0].Date)
		other.ID, other.Suspicions = "e", nil
		a, b := in, in
		a.Digs = []Dig{in.Digs[0], other}
		b.Digs = []Dig{other, in.Digs[0]}
		x, y := evaluate(t, a).Headline.Fail, evaluate(t, b).Headline.Fail
		if math.Abs(*x-*y) > 1e-9 {
			t.Fatalf("%v one way round, %v the other", *x, *y)
		}
	})
}

func TestUnreadLabelKeepsTheFieldShut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		unread := slices.ContainsFunc(in.Passes, func(p Pass) bool { return p.ReEntryHours == nil })
		read := slices.ContainsFunc(in.Passes, func(p Pass) bool { return p.ReEntryHours != nil })
		s := evaluate(t, in).Stress
		if s.LabelUnread != unread || (s.KeepOutUntil != "") != read ||
			len(s.Passes) != len(in.Passes) {
			t.Fatalf("passes %+v gave %+v", in.Passes, s)
		}
	})
}
