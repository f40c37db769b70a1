package kind

import (
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"

	"hilum/internal/fault"
)

const (
	farm  = "3f1c0a52-8c1e-4b7e-9d52-0d6a7c1b2e90"
	field = "0190f3a1-7c55-7b1d-8a4e-5d2f9c3b1a77"
)

// TestIDsMatchTheStandard runs cases made with Python's uuid5 (its standard library follows
// RFC 9562); the client runs the same file.
func TestIDsMatchTheStandard(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/ids.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct{ Farm, Kind, Key, ID string }
	if err := json.Unmarshal(raw, &cases); err != nil {
		t.Fatal(err)
	}
	for _, tt := range cases {
		if got := ID(tt.Farm, tt.Kind, tt.Key); got != tt.ID {
			t.Errorf("ID(%s, %s, %q) = %s, want %s", tt.Farm, tt.Kind, tt.Key, got, tt.ID)
		}
	}
}

// TestWrongBodyNamesFieldAndRange: every refusal says where, and what would be accepted.
func TestWrongBodyNamesFieldAndRange(t *testing.T) {
	season := ID(farm, "season", SeasonKey(field, 2027, ""))
	for name, tt := range map[string]struct {
		kind, id, body string
		field, says    string
	}{
		"name empty":        {"grower", field, `{"name":"  "}`, "name", "1 to 120"},
		"name is a number":  {"grower", field, `{"name":5}`, "name", "expected text"},
		"grower is no id":   {"field", field, `{"grower":"x","name":"N"}`, "grower", "UUID"},
		"area below zero":   {"field", field, `{"grower":"` + field + `","name":"N","area":{"value":-1,"unit":"ac"}}`, "area.value", "0.01 to 100000 ac"},
		"area in furlongs":  {"field", field, `{"grower":"` + field + `","name":"N","area":{"value":1,"unit":"furlong"}}`, "area.unit", "ac, ha"},
		"zone unknown":      {"field", field, `{"grower":"` + field + `","name":"N","soilZone":"red"}`, "soilZone", "brown"},
		"ring open":         {"field", field, `{"grower":"` + field + `","name":"N","outline":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,1]]]}}`, "outline.coordinates", "closed"},
		"outline crosses":   {"field", field, `{"grower":"` + field + `","name":"N","outline":{"type":"Polygon","coordinates":[[[0,0],[0.02,0.01],[0.02,0],[0,0.01],[0,0]]]}}`, "outline.coordinates", "cross at longitude 0.010000, latitude 0.005000"},
		"outline tiny":      {"field", field, `{"grower":"` + field + `","name":"N","outline":{"type":"Polygon","coordinates":[[[0,0],[0.00001,0],[0,0.00001],[0,0]]]}}`, "outline.coordinates", "less than 40 square metres"},
		"outline a point":   {"field", field, `{"grower":"` + field + `","name":"N","outline":{"type":"Point","coordinates":[0,0]}}`, "outline.type", "Polygon"},
		"year far away":     {"season", ID(farm, "season", SeasonKey(field, 3027, "")), `{"field":"` + field + `","cropYear":3027,"crop":"pea"}`, "cropYear", "1990 to 2100"},
		"season's id wrong": {"season", field, `{"field":"` + field + `","cropYear":2027,"crop":"pea"}`, "rec", season},
		"yield in tons":     {"season", season, `{"field":"` + field + `","cropYear":2027,"crop":"pea","yield":{"value":2,"unit":"t"}}`, "yield.unit", "bu/ac"},
		"impossible date":   {"soilTest", field, `{"field":"` + field + `","sampled":"2027-02-30","layers":[]}`, "sampled", "2026-10-28"},
		"layers overlap": {"soilTest", field, `{"field":"` + field + `","sampled":"2026-11-03","layers":[` +
			layer(0, 12, 5) + `,` + layer(6, 24, 5) + `]}`, "layers.1.top", ""},
		"nitrate below zero": {"soilTest", field, `{"field":"` + field + `","sampled":"2026-11-03","layers":[` + layer(0, 12, -5) + `]}`, "layers.0.nitrate.value", "0"},
		"no plants":          {"dig", field, `{"field":"` + field + `","cropYear":2027,"date":"2027-06-12","spots":[]}`, "spots", "1 to 20"},
		"unknown vigour": {"dig", field, `{"field":"` + field + `","cropYear":2027,"date":"2027-06-12","spots":[{"id":"` + field +
			`","plants":[{"id":"` + field + `","vigour":"huge","nodules":"none","position":"none"}]}]}`, "spots.0.plants.0.vigour", "vigorous"},
		"looked for the moon":     {"dig", field, `{"field":"` + field + `","cropYear":2027,"date":"2027-06-12","notSeen":["moon"],` + oneRoot, "notSeen.0", "salinity"},
		"seen and not seen":       {"dig", field, `{"field":"` + field + `","cropYear":2027,"date":"2027-06-12","suspicions":["weevil"],"notSeen":["weevil"],` + oneRoot, "notSeen.0", "suspicions"},
		"a stand on no ground":    {"dig", field, `{"field":"` + field + `","cropYear":2027,"date":"2027-06-12","stand":[{"plants":9}],` + oneRoot, "stand.0.row", "hoop"},
		"seeded very deep":        {"season", season, `{"field":"` + field + `","cropYear":2027,"crop":"pea","seedDepth":{"value":21,"unit":"cm"}}`, "seedDepth.value", "0 to 20.3 cm"},
		"more N than a crop gets": {"season", season, `{"field":"` + field + `","cropYear":2027,"crop":"pea","nitrogen":{"value":900,"unit":"lb/ac"}}`, "nitrogen.value", "400"},
		"seeded in bags":          {"season", season, `{"field":"` + field + `","cropYear":2027,"crop":"pea","seedRate":{"value":3,"unit":"bags"}}`, "seedRate.unit", "lb/ac"},
		"starter below 0":         {"season", season, `{"field":"` + field + `","cropYear":2027,"crop":"pea","starterUsed":{"value":-1,"unit":"lb/ac"}}`, "starterUsed.value", "0 to 200"},
		"hours below zero":        {"pass", field, pass(`"reEntryHours":-1`), "reEntryHours", "0 to 2000"},
		"hours absurd":            {"pass", field, pass(`"reEntryHours":2001`), "reEntryHours", "0 to 2000"},
		"hour of no day":          {"pass", field, pass(`"time":"24:00"`), "time", "23:59"},
		"pass of nothing":         {"pass", field, pass(`"product":" "`), "product", "1 to 80"},
		"pass unknown":            {"pass", field, pass(`"what":"magic"`), "what", "herbicide"},
		"pass years ago":          {"pass", field, pass(`"date":"2026-07-31"`), "date", "2026-08-01"},
		"person is a name": {"assignment", ID(farm, "assignment", ResultKey(field, 2027)),
			`{"field":"` + field + `","cropYear":2027,"person":"Jory"}`, "person", "UUID"},
		"zone of the moon": {"settings", ID(farm, "settings", ""), `{"name":"A","timeZone":"Moon/Far","currency":"CAD","units":"imperial","starterRule":"published","nodeCount":"withScale"}`, "timeZone", "America/Regina"},
	} {
		var body map[string]json.RawMessage
		if err := json.Unmarshal([]byte(tt.body), &body); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		err := All[tt.kind].Check(body, farm, tt.id)
		var f *fault.Error
		if !errors.As(err, &f) || f.Kind != fault.Invalid || f.Field != tt.field ||
			!strings.Contains(f.Message, tt.says) {
			t.Errorf(
				"%s: got %v, want a fault of field %s that says %q",
				name,
				err,
				tt.field,
				tt.says,
			)
		}
	}
}

// oneRoot ends the body of a dig with one plant.
const oneRoot = `"spots":[{"id":"3f0c0f6e-1111-4222-8333-444455556666","plants":[{"id":"3f0c0f6e-1111-4222-8333-444455556667",` +
	`"vigour":"pale","nodules":"none","position":"none"}]}]}`

// pass is a sound pass with one value put over it.
func pass(over string) string {
	return `{"field":"` + field + `","cropYear":2027,"what":"herbicide","product":"x",` +
		`"date":"2027-06-12",` + over + `}`
}

func layer(top, bottom, nitrate float64) string {
	raw, _ := json.Marshal(map[string]any{
		"top": map[string]any{
			"value": top,
			"unit":  "in",
		}, "bottom": map[string]any{"value": bottom, "unit": "in"},
		"nitrate": map[string]any{"value": nitrate, "unit": "lb/ac"}})
	return string(raw)
}
