package golden

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestGoldenCases(t *testing.T) {
	files, err := filepath.Glob("../../testdata/agro/*/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no case files: %v", err)
	}
	kinds := map[string]int{}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		r := Run(raw)
		kinds[r.Kind]++
		for _, fault := range r.Faults {
			t.Errorf("%s: %s: %s", file, r.Name, fault)
		}
	}
	t.Logf("%d cases by kind: %v", len(files), kinds)
	if outside := kinds["published"] + kinds["derived"]; outside < 90 {
		t.Errorf("%d cases from published tables or worked examples, want at least 90", outside)
	}
}

func TestCaseWithUnknownKeyFails(t *testing.T) {
	r := Run([]byte(`{"name":"x","sauce":"y"}`))
	if len(r.Faults) == 0 || !strings.Contains(r.Faults[0], "sauce") {
		t.Errorf("Run = %+v, want a fault that names the key", r)
	}
}

func TestCaseWithWrongValueFails(t *testing.T) {
	r := Run([]byte(`{"name":"x","source":"s","kind":"ours","op":"convert",` +
		`"input":{"value":1,"from":"lb/ac"},"want":{"kg/ha":2},"tolerance":0.01}`))
	if len(r.Faults) != 1 || !strings.Contains(r.Faults[0], "kg/ha = 1.12") {
		t.Errorf("Run = %+v, want one fault about kg/ha", r)
	}
}
