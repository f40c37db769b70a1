package main

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"hilum/internal/agro"
	"hilum/internal/wire"
)

// roots are the shapes that the client handles; what they hold follows by itself.
var roots = []any{
	wire.Settings{}, wire.Grower{}, wire.Field{}, wire.Season{}, wire.SoilTest{}, wire.Dig{},
	wire.Decision{}, wire.Result{}, wire.SyncRequest{}, wire.Mutation{}, wire.SyncResponse{},
	wire.Asides{}, wire.SettleAside{}, wire.Judgements{},
	wire.Session{},
	wire.SignIn{}, wire.Which{}, wire.FirstOwner{}, wire.ResetAccess{}, wire.NewPerson{}, wire.FieldLine{},
	wire.Nonce{}, wire.Refresh{}, wire.Ticket{},
	wire.Member{}, wire.EditPerson{}, wire.NewCode{}, wire.Code{}, wire.Enrol{},
	wire.Me{}, wire.SetPassword{}, wire.SecondStart{}, wire.SecondCode{}, wire.EndSecond{},
	wire.RecoveryCodes{}, wire.AuditLine{},
	wire.FieldResult{}, wire.Request{}, wire.Reply{}, agro.Input{}, agro.Report{},
}

// writer writes TypeScript interfaces.
type writer struct {
	out   strings.Builder
	seen  map[string]bool
	queue []reflect.Type
}

// clientTypes gives the whole TypeScript file.
func clientTypes() string {
	w := &writer{seen: map[string]bool{}}
	w.out.WriteString(
		"// Generated from internal/wire by `go generate ./internal/wire`. Do not edit.\n",
	)
	fmt.Fprintf(&w.out, "\nexport const SCHEMA = %d;\nexport const PROTO = %d;\n",
		wire.Schema, wire.Proto)
	fmt.Fprintf(&w.out, "export const MAX_PUSH = %d;\nexport const MAX_BODY_BYTES = %d;\n",
		wire.MaxPush, wire.MaxBodyBytes)
	fmt.Fprintf(&w.out, "export const MAX_REASON = %d;\nexport const MAX_DECISION_DIGS = %d;\n",
		wire.MaxReason, wire.MaxDecisionDigs)
	w.out.WriteString("/** The crops that the engine can work out. */\n")
	fmt.Fprintf(&w.out, "export const CROPS = [\n  '%s',\n] as const;\n",
		strings.Join(agro.Crops(), "',\n  '"))
	w.out.WriteString("/** Of them, those judged by counting nodules. */\n")
	fmt.Fprintf(&w.out, "export const COUNTED: readonly string[] = ['%s'];\n",
		strings.Join(agro.Counted(), "', '"))
	w.bounds()
	for _, r := range roots {
		w.name(reflect.TypeOf(r))
	}
	for len(w.queue) > 0 {
		t := w.queue[0]
		w.queue = w.queue[1:]
		w.declare(t)
	}
	return w.out.String()
}

// bounds writes what the server takes of a value at most, so that a form can say so at once.
func (w *writer) bounds() {
	fmt.Fprintf(&w.out, "/** Characters. */\nexport const MAX_NAME = %d;\nexport const MAX_NOTE = %d;\n",
		wire.MaxName, wire.MaxNote)
	fmt.Fprintf(&w.out, "/** The least and the most of an area, by unit. */\n"+
		"export const AREA = { ac: [%v, %d], ha: [%v, %v] } as const;\n",
		wire.MinArea, wire.MaxAcres, wire.MinArea, wire.MaxAcres*wire.AcreInHa)
	w.out.WriteString("/** The most that a season may say, by field and unit; the least is 0. */\n")
	w.out.WriteString("export const SEASON_MOST = {\n")
	for _, field := range slices.Sorted(maps.Keys(wire.SeasonMost)) {
		fmt.Fprintf(&w.out, "  %s: {", field)
		for i, unit := range slices.Sorted(maps.Keys(wire.SeasonMost[field])) {
			if i > 0 {
				w.out.WriteString(",")
			}
			fmt.Fprintf(&w.out, " '%s': %v", unit, wire.SeasonMost[field][unit])
		}
		w.out.WriteString(" },\n")
	}
	w.out.WriteString("} as const;\n")
}

// name gives a struct its TypeScript name and queues it.
func (w *writer) name(t reflect.Type) string {
	name := nameOf(t)
	if !w.seen[name] {
		w.seen[name] = true
		w.queue = append(w.queue, t)
	}
	return name
}

func (w *writer) declare(t reflect.Type) {
	fmt.Fprintf(&w.out, "\nexport interface %s {\n", w.name(t))
	w.fields(t)
	w.out.WriteString("}\n")
}

func (w *writer) fields(t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			w.fields(f.Type)
			continue
		}
		key, omitted := keyOf(f)
		optional := ""
		if omitted {
			optional = "?"
		}
		fmt.Fprintf(&w.out, "  %s%s: %s;\n", key, optional, w.expr(f.Type))
	}
}

func (w *writer) expr(t reflect.Type) string {
	if isRaw(t) {
		return "unknown"
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.expr(t.Elem())
	case reflect.Slice:
		return w.expr(t.Elem()) + "[]"
	case reflect.Map:
		return "{ [name: string]: " + w.expr(t.Elem()) + " }"
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Struct:
		return w.name(t)
	}
	return "number"
}
