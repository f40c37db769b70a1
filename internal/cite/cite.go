// Package cite is the register of the sources that the engine's numbers come from.
package cite

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
	for _, s := range register {
		if s.Key == key {
			return s, true
		}
	}
	return Source{}, false
}
