package agro

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hilum/internal/agro/code"
	"hilum/internal/cite"
	"pgregory.net/rapid"
)

func evaluate(t *rapid.T, in Input) Report {
	r, err := Evaluate(in)
	if err != nil {
		t.Fatalf("Evaluate: %v", err)
	}
	return r
}

// walkValues visits every value of a report.
func walkValues(v reflect.Value, visit func(reflect.Value)) {
	visit(v)
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			walkValues(v.Elem(), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walkValues(v.Field(i), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walkValues(v.Index(i), visit)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			walkValues(v.MapIndex(k), visit)
		}
	}
}

func TestEveryReportIsSound(t *testing.T) {
	declared := map[string]string{}
	for _, e := range code.Register {
		declared[e.Code] = e.Args
	}
	rapid.Check(t, func(t *rapid.T) {
		r := evaluate(t, anyInput().Draw(t, "input"))
		named := func(name string, args map[string]Arg) {
			want, ok := declared[name]
			fields := strings.Fields(want)
			same := ok && len(fields) == len(args)
			for _, f := range fields {
				_, has := args[f]
				same = same && has
			}
			if !same {
				t.Fatalf("message %s with %v, declared %q", name, args, want)
			}
		}
		walkValues(reflect.ValueOf(r), func(v reflect.Value) {
			switch x := v.Interface().(type) {
			case float64:
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("a figure is %v", x)
				}
			case Message:
				named(x.Code, x.Args)
			case Step:
				named(x.Code, x.Args)
			case Figure:
				soundFigure(t, x, r.Sources)
			}
		})
		for _, list := range []any{r.Missing, r.Cautions, r.Sources, r.Digs, r.Headline.Missing,
			r.Nitrogen.Notes, r.Rhizobia.Walk, r.Inoculation.Options, r.Inoculation.Reasons} {
			if reflect.ValueOf(list).IsNil() {
				t.Fatalf("a list of the report is nil: it would be null in JSON")
			}
		}
		if r.Inoculation.Advice == "none" || r.Headline.Option == "none" {
			t.Fatal("the report advises no inoculant")
		}
	})
}

func soundFigure(t *rapid.T, f Figure, sources []Source) {
	if (f.Value == nil) == (f.Unknown == nil) {
		t.Fatalf("figure %+v needs a value or a reason, not both", f)
	}
	kinds := []string{cite.Published, cite.Derived, cite.Practice, cite.Memory, cite.Ours}
	if f.Unit == "" || !slices.Contains(kinds, f.Kind) {
		t.Fatalf("figure without unit or kind: %+v", f)
	}
	if f.Low != nil && *f.Low > *f.High {
		t.Fatalf("range %v to %v", *f.Low, *f.High)
	}
	if f.Value != nil && f.Unit == "chance" && (*f.Value < 0 || *f.Value > 1 ||
		*f.Value < *f.Low || *f.Value > *f.High) {
		t.Fatalf("chance %v outside %v to %v", *f.Value, *f.Low, *f.High)
	}
	for _, key := range f.Sources {
		if !slices.ContainsFunc(sources, func(s Source) bool { return s.Key == key }) {
			t.Fatalf("source %s is not listed", key)
		}
	}
}

func TestSameInputGivesTheSameReport(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		if a, b := evaluate(t, in), evaluate(t, in); !reflect.DeepEqual(a, b) {
			t.Fatal("two reports of one input differ")
		}
	})
}

// tested gives an input whose soil test is 0-6, 6-12 and 12-24 in, in lb/ac, and whose yield the
// rules can ask for.
func tested(t *rapid.T) Input {
	in := anyInput().Draw(t, "input")
	layer := func(top, bottom float64) Layer {
		return Layer{Quantity{top, "in"}, Quantity{bottom, "in"}, amount(t, "n", 0, 40, "lb/ac")}
	}
	in.SoilTest = &SoilTest{Sampled: "2026-10-20", Layers: []Layer{layer(0, 6), layer(6, 12),
		layer(12, 24)}}
	if in.Plan.Yield == nil {
		in.Plan.Yield = &Quantity{40, "bu/ac"}
	}
	return in
}

func TestMoreNitrateNeverRaisesTheStarterRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := tested(t)
		before := evaluate(t, in).Starter
		in.SoilTest.Layers = slices.Clone(in.SoilTest.Layers)
		in.SoilTest.Layers[0].Nitrate.Value += rapid.Float64Range(0, 20).Draw(t, "more")
		after := evaluate(t, in).Starter
		for _, pair := range [][2]StarterSet{{before.Published, after.Published},
			{before.Practice, after.Practice}} {
			if *pair[1].Rate.Value > *pair[0].Rate.Value+1e-9 {
				t.Fatalf("rate %v rose to %v", *pair[0].Rate.Value, *pair[1].Rate.Value)
			}
		}
	})
}

func TestUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := tested(t)
		imperial := evaluate(t, in)
		in.SoilTest.Layers = slices.Clone(in.SoilTest.Layers)
		for i := range in.SoilTest.Layers {
			l := &in.SoilTest.Layers[i]
			l.Top = Quantity{l.Top.Value * 2.54, "cm"}
			l.Bottom = Quantity{l.Bottom.Value * 2.54, "cm"}
			l.Nitrate = Quantity{l.Nitrate.Value * 0.45359237 / 0.40468564224, "kg/ha"}
		}
		if y := in.Plan.Yield; y != nil {
			in.Plan.Yield = &Quantity{y.Value * 60 * 0.45359237 / 0.40468564224, "kg/ha"}
		}
		metric := evaluate(t, in)
		a, b := imperial.Headline, metric.Headline
		if a.StarterDecision != b.StarterDecision || a.Option != b.Option ||
			math.Abs(*a.StarterN-*b.StarterN) > 1e-9 {
			t.Fatalf("headline %+v in lb/ac, %+v in kg/ha", a, b)
		}
	})
}

func TestLongerSinceAHostNeverLowersTheRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		year := rapid.IntRange(2016, 2026).Draw(t, "host")
		fail := func(host int) float64 {
			in.History = []Season{{CropYear: host, Crop: "pea", Nodulation: "good"}}
			return *evaluate(t, in).Inoculation.Options[0].Fail.Value
		}
		if near, far := fail(year), fail(year-1); far < near-1e-6 {
			t.Fatalf("risk fell from %v to %v", near, far)
		}
	})
}

func TestLowerPHAndFewerCellsNeverLowerTheRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := tested(t)
		dose, more := 1e5, 1e5*rapid.Float64Range(1, 50).Draw(t, "dose")
		class, hours := 0, 2.0
		in.Plan.Inoculants = []Inoculant{{Form: word(t, "form", "liquid", "peat", "granular"),
			CellsPerSeed: &dose, TreatmentClass: &class, HoursOnSeed: &hours}}
		low := rapid.Float64Range(3.5, 6.5).Draw(t, "low")
		fail := func(pH, dose float64) float64 {
			in.SoilTest.PH = &PH{pH, "water"}
			in.Plan.Inoculants[0].CellsPerSeed = &dose
			return *evaluate(t, in).Inoculation.Planned.Fail.Value
		}
		high := rapid.Float64Range(low, 6.5).Draw(t, "high")
		base := fail(high, dose)
		if acid := fail(low, dose); acid < base-1e-6 {
			t.Fatalf("risk %v at pH %v, %v at pH %v", base, high, acid, low)
		}
		if strong := fail(high, more); strong > base+1e-6 {
			t.Fatalf("a higher dose raised the risk from %v to %v", base, strong)
		}
	})
}

func TestMoreAdequatePlantsNeverRaiseTheRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		in.Plan.Inoculants = nil
		in.Plan.Emerged, in.Plan.Seeded = "2027-05-20", "2027-05-08"
		good := Plant{Vigour: "small", Nodules: "over5", Inside: "pink",
			Position: "crownAndLateral"}
		bad := Plant{Vigour: "pale", Nodules: "none", Position: "none"}
		d := Dig{ID: "d", Date: word(t, "date", "2027-06-05", "2027-06-12", "2027-06-25")}
		for range rapid.IntRange(1, 4).Draw(t, "spots") {
			d.Spots = append(d.Spots, Spot{[]Plant{bad, bad, good, bad}})
		}
		fail := func() float64 {
			in.Digs = []Dig{d}
			return *evaluate(t, in).Digs[0].Fail.Value
		}
		before := fail()
		d.Spots[0] = Spot{[]Plant{bad, good, good, bad}}
		if after := fail(); after > before+1e-9 {
			t.Fatalf("one more adequate plant raised the risk from %v to %v", before, after)
		}
	})
}

func TestAddingAProductNeverRaisesTheRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := evaluate(t, anyInput().Draw(t, "input")).Inoculation.Options
		peat, granular, both := *o[2].Fail.Value, *o[3].Fail.Value, *o[4].Fail.Value
		if both > math.Min(peat, granular)+2e-4 {
			t.Fatalf("granular with peat %v, alone %v and %v", both, granular, peat)
		}
	})
}
