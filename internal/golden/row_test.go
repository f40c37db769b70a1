package golden

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// rows are the worked rows of the publications that were read, by topic. Each stands in the table
// of testdata/agro/README.md, with its cases or with the reason why there is none.
var rows = strings.Fields(`
	C1 C2 C3 C5 C6 C7 C8 C9 C11 C13 C14 W1 W2 W3 W4 W5
	R1 R4 R5 R6 R7 R9 R10 R11 R12 R13
	S1 S2 S4 S5 S6 S7 S9 S10 S12 S13 S14
	P1 P2 P3 P5 P6 W7 W9 W11 W12 W15 W17 W19 W21 E1 E3 E4 E6 E7
	T1 T2 T3 T4 T7 T9 T10 T11 T12 T14 T15 T16 W23
	G1 G2 G3 G4 G6 G7 G8 G9 G10 W30 W32 W34 W36 W37 W38 W39 W40
	K1 K2 K3 K4 K5 K6 K7 K8 K9 K10 Q1 Q2 Q3 Q4 Q5 Q6 W61 W62 W63
	D1 D2 D3 D4 D5 D6 D7 D8 D9 D10 D11 D12 D13 H1 H2 H3 H4 H5 H6 H7 H8 H9 H10 H11
	V1 V2 V3 V4 V5 V6 V7 V8 V9 E12
	N1 N3 N4 N5 N6 N7 N8 N9 N10 N11 N12 N13 E8 E9 E11 W24 W26 W28 W29 W70
	W42 W44 W45 W47 W49 W50 W51 W52 W53 W55 W57 W59
	L1 L2 L3 L4 L5 L6 L7 L9 L10 L11 L12 L14`)

const folder = "../../testdata/agro/"

func TestEveryPublishedRowHasACaseOrAReason(t *testing.T) {
	text, err := os.ReadFile(folder + "README.md")
	if err != nil {
		t.Fatal(err)
	}
	where := map[string]string{}
	for _, line := range strings.Split(string(text), "\n") {
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		if !strings.HasPrefix(line, "| ") || cells[0] == "row" {
			continue
		}
		if len(cells) != 4 || where[cells[0]] != "" {
			t.Errorf("row %q does not have four cells, or stands twice", line)
			continue
		}
		where[cells[0]] = cells[3]
	}
	none := 0
	for _, id := range rows {
		reason, without := strings.CutPrefix(where[id], "none: ")
		switch {
		case where[id] == "":
			t.Errorf("row %s has neither case nor reason", id)
		case without:
			none++
			if len(reason) < len("as W30") {
				t.Errorf("row %s has no reason: %q", id, reason)
			}
		default:
			casesExist(t, id, where[id])
		}
	}
	if len(where) != len(rows) {
		t.Errorf("%d rows in the table, %d known here", len(where), len(rows))
	}
	t.Logf("%d rows, %d of them without a case", len(rows), none)
}

func casesExist(t *testing.T, id, paths string) {
	for _, path := range strings.Split(paths, ", ") {
		if _, err := os.Stat(folder + path + ".json"); err != nil {
			t.Errorf("row %s: %v", id, err)
		}
	}
}

// TestRowsNamedByCasesAreInTheTable holds the other way: a case that names a row names a known one.
func TestRowsNamedByCasesAreInTheTable(t *testing.T) {
	known := map[string]bool{}
	for _, id := range rows {
		known[id] = true
	}
	files, err := filepath.Glob(folder + "*/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no case files: %v", err)
	}
	named := regexp.MustCompile(`"name": "([A-Z][0-9]+)[:,]`)
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if m := named.FindSubmatch(text); m != nil && !known[string(m[1])] {
			t.Errorf("%s names row %s, which the table does not have", file, m[1])
		}
	}
}
