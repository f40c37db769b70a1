// Package golden runs the cases of testdata/agro: published tables and worked examples with what
// the engine must answer. The same cases run natively and in WebAssembly.
package golden

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
)

// Case is one case file. Want maps names of the operation's results to numbers, words or booleans;
// what it does not name is not compared. An unknown key is an error.
type Case struct {
	Name      string          `json:"name"`
	Source    string          `json:"source"` // author, year, place; "" only for common practice
	Kind      string          `json:"kind"`   // as cite's kinds
	Op        string          `json:"op"`
	Input     json.RawMessage `json:"input"`
	Want      map[string]any  `json:"want"`
	Tolerance float64         `json:"tolerance"` // absolute, of every number
}

// Result is what became of a case. Got holds all results of the operation, so that two builds can
// be compared bit for bit.
type Result struct {
	Name   string         `json:"name"`
	Kind   string         `json:"kind"`
	Got    map[string]any `json:"got"`
	Faults []string       `json:"faults"`
}

// Run runs one case file.
func Run(raw []byte) Result {
	var c Case
	if err := strict(raw, &c); err != nil {
		return Result{Faults: []string{"reading the case: " + err.Error()}}
	}
	r := Result{Name: c.Name, Kind: c.Kind, Faults: c.complain()}
	op, ok := find(c.Op)
	if !ok {
		r.Faults = append(r.Faults, "unknown op "+strconv.Quote(c.Op))
		return r
	}
	got, err := op(c.Input)
	if err != nil {
		r.Faults = append(r.Faults, "running it: "+err.Error())
		return r
	}
	r.Got = finite(got)
	r.Faults = append(r.Faults, c.compare(got)...)
	return r
}

// finite leaves out what an input without the figures for it leads to, which JSON cannot say.
func finite(got map[string]any) map[string]any {
	kept := map[string]any{}
	for key, value := range got {
		if f, ok := value.(float64); !ok || !math.IsInf(f, 0) && !math.IsNaN(f) {
			kept[key] = value
		}
	}
	return kept
}

// find gives an operation by its key.
func find(key string) (op operation, ok bool) {
	for _, table := range []map[string]operation{operations, winter, after, season} {
		if op, ok := table[key]; ok {
			return op, true
		}
	}
	return nil, false
}

// complain checks what every case must say about itself.
func (c Case) complain() []string {
	faults := []string{}
	kinds := []string{"published", "derived", "practice", "memory", "ours"}
	if !slices.Contains(kinds, c.Kind) {
		faults = append(faults, "kind is "+strconv.Quote(c.Kind))
	}
	if c.Name == "" || len(c.Want) == 0 || (c.Source == "") != (c.Kind == "practice") {
		faults = append(faults, "name, want or source is missing, or practice has a source")
	}
	return faults
}

func (c Case) compare(got map[string]any) []string {
	var names, faults []string
	for name := range c.Want {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		want, have := c.Want[name], got[name]
		w, isNumber := want.(float64)
		h, hasNumber := have.(float64)
		if isNumber && hasNumber && math.Abs(h-w) <= c.Tolerance || !isNumber && have == want {
			continue
		}
		faults = append(faults, name+" = "+show(have)+", want "+show(want))
	}
	return faults
}

func show(v any) string {
	raw, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(raw)
}

// strict decodes JSON and refuses unknown keys.
func strict(raw []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	return d.Decode(into)
}
