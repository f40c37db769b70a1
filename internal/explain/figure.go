package explain

import (
	"strings"

	"hilum/internal/agro"
)

// figure writes one figure: its value with kind and sources, then the steps that made it, then
// what would change the decision.
func (p *page) figure(depth int, title string, f agro.Figure) {
	if f.Unit == "" && f.Kind == "" && f.Unknown == nil {
		return // a part that was not worked out
	}
	text := title + ": " + p.words.value(f)
	if p.again(f) {
		text = title + ": " + p.words.phrase("again")
	}
	if f.Kind != "" {
		text += " | " + p.words.vocabulary("kind", f.Kind)
	}
	p.line(depth, strings.TrimSpace(text+" "+p.cited(f.Sources)))
	for _, s := range f.Steps {
		p.line(depth+1, "= "+p.words.say(agro.Message{Code: s.Code, Args: s.Args})+": "+
			p.words.amount(s.Value, s.Unit))
	}
	for _, m := range f.Changes {
		p.line(depth+1, "> "+p.words.say(m))
	}
}

// again says whether a figure is unknown for the same reason as the one before it.
func (p *page) again(f agro.Figure) bool {
	before := p.reason
	p.reason = ""
	if f.Unknown != nil {
		p.reason = p.words.say(*f.Unknown)
	}
	return p.reason != "" && p.reason == before
}

// window writes a date with its earliest and latest, or why there is none.
func (p *page) window(depth int, title string, w agro.Window) {
	if w.Date == "" && w.Unknown == nil {
		return
	}
	text := w.Date
	if w.Unknown != nil {
		text = p.words.phrase("unknown") + " " + p.words.say(*w.Unknown)
	} else if w.From != "" && w.From != w.To {
		text += " (" + w.From + " " + p.words.phrase("to") + " " + w.To + ")"
	}
	if w.Kind != "" {
		text += " | " + p.words.vocabulary("kind", w.Kind)
	}
	p.line(depth, strings.TrimSpace(title+": "+text+" "+p.cited(w.Sources)))
}

// families says which of the engine's vocabularies a field's words are from; a field that is not
// here has words of the family of its own name, or shows what it holds.
var families = map[string]string{
	"StarterPart.chosen": "rule", "StarterPart.others": "beanRule",
	"InoculantPart.advice": "option", "InoculantPart.rule": "inoculate", "Option.key": "option",
	"Walk.crop": "crop", "DigPart.other": "soyCount", "ProductLine.product": "product",
	"Heat.method": "degreeDays", "RescuePart.offered": "offer", "RescuePart.limit": "rescueBy",
	"BalancePart.chosen": "credit", "BalancePart.netByRoot": "root",
	"Record.RootRotHost": "rootRot", "Credit.Rule": "credit", "Credit.Zone": "zone",
	"Credit.Kind": "kind", "Rescue.FlatKind": "kind", "Record.Key": "crop",
}

// word gives the words for a value of a field.
func (p *page) word(key, value string) string {
	family, ok := families[key]
	if !ok {
		_, family, _ = strings.Cut(key, ".")
	}
	return p.words.vocabulary(family, value)
}

func (p *page) wordList(key string, values []string) string {
	var shown []string
	for _, v := range values {
		shown = append(shown, p.word(key, v))
	}
	return strings.Join(shown, ", ")
}
