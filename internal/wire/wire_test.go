package wire

import (
	"encoding/json"
	"reflect"
	"testing"

	"hilum/internal/fault"
)

const (
	farm  = "3f1c0a52-8c1e-4b7e-9d52-0d6a7c1b2e90"
	field = "0190f3a1-7c55-7b1d-8a4e-5d2f9c3b1a77"
)

func layer(top, bottom, nitrate float64) string {
	raw, _ := json.Marshal(map[string]any{
		"top": map[string]any{
			"value": top,
			"unit":  "in",
		}, "bottom": map[string]any{"value": bottom, "unit": "in"},
		"nitrate": map[string]any{"value": nitrate, "unit": "lb/ac"}})
	return string(raw)
}

func TestSoilTestServesTheCropYearOfItsHarvest(t *testing.T) {
	for date, want := range map[string]int{"2026-11-03": 2027, "2026-08-01": 2027, "2026-07-31": 2026, "2027-04-20": 2027} {
		var s SoilTest
		s.Sampled = date
		if got := s.Serves(); got != want {
			t.Errorf("a test of %s serves %d, want %d", date, got, want)
		}
	}
	s := SoilTest{CropYear: 2030}
	if got := s.Serves(); got != 2030 {
		t.Errorf("a test with a year of its own serves %d, want 2030", got)
	}
}

// TestCaseTakesOnlyItsField: order of records, other fields and later years change nothing.
func TestCaseTakesOnlyItsField(t *testing.T) {
	records := []Record{
		{field, "field", 0, json.RawMessage(`{"grower":"g","name":"N","soilZone":"black"}`)},
		{"s1", "season", 0, json.RawMessage(`{"field":"` + field + `","cropYear":2027,"crop":"pea"}`)},
		{
			"s2",
			"season", 0,
			json.RawMessage(`{"field":"` + field + `","cropYear":2025,"crop":"lentil"}`),
		},
		{
			"s3",
			"season", 0,
			json.RawMessage(`{"field":"` + field + `","cropYear":2028,"crop":"wheat"}`),
		},
		{"s4", "season", 0, json.RawMessage(`{"field":"other","cropYear":2026,"crop":"pea"}`)},
		{
			"t1",
			"soilTest", 0,
			json.RawMessage(
				`{"field":"` + field + `","sampled":"2026-10-01","layers":[` + layer(
					0,
					12,
					40,
				) + `]}`,
			),
		},
		{
			"t2",
			"soilTest", 0,
			json.RawMessage(
				`{"field":"` + field + `","sampled":"2026-11-01","layers":[` + layer(
					0,
					12,
					12,
				) + `]}`,
			),
		},
	}
	in, err := Case(records, field, 2027)
	if err != nil {
		t.Fatal(err)
	}
	if len(in.History) != 1 || in.History[0].Crop != "lentil" ||
		in.SoilTest.Layers[0].Nitrate.Value != 12 {
		t.Errorf(
			"history %+v, test %+v; want one lentil and the newer test",
			in.History,
			in.SoilTest,
		)
	}
	first, _ := Hash(in)
	for i, j := 0, len(records)-1; i < j; i, j = i+1, j-1 {
		records[i], records[j] = records[j], records[i]
	}
	again, err := Case(records, field, 2027)
	if second, _ := Hash(again); err != nil || second != first {
		t.Errorf("the records the other way round give another hash")
	}
	if _, err := Case(records, field, 2020); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a year without a crop: %v, want NotFound", err)
	}
}

// TestCaseTakesThePassesOfItsYear in the order in which they were made; unread hours stay absent.
func TestCaseTakesThePassesOfItsYear(t *testing.T) {
	pass := func(id, field, more string) Record {
		return Record{id, "pass", 0, json.RawMessage(`{"field":"` + field + `","what":"herbicide",` + more + `}`)}
	}
	in, err := Case([]Record{
		{field, "field", 0, json.RawMessage(`{"grower":"g","name":"N"}`)},
		{"s", "season", 0, json.RawMessage(`{"field":"` + field + `","cropYear":2027,"crop":"pea"}`)},
		pass("b", field, `"cropYear":2027,"product":"late","date":"2027-06-12","time":"09:00","reEntryHours":0`),
		pass("c", field, `"cropYear":2027,"product":"early","date":"2027-06-02"`),
		pass("d", field, `"cropYear":2026,"product":"last year","date":"2026-06-02"`),
		pass("e", "other", `"cropYear":2027,"product":"elsewhere","date":"2027-06-02"`),
	}, field, 2027)
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Passes) != 2 || in.Passes[0].Product != "early" || in.Passes[0].ReEntryHours != nil ||
		in.Passes[1].ReEntryHours == nil || *in.Passes[1].ReEntryHours != 0 {
		t.Errorf("passes %+v; want the early one unread, then the late one with 0 hours", in.Passes)
	}
}

// TestADigAloneIsWhatTheReportSaysOfIt holds the phone's short question to the whole answer.
// TestWhatLastYearGotAndTookReachesTheEngine: the estimate for ground that nobody tested stands on it.
func TestWhatLastYearGotAndTookReachesTheEngine(t *testing.T) {
	in, err := Case([]Record{
		{field, "field", 0, json.RawMessage(`{"grower":"g","name":"N"}`)},
		{"s1", "season", 0, json.RawMessage(`{"field":"` + field + `","cropYear":2027,"crop":"pea"}`)},
		{"s2", "season", 0, json.RawMessage(`{"field":"` + field + `","cropYear":2026,"crop":"wheat",
			"harvested":{"value":40,"unit":"bu/ac"},"nitrogen":{"value":90,"unit":"lb/ac"}}`)},
	}, field, 2027)
	if err != nil {
		t.Fatal(err)
	}
	got := in.History[0]
	if got.Harvested == nil || got.Harvested.Value != 40 || got.Nitrogen == nil || got.Nitrogen.Value != 90 {
		t.Errorf("last year reaches the engine as %+v, want 40 bu/ac taken and 90 lb/ac given", got)
	}
}

func TestADigAloneIsWhatTheReportSaysOfIt(t *testing.T) {
	const plant = `{"id":"p","vigour":"vigorous","nodules":"over5","inside":"pink","position":"crownAndLateral"}`
	records := []Record{
		{field, "field", 0, json.RawMessage(`{"grower":"g","name":"N","soilZone":"black"}`)},
		{"s", "season", 0, json.RawMessage(`{"field":"` + field + `","cropYear":2027,"crop":"pea"}`)},
		{"d", "dig", 0, json.RawMessage(`{"field":"` + field + `","cropYear":2027,"date":"2027-06-12",` +
			`"spots":[{"id":"a","plants":[` + plant + `,` + plant + `]}]}`)},
	}
	whole, err := EvaluateCase(records, field, 2027)
	if err != nil {
		t.Fatal(err)
	}
	part, err := DigOf(records, field, 2027, "d")
	if err != nil || part.Plants != 2 || !reflect.DeepEqual(part, whole.Report.Digs[0]) {
		t.Errorf("the dig alone is %+v (%v), want %+v", part, err, whole.Report.Digs[0])
	}
	if _, err := DigOf(records, field, 2027, "none"); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a dig that is not there: %v, want Invalid", err)
	}
}

func TestStrictRefusesWhatItDoesNotKnow(t *testing.T) {
	for name, raw := range map[string]string{"unknown key": `{"op":"case","more":1}`, "trailing": `{"op":"case"} x`, "short": `{"op":`, "empty": ``} {
		var r Request
		if err := Strict([]byte(raw), &r); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v, want Invalid", name, err)
		}
	}
}

func FuzzHandle(f *testing.F) {
	f.Add([]byte(`{"op":"case","records":[],"field":"x","cropYear":2027}`))
	f.Add([]byte(`{"op":"evaluate","input":{"schema":1,"crop":"pea","cropYear":2027}}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		var reply Reply
		if err := json.Unmarshal(Handle(raw), &reply); err != nil ||
			(reply.OK == nil) == (reply.Error == nil) {
			t.Fatalf("Handle(%q) gave neither answer nor error: %v", raw, err)
		}
	})
}
