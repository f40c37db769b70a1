package agro

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hilum/internal/agro/rotation"
)

func near(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// alike says whether two figures have the same value and range, or the same reason for none.
func alike(a, b Figure) bool {
	for _, pair := range [][2]*float64{{a.Value, b.Value}, {a.Low, b.Low}, {a.High, b.High}} {
		if (pair[0] == nil) != (pair[1] == nil) || pair[0] != nil &&
			!near(*pair[0], *pair[1], 1e-6) {
			return false
		}
	}
	return (a.Unknown == nil) == (b.Unknown == nil) &&
		(a.Unknown == nil || a.Unknown.Code == b.Unknown.Code)
}

// inMetric gives what follows harvest in the other units.
func inMetric(in Input) Input {
	const lb, ha = 0.45359237, 0.40468564224
	const kgHa, perTonne = 60 * lb / ha, 1000 / lb / 60
	turn := func(q *Quantity, from, to string, by float64) *Quantity {
		if q == nil || q.Unit != from {
			return q
		}
		return &Quantity{q.Value * by, to}
	}
	in.Plan.Yield = turn(in.Plan.Yield, "bu/ac", "kg/ha", kgHa)
	in.Plan.Price = turn(in.Plan.Price, "$/bu", "$/t", perTonne)
	in.Plan.NitrogenPrice = turn(in.Plan.NitrogenPrice, "$/lb N", "$/kg N", 1/lb)
	in.Prices.Pass = turn(in.Prices.Pass, "$/ac", "$/ha", 1/ha)
	in.Acres = turn(in.Acres, "ac", "ha", ha)
	in.Chickpea = turn(in.Chickpea, "m", "ft", 1/0.3048)
	if in.Harvest != nil {
		h := *in.Harvest
		h.Yield = turn(h.Yield, "bu/ac", "kg/ha", kgHa)
		h.LabCredit = turn(h.LabCredit, "lb/ac", "kg/ha", lb/ha)
		in.Harvest = &h
	}
	in.Strips = slices.Clone(in.Strips)
	for i, s := range in.Strips {
		in.Strips[i].With = *turn(&s.With, "bu/ac", "kg/ha", kgHa)
	}
	return in
}

func TestUnitsDoNotMatterAfterHarvest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		in.Acres = &Quantity{rapid.Float64Range(1, 1000).Draw(t, "acres"), "ac"}
		if in.Plan.Yield != nil {
			in.Plan.Yield.Value = math.Max(2, math.Min(150, in.Plan.Yield.Value))
		}
		a, b := evaluate(t, in), evaluate(t, inMetric(in))
		x, y := afterFigures(&a), afterFigures(&b)
		for i := range x {
			if !alike(*x[i], *y[i]) {
				t.Fatalf("figure %d is %+v and %+v", i, x[i], y[i])
			}
		}
		if a.Rotation.RootRot != b.Rotation.RootRot || a.Balance.Chosen != b.Balance.Chosen ||
			len(a.Rotation.Messages) != len(b.Rotation.Messages) {
			t.Fatal("rotation or choice of credit depends on the unit")
		}
	})
}

func TestWhatFollowsHarvestIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := evaluate(t, anyInput().Draw(t, "input"))
		for _, list := range []any{r.Balance.NetByRoot, r.Balance.Credit, r.Balance.Messages,
			r.Rotation.Messages, r.Strips.Messages, r.Value.Messages} {
			if reflect.ValueOf(list).IsNil() {
				t.Fatal("a list of the report is nil: it would be null in JSON")
			}
		}
		if !slices.ContainsFunc(r.Balance.Credit, func(n NamedFigure) bool {
			return n.Rule == r.Balance.Chosen
		}) {
			t.Fatalf("the chosen credit %q is not among those shown", r.Balance.Chosen)
		}
		if b := r.Balance; b.Net.Value != nil {
			low, high := *b.Net.Low, *b.Net.High
			if !near(*b.Fixed.Value-*b.Removed.Value, *b.Net.Value, 1e-9) ||
				*b.Net.Value < low-1e-9 || *b.Net.Value > high+1e-9 {
				t.Fatalf("fixed %v, removed %v, net %v in %v to %v", *b.Fixed.Value,
					*b.Removed.Value, *b.Net.Value, low, high)
			}
		}
		if v := r.Value; v.Dig.Value != nil && (*v.Dig.Value < 0 ||
			*v.Dig.Value > *v.Perfect.Value+1e-9) {
			t.Fatalf("a dig is worth %v, perfect knowledge %v", *v.Dig.Value, *v.Perfect.Value)
		}
		if s := r.Strips; s.P.Value != nil && (*s.P.Value < 0 || *s.P.Value > 1) {
			t.Fatalf("p %v", *s.P.Value)
		}
	})
}

// A host in the rotation never makes the caution for a later host weaker.
func TestAHostNeverEasesTheRotation(t *testing.T) {
	order := []string{rotation.None, rotation.Unknown, rotation.Amber, rotation.Red}
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		grade := func() int { return slices.Index(order, evaluate(t, in).Rotation.RootRot) }
		before := grade()
		in.History = slices.Clone(in.History)
		for i := range in.History {
			if rapid.Bool().Draw(t, "cover crop") {
				in.History[i].AlsoHosts = []string{"vetch", "pea"}
			}
		}
		in.Harvest = nil
		if after := grade(); after < before && before != slices.Index(order, rotation.Unknown) {
			t.Fatalf("more hosts turned %s into %s", order[before], order[after])
		}
	})
}

// badAfter spoils what follows harvest in one place each.
var badAfter = []struct {
	name  string
	spoil func(*Input)
	field string
	says  string
}{
	{"unknown credit", func(in *Input) { in.Rules.Credit = "all" }, "rules.credit", "flat40"},
	{"unknown roots", func(in *Input) { in.Rules.Root = "deep" }, "rules.root", "greenhouse"},
	{"price by acre", func(in *Input) { in.Prices.Dig = q(5, "$/ac") }, "prices.dig.unit", "$/field"},
	{"negative price", func(in *Input) { in.Prices.SoilTest = q(-1, "$/field") },
		"prices.soilTest.value", "0 to 100000"},
	{"protein of 60", func(in *Input) { v := 60.0; in.Harvest = &Harvest{Protein: &v} },
		"harvest.protein", "5 to 50 percent"},
	{"share in percent", func(in *Input) { v := 55.0; in.Harvest = &Harvest{Ndfa: &v} },
		"harvest.ndfa", "0 to 1"},
	{"yield is NaN", func(in *Input) { in.Harvest = &Harvest{Yield: q(math.NaN(), "bu/ac")} },
		"harvest.yield.value", "0 to 300"},
	{"credit of 400", func(in *Input) { in.Harvest = &Harvest{LabCredit: q(400, "lb/ac")} },
		"harvest.labCredit.value", "0 to 300"},
	{"strip in bags", func(in *Input) { in.Strips = []Strip{{*q(3, "bags"), *q(3, "bu/ac")}} },
		"strips.0.with.unit", "bu/ac, kg/ha"},
	{"infinite strip", func(in *Input) {
		in.Strips = []Strip{{*q(3, "bu/ac"), *q(math.Inf(1), "bu/ac")}}
	}, "strips.0.without.value", "0 to 300"},
	{"51 strips", func(in *Input) { in.Strips = make([]Strip, 51) }, "strips", "0 to 50 pairs"},
	{"distance in km", func(in *Input) { in.Chickpea = q(1, "km") }, "chickpea.unit", "m, ft"},
}

func TestBadHarvestNamesFieldAndRange(t *testing.T) {
	for _, tt := range badAfter {
		t.Run(tt.name, func(t *testing.T) {
			in := example(t, "pea-old-ground")
			tt.spoil(&in)
			demandFault(t, in, tt.field, tt.says)
		})
	}
}
