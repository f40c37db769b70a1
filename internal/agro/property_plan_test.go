package agro

import (
	"math"
	"testing"

	"hilum/internal/unit"
	"pgregory.net/rapid"
)

// metric gives the same input with everything of the winter plan in the other units.
func metric(in Input) Input {
	swap := func(q *Quantity, from, to string, factor float64) *Quantity {
		if q == nil || q.Unit != from {
			return q
		}
		return &Quantity{q.Value * factor, to}
	}
	const kgHa, ha, kg = 0.45359237 / 0.40468564224, 0.40468564224, 1 / 0.45359237
	in.Acres = swap(in.Acres, "ac", "ha", ha)
	in.Prices.Seed = swap(in.Prices.Seed, "$/lb", "$/kg", kg)
	in.Prices.Inoculant = append([]InoculantCost(nil), in.Prices.Inoculant...)
	for i, p := range in.Prices.Inoculant {
		in.Prices.Inoculant[i].Cost = *swap(&p.Cost, "$/ac", "$/ha", 1/ha)
	}
	in.Prices.Products = append([]ProductPrice(nil), in.Prices.Products...)
	for i, p := range in.Prices.Products {
		in.Prices.Products[i].Price = *swap(&p.Price, "$/short ton", "$/t", 1/0.90718474)
	}
	seed, drill := *in.Seeding, *in.Drill
	seed.Stand = swap(seed.Stand, "plants/ft2", "plants/m2", unit.PerSquareMeter(1))
	drill.GranularRate = swap(drill.GranularRate, "lb/ac", "kg/ha", kgHa)
	drill.GranularSpacing = swap(drill.GranularSpacing, "in", "cm", 2.54)
	drill.SeedRowP2O5 = swap(drill.SeedRowP2O5, "lb/ac", "kg/ha", kgHa)
	in.Seeding, in.Drill = &seed, &drill
	in.Plan.RowSpacing = swap(in.Plan.RowSpacing, "in", "cm", 2.54)
	in.Plan.OpenerSpread = swap(in.Plan.OpenerSpread, "in", "cm", 2.54)
	in.History = append([]Season(nil), in.History...)
	for i := range in.History {
		in.History[i].Nitrogen = swap(in.History[i].Nitrogen, "lb/ac", "kg/ha", kgHa)
	}
	return in
}

func same(a, b Figure) bool {
	if a.Value == nil || b.Value == nil {
		return a.Value == b.Value
	}
	return math.Abs(*a.Value-*b.Value) <= 1e-6*(1+math.Abs(*a.Value))
}

func TestUnitsOfThePlanDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		a, b := evaluate(t, in), evaluate(t, metric(in))
		x, y := planFigures(&a), planFigures(&b)
		for i := range len(x) - lineFigures(a) { // a set rate may fall to the next step
			if !same(*x[i], *y[i]) {
				t.Fatalf("figure %d: %+v, in the other units %+v", i, x[i], y[i])
			}
		}
		for i, o := range a.Inoculation.Options {
			other := b.Inoculation.Options[i]
			if !same(o.Cost, other.Cost) || !same(o.NetReturn, other.NetReturn) {
				t.Fatalf("%s costs or returns something else in the other units", o.Key)
			}
		}
	})
}

func lineFigures(r Report) int {
	n := 0
	for _, l := range r.Products.Lines {
		n += 5 + len(l.Other)
	}
	return n
}

func TestTotalsAreRateTimesArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput().Draw(t, "input")
		in.Acres = &Quantity{rapid.Float64Range(1, 1000).Draw(t, "acres"), "ac"}
		r := evaluate(t, in)
		if s := r.Seeding; s.Rate.Value != nil &&
			math.Abs(*s.Total.Value-*s.Rate.Value*in.Acres.Value) > 1e-6**s.Total.Value {
			t.Fatalf("%v lb/ac of seed, %v lb in all", *s.Rate.Value, *s.Total.Value)
		}
		for _, l := range r.Products.Lines {
			pounds := *l.Set.Value
			if l.Product == "uan" {
				pounds = *l.Other[1].Value
			}
			if *l.Set.Value > *l.Exact.Value+1e-6 {
				t.Fatalf("%s is set above its exact rate", l.Product)
			}
			if math.Abs(*l.Total.Value-pounds*in.Acres.Value) > 1e-6*(1+*l.Total.Value) {
				t.Fatalf("%s: %v lb/ac, %v lb in all", l.Product, pounds, *l.Total.Value)
			}
		}
	})
}

func TestADearerInoculantNeverPaysMoreOften(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := tested(t)
		om := 3.0
		in.Crop, in.SoilTest.OrganicMatter = "pea", &om
		in.Plan.Price = &Quantity{rapid.Float64Range(1, 20).Draw(t, "price"), "$/bu"}
		cost := rapid.Float64Range(0, 40).Draw(t, "cost")
		pays := func(cost float64) (chance, net float64) {
			in.Prices.Inoculant = []InoculantCost{{"peat", Quantity{cost, "$/ac"}}}
			o := evaluate(t, in).Inoculation.Options[2]
			return *o.Pays.Value, *o.NetReturn.Value
		}
		chance, net := pays(cost)
		dearer, less := pays(cost + rapid.Float64Range(0, 20).Draw(t, "more"))
		if dearer > chance+1e-9 || less > net+1e-9 {
			t.Fatalf("pays %v and nets %v, dearer %v and %v", chance, net, dearer, less)
		}
	})
}
