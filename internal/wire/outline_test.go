package wire

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"hilum/internal/agro"
	"hilum/internal/fault"
)

const quarter = `[[-106,51],[-105.9885,51],[-105.9885,51.0072],[-106,51.0072],[-106,51]]`

func TestAnOutlineIsMeasuredAndGetsItsSpots(t *testing.T) {
	ask := `{"op":"outline","outline":{"type":"Polygon","coordinates":[` + quarter +
		`],"bbox":[1,2,3,4]},"spots":-1,"field":"f","cropYear":2027,"area":{"value":130,"unit":"ac"}}`
	var reply Reply
	if err := json.Unmarshal(Handle([]byte(ask)), &reply); err != nil || reply.Outline == nil {
		t.Fatalf("%v, %+v", err, reply)
	}
	got := reply.Outline
	if got.Area != (agro.Quantity{Value: 64.7, Unit: "ha"}) || got.AreaAcres.Value != 159.8 {
		t.Errorf("area %+v, %+v, want 64.7 ha, 159.8 ac", got.Area, got.AreaAcres)
	}
	if !got.Differs {
		t.Error("130 ac of 160 are no difference")
	}
	if len(got.Spots) != 5 || *got.Edge.Value != 40 || *got.Count.Value != 5 || len(got.Sources) != 2 {
		t.Errorf("%+v", got)
	}
	for _, s := range got.Spots {
		if s.Longitude < -106 || s.Longitude > -105.9885 || s.Latitude < 51 || s.Latitude > 51.0072 {
			t.Errorf("a spot at %+v", s)
		}
	}
}

func TestNoSpotsWithoutAskingOrInACrossing(t *testing.T) {
	polygon := func(ring string) Raw {
		return Raw(`{"type":"MultiPolygon","coordinates":[[` + ring + `]]}`)
	}
	plain, err := Outline(polygon(quarter), nil, "f", 0)
	if err != nil || plain.Spots != nil || plain.Edge != nil {
		t.Errorf("%+v, %v", plain, err)
	}
	bow, err := Outline(polygon(`[[0,0],[0.01,0.01],[0.01,0],[0,0.02],[0,0]]`), &agro.Quantity{Value: 1, Unit: "x"}, "f", 5)
	if err != nil || len(bow.Findings) != 1 || bow.Findings[0].Code != "crossing" || bow.Spots != nil {
		t.Errorf("%+v, %v", bow, err)
	}
}

func TestAWrongOutlineNamesWhatAndWhere(t *testing.T) {
	for text, want := range map[string]string{
		``: "outline: is not a GeoJSON geometry", `null`: `outline.type: is ""`,
		`{"type":"Point","coordinates":[1,2]}`:                               `outline.type: is "Point"`,
		`{"type":"Polygon"}`:                                                 "outline.coordinates: are not rings",
		`{"type":"Polygon","coordinates":7}`:                                 "outline.coordinates: are not rings",
		`{"type":"Polygon","coordinates":[[["a",1]]]}`:                       "outline.coordinates: are not rings",
		`{"type":"MultiPolygon","coordinates":[]}`:                           "outline.coordinates: are not rings",
		`{"type":"MultiPolygon","coordinates":[[]]}`:                         "a polygon without a ring",
		`{"type":"Polygon","coordinates":[[[0,0],[1,1],[0,0]]]}`:             "a ring of 3 positions, at least 4",
		`{"type":"Polygon","coordinates":[[[0,0],[1],[1,1],[0,0]]]}`:         "longitude -180 to 180",
		`{"type":"Polygon","coordinates":[[[0,0],[1,91],[1,1],[0,0]]]}`:      "latitude -90 to 90",
		`{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,1]]]}`:       "not closed",
		`{"type":"Polygon","pad":"` + strings.Repeat("x", MaxOutline) + `"}`: "accepted up to 204800",
	} {
		_, err := ReadOutline(Raw(text))
		var f *fault.Error
		if !errors.As(err, &f) || f.Kind != fault.Invalid || !strings.Contains(f.Error(), want) {
			t.Errorf("%.80s: %v, want %q", text, err, want)
		}
	}
}

func FuzzReadOutline(f *testing.F) {
	f.Add([]byte(`{"type":"Polygon","coordinates":[` + quarter + `]}`))
	f.Add([]byte(`{"type":"MultiPolygon","coordinates":[[[[0,0],[1e-9,0],[0,1e-9],[0,0]]]]}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if _, err := ReadOutline(raw); err != nil {
			return
		}
		out, err := Outline(raw, nil, "f", -1)
		if err != nil || len(out.Findings) == 0 && len(out.Spots) == 0 {
			t.Errorf("%s: %+v, %v", raw, out, err)
		}
	})
}
