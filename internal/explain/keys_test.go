package explain

import (
	"reflect"
	"strings"
	"testing"

	"hilum/internal/agro"
	"hilum/internal/agro/crop"
)

// finished are the types that are shown as a whole.
var finished = []reflect.Type{reflect.TypeFor[agro.Message](), reflect.TypeFor[agro.Arg](),
	reflect.TypeFor[agro.Figure](), reflect.TypeFor[agro.Step](), reflect.TypeFor[agro.Source](),
	reflect.TypeFor[agro.Window](), reflect.TypeFor[agro.NamedFigure](),
	reflect.TypeFor[agro.Headline](), reflect.TypeFor[crop.Span]()}

// TestEveryFieldHasATitleInEveryLanguage: what the engine adds is shown by its bare key until it has
// one.
func TestEveryFieldHasATitleInEveryLanguage(t *testing.T) {
	want := map[string]bool{}
	seen := map[reflect.Type]bool{}
	for _, f := range finished {
		seen[f] = true
	}
	gather(reflect.TypeFor[agro.Report](), seen, want)
	gather(reflect.TypeFor[crop.Record](), seen, want)
	for _, language := range Languages {
		c, err := load(language)
		if err != nil {
			t.Fatal(err)
		}
		for key := range want {
			if strings.TrimSpace(c.titles[key]) == "" {
				t.Errorf("%s: internal/words/explain.%s.json has no title for %s", language, language, key)
			}
		}
		for key := range c.titles {
			fixed := strings.HasPrefix(key, "phrase.") || strings.HasPrefix(key, "unit.")
			if !want[key] && !fixed {
				t.Errorf("%s: a title for %s, which nothing shows", language, key)
			}
		}
	}
}

func gather(of reflect.Type, seen map[reflect.Type]bool, into map[string]bool) {
	for of.Kind() == reflect.Slice || of.Kind() == reflect.Pointer || of.Kind() == reflect.Array {
		of = of.Elem()
	}
	if of.Kind() != reflect.Struct || seen[of] {
		return
	}
	seen[of] = true
	for i := range of.NumField() {
		if !told[keyOf(of, i)] {
			into[keyOf(of, i)] = true
		}
		gather(of.Field(i).Type, seen, into)
	}
}
