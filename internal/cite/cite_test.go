package cite

import (
	"slices"
	"testing"
)

func TestEverySourceIsWholeAndNamedOnce(t *testing.T) {
	kinds := []string{Published, Derived, Practice, Memory, Ours}
	seen := map[string]bool{}
	for _, s := range register {
		if seen[s.Key] || s.Key == "" || s.Title == "" || !slices.Contains(kinds, s.Kind) {
			t.Errorf("source %+v is named twice, or lacks its key, title or kind", s)
		}
		if s.Kind == Published && s.Locator == "" {
			t.Errorf("source %s is published and has no place", s.Key)
		}
		seen[s.Key] = true
		if found, ok := Find(s.Key); !ok || found != s {
			t.Errorf("Find(%q) = %+v, %v", s.Key, found, ok)
		}
	}
	if _, ok := Find("nobody"); ok {
		t.Error("Find gives a source that nobody registered")
	}
}
