// Package explain writes a report, the crops and the sources as plain text in both languages. It
// walks the report's own structure, so that a new part of it appears by itself; only its title has
// to be added to the catalogue.
package explain

import (
	"fmt"
	"io"
	"strconv"

	"hilum/internal/agro"
	"hilum/internal/cite"
)

// page is one text on its way out.
type page struct {
	out    io.Writer
	err    error // the first of writing
	words  *catalogue
	number map[string]int // sources by key, in the order in which they are first named
	keys   []string
	reason string // why the figure before was unknown; said once for several in a row
}

func newPage(out io.Writer, language string) (*page, error) {
	words, err := load(language)
	if err != nil {
		return nil, err
	}
	return &page{out: out, words: words, number: map[string]int{}}, nil
}

// indents a line stands at: headings, figures, their working.
const step = "  "

// line writes one line, depth steps in.
func (p *page) line(depth int, text string) {
	if p.err != nil {
		return
	}
	indent := ""
	for range depth {
		indent += step
	}
	_, p.err = fmt.Fprintf(p.out, "%s%s\n", indent, text)
}

// cited gives the places of sources in the list at the end, as "[1, 4]"; "" for none.
func (p *page) cited(keys []string) string {
	text := ""
	for _, key := range keys {
		if p.number[key] == 0 {
			p.keys = append(p.keys, key)
			p.number[key] = len(p.keys)
		}
		if text != "" {
			text += ", "
		}
		text += strconv.Itoa(p.number[key])
	}
	if text == "" {
		return ""
	}
	return "[" + text + "]"
}

// Report writes the working of one field, grouped as the chain runs, with numbered sources at the
// end. Language is "en" or "fr"; another one is an Invalid fault.
func Report(out io.Writer, r agro.Report, language string) error {
	p, err := newPage(out, language)
	if err != nil {
		return err
	}
	p.line(0, p.words.vocabulary("crop", r.Crop)+", "+p.words.phrase("cropYear")+" "+
		strconv.Itoa(r.CropYear)+" ("+p.words.phrase("engine")+" "+r.EngineVersion+")")
	p.line(0, p.words.phrase("legend"))
	p.parts(r)
	p.messages(0, p.words.phrase("missing"), r.Missing)
	p.messages(0, p.words.phrase("cautions"), r.Cautions)
	p.sources()
	return p.err
}

// messages writes sentences under a heading, nothing where there are none.
func (p *page) messages(depth int, heading string, list []agro.Message) {
	if len(list) == 0 {
		return
	}
	if depth == 0 {
		p.line(0, "")
	}
	p.line(depth, heading)
	for _, m := range list {
		p.line(depth+1, "- "+p.words.say(m))
	}
}

// sources writes the list of what was cited.
func (p *page) sources() {
	if len(p.keys) == 0 {
		return
	}
	p.line(0, "")
	p.line(0, p.words.phrase("sources"))
	for i, key := range p.keys {
		if s, ok := cite.Find(key); ok {
			p.line(1, "["+strconv.Itoa(i+1)+"] "+p.words.source(s))
		}
	}
}

// Sources writes the whole register of sources.
func Sources(out io.Writer, language string) error {
	p, err := newPage(out, language)
	if err != nil {
		return err
	}
	for _, s := range cite.All() {
		p.line(0, s.Key)
		p.line(1, p.words.source(s))
	}
	return p.err
}
