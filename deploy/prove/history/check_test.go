package main

import (
	"strings"
	"testing"
)

// good is a sound history: two phones, a lost answer and its repeat.
const good = `
{"e":"invoke","op":1,"dev":"a","push":[{"n":1,"rec":"r1"}],"cursor":0,"epoch":""}
{"e":"unknown","op":1}
{"e":"invoke","op":2,"dev":"a","push":[{"n":1,"rec":"r1"},{"n":2,"rec":"r2"}],"cursor":0,"epoch":""}
{"e":"ok","op":2,"epoch":"x","head":2,"cursor":2,"acks":[{"n":1,"outcome":"applied","seq":1},{"n":2,"outcome":"applied","seq":2}],"rows":[{"id":"r1","seq":1,"sum":"s1"},{"id":"r2","seq":2,"sum":"s2"}]}
{"e":"invoke","op":3,"dev":"b","push":[{"n":1,"rec":"r1"}],"cursor":0,"epoch":""}
{"e":"ok","op":3,"epoch":"x","head":3,"cursor":3,"acks":[{"n":1,"outcome":"conflict","seq":3}],"rows":[{"id":"r2","seq":2,"sum":"s2"},{"id":"r1","seq":3,"sum":"s3"}]}
{"e":"invoke","op":4,"dev":"b","push":[{"n":2,"rec":"r9"}],"cursor":3,"epoch":"x"}
{"e":"fail","op":4}
{"e":"invoke","op":5,"dev":"a","push":[{"n":2,"rec":"r2"}],"cursor":2,"epoch":"x"}
{"e":"ok","op":5,"epoch":"x","head":3,"cursor":3,"acks":[{"n":2,"outcome":"applied","seq":2}],"rows":[{"id":"r1","seq":3,"sum":"s3"}]}
{"e":"final","dev":"a","rows":[{"id":"r1","seq":3,"sum":"s3"},{"id":"r2","seq":2,"sum":"s2"}]}
{"e":"final","dev":"b","rows":[{"id":"r1","seq":3,"sum":"s3"},{"id":"r2","seq":2,"sum":"s2"}]}
{"e":"truth","head":3,"rows":[{"id":"r1","seq":3,"sum":"s3"},{"id":"r2","seq":2,"sum":"s2"}],"mutations":[{"dev":"a","n":1,"outcome":"applied","seq":1},{"dev":"a","n":2,"outcome":"applied","seq":2},{"dev":"b","n":1,"outcome":"conflict","seq":3}]}
`

func faultsOf(t *testing.T, log string) []string {
	t.Helper()
	events, err := read(strings.NewReader(strings.TrimSpace(log)))
	if err != nil {
		t.Fatal(err)
	}
	return check(events)
}

func TestASoundHistoryHasNoFault(t *testing.T) {
	if faults := faultsOf(t, good); len(faults) > 0 {
		t.Errorf("a sound history was faulted: %q", faults)
	}
}

// TestEveryBadHistoryIsFlagged changes one thing in the sound history; the rule that must catch it
// is named.
func TestEveryBadHistoryIsFlagged(t *testing.T) {
	for name, tt := range map[string]struct{ old, new, rule string }{
		"an acknowledged mutation is lost": {
			`{"dev":"a","n":2,"outcome":"applied","seq":2},`, ``, "kept"},
		"a mutation was taken twice": {
			`{"dev":"b","n":1,"outcome":"conflict","seq":3}]}`,
			`{"dev":"b","n":1,"outcome":"conflict","seq":3},{"dev":"b","n":1,"outcome":"conflict","seq":3}]}`,
			"once"},
		"a repeat gets another outcome": {
			`"head":3,"cursor":3,"acks":[{"n":2,"outcome":"applied","seq":2}]`,
			`"head":3,"cursor":3,"acks":[{"n":2,"outcome":"merged","seq":2}]`, "repeats"},
		"a number below the last is missing": {
			`"mutations":[{"dev":"a","n":1,"outcome":"applied","seq":1},`, `"mutations":[`, "dense"},
		"a mutation that nobody sent": {
			`"mutations":[`, `"mutations":[{"dev":"b","n":2,"outcome":"applied","seq":0},` +
				`{"dev":"b","n":3,"outcome":"applied","seq":0},`, "invented"},
		"a refused push took effect": {
			`"mutations":[`, `"mutations":[{"dev":"b","n":2,"outcome":"applied","seq":0},`, "refused"},
		"a phone skipped a row that was committed late": {
			`{"e":"final","dev":"b","rows":[{"id":"r1","seq":3,"sum":"s3"},{"id":"r2","seq":2,"sum":"s2"}]}`,
			`{"e":"final","dev":"b","rows":[{"id":"r1","seq":3,"sum":"s3"}]}`, "same"},
		"a phone holds an older value": {
			`{"e":"final","dev":"a","rows":[{"id":"r1","seq":3,"sum":"s3"}`,
			`{"e":"final","dev":"a","rows":[{"id":"r1","seq":1,"sum":"s1"}`, "same"},
		"the cursor goes back": {
			`"op":5,"epoch":"x","head":3,"cursor":3`, `"op":5,"epoch":"x","head":3,"cursor":1`, "cursor"},
		"a stale head": {
			`"op":5,"epoch":"x","head":3,"cursor":3`, `"op":5,"epoch":"x","head":2,"cursor":2`, "fresh"},
		"one change number with two contents": {
			`"rows":[{"id":"r2","seq":2,"sum":"s2"},{"id":"r1","seq":3,"sum":"s3"}]}`,
			`"rows":[{"id":"r2","seq":2,"sum":"s7"},{"id":"r1","seq":3,"sum":"s3"}]}`, "content"},
		"rows out of order": {
			`"rows":[{"id":"r1","seq":1,"sum":"s1"},{"id":"r2","seq":2,"sum":"s2"}]`,
			`"rows":[{"id":"r2","seq":2,"sum":"s2"},{"id":"r1","seq":1,"sum":"s1"}]`, "window"},
		"an acknowledged change undone in the record": {
			`"rows":[{"id":"r1","seq":3,"sum":"s3"},{"id":"r2","seq":2,"sum":"s2"}],"mutations"`,
			`"rows":[{"id":"r1","seq":1,"sum":"s1"},{"id":"r2","seq":2,"sum":"s2"}],"mutations"`, "effect"},
		"two mutations with one change number": {
			`{"dev":"b","n":1,"outcome":"conflict","seq":3}]`, `{"dev":"b","n":1,"outcome":"conflict","seq":2}]`,
			"order"},
		"an answer for another push": {
			`{"n":1,"rec":"r1"},{"n":2,"rec":"r2"}]`, `{"n":1,"rec":"r1"}]`, "answers"},
		"an operation that never ended": {`{"e":"fail","op":4}`, ``, "ends"},
		"no truth":                      {`{"e":"truth"`, `{"e":"rumour"`, "ends"},
	} {
		if strings.Count(good, tt.old) != 1 {
			t.Errorf("%s: the part to change stands %d times in the sound history", name,
				strings.Count(good, tt.old))
			continue
		}
		bad := strings.ReplaceAll(strings.Replace(good, tt.old, tt.new, 1), "\n\n", "\n")
		flagged := false
		faults := faultsOf(t, bad)
		for _, f := range faults {
			flagged = flagged || strings.HasPrefix(f, tt.rule+":")
		}
		if !flagged {
			t.Errorf("%s: not flagged by %q; faults: %q", name, tt.rule, faults)
		}
	}
}
