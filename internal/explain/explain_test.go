package explain

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hilum/internal/agro"
	"hilum/internal/cite"
)

func ptr(v float64) *float64 { return &v }

// sample is a small report with every way to show a figure.
func sample() agro.Report {
	step := agro.Step{Code: "step.plannedN", Value: 4.5, Unit: "lb/ac"}
	return agro.Report{EngineVersion: "9.9", Crop: "pea", CropYear: 2027,
		Nitrogen: agro.NitrogenPart{
			To6In: agro.Figure{Value: ptr(14), Unit: "lb/ac", Low: ptr(12.5), High: ptr(0.3333),
				Kind: cite.Derived, Sources: []string{cite.Wilson}, Steps: []agro.Step{step}},
			To12In: agro.Figure{Unit: "lb/ac", Kind: cite.Ours,
				Unknown: &agro.Message{Code: "nitrogen.noTest"}},
			To24In: agro.Figure{Unit: "lb/ac", Kind: cite.Ours,
				Unknown: &agro.Message{Code: "nitrogen.noTest"}},
			Notes: []agro.Message{{Code: "external.low",
				Args: map[string]agro.Arg{"external": {Number: ptr(22), Unit: "lb/ac"}}}},
		},
		Inoculation: agro.InoculantPart{Advice: "granular", Options: []agro.Option{{Key: "liquid",
			Fail: agro.Figure{Value: ptr(0.2049), Unit: "chance", Low: ptr(0.1), High: ptr(0.4),
				Kind: cite.Ours, Sources: []string{cite.AdequacyModel, cite.Wilson}},
			LossMoney: agro.Figure{Value: ptr(-14.2), Unit: "$/ac", Low: ptr(3), High: ptr(25),
				Median: ptr(12), Kind: cite.Ours,
				Changes: []agro.Message{{Code: "advice.always"}}}}}},
		Stage: agro.StagePart{Look: agro.Window{Date: "2027-06-02", From: "2027-06-01",
			To: "2027-06-15", Kind: cite.Published, Sources: []string{cite.NodeGuide}}},
		Missing: []agro.Message{{Code: "missing.soilTest"}},
	}
}

const english = `Field pea, crop year 2027 (engine 9.9)
Lines with = are the working, with > what would change the decision; [n] is a source at the end.

NITROGEN THE YOUNG CROP WILL FIND
  Nitrate to 6 in: 14 lb/ac (12.5 to 0.333 lb/ac) | Worked out from published numbers [1]
    = N in all planned fertilizer: 4.5 lb/ac
  Nitrate to 12 in: unknown: No soil test. | Our own model
  Nitrate to 24 in: unknown for the same reason | Our own model
  Notes
    - Soil nitrate and fertilizer N come to 22 lb/ac: low enough for good nodules.

INOCULANT
  Plans compared
    Liquid on seed
      Chance of failure: 20.5 % (10 to 40 %) | Our own model [2, 1]
      Expected loss in money: -$14.20/ac ($3.00 to $25.00/ac), median $12.00/ac | Our own model
        > Inoculate every pulse crop, every time.
  What this ground calls for: Granular in row

STAGES AND DATES
  First look, five to six nodes: 2027-06-02 (2027-06-01 to 2027-06-15) | Published [3]
`

func TestReportIsWrittenInTheOrderOfTheChain(t *testing.T) {
	var out strings.Builder
	if err := Report(&out, sample(), "en"); err != nil {
		t.Fatal(err)
	}
	got, rest, _ := strings.Cut(out.String(), "\nNOT ENTERED")
	if got != english {
		t.Errorf("the report is\n%s\nwant\n%s", got, english)
	}
	for _, want := range []string{"\n  - Soil test", "\nSOURCES\n  [1] Wilson 1927.", "\n  [3] "} {
		if !strings.Contains(rest, want) {
			t.Errorf("the end lacks %q:\n%s", want, rest)
		}
	}
	out.Reset()
	if err := Report(&out, sample(), "fr"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"20,5 % (10 à 40 %)", "-14,20 $/ac (3,00 à 25,00 $/ac)"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the French report lacks %q", want)
		}
	}
}

// bare is what a reader should never see: a place left open, or a code without words.
var bare = regexp.MustCompile(`\{\w+\}|\b[a-z]+\.[a-z]+[A-Z]\w*\b|\b[a-z]+[A-Z][a-z]\w*\b`)

// TestExamplesAreToldInWords: every word of every example has its entry in both languages.
func TestExamplesAreToldInWords(t *testing.T) {
	files, err := filepath.Glob("../../testdata/evaluate/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var in agro.Input
		if err := json.Unmarshal(raw, &in); err != nil {
			t.Fatal(err)
		}
		report, err := agro.Evaluate(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, language := range Languages {
			var out strings.Builder
			if err := Report(&out, report, language); err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(out.String(), "\n") {
				if found := bare.FindString(line); found != "" {
					t.Errorf("%s, %s: %q in the line %q", file, language, found, line)
				}
			}
		}
	}
}

func TestNumbersAreShownWithThreeDigits(t *testing.T) {
	c := catalogue{language: "en"}
	for v, want := range map[float64]string{0: "0", 14: "14", 0.12345: "0.123", 1.005: "1",
		99.96: "100", 123.456: "123", 13500: "13500", 1e11: "1.00e+11", 0.00001234: "1.23e-05",
		1e-9: "1.00e-09", -2.345: "-2.35"} {
		if got := c.plain(v); got != want {
			t.Errorf("plain(%g) = %q, want %q", v, got, want)
		}
	}
}
