package pgtest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"hilum/internal/pgrun"
)

// memory is a file system in memory; databases for tests lie there if it has room.
const memory = "/dev/shm"

// memoryNeeded is the free space below which the disk is used, in bytes. A clone takes about
// 10 MB and a run makes some hundred; containers often give /dev/shm 64 MB only.
const memoryNeeded = 4 << 30

const folderPattern = "hilum-test-"

// settled is the age from which a folder with a free lock is taken for abandoned: a program
// that is just starting makes its lock file a moment before it locks it.
const settled = time.Minute

// stopLimit is how long a throw-away server may take to stop.
const stopLimit = 20 * time.Second

// Cluster is a throw-away server.
type Cluster struct {
	*pgrun.Server
	dir string
}

// StartCluster starts a server with fsync off in a new folder. Folders that earlier programs
// have left are removed first.
func StartCluster(ctx context.Context) (*Cluster, error) {
	base := place()
	sweep(base)
	dir, err := os.MkdirTemp(base, folderPattern)
	if err != nil {
		return nil, fmt.Errorf("making a folder for the test cluster: %w", err)
	}
	// MkdirTemp closes the folder, but the database's user has to pass through it.
	if err := os.Chmod(dir, 0o711); err != nil {
		return nil, fmt.Errorf("opening the folder of the test cluster: %w", err)
	}
	server, err := pgrun.Start(ctx, pgrun.Options{DataDir: dir, Volatile: true})
	if err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	return &Cluster{Server: server, dir: dir}, nil
}

// Close stops the server and deletes its files.
func (c *Cluster) Close() error {
	return errors.Join(c.Stop(stopLimit), os.RemoveAll(c.dir))
}

// place is the folder for test clusters: memory if there is enough of it, else the disk.
func place() string {
	var room syscall.Statfs_t
	if syscall.Statfs(memory, &room) != nil {
		return os.TempDir()
	}
	if room.Bavail*uint64(room.Bsize) < memoryNeeded || syscall.Access(memory, 2) != nil {
		return os.TempDir()
	}
	return memory
}

// sweep removes folders whose program is gone: its lock is free. Trouble is left alone, since
// the folder may belong to another user.
func sweep(base string) {
	match, err := filepath.Glob(filepath.Join(base, folderPattern+"*", "lock"))
	if err != nil {
		return
	}
	for _, path := range match {
		info, err := os.Stat(path)
		if err != nil || time.Since(info.ModTime()) < settled {
			continue
		}
		lock, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if syscall.Flock(int(lock.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil {
			_ = os.RemoveAll(filepath.Dir(path))
		}
		lock.Close()
	}
}
