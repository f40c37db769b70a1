package product

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestMoneyGivesOnePrice holds a price to what it is in every unit it can be quoted in.
func TestMoneyGivesOnePrice(t *testing.T) {
	uan, _ := Find("uan")
	want, _ := uan.PerPound(400, "$/t")
	pounds := map[string]float64{"$/short ton": 2000, "$/L": 10.67 / 3.785411784,
		"$/US gal": 10.67, "$/imp gal": 10.67 * 4.54609 / 3.785411784}
	for unit, weight := range pounds {
		got, ok := uan.PerPound(want*weight, unit)
		if !ok || math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v $/lb, %v, want %v", unit, got, ok, want)
		}
	}
	if _, ok := uan.PerPound(1, "$/bu"); ok {
		t.Error("a fertilizer is priced by the bushel")
	}
	if _, ok := Find("gravel"); ok {
		t.Error("Find gives a product that nobody sells")
	}
}

func TestSetNeverCarriesMoreThanAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(Forms).Draw(t, "form")
		n := rapid.Float64Range(0, 100).Draw(t, "n")
		exact := f.Exact(n)
		set := f.Set(exact)
		if got := f.Nitrogen(exact.Pounds); math.Abs(got-n) > 1e-9 {
			t.Fatalf("%v lb N asked, %v carried", n, got)
		}
		if got := f.Nitrogen(set.Pounds); got > n+1e-6 || n-got > LiquidStep*uanDensity*f.N+1e-6 {
			t.Fatalf("%v lb N asked, a drill set to %v", n, got)
		}
		if again := f.Set(set); math.Abs(again.Pounds-set.Pounds) > 1e-9 {
			t.Fatalf("set %v is set again to %v", set.Pounds, again.Pounds)
		}
	})
}
