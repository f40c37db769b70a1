package feed

import (
	"encoding/json"
	"errors"
	"testing"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// TestEverySchemaHasAnUpcaster: a new wire.Schema without a step up to it would refuse old outboxes.
func TestEverySchemaHasAnUpcaster(t *testing.T) {
	if got := len(released) + 1; got != wire.Schema {
		t.Errorf("the upcasters reach schema %d, wire says %d", got, wire.Schema)
	}
}

func TestOldMutationsAreLiftedStepByStep(t *testing.T) {
	rename := func(m *wire.Mutation) error { // 1 to 2: "label" became "name"
		if v, ok := m.Set["label"]; ok {
			m.Set["name"] = v
			delete(m.Set, "label")
		}
		return nil
	}
	wrap := func(m *wire.Mutation) error { // 2 to 3: a name became a list of one
		if v, ok := m.Set["name"]; ok {
			m.Set["name"] = json.RawMessage("[" + string(v) + "]")
		}
		return nil
	}
	d := Door{Upcasters: []Upcaster{rename, wrap}}
	for _, tt := range []struct {
		schema int
		set    string
		want   string
		code   string
	}{
		{1, `{"label":"a","other":1}`, `{"name":["a"],"other":1}`, ""},
		{2, `{"name":"a"}`, `{"name":["a"]}`, ""},
		{3, `{"name":["a"]}`, `{"name":["a"]}`, ""},
		{4, `{"name":["a"]}`, "", "newer"},
		{0, `{"name":"a"}`, "", "range"},
		{-1, `{"name":"a"}`, "", "range"},
	} {
		m := wire.Mutation{Schema: tt.schema}
		if err := json.Unmarshal([]byte(tt.set), &m.Set); err != nil {
			t.Fatal(err)
		}
		err := d.upcast(&m)
		var f *fault.Error
		if tt.code != "" {
			if !errors.As(err, &f) || f.Code != tt.code {
				t.Errorf("schema %d: got %v, want code %s", tt.schema, err, tt.code)
			}
			continue
		}
		got, _ := json.Marshal(m.Set)
		if err != nil || string(got) != tt.want {
			t.Errorf("schema %d: got %s, %v; want %s", tt.schema, got, err, tt.want)
		}
	}
}
