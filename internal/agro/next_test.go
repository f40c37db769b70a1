package agro

import (
	"errors"
	"testing"

	"hilum/internal/fault"
	"pgregory.net/rapid"
)

// dugOn is a pea sown on 8 May and up on 20 May, dug on the days given with bare or good roots.
func dugOn(root Plant, days ...string) Input {
	in := Input{Schema: 1, Crop: "pea", CropYear: 2027, StarterRule: "published",
		NodeCount: "withScale", Plan: Plan{Seeded: "2027-05-08", Emerged: "2027-05-20"}}
	for i, day := range days {
		d := Dig{ID: string(rune('a' + i)), Date: day}
		for range 3 {
			d.Spots = append(d.Spots, Spot{Plants: []Plant{root, root, root, root, root}})
		}
		in.Digs = append(in.Digs, d)
	}
	return in
}

var (
	bareRoot = Plant{Vigour: "pale", Nodules: "none", Position: "none"}
	goodRoot = Plant{Vigour: "vigorous", Nodules: "over5", Inside: "pink",
		Position: "crownAndLateral"}
)

func nextOf(t *testing.T, in Input) Next {
	t.Helper()
	r, err := Evaluate(in)
	if err != nil {
		t.Fatal(err)
	}
	return r.Stage.Next
}

func TestTheNextVisitFollowsFromTheDigs(t *testing.T) {
	half := dugOn(bareRoot, "2027-06-11")
	half.Digs[0].Spots = half.Digs[0].Spots[:1] // one spot is not enough to decide on
	late := dugOn(bareRoot, "2027-06-18")
	late.Digs[0].Spots = late.Digs[0].Spots[:1]
	for name, tt := range map[string]struct {
		in    Input
		visit string
	}{
		"nobody dug":                  {dugOn(bareRoot), "look"},
		"bare early":                  {dugOn(bareRoot, "2027-06-04"), "decide"},
		"good early":                  {dugOn(goodRoot, "2027-06-04"), "record"},
		"bare at three weeks":         {dugOn(bareRoot, "2027-06-11"), "record"},
		"one spot at three weeks":     {half, "again"},
		"one spot as the window ends": {late, "record"},
		"scored at flower":            {dugOn(goodRoot, "2027-07-05"), "none"},
		"early, then decided":         {dugOn(bareRoot, "2027-06-04", "2027-06-12"), "record"},
	} {
		if got := nextOf(t, tt.in); got.Visit != tt.visit {
			t.Errorf("%s: next is %+v, want %s", name, got, tt.visit)
		}
	}
}

func TestTheNextVisitIsNeverBeforeTheLastDig(t *testing.T) {
	for _, day := range []string{"2027-06-01", "2027-06-05", "2027-06-09", "2027-06-11", "2027-06-14"} {
		in := dugOn(bareRoot, day)
		in.Digs[0].Spots = in.Digs[0].Spots[:2]
		if due := nextOf(t, in).Due; due.From != "" && due.From <= day {
			t.Errorf("dug on %s, and next is due from %s", day, due.From)
		}
	}
}

func TestAnEarlyBareRootIsNeverCalledAFailure(t *testing.T) {
	r, err := Evaluate(dugOn(bareRoot, "2027-06-03"))
	if err != nil {
		t.Fatal(err)
	}
	d := r.Digs[0]
	if d.Class != "tooEarly" || d.Enough == "poor" || r.Rescue.Offered == "yes" {
		t.Errorf("class %s, enough %s, rescue %s", d.Class, d.Enough, r.Rescue.Offered)
	}
}

func TestTheStandIsPlantsOnTheGroundCounted(t *testing.T) {
	q := func(v float64, unit string) *Quantity { return &Quantity{v, unit} }
	for name, tt := range map[string]struct {
		counts []Stand
		want   float64
	}{
		// 1 m of a 25 cm row is 0.25 m2: 20 plants are 80/m2.
		"a metre of row":     {[]Stand{{Plants: 20, Row: q(1, "m"), Spacing: q(25, "cm")}}, 80},
		"a hoop":             {[]Stand{{Plants: 20, Hoop: q(0.25, "m2")}}, 80},
		"two places, a mean": {[]Stand{{Plants: 20, Hoop: q(0.25, "m2")}, {Plants: 10, Hoop: q(0.25, "m2")}}, 60},
		"nothing grows":      {[]Stand{{Plants: 0, Hoop: q(1, "m2")}}, 0},
		// 10 in of row space, 3.28084 ft: 1 m x 0.254 m.
		"feet and inches": {[]Stand{{Plants: 254, Row: q(3.280839895, "ft"), Spacing: q(10, "in")}}, 1000},
	} {
		got := standing(tt.counts)
		if diff := *got.Value - tt.want; diff > 1e-6 || diff < -1e-6 {
			t.Errorf("%s: %g, want %g", name, *got.Value, tt.want)
		}
		if (got.Low != nil) != (len(tt.counts) > 1) {
			t.Errorf("%s: interval %v of %d counts", name, got.Low, len(tt.counts))
		}
	}
	if got := standing(nil); got.Value != nil || got.Unknown == nil {
		t.Errorf("nobody counted, and the stand is %+v", got)
	}
}

func TestAStandSaysOnWhatGround(t *testing.T) {
	q := func(v float64, unit string) *Quantity { return &Quantity{v, unit} }
	for field, s := range map[string]Stand{
		"digs.0.stand.0.row":           {Plants: 5},
		"digs.0.stand.0.plants":        {Plants: -1, Hoop: q(1, "m2")},
		"digs.0.stand.0.hoop.value":    {Plants: 5, Hoop: q(0, "m2")},
		"digs.0.stand.0.row.unit":      {Plants: 5, Row: q(1, "in"), Spacing: q(10, "in")},
		"digs.0.stand.0.spacing.value": {Plants: 5, Row: q(1, "m"), Spacing: q(1, "in")},
	} {
		in := dugOn(goodRoot, "2027-06-11")
		in.Digs[0].Stand = []Stand{s}
		if at := faultAt(Check(in)); at != field {
			t.Errorf("%+v: fault at %q, want %q", s, at, field)
		}
	}
	both := Stand{Plants: 5, Row: q(1, "m"), Spacing: q(10, "in"), Hoop: q(1, "m2")}
	in := dugOn(goodRoot, "2027-06-11")
	in.Digs[0].Stand = []Stand{both}
	if at := faultAt(Check(in)); at != "digs.0.stand.0.row" {
		t.Errorf("row and hoop together: fault at %q", at)
	}
}

func TestMorePlantsNeverMakeAThinnerStand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 500).Draw(t, "plants")
		more := n + rapid.IntRange(0, 400).Draw(t, "more")
		hoop := &Quantity{rapid.Float64Range(0.05, 10).Draw(t, "hoop"), "m2"}
		a := standing([]Stand{{Plants: n, Hoop: hoop}, {Plants: 7, Hoop: hoop}})
		b := standing([]Stand{{Plants: more, Hoop: hoop}, {Plants: 7, Hoop: hoop}})
		if *b.Value < *a.Value {
			t.Fatalf("%d plants give %g, %d give %g", n, *a.Value, more, *b.Value)
		}
	})
}

// faultAt gives the field that a fault names.
func faultAt(err error) string {
	var f *fault.Error
	if errors.As(err, &f) {
		return f.Field
	}
	return ""
}

func TestAPlantIsCountedOrItsClustersAreNamed(t *testing.T) {
	n, none := 12, 0
	counted := Plant{Vigour: "vigorous", Count: &n, Inside: "pink", Position: "mostlyCrown"}
	in := dugOn(counted, "2027-06-14")
	in.Crop = "soybean"
	r, err := Evaluate(in)
	if err != nil || r.Digs[0].Adequate != 15 {
		t.Errorf("soybean by count alone: %v, %+v", err, r.Digs)
	}
	for _, p := range []Plant{{Vigour: "vigorous", Inside: "pink", Position: "mostlyCrown"},
		{Vigour: "vigorous", Count: &none, Inside: "pink", Position: "mostlyCrown"}} {
		if at := faultAt(Check(dugOn(p, "2027-06-14"))); at != "digs.0.spots.0.plants.0.nodules" {
			t.Errorf("%+v: fault at %q", p, at)
		}
	}
}
