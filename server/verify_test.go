package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hilum/internal/feed"
	"hilum/internal/photo"
)

// TestVerifyNamesEachPictureThatIsNotAsItsRowSays: lost, strange, and with other bytes; and
// nothing of one that is right.
func TestVerifyNamesEachPictureThatIsNotAsItsRowSays(t *testing.T) {
	root := t.TempDir()
	folder, farm := photo.At(root), "0f0e3b62-0000-4000-8000-000000000001"
	name := func(c string) string { return strings.Repeat(c, 64) }
	row := func(c string, kept []byte) feed.Photo {
		return feed.Photo{Hash: name(c), Size: len(kept), Clean: photo.Hash(kept)}
	}
	for _, c := range []string{"a", "b", "c", "e"} {
		if err := folder.Put(farm, name(c), []byte("bytes of "+c)); err != nil {
			t.Fatal(err)
		}
	}
	flipped := filepath.Join(root, farm, "bb", name("b")+".jpg")
	if err := os.WriteFile(flipped, []byte("bytes or b"), 0o600); err != nil {
		t.Fatal(err)
	}
	wrong, err := compare(folder, farm, []feed.Photo{row("a", []byte("bytes of a")),
		row("b", []byte("bytes of b")), {Hash: name("c"), Size: 10}, row("d", []byte("bytes of d"))})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{name("b") + " has other bytes", name("d") + " has a row and no file",
		name("e") + " has a file and no row"}
	if len(wrong) != len(want) {
		t.Fatalf("found %q", wrong)
	}
	for i, line := range wrong {
		if !strings.HasPrefix(line, want[i]) {
			t.Errorf("line %d is %q, want %q", i, line, want[i])
		}
	}
}
