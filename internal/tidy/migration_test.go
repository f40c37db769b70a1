package tidy

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// TestMigrationsAreNumberedWithoutGaps: two of one number stop every start, and one that comes in
// below what a database has already run stops the next start there.
func TestMigrationsAreNumberedWithoutGaps(t *testing.T) {
	files, err := filepath.Glob("../../db/migrations/*.sql")
	if err != nil || len(files) == 0 {
		t.Fatalf("no migrations found: %v", err)
	}
	for i, file := range files {
		if want := fmt.Sprintf("%05d_", i+1); !strings.HasPrefix(filepath.Base(file), want) {
			t.Fatalf("%s stands where number %s is due", filepath.Base(file), want)
		}
	}
}
