package main

import (
	"fmt"
	"reflect"
	"strings"

	"hilum/internal/wire"
)

// writers are the encoder's methods for plain values.
var writers = map[reflect.Kind]string{
	reflect.String: "text", reflect.Float64: "number", reflect.Int: "whole", reflect.Bool: "flag",
	reflect.Int64: "long",
}

// emptied are the plain values that the encoder can leave out where they are empty.
var emptied = map[reflect.Kind]string{
	reflect.String: "someText", reflect.Int: "someWhole", reflect.Bool: "someFlag",
	reflect.Int64: "someLong",
}

// pointed are the plain values that may be absent.
var pointed = map[reflect.Kind]string{
	reflect.Float64: "someNumber", reflect.Int: "maybeWhole", reflect.Bool: "maybeFlag",
}

// writeField writes the line of one key.
func writeField(m *maker, f reflect.StructField, value string) error {
	key, omitted := keyOf(f)
	t := f.Type
	plain := writers[t.Kind()]
	if omitted {
		plain = emptied[t.Kind()]
	}
	switch {
	case plain != "":
		m.linef("e.%s(%q, %s)", plain, key, value)
	case t == reflect.TypeFor[wire.Raw]() && !omitted:
		m.linef("e.raw(%q, %s)", key, value)
	case t.Kind() == reflect.Struct:
		return m.call("%s(e.key(%q), &%s)", t, key, value)
	case t.Kind() == reflect.Slice:
		return m.list(key, value, t.Elem(), omitted)
	case t.Kind() == reflect.Pointer && omitted:
		return m.pointer(key, value, t.Elem())
	case t.Kind() == reflect.Map && omitted && t.Elem().Kind() == reflect.Struct:
		m.linef("if len(%s) > 0 {", value)
		if err := m.call("writeMap(e.key(%[2]q), %[3]s, %[1]s)", t.Elem(), key, value); err != nil {
			return err
		}
		m.linef("}")
	default:
		return fmt.Errorf("the codec writes no %s (omitted: %v)", t, omitted)
	}
	return nil
}

// call writes a call of a struct's function; text takes its name, the key and the value.
func (m *maker) call(text string, t reflect.Type, key, value string) error {
	name, err := m.function(t, nil)
	if err != nil {
		return err
	}
	m.linef("%s", strings.TrimSpace(fmt.Sprintf(text, name, key, value)))
	return nil
}

func (m *maker) list(key, value string, of reflect.Type, omitted bool) error {
	if of.Kind() == reflect.String {
		m.linef("e.%s(%q, %s)", map[bool]string{true: "someTexts", false: "texts"}[omitted], key, value)
		return nil
	}
	if omitted {
		m.linef("if len(%s) > 0 {", value)
		defer m.linef("}")
	}
	return m.call("writeList(e.key(%[2]q), %[3]s, %[1]s)", of, key, value)
}

func (m *maker) pointer(key, value string, to reflect.Type) error {
	if name := pointed[to.Kind()]; name != "" {
		m.linef("e.%s(%q, %s)", name, key, value)
		return nil
	}
	m.linef("if %s != nil {", value)
	defer m.linef("}")
	return m.call("%s(e.key(%q), %s)", to, key, value)
}
