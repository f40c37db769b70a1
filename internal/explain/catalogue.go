package explain

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hilum/internal/agro"
	"hilum/internal/cite"
	"hilum/internal/fault"
	"hilum/internal/words"
)

// Languages that there are catalogues for; the first is the default.
var Languages = []string{"en", "fr"}

// catalogue is the words of one language: the engine's codes, and the titles of what explain shows.
type catalogue struct {
	language string
	engine   map[string]string
	titles   map[string]string
	sources  map[string]string
}

func load(language string) (*catalogue, error) {
	if !slices.Contains(Languages, language) {
		return nil, fault.At("lang", "word", "is %q, accepted: %s", language,
			strings.Join(Languages, ", "))
	}
	c := &catalogue{language: language}
	files := map[string]*map[string]string{"engine": &c.engine, "explain": &c.titles}
	if language != words.Original {
		files["source"] = &c.sources
	}
	for name, into := range files {
		raw, err := words.Files.ReadFile(name + "." + language + ".json")
		if err == nil {
			err = json.Unmarshal(raw, into)
		}
		if err != nil {
			return nil, fmt.Errorf("reading the catalogue %s.%s: %w", name, language, err)
		}
	}
	return c, nil
}

// phrase gives fixed words of this package.
func (c *catalogue) phrase(key string) string { return c.titles["phrase."+key] }

// title names a field of a type; a field without a title is named by its key.
func (c *catalogue) title(key string) string {
	if text, ok := c.titles[key]; ok {
		return text
	}
	_, field, _ := strings.Cut(key, ".")
	return field
}

// vocabulary gives a word of one of the engine's families; the word itself where there is none.
func (c *catalogue) vocabulary(family, word string) string {
	if text, ok := c.engine[family+"."+word]; ok {
		return text
	}
	return word
}

var placeholder = regexp.MustCompile(`\{(\w+)\}`)

// say gives the sentence of a message.
func (c *catalogue) say(m agro.Message) string {
	text, ok := c.engine[m.Code]
	if !ok {
		return m.Code
	}
	return placeholder.ReplaceAllStringFunc(text, func(name string) string {
		if arg, ok := m.Args[name[1:len(name)-1]]; ok {
			return c.arg(arg)
		}
		return name
	})
}

func (c *catalogue) arg(a agro.Arg) string {
	switch {
	case a.Number != nil:
		return c.amount(*a.Number, a.Unit)
	case a.Code != "":
		return c.say(agro.Message{Code: a.Code})
	case a.Date != "":
		return a.Date
	}
	return a.Text
}

// source writes one source in a line.
func (c *catalogue) source(s cite.Source) string {
	s = s.In(c.sources)
	text := s.Author
	if s.Year != 0 {
		text = strings.TrimSpace(text + " " + strconv.Itoa(s.Year))
	}
	for _, part := range []string{s.Title, s.Locator} {
		if part != "" && text != "" {
			text += ". "
		}
		text += part
	}
	return text + " (" + c.vocabulary("kind", s.Kind) + ")"
}
