package explain

import (
	"reflect"
	"strconv"
	"strings"

	"hilum/internal/agro"
	"hilum/internal/agro/crop"
)

// told are the fields of a report that have a place of their own on the page.
var told = map[string]bool{
	"Report.schema": true, "Report.engineVersion": true, "Report.crop": true,
	"Report.cropYear": true, "Report.missing": true, "Report.cautions": true,
	"Report.sources": true, "Report.headline": true,
}

// parts writes each part of a report under its title.
func (p *page) parts(r agro.Report) {
	v := reflect.ValueOf(r)
	for i := range v.NumField() {
		key := keyOf(v.Type(), i)
		if told[key] || v.Field(i).IsZero() {
			continue
		}
		p.line(0, "")
		p.line(0, strings.ToUpper(p.words.title(key)))
		p.reason = ""
		p.value(1, key, v.Field(i))
	}
}

// keyOf names a field in the catalogue: "StarterSet.rate".
func keyOf(t reflect.Type, i int) string {
	name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
	if name == "" {
		name = t.Field(i).Name
	}
	return t.Name() + "." + name
}

// value writes what stands in a field; its title is out already where it is a struct or a list.
func (p *page) value(depth int, key string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		p.fields(depth, v, 0)
	case reflect.Slice:
		p.list(depth, key, v)
	default:
		p.line(depth, p.scalar(key, v))
	}
}

// fields writes the fields of a struct from the given one on, those that are empty left out.
func (p *page) fields(depth int, v reflect.Value, from int) {
	for i := from; i < v.NumField(); i++ {
		key, field := keyOf(v.Type(), i), v.Field(i)
		if field.Kind() == reflect.Pointer {
			field = field.Elem()
		}
		if !field.IsValid() || empty(field) {
			continue
		}
		p.field(depth, key, field)
	}
}

// empty says whether there is nothing to show; a count of none is something.
func empty(v reflect.Value) bool {
	if v.Kind() == reflect.Slice {
		return v.Len() == 0
	}
	return v.IsZero() && v.Kind() != reflect.Int
}

func (p *page) field(depth int, key string, v reflect.Value) {
	title := p.words.title(key)
	switch value := v.Interface().(type) {
	case agro.Figure:
		p.figure(depth, title, value)
	case agro.Message:
		p.line(depth, title+": "+p.words.say(value))
	case []agro.Message:
		p.messages(depth, title, value)
	case []agro.Figure:
		for _, f := range value {
			p.figure(depth, title, f)
		}
	case agro.Window:
		p.window(depth, title, value)
	case agro.NamedFigure:
		p.figure(depth, title+", "+p.word(key, value.Rule), value.Figure)
	case []agro.NamedFigure:
		for _, n := range value {
			p.figure(depth, title+", "+p.word(key, n.Rule), n.Figure)
		}
	case crop.Span:
		p.line(depth, title+": "+p.words.span(value))
	case []string:
		if strings.HasSuffix(strings.ToLower(key), ".sources") {
			p.line(depth, title+" "+p.cited(value))
			return
		}
		p.line(depth, title+": "+p.wordList(key, value))
	default:
		if v.Kind() == reflect.Struct || v.Kind() == reflect.Slice {
			p.line(depth, title)
			p.value(depth+1, key, v)
			return
		}
		p.line(depth, title+": "+p.scalar(key, v))
	}
}

// list writes the members of a list: one line each where they hold plain values only.
func (p *page) list(depth int, key string, v reflect.Value) {
	for i := range v.Len() {
		member := v.Index(i)
		if member.Kind() != reflect.Struct {
			p.line(depth, "- "+p.scalar(key, member))
			continue
		}
		if flat(member.Type()) {
			p.line(depth, "- "+p.row(member))
			continue
		}
		heading, named := p.heading(member, i)
		p.line(depth, heading)
		p.reason = ""
		p.fields(depth+1, member, named)
	}
}

// flat says whether a struct holds plain values and sentences only.
func flat(t reflect.Type) bool {
	for i := range t.NumField() {
		switch f := t.Field(i).Type; f.Kind() {
		case reflect.Struct, reflect.Pointer:
			return false
		case reflect.Slice:
			if f != reflect.TypeFor[[]agro.Message]() && f.Elem().Kind() != reflect.String {
				return false
			}
		}
	}
	return true
}

// row writes a flat struct in one line.
func (p *page) row(v reflect.Value) string {
	var cells []string
	var sentences string
	for i := range v.NumField() {
		key, field := keyOf(v.Type(), i), v.Field(i)
		if list, ok := field.Interface().([]agro.Message); ok {
			for _, m := range list {
				sentences += " " + p.words.say(m)
			}
			continue
		}
		if field.Kind() != reflect.Slice && !(field.Kind() == reflect.String && field.IsZero()) {
			cells = append(cells, p.words.title(key)+" "+p.scalar(key, field))
		}
	}
	return strings.Join(cells, ", ") + "." + sentences
}

// heading names a member of a list by its first word, or by its place; used is how many of its
// fields that took.
func (p *page) heading(v reflect.Value, i int) (text string, used int) {
	if v.NumField() > 0 && v.Field(0).Kind() == reflect.String && v.Field(0).Len() > 0 {
		return p.word(keyOf(v.Type(), 0), v.Field(0).String()), 1
	}
	return strconv.Itoa(i + 1), 0
}

// scalar writes a plain value.
func (p *page) scalar(key string, v reflect.Value) string {
	switch v.Kind() {
	case reflect.String:
		if strings.HasSuffix(key, ".Source") {
			return p.cited([]string{v.String()})
		}
		return p.word(key, v.String())
	case reflect.Bool:
		return p.words.phrase(map[bool]string{true: "yes", false: "no"}[v.Bool()])
	case reflect.Array:
		var all []string
		for i := range v.Len() {
			all = append(all, p.scalar(key, v.Index(i)))
		}
		return strings.Join(all, ", ")
	case reflect.Int:
		if key == "PlantResult.spot" {
			return strconv.FormatInt(v.Int()+1, 10) // people count from one
		}
		return strconv.FormatInt(v.Int(), 10)
	case reflect.Float64:
		return p.words.plain(v.Float())
	}
	return v.String()
}
