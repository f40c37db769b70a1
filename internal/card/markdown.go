package card

import (
	"encoding/json"
	"io"
	"strings"
)

// Write writes the card as Markdown. Another language than "en" or "fr" is an Invalid fault.
func Write(out io.Writer, language string) error {
	c, err := New(language)
	if err != nil {
		return err
	}
	var m markdown
	m.line("# ", c.Title)
	m.paragraphs(c.Intro)
	m.heading("## ", c.Kinds.Title)
	m.line()
	m.points(c.Kinds.Counts)
	m.paragraphs([]string{c.Kinds.Words})
	m.line()
	m.points(c.Kinds.Models)
	m.heading("## ", c.Anchors.Title)
	m.paragraphs(c.Anchors.Words)
	for _, g := range c.Anchors.Groups {
		m.heading("### ", g.Title)
		m.paragraphs(g.Words)
		m.line()
		m.row(c.Anchors.Head)
		m.line("|", strings.Repeat("---|", len(c.Anchors.Head)))
		for _, row := range g.Rows {
			m.row(row)
		}
	}
	for _, l := range c.Lists {
		m.heading("## ", l.Title)
		m.line()
		m.points(l.Items)
	}
	_, err = io.WriteString(out, m.String())
	return err
}

// WritePage writes the card as the page in the program reads it.
func WritePage(out io.Writer, language string) error {
	c, err := New(language)
	if err != nil {
		return err
	}
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(c)
}

type markdown struct{ strings.Builder }

func (m *markdown) line(parts ...string) {
	for _, p := range parts {
		m.WriteString(p)
	}
	m.WriteString("\n")
}

func (m *markdown) heading(level, text string) {
	m.line()
	m.line(level, text)
}

func (m *markdown) paragraphs(all []string) {
	for _, text := range all {
		m.line()
		m.line(text)
	}
}

func (m *markdown) points(all []string) {
	for _, text := range all {
		m.line("- ", text)
	}
}

func (m *markdown) row(cells []string) { m.line("| ", strings.Join(cells, " | "), " |") }
