package card

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"hilum/internal/words"
)

func TestCardsAreCurrent(t *testing.T) {
	for _, language := range Languages {
		var text, page strings.Builder
		if err := errors.Join(Write(&text, language), WritePage(&page, language)); err != nil {
			t.Fatal(err)
		}
		for name, want := range map[string]string{File(language): text.String(),
			PageFile(language): page.String()} {
			raw, err := os.ReadFile(name)
			if err != nil || string(raw) != want {
				t.Errorf("%s is not what the engine says now (%v)\n\tfix: go generate ./internal/card",
					name, err)
			}
		}
		if i := strings.Index(text.String(), "{"); i >= 0 {
			t.Errorf("%s: a place was left open: %.60q", language, text.String()[i:])
		}
	}
	if err := Write(&strings.Builder{}, "de"); err == nil {
		t.Error("a card was written in a language that there is none for")
	}
}

func TestBothLanguagesSayTheSame(t *testing.T) {
	keys := map[string][]string{}
	for _, language := range Languages {
		raw, err := words.Files.ReadFile("card." + language + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var all map[string]string
		if err := json.Unmarshal(raw, &all); err != nil {
			t.Fatal(err)
		}
		for key, text := range all {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s: no words for %s", language, key)
			}
			keys[language] = append(keys[language], key)
		}
		slices.Sort(keys[language])
	}
	if !slices.Equal(keys["en"], keys["fr"]) {
		t.Error("the cards' catalogues have different keys")
	}
}

// TestResidualsAreTheKnownOnes: worked when the models were fitted, by another program; a residual
// that moves is a change of the model and belongs on the card with a reason.
func TestResidualsAreTheKnownOnes(t *testing.T) {
	want := map[string][]float64{
		"peace":   {19.0, 48.5, 55.2},
		"biomass": {14.0, 11.4, 8.9, 4.2},
		"alberta": {19.3, 4.8},
		"sask":    {4.9, 8.7},
		"ontario": {3, 9},
		"half":    {50.1},
		"tenth":   {12.1, 9.6},
		"ladder":  {87.3, 38.1, 5.8, 93.2, 70.9, 32.5, 96.7, 91.8, 88.0},
		"single":  {86.8, 70.0}, "double": {69.1, 53.9},
		"implied": {.55, .47, .63, .90, .84, .80},
	}
	got := map[string][]float64{}
	for _, g := range groups() {
		for _, a := range g.anchors {
			got[a.key] = append(got[a.key], a.model)
		}
	}
	for key, values := range want {
		near := 0.1
		switch key { // these were worked at seedbeds that are not on record
		case "implied":
			near = 0.05
		case "ontario":
			near = 1
		}
		for i, v := range values {
			if i >= len(got[key]) || math.Abs(got[key][i]-v) > near {
				t.Errorf("%s: the model says %.2f, want %.2f within %v", key, got[key], values, near)
				break
			}
		}
	}
}
