package pgrun

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hilum/internal/fault"
)

// pretend makes a folder with programs that only tell a version.
func pretend(t *testing.T, version string) string {
	t.Helper()
	dir := t.TempDir()
	script := fmt.Sprintf("#!/bin/sh\necho 'postgres (PostgreSQL) %s'\n", version)
	for _, name := range []string{"postgres", "initdb"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(script), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestNamedBinariesMustFit(t *testing.T) {
	tests := []struct {
		name, version string
		want          int
		words         []string // in the refusal; none means accepted
	}{
		{"the oldest that serves", "15.0", 0, nil},
		{"newer", "18.1 (Debian 18.1-1)", 0, nil},
		{"a preview", "19beta1", 0, nil},
		{"too old", "14.9", 0, []string{"PG_BINDIR", "14", "15 or newer"}},
		{"same major as the data", "16.2", 16, nil},
		{"other major than the data", "17.0", 15, []string{"17", "written by 15"}},
		{"no version at all", "banana", 0, []string{"PG_BINDIR", "banana"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := pretend(t, tt.version)
			b, err := findBinary(dir, tt.want)
			if tt.words != nil {
				expectFault(t, err, fault.Invalid, tt.words...)
			} else if err != nil || b.dir != dir {
				t.Errorf("findBinary() = %v, %v, want %s", b, err, dir)
			}
		})
	}
}

func TestAFolderWithoutProgramsIsRefusedNotPassedOver(t *testing.T) {
	t.Setenv("PG_BINDIR", t.TempDir())
	_, err := findBinary("", 0)
	expectFault(t, err, fault.Invalid, "PG_BINDIR", "initdb")
}

func TestTheDataFolderDecidesTheMajor(t *testing.T) {
	t.Setenv("PG_BINDIR", "")
	data := t.TempDir()
	if got := newestCluster(data); got != 0 {
		t.Errorf("newestCluster(empty) = %d, want 0", got)
	}
	for _, major := range []string{"9", "10", "99", "x"} {
		dir := filepath.Join(data, "pg"+major)
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "PG_VERSION"), []byte(major), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if got := newestCluster(data); got != 99 {
		t.Errorf("newestCluster() = %d, want 99", got)
	}
	_, err := findBinary("", 99)
	expectFault(t, err, fault.Unavailable, "written by PostgreSQL 99", "postgresql-99", "PG_BINDIR")
}

func TestNothingInstalledSaysHowToGoOn(t *testing.T) {
	said := missing(nil, 0)
	for _, word := range []string{"15 or newer", "package", "PG_BINDIR", "DATABASE_URL"} {
		if !strings.Contains(said, word) {
			t.Errorf("%q does not say %q", said, word)
		}
	}
	if said := missing([]binary{{"/old", 13}}, 0); !strings.Contains(said, "found 13 in /old") {
		t.Errorf("%q does not say what was found", said)
	}
}

func TestDataDirPerCheckout(t *testing.T) {
	t.Setenv("HILUM_DATA", "")
	open := folder(t)
	if got, err := DataDir(open); err != nil || got != filepath.Join(open, ".data") {
		t.Errorf("DataDir(%s) = %s, %v, want .data in it", open, got, err)
	}
	t.Setenv("HILUM_DATA", filepath.Join(open, "elsewhere"))
	if got, err := DataDir("/any"); err != nil || got != filepath.Join(open, "elsewhere") {
		t.Errorf("DataDir() = %s, %v, want HILUM_DATA", got, err)
	}
}

func TestAClosedCheckoutGetsAFolderOfItsOwnElsewhere(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Log("nothing to check: only root starts the database as another user")
		return
	}
	t.Setenv("HILUM_DATA", "")
	one, two := t.TempDir(), t.TempDir() // closed to other users
	first, err := DataDir(one)
	if err != nil || filepath.Dir(first) != shared {
		t.Fatalf("DataDir() = %s, %v, want one below %s", first, err, shared)
	}
	if second, err := DataDir(two); err != nil || second == first {
		t.Errorf("DataDir() = %s, %v: two checkouts share it", second, err)
	}
	t.Setenv("HILUM_DATA", one)
	_, err = DataDir(two)
	expectFault(t, err, fault.Invalid, "HILUM_DATA", "cannot")
}
