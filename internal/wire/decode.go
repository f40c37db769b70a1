//go:build !wasip1

package wire

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"

	"hilum/internal/fault"
)

// Strict decodes one JSON document into v and refuses unknown keys, trailing text and wrong
// types. Faults are Invalid and name the key.
func Strict(raw []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return jsonFault(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return fault.New(fault.Invalid, "json", "there is more text after the JSON document")
	}
	return nil
}

// Lenient decodes a document written by a newer client: unknown keys are left alone.
func Lenient(raw []byte, v any) error {
	if err := json.Unmarshal(raw, v); err != nil {
		return jsonFault(err)
	}
	return nil
}

func jsonFault(err error) error {
	var wrong *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &wrong):
		return fault.At(wrong.Field, "type", "is a %s, expected %s", wrong.Value, typeName(wrong))
	case errors.As(err, &syntax):
		return fault.New(fault.Invalid, "json", "is not JSON: %s at byte %d", syntax, syntax.Offset)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return fault.New(fault.Invalid, "json", "the JSON document ends too early")
	}
	return fault.New(fault.Invalid, "json", "%s", err)
}

func typeName(e *json.UnmarshalTypeError) string {
	switch e.Type.Kind().String() {
	case "string":
		return "text"
	case "bool":
		return "true or false"
	case "slice":
		return "a list"
	case "struct", "map":
		return "an object"
	case "float64":
		return "a number"
	case "int", "int64":
		return "a whole number"
	}
	return e.Type.String()
}
