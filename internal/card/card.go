// Package card writes the model card: what is published and what is our own, every anchor of our
// models with the distance from it, and what the program must not be used for. The distances are
// worked out when the card is written; a test holds the files to what the engine says now. Each
// language has a file to read and one that the page in the program is made of.
package card

//go:generate go run ./write

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hilum/internal/cite"
	"hilum/internal/fault"
	"hilum/internal/words"
)

// Languages that there is a card for.
var Languages = []string{"en", "fr"}

// File gives the name of a language's card in this folder.
func File(language string) string {
	if language == Languages[0] {
		return "model-card.md"
	}
	return "model-card." + language + ".md"
}

// PageFile gives the name of the file in this folder that the page in the program is made of.
func PageFile(language string) string { return "model-card." + language + ".json" }

// Card is the model card in one language, for the file and for the page in the program. Texts may
// hold **bold** and `code`.
type Card struct {
	Title   string   `json:"title"`
	Intro   []string `json:"intro"`
	Kinds   Kinds    `json:"kinds"`
	Anchors Anchors  `json:"anchors"`
	Lists   []List   `json:"lists"` // how sure it is, what it must not be used for
}

// Kinds counts the sources by kind and names all that are our own.
type Kinds struct {
	Title  string   `json:"title"`
	Counts []string `json:"counts"`
	Words  string   `json:"words"`
	Models []string `json:"models"`
}

// Anchors are the tables of anchors.
type Anchors struct {
	Title  string   `json:"title"`
	Words  []string `json:"words"`
	Head   []string `json:"head"`
	Groups []Group  `json:"groups"`
}

// Group is one table: anchor, what stands outside, the model, the residual.
type Group struct {
	Title string     `json:"title"`
	Words []string   `json:"words"`
	Rows  [][]string `json:"rows"`
}

// List is a heading with points.
type List struct {
	Title string   `json:"title"`
	Items []string `json:"items"`
}

// sheet holds a language's words while a card is made.
type sheet struct {
	words map[string]string
	comma bool
}

// New makes the card in a language. Another language than "en" or "fr" is an Invalid fault.
func New(language string) (Card, error) {
	if !slices.Contains(Languages, language) {
		return Card{}, fault.At("lang", "word", "is %q, accepted: %s", language,
			strings.Join(Languages, ", "))
	}
	s := &sheet{words: map[string]string{}, comma: language == "fr"}
	names := []string{"engine", "card"}
	if language != words.Original {
		names = append(names, "source")
	}
	for _, name := range names {
		raw, err := words.Files.ReadFile(name + "." + language + ".json")
		if err == nil {
			err = json.Unmarshal(raw, &s.words)
		}
		if err != nil {
			return Card{}, fmt.Errorf("reading the catalogue %s.%s: %w", name, language, err)
		}
	}
	return Card{Title: s.say("title"), Intro: s.numbered("intro"), Kinds: s.kinds(),
		Anchors: s.anchors(), Lists: []List{s.list("spread"), s.list("never")}}, nil
}

func (s *sheet) say(key string) string { return s.words["card."+key] }

// numbered gives the words of key.1, key.2 and so on.
func (s *sheet) numbered(key string) []string {
	all := []string{}
	for i := 1; s.say(key+"."+strconv.Itoa(i)) != ""; i++ {
		all = append(all, s.say(key+"."+strconv.Itoa(i)))
	}
	return all
}

func (s *sheet) list(key string) List { return List{s.say(key), s.numbered(key)} }

func (s *sheet) kinds() Kinds {
	k := Kinds{Title: s.say("kinds"), Words: s.say("ours")}
	colon := ": "
	if s.comma {
		colon = "\u00a0: "
	}
	count := map[string]int{}
	for _, source := range cite.All() {
		count[source.Kind]++
		if source.Kind != cite.Ours {
			continue
		}
		in := source.In(s.words)
		text := in.Title
		if in.Locator != "" {
			text += colon + in.Locator
		}
		k.Models = append(k.Models, text)
	}
	for _, kind := range []string{cite.Published, cite.Derived, cite.Practice, cite.Memory,
		cite.Ours} {
		k.Counts = append(k.Counts, s.words["kind."+kind]+colon+strconv.Itoa(count[kind]))
	}
	return k
}

func (s *sheet) anchors() Anchors {
	all := Anchors{Title: s.say("anchors"), Words: s.numbered("anchors")}
	for _, head := range []string{"anchor", "outside", "model", "residual"} {
		all.Head = append(all.Head, s.say("head."+head))
	}
	for _, g := range groups() {
		shown := Group{Title: s.say("group." + g.key), Words: s.numbered("group." + g.key)}
		for _, a := range g.anchors {
			shown.Rows = append(shown.Rows,
				[]string{s.fill(a), s.span(a), s.number(a.model, a.unit), s.residual(a)})
		}
		all.Groups = append(all.Groups, shown)
	}
	return all
}

// fill gives the words of an anchor.
func (s *sheet) fill(a anchor) string {
	text := s.say("anchor." + a.key)
	for i, v := range a.args {
		text = strings.ReplaceAll(text, "{"+strconv.Itoa(i)+"}", s.argument(v))
	}
	return text
}

// argument gives a word of the catalogue, or a number as it is.
func (s *sheet) argument(v string) string {
	if text, ok := s.words[v]; ok {
		return text
	}
	if s.comma {
		return strings.Replace(v, ".", ",", 1)
	}
	return v
}

// span writes the value outside, or the range that holds.
func (s *sheet) span(a anchor) string {
	switch {
	case math.IsInf(a.low, -1):
		return s.say("under") + " " + s.number(a.high, a.unit)
	case math.IsInf(a.high, 1):
		return s.say("over") + " " + s.number(a.low, a.unit)
	case a.low == a.high:
		return s.number(a.low, a.unit)
	}
	return s.number(a.low, "") + " " + s.say("to") + " " + s.number(a.high, a.unit)
}

// residual is how far the model lies outside the range, with its sign.
func (s *sheet) residual(a anchor) string {
	r := a.residual()
	text := s.number(r, "")
	if r > 0 && text != "0" {
		text = "+" + text
	}
	if text == "-0" {
		text = "0"
	}
	return text
}

// number writes a share in percent with one digit behind the point, anything else with two.
func (s *sheet) number(v float64, unit string) string {
	digits := 2
	if unit == "%" || math.Abs(v) >= 10 {
		digits = 1
	}
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if s.comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	for _, key := range []string{"card.unit.", "unit."} {
		if word, ok := s.words[key+unit]; ok {
			unit = word
			break
		}
	}
	return strings.TrimSpace(text + " " + unit)
}
