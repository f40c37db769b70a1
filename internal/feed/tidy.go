package feed

import (
	"encoding/json"
	"regexp"
	"strings"

	"hilum/internal/fault"
)

const maxDepth = 32

var fieldName = regexp.MustCompile(`^[a-zA-Z][a-zA-Z0-9]{0,63}$`)

// tidySet brings values into the one form that a database can hold: valid UTF-8, no NUL, numbers
// in range, no endless nesting. The bytes as sent stay in the mutation.
func tidySet(set map[string]json.RawMessage) (map[string]json.RawMessage, error) {
	tidy := make(map[string]json.RawMessage, len(set))
	for field, raw := range set {
		if !fieldName.MatchString(field) {
			return nil, fault.At(
				"set",
				"field",
				"has a field name that is not 1 to 64 letters and digits",
			)
		}
		var value any
		if err := json.Unmarshal(raw, &value); err != nil {
			return nil, fault.At(field, "json", "is not a value that can be kept: %s", err)
		}
		if err := storable(value, 0); err != nil {
			return nil, fault.Under(field, err)
		}
		out, err := json.Marshal(value)
		if err != nil {
			return nil, fault.At(field, "json", "is not a value that can be kept: %s", err)
		}
		tidy[field] = out
	}
	return tidy, nil
}

func storable(value any, depth int) error {
	if depth > maxDepth {
		return fault.New(fault.Invalid, "depth", "is nested deeper than %d levels", maxDepth)
	}
	switch v := value.(type) {
	case string:
		if strings.ContainsRune(v, 0) {
			return fault.New(fault.Invalid, "text", "holds a NUL character")
		}
	case []any:
		for i, inner := range v {
			if err := storable(inner, depth+1); err != nil {
				return fault.Under(index("item", i), err)
			}
		}
	case map[string]any:
		for key, inner := range v {
			if err := storable(key, depth+1); err != nil {
				return err
			}
			if err := storable(inner, depth+1); err != nil {
				return err
			}
		}
	}
	return nil
}
