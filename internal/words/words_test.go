package words_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hilum/internal/agro/code"
	"hilum/internal/cite"
	"hilum/internal/words"
)

var placeholder = regexp.MustCompile(`\{([A-Za-z]+)\}`)

func catalogue(t *testing.T, language string) map[string]string {
	t.Helper()
	raw, err := words.Files.ReadFile("engine." + language + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]string
	if err := json.Unmarshal(raw, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// wanted gives every key a catalogue must hold, with its sorted argument names.
func wanted() map[string]string {
	want := map[string]string{}
	for _, e := range code.Register {
		names := strings.Fields(e.Args)
		slices.Sort(names)
		want[e.Code] = strings.Join(names, " ")
	}
	for family, list := range code.Vocabulary {
		for _, w := range list {
			want[family+"."+w] = ""
		}
	}
	return want
}

func TestEveryCodeHasWordsInEveryLanguage(t *testing.T) {
	want := wanted()
	for _, language := range []string{"en", "fr"} {
		have := catalogue(t, language)
		for key, args := range want {
			text, ok := have[key]
			if !ok || strings.TrimSpace(text) == "" {
				t.Errorf("%s: no words for %s", language, key)
				continue
			}
			var names []string
			for _, m := range placeholder.FindAllStringSubmatch(text, -1) {
				names = append(names, m[1])
			}
			slices.Sort(names)
			if got := strings.Join(slices.Compact(names), " "); got != args {
				t.Errorf("%s: %s uses arguments %q, want %q", language, key, got, args)
			}
		}
		for key := range have {
			if _, ok := want[key]; !ok {
				t.Errorf("%s: words for %s, which the engine cannot say", language, key)
			}
		}
	}
}

var (
	letters = regexp.MustCompile(`\pL{3}`)
	figures = regexp.MustCompile(`[0-9]+([.,][0-9]+)?`)
	groups  = regexp.MustCompile(`([1-9])[\x{a0},]([0-9]{3})`)
)

// TestEverySourceIsSaidInFrench: with the figures of the register, and the title of what is not
// published. A publication keeps its own title.
func TestEverySourceIsSaidInFrench(t *testing.T) {
	raw, err := words.Files.ReadFile("source.fr.json")
	if err != nil {
		t.Fatal(err)
	}
	var have map[string]string
	if err := json.Unmarshal(raw, &have); err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, s := range cite.All() {
		for part, text := range map[string]string{"author": s.Author, "title": s.Title,
			"locator": s.Locator} {
			key := s.Key + "." + part
			known[key] = text != ""
			own := part == "title" && s.Kind != cite.Published && s.Kind != cite.Memory
			said, ok := have[key]
			if !ok && (own || part == "locator" && letters.MatchString(text)) {
				t.Errorf("source.fr.json has no words for %s", key)
			}
			if ok && !slices.Equal(figuresIn(said), figuresIn(text)) {
				t.Errorf("%s has the figures %v, want %v", key, figuresIn(said), figuresIn(text))
			}
		}
	}
	for key := range have {
		if !known[key] {
			t.Errorf("words for %s, which no source has", key)
		}
	}
}

// figuresIn gives the numbers of a text, whichever way its language writes them.
func figuresIn(text string) []string {
	all := figures.FindAllString(groups.ReplaceAllString(text, "$1$2"), -1)
	for i := range all {
		all[i] = strings.ReplaceAll(all[i], ",", ".")
	}
	return all
}

func TestEveryCodeConstantIsRegistered(t *testing.T) {
	registered := map[string]int{}
	for _, e := range code.Register {
		registered[e.Code]++
	}
	files, err := filepath.Glob("../agro/code/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no files of codes: %v", err)
	}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if group, ok := d.(*ast.GenDecl); ok && group.Tok == token.CONST {
				demandRegistered(t, group, registered)
			}
		}
	}
}

func demandRegistered(t *testing.T, group *ast.GenDecl, registered map[string]int) {
	t.Helper()
	ast.Inspect(group, func(n ast.Node) bool {
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		value, err := strconv.Unquote(lit.Value)
		if err != nil || registered[value] != 1 {
			t.Errorf("%s is registered %d times, want once", lit.Value, registered[value])
		}
		return true
	})
}
