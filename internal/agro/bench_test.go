package agro

import (
	"encoding/json"
	"os"
	"testing"
)

func BenchmarkEvaluate(b *testing.B) {
	raw, err := os.ReadFile("../../testdata/evaluate/pea-all-plans-priced.json")
	if err != nil {
		b.Fatal(err)
	}
	var in Input
	if err := json.Unmarshal(raw, &in); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Evaluate(in); err != nil {
			b.Fatal(err)
		}
	}
}
