package nodule

import (
	"testing"

	"pgregory.net/rapid"
)

func of(n int) *int { return &n }

func TestNobodyCountedIsNoVerdict(t *testing.T) {
	p := Plant{Vigour: "small", Nodules: "over5", Inside: "pink", Position: "mostlyCrown"}
	for _, when := range []string{Early, Decision, Scored} {
		for _, rule := range []string{TenAnySize, SevenPink} {
			if got := JudgeCount(p, when, 40, rule); got != NotYet {
				t.Errorf("%s by %s: %s, want notYet", when, rule, got)
			}
		}
	}
}

func TestMoreNodulesNeverMakeAPlantWorse(t *testing.T) {
	rank := map[string]int{Poor: 0, NotYet: 1, Adequate: 2}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "count")
		more := n + rapid.IntRange(0, 20).Draw(t, "more")
		p := Plant{Vigour: "small", Nodules: "3to5", Position: "mostlyCrown"}
		p.Inside = rapid.SampledFrom([]string{"pink", "white", "green", ""}).Draw(t, "inside")
		when := rapid.SampledFrom([]string{Early, Decision, Scored, Late}).Draw(t, "when")
		days := rapid.IntRange(-1, 60).Draw(t, "days")
		p.Count = of(n)
		before := JudgeCount(p, when, days, TenAnySize)
		p.Count = of(more)
		if after := JudgeCount(p, when, days, TenAnySize); rank[after] < rank[before] {
			t.Fatalf("%d nodules %s, %d %s", n, before, more, after)
		}
	})
}

func TestTwoDigsSayMoreThanOneAndLessThanTwo(t *testing.T) {
	if one := Temper([]float64{15}); one != 1 {
		t.Errorf("one dig counts %v, want 1", one)
	}
	if two := 2 * Temper([]float64{15, 15}); two <= 1 || two >= 2 {
		t.Errorf("two digs count as %v, want between 1 and 2", two)
	}
	if silent := Temper([]float64{15, 0}); silent != 1 {
		t.Errorf("a silent dig changed the other to %v", silent)
	}
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SliceOfN(rapid.Float64Range(0, 40), 1, 8).Draw(t, "digs")
		total := func(w []float64) (sum float64) {
			for _, x := range w {
				sum += x
			}
			return sum * Temper(w)
		}
		more := append([]float64{rapid.Float64Range(0, 40).Draw(t, "one more")}, w...)
		if total(more) < total(w)-1e-9 {
			t.Fatalf("with one more dig %v says less than %v", more, w)
		}
	})
}

func TestCountedNodulesStandForClusters(t *testing.T) {
	for n, want := range map[int]string{0: "none", 1: "under3", 2: "under3", 3: "3to5", 5: "3to5",
		6: "over5", 400: "over5"} {
		if got := (Plant{Count: &n}).Clustered().Nodules; got != want {
			t.Errorf("%d nodules read as %q, want %q", n, got, want)
		}
	}
	n := 2
	if got := (Plant{Nodules: "over5", Count: &n}).Clustered().Nodules; got != "over5" {
		t.Errorf("clusters that somebody named were overwritten by %q", got)
	}
}
