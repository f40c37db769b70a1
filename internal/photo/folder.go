package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"hilum/internal/fault"
)

// Folder keeps cleaned pictures, each named by account and hash and never by a client.
type Folder struct{ root string }

// At gives the folder under this path; it is made with the first picture.
func At(root string) Folder { return Folder{root} }

const part = ".part-"

// partLife is how long a picture may take to be written; older parts are left from a crash.
const partLife = time.Hour

func (f Folder) path(farm, hash string) string {
	return filepath.Join(f.root, farm, hash[:2], hash+".jpg")
}

// Has says whether a picture is there.
func (f Folder) Has(farm, hash string) bool {
	_, err := os.Stat(f.path(farm, hash))
	return err == nil
}

// Open gives a picture; NotFound when it is not there.
func (f Folder) Open(farm, hash string) (*os.File, error) {
	file, err := os.Open(f.path(farm, hash))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fault.New(fault.NotFound, "photo", "this picture is not at the server")
	}
	if err != nil {
		return nil, fmt.Errorf("opening a picture: %w", err)
	}
	return file, nil
}

// Put stores a picture whole or not at all, and returns when it will survive a crash. Full when
// the disk has no room.
func (f Folder) Put(farm, hash string, clean []byte) error {
	path := f.path(farm, hash)
	err := f.put(path, clean)
	if errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) {
		return &fault.Error{Kind: fault.Full, Code: "full", Err: err,
			Message: "the server's disk is full; the picture stays on the phone"}
	}
	if err != nil {
		return fmt.Errorf("storing a picture: %w", err)
	}
	return nil
}

func (f Folder) put(path string, clean []byte) (err error) {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	file, err := os.CreateTemp(dir, part+"*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(file.Name())
		}
	}()
	_, err = file.Write(clean)
	if err == nil {
		err = file.Sync()
	}
	if err := errors.Join(err, file.Close()); err != nil {
		return err
	}
	if err := os.Rename(file.Name(), path); err != nil {
		return err
	}
	return errors.Join(syncDir(dir), syncDir(filepath.Dir(dir)), syncDir(f.root))
}

// syncDir makes a new name in a folder last.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// Sweep removes what a crash left half written.
func (f Folder) Sweep(now time.Time) error {
	return filepath.WalkDir(f.root, func(path string, entry fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil || entry.IsDir() || !strings.HasPrefix(entry.Name(), part) {
			return err
		}
		info, err := entry.Info()
		if err != nil || now.Sub(info.ModTime()) < partLife {
			return nil // gone, or still being written
		}
		return os.Remove(path)
	})
}

// Hashes gives the pictures of an account that lie in the folder, by their names.
func (f Folder) Hashes(farm string) (hashes []string, err error) {
	files, err := filepath.Glob(filepath.Join(f.root, farm, "??", "*.jpg"))
	for _, file := range files {
		hashes = append(hashes, strings.TrimSuffix(filepath.Base(file), ".jpg"))
	}
	return hashes, err
}
