package snapshot

import (
	"encoding/json"
	"fmt"
	"testing"

	"hilum/internal/wire"
)

// unpack reads a document back, as a client does.
func unpack(t *testing.T, raw []byte) map[string]wire.Row {
	t.Helper()
	var d struct {
		IDs   string
		Kinds []struct {
			Kind  string
			Count int
			ID    []*int
			Seq   []int64
			By    []*int
			Body  any
		}
	}
	if err := json.Unmarshal(raw, &d); err != nil {
		t.Fatal(err)
	}
	r := reader{d.IDs}
	rows := map[string]wire.Row{}
	for _, k := range d.Kinds {
		ids, by := r.places(k.ID), r.places(k.By)
		bodies := r.column(k.Body, k.Count)
		seq := int64(0)
		for i := range k.Count {
			seq += k.Seq[i]
			body := bodies[i]
			if body == nil {
				body = map[string]any{}
			}
			text, err := json.Marshal(body)
			if err != nil {
				t.Fatal(err)
			}
			row := wire.Row{ID: ids[i].(string), Kind: k.Kind, Seq: seq, Body: text}
			if by[i] != nil {
				row.By = by[i].(string)
			}
			rows[row.ID] = row
		}
	}
	return rows
}

type reader struct{ ids string }

func (r reader) id(place int) string {
	h := r.ids[32*place : 32*place+32]
	return fmt.Sprintf("%s-%s-%s-%s-%s", h[:8], h[8:12], h[12:16], h[16:20], h[20:])
}

func (r reader) places(steps []*int) []any {
	out := make([]any, len(steps))
	at := 0
	for i, step := range steps {
		if step != nil {
			at += *step
			out[i] = r.id(at)
		}
	}
	return out
}

func (r reader) column(raw any, count int) []any {
	c := raw.(map[string]any)
	switch c["t"] {
	case "o":
		return r.objects(c["c"].(map[string]any), count)
	case "l":
		return r.lists(c["n"].([]any), c["c"])
	case "r":
		var steps []*int
		for _, v := range c["c"].([]any) {
			if f, ok := v.(float64); ok {
				n := int(f)
				steps = append(steps, &n)
			} else {
				steps = append(steps, nil)
			}
		}
		return r.places(steps)
	}
	return c["c"].([]any)
}

func (r reader) objects(parts map[string]any, count int) []any {
	out := make([]any, count)
	for name, part := range parts {
		for i, v := range r.column(part, count) {
			if v == nil {
				continue
			}
			if out[i] == nil {
				out[i] = map[string]any{}
			}
			out[i].(map[string]any)[name] = v
		}
	}
	return out
}

func (r reader) lists(lengths []any, content any) []any {
	total := 0
	for _, n := range lengths {
		if f, ok := n.(float64); ok {
			total += int(f)
		}
	}
	items := r.column(content, total)
	out := make([]any, len(lengths))
	for i, n := range lengths {
		if f, ok := n.(float64); ok {
			out[i] = append([]any{}, items[:int(f)]...)
			items = items[int(f):]
		}
	}
	return out
}
