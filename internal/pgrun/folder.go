package pgrun

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"hilum/internal/fault"
)

// shared is where data folders go when the database's user cannot reach the checkout.
const shared = "/var/lib/hilum"

// DataDir picks the data folder of a checkout: HILUM_DATA, else .data in the checkout, else one
// of the checkout's own under /var/lib/hilum if the database's user cannot reach the checkout
// (one under /root, say). It makes nothing. A HILUM_DATA that cannot be reached is Invalid.
func DataDir(checkout string) (string, error) {
	if set := os.Getenv("HILUM_DATA"); set != "" {
		dir, err := filepath.Abs(set)
		if err != nil {
			return "", fmt.Errorf("resolving HILUM_DATA: %w", err)
		}
		return dir, reachable(dir)
	}
	root, err := filepath.Abs(checkout)
	if err != nil {
		return "", fmt.Errorf("resolving the checkout: %w", err)
	}
	if real, err := filepath.EvalSymlinks(root); err == nil {
		root = real
	}
	own := filepath.Join(root, ".data")
	if reachable(own) == nil {
		return own, nil
	}
	sum := sha256.Sum256([]byte(root))
	return filepath.Join(shared, hex.EncodeToString(sum[:6])), nil
}

// reachable checks the folders on the way to the data folder for the database's user.
func reachable(dir string) error {
	who, err := ownerOf(clusterFolder(dir, newestCluster(dir)))
	if err != nil {
		return err
	}
	if at := blocked(dir, who); at != "" {
		return fault.At("HILUM_DATA", "database.folder", "the database's user (id %d) cannot"+
			" enter %s on the way to %s: choose a folder below one that all may enter,"+
			" such as %s", who.Uid, at, dir, shared)
	}
	return nil
}

// layout is where the parts of one cluster lie.
type layout struct {
	major    int
	cluster  string // pg<major>: one folder per major, so that an upgrade never meets old files
	socket   string
	borrowed bool // the socket folder lies outside the data folder and is removed at the end
}

func clusterFolder(data string, major int) string {
	return filepath.Join(data, "pg"+strconv.Itoa(major))
}

// newestCluster is the highest major version that the data folder holds a cluster of, or 0.
func newestCluster(data string) int {
	match, err := filepath.Glob(filepath.Join(data, "pg*", "PG_VERSION"))
	if err != nil {
		return 0
	}
	newest := 0
	for _, file := range match {
		name := strings.TrimPrefix(filepath.Base(filepath.Dir(file)), "pg")
		if major, err := strconv.Atoi(name); err == nil && major > newest {
			newest = major
		}
	}
	return newest
}

// prepare makes the data folder, takes its lock and makes the socket's folder.
func prepare(data string, major int, who owner) (layout, *os.File, error) {
	l := layout{major: major, cluster: clusterFolder(data, major)}
	if err := makePassable(data, who); err != nil {
		return l, nil, err
	}
	if err := reachable(data); err != nil {
		return l, nil, err
	}
	lock, err := takeLock(filepath.Join(data, "lock"), who)
	if err != nil {
		return l, nil, err
	}
	if err := l.makeSocket(data, who); err != nil {
		lock.Close()
		return l, nil, err
	}
	return l, lock, nil
}

// makePassable makes the folder and its missing parents. Root's are open for passing through,
// whatever the umask, because the database's user has to get to its own below them.
func makePassable(dir string, who owner) error {
	if info, err := os.Stat(dir); err == nil {
		if !info.IsDir() {
			return fault.At("HILUM_DATA", "database.folder", "%s is a file, not a folder", dir)
		}
		return nil
	}
	if err := makePassable(filepath.Dir(dir), who); err != nil {
		return err
	}
	mode := os.FileMode(0o700)
	if who != nil {
		mode = 0o711
	}
	if err := os.Mkdir(dir, mode); err != nil && !errors.Is(err, os.ErrExist) {
		return &fault.Error{Kind: fault.Invalid, Code: "database.folder", Field: "HILUM_DATA",
			Message: "the data folder " + dir + " cannot be made: " + err.Error(), Err: err}
	}
	return os.Chmod(dir, mode)
}

// takeLock makes sure that one program alone runs the cluster. The kernel drops the lock when
// the program ends, however it ends, so a leftover file blocks nobody.
func takeLock(path string, who owner) (*os.File, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, &fault.Error{Kind: fault.Invalid, Code: "database.folder",
			Field: "HILUM_DATA", Message: "the data folder cannot be written (was it made by" +
				" another user?): " + err.Error(), Err: err}
	}
	if err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		defer file.Close()
		holder, readErr := io.ReadAll(io.LimitReader(file, 20))
		if readErr != nil || len(holder) == 0 {
			holder = []byte("unknown")
		}
		return nil, fault.New(fault.Conflict, "database.locked", "the data folder %s is in use"+
			" by another program (process %s): stop it, or set HILUM_DATA to another folder",
			filepath.Dir(path), holder)
	}
	if who != nil {
		// So that a person whose folder root has started once can still start it.
		_ = file.Chown(int(who.Uid), int(who.Gid))
	}
	// The number is for that message only; failing to write it harms nothing.
	_ = file.Truncate(0)
	_, _ = file.WriteAt([]byte(strconv.Itoa(os.Getpid())), 0)
	return file, nil
}

// socketLimit is the longest path of a socket that every system takes (macOS 103, Linux 107).
const socketLimit = 103

// makeSocket makes the socket's folder in the data folder, or a short one if the path of the
// data folder is too long for a socket.
func (l *layout) makeSocket(data string, who owner) error {
	l.socket = filepath.Join(data, "sock")
	if len(l.socket)+len("/.s.PGSQL.5432.lock") > socketLimit {
		dir, err := os.MkdirTemp("/tmp", "hilum")
		if err != nil {
			return fmt.Errorf("making a folder for the socket: %w", err)
		}
		l.socket, l.borrowed = dir, true
	}
	if err := os.MkdirAll(l.socket, 0o700); err != nil {
		return fmt.Errorf("making the socket's folder: %w", err)
	}
	return give(l.socket, who)
}
