package tidy

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A page that names a test which does not exist claims what nobody holds.
func TestTheSecurityPageNamesTestsThatExist(t *testing.T) {
	const page = "deploy/security-asvs.md"
	text, err := os.ReadFile(filepath.Join(root(t), page))
	if err != nil {
		t.Fatal(err)
	}
	var sources strings.Builder
	for _, folder := range []string{"internal/*/*_test.go", "server/*_test.go"} {
		files, err := filepath.Glob(filepath.Join(root(t), folder))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			raw, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			sources.Write(raw)
		}
	}
	for _, name := range regexp.MustCompile("`((?:Test|Fuzz)[A-Za-z0-9]+)`").FindAllStringSubmatch(string(text), -1) {
		if !strings.Contains(sources.String(), "func "+name[1]+"(") {
			t.Error(problem{page, 0, name[1] + " does not exist", "name the test as it is called now"})
		}
	}
	for _, name := range regexp.MustCompile("`([a-z-]+\\.test\\.mjs)`").FindAllStringSubmatch(string(text), -1) {
		if _, err := os.Stat(filepath.Join(root(t), "pwa/tests/journeys", name[1])); err != nil {
			t.Error(problem{page, 0, name[1] + " does not exist", "name the browser run as it is called now"})
		}
	}
}
