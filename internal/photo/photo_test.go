package photo

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"hilum/internal/fault"
)

// picture makes a JPEG with an application segment in which a camera would write place and time.
func picture(t testing.TB, w, h int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	img.SetGray(0, 0, color.Gray{9})
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	secret := []byte("Exif\x00\x00GPS 50.1 N 104.2 W")
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(secret)+2))
	return bytes.Join([][]byte{out.Bytes()[:2], segment, secret, out.Bytes()[2:]}, nil)
}

func TestAPictureLosesAllButThePicture(t *testing.T) {
	raw := picture(t, 64, 48)
	clean, err := Clean(context.Background(), raw)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(clean, []byte("GPS")) || bytes.Contains(clean, []byte("Exif")) {
		t.Error("the place is still in the picture")
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(clean))
	if err != nil || config.Width != 64 || config.Height != 48 {
		t.Errorf("the clean picture is %+v, %v; want 64 x 48", config, err)
	}
}

// sized writes other dimensions into the frame header of a small picture: a bomb.
func sized(t *testing.T, w, h int, progressive bool) []byte {
	raw := picture(t, 16, 16)
	at := bytes.Index(raw, []byte{0xff, 0xc0})
	if at < 0 {
		t.Fatal("no frame header")
	}
	binary.BigEndian.PutUint16(raw[at+5:], uint16(h))
	binary.BigEndian.PutUint16(raw[at+7:], uint16(w))
	if progressive {
		raw[at+1] = 0xc2
	}
	return raw
}

func TestBombsAndJunkAreRefused(t *testing.T) {
	for name, tt := range map[string]struct {
		raw  []byte
		code string
	}{
		"empty":                 {nil, "jpeg"},
		"text":                  {[]byte("hello"), "jpeg"},
		"a gif":                 {[]byte("GIF89a\xff\xff\xff\xff\x00\x00\x00"), "jpeg"},
		"65535 x 65535":         {sized(t, 65535, 65535, false), "pixels"},
		"just over":             {sized(t, 5001, 5000, false), "pixels"},
		"progressive, large":    {sized(t, 3000, 2001, true), "pixels"},
		"cut off":               {picture(t, 64, 64)[:300], "jpeg"},
		"says more than it has": {sized(t, 900, 900, false), "jpeg"},
	} {
		_, err := Clean(context.Background(), tt.raw)
		var f *fault.Error
		if !errors.As(err, &f) || f.Kind != fault.Invalid || f.Code != tt.code {
			t.Errorf("%s: got %v, want Invalid with code %s", name, err, tt.code)
		}
	}
}

func FuzzClean(f *testing.F) {
	f.Add(picture(f, 8, 8))
	f.Add([]byte{0xff, 0xd8, 0xff})
	f.Fuzz(func(t *testing.T, raw []byte) {
		clean, err := Clean(context.Background(), raw)
		if (err == nil) != (len(clean) > 0) || err != nil && fault.KindOf(err) != fault.Invalid {
			t.Errorf("%d bytes out, error %v", len(clean), err)
		}
	})
}

const farm = "3f1c0a52-8c1e-4b7e-9d52-0d6a7c1b2e90"

func TestAFolderKeepsAndServes(t *testing.T) {
	f, hash := At(t.TempDir()), Hash([]byte("x"))
	if _, err := f.Open(farm, hash); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a missing picture: %v, want NotFound", err)
	}
	for range 2 {
		if err := f.Put(farm, hash, []byte("clean")); err != nil {
			t.Fatal(err)
		}
	}
	if !f.Has(farm, hash) || f.Has("another", hash) {
		t.Error("the picture is not where it belongs")
	}
}

func TestASweepTakesOldPartsOnly(t *testing.T) {
	f := At(t.TempDir())
	if err := f.Put(farm, Hash(nil), []byte("clean")); err != nil {
		t.Fatal(err)
	}
	left := filepath.Join(f.root, farm, part+"1")
	if err := os.WriteFile(left, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		after time.Duration
		there bool
	}{{time.Minute, true}, {2 * partLife, false}} {
		if err := f.Sweep(time.Now().Add(tt.after)); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(left); (err == nil) != tt.there {
			t.Errorf("after %s the part is there: %v, want %v", tt.after, err == nil, tt.there)
		}
	}
	if !f.Has(farm, Hash(nil)) {
		t.Error("the sweep took a picture")
	}
	if err := At(filepath.Join(t.TempDir(), "none")).Sweep(time.Now()); err != nil {
		t.Errorf("sweeping a folder that is not there: %v", err)
	}
}

func TestAFullDiskLeavesNothingHalf(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("hilum", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("a small disk cannot be mounted here: %v", err)
	}
	defer func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("unmounting: %v", err)
		}
	}()
	f := At(dir)
	if err := f.Put(farm, Hash([]byte("small")), make([]byte, 1000)); err != nil {
		t.Fatal(err)
	}
	if err := f.Put(farm, Hash(nil), make([]byte, 1<<20)); fault.KindOf(err) != fault.Full {
		t.Errorf("on a full disk: %v, want Full", err)
	}
	if f.Has(farm, Hash(nil)) || !f.Has(farm, Hash([]byte("small"))) {
		t.Error("the large picture is there, or the small one is gone")
	}
	_ = filepath.WalkDir(dir, func(path string, _ os.DirEntry, _ error) error {
		if strings.Contains(path, part) {
			t.Errorf("%s was left", path)
		}
		return nil
	})
	if err := f.Put(farm, Hash([]byte("next")), make([]byte, 1000)); err != nil {
		t.Errorf("afterwards a small picture: %v", err)
	}
}
