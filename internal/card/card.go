// Package card writes the model card: what is published and what is our own, every anchor of our
// models with the distance from it, and what the program must not be used for. The distances are
// worked out when the card is written; a test holds the files to what the engine says now.
package card

//go:generate go run ./write

import (
	"encoding/json"
	"fmt"
	"io"
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

// sheet is one card on its way out.
type sheet struct {
	out   strings.Builder
	words map[string]string
	comma bool
}

// Write writes the card as Markdown. Another language than "en" or "fr" is an Invalid fault.
func Write(out io.Writer, language string) error {
	if !slices.Contains(Languages, language) {
		return fault.At("lang", "word", "is %q, accepted: %s", language,
			strings.Join(Languages, ", "))
	}
	s := &sheet{words: map[string]string{}, comma: language == "fr"}
	for _, name := range []string{"engine", "card"} {
		raw, err := words.Files.ReadFile(name + "." + language + ".json")
		if err == nil {
			err = json.Unmarshal(raw, &s.words)
		}
		if err != nil {
			return fmt.Errorf("reading the catalogue %s.%s: %w", name, language, err)
		}
	}
	s.line("# ", s.say("title"))
	s.paragraphs("intro")
	s.kinds()
	s.anchors()
	s.list("spread")
	s.list("never")
	_, err := io.WriteString(out, s.out.String())
	return err
}

func (s *sheet) say(key string) string { return s.words["card."+key] }

func (s *sheet) line(parts ...string) {
	for _, p := range parts {
		s.out.WriteString(p)
	}
	s.out.WriteString("\n")
}

// paragraphs writes key.1, key.2 and so on.
func (s *sheet) paragraphs(key string) {
	for i := 1; s.say(key+"."+strconv.Itoa(i)) != ""; i++ {
		s.line()
		s.line(s.say(key + "." + strconv.Itoa(i)))
	}
}

// list writes a heading and key.1, key.2 and so on as points.
func (s *sheet) list(key string) {
	s.line()
	s.line("## ", s.say(key))
	s.line()
	for i := 1; s.say(key+"."+strconv.Itoa(i)) != ""; i++ {
		s.line("- ", s.say(key+"."+strconv.Itoa(i)))
	}
}

// kinds counts the sources by kind and names all that are our own.
func (s *sheet) kinds() {
	s.line()
	s.line("## ", s.say("kinds"))
	s.line()
	count := map[string]int{}
	for _, source := range cite.All() {
		count[source.Kind]++
	}
	for _, kind := range []string{cite.Published, cite.Derived, cite.Practice, cite.Memory,
		cite.Ours} {
		s.line("- ", s.words["kind."+kind], ": ", strconv.Itoa(count[kind]))
	}
	s.line()
	s.line(s.say("ours"))
	s.line()
	for _, source := range cite.All() {
		if source.Kind != cite.Ours {
			continue
		}
		text := source.Title
		if source.Locator != "" {
			text += ": " + source.Locator
		}
		s.line("- ", text)
	}
}

// anchors writes the tables of anchors, one for each group.
func (s *sheet) anchors() {
	s.line()
	s.line("## ", s.say("anchors"))
	s.paragraphs("anchors")
	for _, g := range groups() {
		s.line()
		s.line("### ", s.say("group."+g.key))
		s.paragraphs("group." + g.key)
		s.line()
		s.line("| ", s.say("head.anchor"), " | ", s.say("head.outside"), " | ", s.say("head.model"),
			" | ", s.say("head.residual"), " |")
		s.line("|---|---|---|---|")
		for _, a := range g.anchors {
			s.line("| ", s.fill(a), " | ", s.span(a), " | ", s.number(a.model, a.unit), " | ",
				s.residual(a), " |")
		}
	}
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
	if word, ok := s.words["card.unit."+unit]; ok {
		unit = word
	}
	return strings.TrimSpace(text + " " + unit)
}
