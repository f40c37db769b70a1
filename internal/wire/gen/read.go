package main

import (
	"fmt"
	"reflect"
)

// readers are the decoder's methods for plain values.
var readers = map[reflect.Kind]string{
	reflect.String: "text", reflect.Float64: "number", reflect.Int: "whole", reflect.Int64: "long",
	reflect.Bool: "flag",
}

// readFunctions are the same as functions.
var readFunctions = map[reflect.Kind]string{
	reflect.String: "(*decoder).text", reflect.Float64: "(*decoder).number",
	reflect.Int: "(*decoder).whole", reflect.Bool: "(*decoder).flag",
}

// readField writes the case of one key.
func readField(m *maker, f reflect.StructField, value string) error {
	key, _ := keyOf(f)
	m.linef("case %q:", key)
	t := f.Type
	switch {
	case isRaw(t):
		m.linef("d.bytes(&%s)", value)
	case readers[t.Kind()] != "":
		m.linef("d.%s(&%s)", readers[t.Kind()], value)
	case isTexts(t):
		m.linef("d.texts(&%s)", value)
	case t.Kind() == reflect.Struct:
		name, err := m.function(t, nil)
		if err != nil {
			return err
		}
		m.linef("%s(d, &%s)", name, value)
	case t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer:
		name, err := m.function(t.Elem(), readFunctions)
		if err != nil {
			return err
		}
		how := map[reflect.Kind]string{reflect.Slice: "readList", reflect.Pointer: "readSome"}
		m.linef("%s(d, &%s, %s)", how[t.Kind()], value, name)
	default:
		return fmt.Errorf("the codec reads no %s", t)
	}
	return nil
}
