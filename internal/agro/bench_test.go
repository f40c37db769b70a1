package agro

import (
	"encoding/json"
	"os"
	"syscall"
	"testing"
)

// processor reports the processor time of each round beside the clock's, which would measure who else
// uses the machine.
func processor(b *testing.B, work func()) {
	used := func() float64 {
		var u syscall.Rusage
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
			b.Fatal(err)
		}
		return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e6
	}
	began := used()
	for b.Loop() {
		work()
	}
	b.ReportMetric((used()-began)/float64(b.N), "cpu-ms/op")
}

func priced(b *testing.B) Input {
	raw, err := os.ReadFile("../../testdata/evaluate/pea-all-plans-priced.json")
	if err != nil {
		b.Fatal(err)
	}
	var in Input
	if err := json.Unmarshal(raw, &in); err != nil {
		b.Fatal(err)
	}
	return in
}

// BenchmarkEvaluate works out the whole chain; what it takes beyond BenchmarkWinter is what follows
// the plan: the season, the harvest, what a dig is worth, and the list of sources.
func BenchmarkEvaluate(b *testing.B) {
	in := priced(b)
	processor(b, func() {
		if _, err := Evaluate(in); err != nil {
			b.Fatal(err)
		}
	})
}

// BenchmarkWinter works out the plan alone: nitrogen, starter, products, seed, rhizobia, and all
// inoculants compared.
func BenchmarkWinter(b *testing.B) {
	in := priced(b)
	processor(b, func() {
		if err := Check(in); err != nil {
			b.Fatal(err)
		}
		f := newField(in)
		f.nitrogen()
		f.facts()
		f.products(f.starter())
		f.seeding()
		f.rhizobia()
		f.inoculation()
	})
}
