package pgrun

import (
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"hilum/internal/fault"
)

// owner is the user that PostgreSQL runs as. Nil means the caller itself; only root needs
// another, because PostgreSQL refuses to run as root.
type owner *syscall.Credential

// ownerOf picks the user for a cluster. One that exists stays with the user who made it, so
// that a start as root after starts as a person does not lock that person out.
func ownerOf(cluster string) (owner, error) {
	if os.Geteuid() != 0 {
		return nil, nil
	}
	if info, err := os.Stat(cluster); err == nil {
		if st, ok := info.Sys().(*syscall.Stat_t); ok && st.Uid != 0 {
			return &syscall.Credential{Uid: st.Uid, Gid: st.Gid}, nil
		}
	}
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			return credential(u)
		}
	}
	return nil, fault.New(fault.Unavailable, "database.user", "PostgreSQL will not run as root"+
		" and there is neither a user postgres nor nobody: start as an ordinary user")
}

func credential(u *user.User) (owner, error) {
	uid, err := strconv.ParseUint(u.Uid, 10, 32)
	if err != nil {
		return nil, fmt.Errorf("reading the user id of %s: %w", u.Username, err)
	}
	gid, err := strconv.ParseUint(u.Gid, 10, 32)
	if err != nil {
		return nil, fmt.Errorf("reading the group id of %s: %w", u.Username, err)
	}
	return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, nil
}

// blocked names the first folder on the way to path (itself included) that the user may not
// pass through, or "". What does not exist yet blocks nobody.
func blocked(path string, who owner) string {
	if who == nil {
		return ""
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	at := "/"
	for _, part := range strings.Split(filepath.Clean(path), "/") {
		at = filepath.Join(at, part)
		info, err := os.Stat(at)
		if err != nil {
			return ""
		}
		if !passable(info, who) {
			return at
		}
	}
	return ""
}

// passable reports whether the execute bit that applies to the user is set.
func passable(info os.FileInfo, who owner) bool {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return true
	}
	switch {
	case st.Uid == who.Uid:
		return info.Mode()&0o100 != 0
	case st.Gid == who.Gid:
		return info.Mode()&0o010 != 0
	}
	return info.Mode()&0o001 != 0
}

// give hands a folder to the database's user and closes it to everyone else.
func give(dir string, who owner) error {
	if who != nil {
		if err := os.Chown(dir, int(who.Uid), int(who.Gid)); err != nil {
			return fmt.Errorf("giving a folder to the database's user: %w", err)
		}
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		return fmt.Errorf("closing a folder of the database: %w", err)
	}
	return nil
}
