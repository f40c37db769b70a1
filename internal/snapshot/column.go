package snapshot

import (
	"maps"
	"slices"
	"strings"

	"hilum/internal/kind"
)

// column is one COLUMN of the document.
type column struct {
	Type    string `json:"t"`
	Lengths []*int `json:"n,omitempty"`
	Content any    `json:"c"`
}

// dictionary gives every UUID a place, in the order in which they come up.
type dictionary struct {
	place map[string]int
	text  strings.Builder
}

func (d *dictionary) of(id string) int {
	at, ok := d.place[id]
	if !ok {
		at = len(d.place)
		d.place[id] = at
		d.text.WriteString(strings.ReplaceAll(id, "-", ""))
	}
	return at
}

// deltas gives the places of UUIDs, each as the difference to the one before it. Ids that come up
// here for the first time so become a run of ones, which packs to nearly nothing.
func (d *dictionary) deltas(values []any) []*int {
	out := make([]*int, len(values))
	before := 0
	for i, v := range values {
		id, ok := v.(string)
		if !ok {
			continue
		}
		at := d.of(id)
		step := at - before
		out[i], before = &step, at
	}
	return out
}

// shape is what all the values of a column have in common.
type shape struct{ objects, lists, ids bool }

func shapeOf(values []any) shape {
	s := shape{true, true, true}
	present := false
	for _, v := range values {
		if v == nil {
			continue
		}
		present = true
		object, isObject := v.(map[string]any)
		list, isList := v.([]any)
		id, isText := v.(string)
		s.objects = s.objects && isObject && len(object) > 0 && !holdsNull(object)
		s.lists = s.lists && isList && !listHoldsNull(list)
		s.ids = s.ids && isText && kind.IsID(id)
	}
	if !present {
		return shape{}
	}
	return s
}

// holdsNull guards the meaning of null, which in a column is absence.
func holdsNull(object map[string]any) bool {
	for _, v := range object {
		if v == nil {
			return true
		}
	}
	return false
}

func listHoldsNull(list []any) bool {
	for _, v := range list {
		if v == nil {
			return true
		}
	}
	return false
}

func (d *dictionary) column(values []any) *column {
	switch s := shapeOf(values); {
	case s.objects:
		return d.objects(values)
	case s.lists:
		return d.lists(values)
	case s.ids:
		return &column{Type: "r", Content: d.deltas(values)}
	}
	return &column{Type: "v", Content: values}
}

func (d *dictionary) objects(values []any) *column {
	parts := map[string][]any{}
	for i, v := range values {
		object, _ := v.(map[string]any)
		for name, inner := range object {
			if parts[name] == nil {
				parts[name] = make([]any, len(values))
			}
			parts[name][i] = inner
		}
	}
	content := make(map[string]*column, len(parts))
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		content[name] = d.column(parts[name])
	}
	return &column{Type: "o", Content: content}
}

func (d *dictionary) lists(values []any) *column {
	lengths := make([]*int, len(values))
	var items []any
	for i, v := range values {
		if list, ok := v.([]any); ok {
			n := len(list)
			lengths[i] = &n
			items = append(items, list...)
		}
	}
	if items == nil {
		items = []any{}
	}
	return &column{Type: "l", Lengths: lengths, Content: d.column(items)}
}
