package explain

import (
	"io"
	"reflect"
	"slices"
	"strings"

	"hilum/internal/agro/crop"
	"hilum/internal/fault"
)

// Crops writes all facts of the crops with their sources; key "" is every crop. A key without a
// record is an Invalid fault.
func Crops(out io.Writer, key, language string) error {
	p, err := newPage(out, language)
	if err != nil {
		return err
	}
	var keys []string
	for _, r := range crop.Records() {
		keys = append(keys, r.Key)
		if key != "" && key != r.Key {
			continue
		}
		p.line(0, strings.ToUpper(p.words.vocabulary("crop", r.Key))+" ("+r.Key+")")
		p.fields(1, reflect.ValueOf(r), 1)
		p.line(0, "")
	}
	if key != "" && !slices.Contains(keys, key) {
		return fault.At("crop", "word", "is %q, accepted: %s", key, strings.Join(keys, ", "))
	}
	p.sources()
	return p.err
}

// span writes a published range with the value that stands for it.
func (c *catalogue) span(s crop.Span) string {
	if s.Low == s.High {
		return c.plain(s.Mid)
	}
	return c.plain(s.Low) + " " + c.phrase("to") + " " + c.plain(s.High) + ", " +
		c.phrase("middle") + " " + c.plain(s.Mid)
}
