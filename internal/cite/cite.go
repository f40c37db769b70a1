// Package cite is the register of the sources that the engine's numbers come from.
package cite

import (
	"slices"
	"strings"
)

// The kinds of a number or a source.
const (
	Published = "published" // read in the source
	Derived   = "derived"   // a formula on published numbers
	Practice  = "practice"  // common practice of the trade, no source
	Memory    = "memory"    // the source is believed to hold it; not read again
	Ours      = "ours"      // this project's own model or choice
)

// Source is where a number comes from. Locator is the page, table or place.
type Source struct {
	Key     string
	Kind    string
	Author  string
	Year    int // 0 = undated
	Title   string
	Locator string
}

// All gives the register, by key. The caller must not change it.
func All() []Source { return register }

// Find gives the source with a key; ok is false for a key that is not in the register.
func Find(key string) (source Source, ok bool) {
	i, ok := places[key]
	if !ok {
		return Source{}, false
	}
	return register[i], true
}

// places holds where in the register a key stands.
var places = func() map[string]int {
	m := make(map[string]int, len(register))
	for i, s := range register {
		m[s.Key] = i
	}
	return m
}()

// In gives the source in the words of a language, by KEY.author, KEY.title and KEY.locator. What has
// none there stays as it is: a publication keeps the title it was published under.
func (s Source) In(words map[string]string) Source {
	for part, text := range map[string]*string{"author": &s.Author, "title": &s.Title,
		"locator": &s.Locator} {
		if word, ok := words[s.Key+"."+part]; ok {
			*text = word
		}
	}
	return s
}

// Named is a set of sources; the zero value is empty.
type Named struct{ at []bool }

// Add puts the sources with these keys in; a key that is not in the register puts none.
func (n *Named) Add(keys []string) {
	if n.at == nil {
		n.at = make([]bool, len(register))
	}
	for _, k := range keys {
		if i, ok := places[k]; ok {
			n.at[i] = true
		}
	}
}

// ByKey gives the sources of the set, sorted by key.
func (n *Named) ByKey() []Source {
	var out []Source
	for i, in := range n.at {
		if in {
			out = append(out, register[i])
		}
	}
	slices.SortFunc(out, func(a, b Source) int { return strings.Compare(a.Key, b.Key) })
	return out
}
