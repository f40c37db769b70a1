package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"os/exec"
	"regexp"
	"strings"

	"github.com/jackc/pgx/v5"

	"hilum/db"
	"hilum/internal/fault"
	"hilum/internal/pgrun"
	"hilum/internal/store"
)

// backup writes one file with every account's rows, as the role that reads all and writes nothing.
// It gets its name only once it is whole and its list of contents can be read.
func backup(ctx context.Context, args []string) error {
	if len(args) != 1 {
		return fault.New(fault.Invalid, "usage", "backup takes the name of a file that does not exist yet")
	}
	file, part := args[0], args[0]+".part"
	if _, err := os.Lstat(file); !errors.Is(err, fs.ErrNotExist) {
		return fault.New(fault.Invalid, "file", "%s is there already; a backup overwrites nothing", file)
	}
	return withDatabase(ctx, func(dsn, photos string) error {
		s, err := store.Open(ctx, dsn) // looks whether the role is whole and reads all
		if err != nil {
			return err
		}
		s.Close()
		defer os.Remove(part)
		// Row security stays on: the role's own policies show it every row, and the start has checked
		// that no table lacks one.
		if err := pgTool(ctx, dsn, "pg_dump", "--format=custom", "--role=hilum_backup",
			"--enable-row-security", "--file="+part); err != nil {
			return err
		}
		if err := pgTool(ctx, "", "pg_restore", "--list", "--file="+os.DevNull, part); err != nil {
			return err
		}
		size, err := settle(part, file)
		if err != nil {
			return err
		}
		fmt.Printf("%s: %d kB; keep the folder of pictures %s with it\n", file, (size+999)/1000, photos)
		return nil
	})
}

// settle puts a finished file under its name, readable by its owner alone.
func settle(part, file string) (int64, error) {
	f, err := os.OpenFile(part, os.O_RDWR, 0)
	if err != nil {
		return 0, fmt.Errorf("opening the backup: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil {
		err = errors.Join(f.Chmod(0o600), f.Sync(), os.Rename(part, file))
	}
	if err != nil {
		return 0, fmt.Errorf("keeping the backup: %w", err)
	}
	return info.Size(), nil
}

// restore reads a backup into a database that has no tables yet, brings it to this version, and
// begins a new epoch of every account.
func restore(ctx context.Context, args []string) error {
	if len(args) != 1 {
		return fault.New(fault.Invalid, "usage", "restore takes the file that backup has written")
	}
	if err := pgTool(ctx, "", "pg_restore", "--list", "--file="+os.DevNull, args[0]); err != nil {
		return fault.New(fault.Invalid, "file", "%s is not a backup that can be read: %v", args[0], err)
	}
	c, err := readConfig()
	if err != nil {
		return err
	}
	d, err := openDatabase(ctx, c, false)
	if err != nil {
		return err
	}
	defer d.close()
	if err := mustBeEmpty(ctx, d.dsn); err != nil {
		return err
	}
	if err := db.MakeRoles(ctx, d.dsn); err != nil {
		return err
	}
	if err := pgTool(ctx, d.dsn, "pg_restore", "--exit-on-error", "--single-transaction", "--no-owner",
		"--dbname="+without(d.dsn), args[0]); err != nil {
		return err
	}
	if err := db.Migrate(ctx, d.dsn); err != nil {
		return err
	}
	admin, err := store.OpenAdmin(ctx, d.dsn)
	if err != nil {
		return err
	}
	defer admin.Close(ctx)
	farms, err := admin.Farms(ctx)
	if err != nil {
		return err
	}
	fmt.Printf("restored: %d accounts; put the folder of pictures of the same day or later at %s\n",
		len(farms), c.photoFolder(d.data))
	return newEpochs(ctx, admin, farms)
}

func mustBeEmpty(ctx context.Context, dsn string) error {
	conn, err := pgx.Connect(ctx, dsn)
	if err != nil {
		return fmt.Errorf("opening the database: %w", err)
	}
	defer conn.Close(ctx)
	var n int
	const tables = `SELECT count(*) FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p')`
	if err := conn.QueryRow(ctx, tables).Scan(&n); err != nil {
		return fmt.Errorf("looking at the database: %w", err)
	}
	if n > 0 {
		return fault.New(fault.Invalid, "database",
			"the database has %d tables; restore reads into an empty one, and leaves what is there alone", n)
	}
	return nil
}

// pgTool runs one of PostgreSQL's own programs; what it says on failure is passed on.
func pgTool(ctx context.Context, dsn, name string, args ...string) error {
	path, err := pgrun.Tool(name)
	if err != nil {
		return err
	}
	if dsn != "" && name == "pg_dump" {
		args = append(args, "--dbname="+without(dsn))
	}
	var said bytes.Buffer
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.Stderr = &said
	if dsn != "" {
		config, err := pgx.ParseConfig(dsn)
		if err != nil {
			return fault.New(fault.Invalid, "dsn", "DATABASE_URL is not a PostgreSQL connection string")
		}
		// Not among the arguments, which every user of the machine can read.
		cmd.Env = append(os.Environ(), "PGPASSWORD="+config.Password)
	}
	if err := cmd.Run(); err != nil {
		return fault.New(fault.Unavailable, "database.tool", "%s: %v: %s", name, err, strings.TrimSpace(said.String()))
	}
	return nil
}

var password = regexp.MustCompile(`\bpassword\s*=\s*('(?:[^'\\]|\\.)*'|\S+)`)

// without is a connection string without its password.
func without(dsn string) string {
	u, err := url.Parse(dsn)
	if err != nil || u.Scheme == "" {
		return password.ReplaceAllString(dsn, "")
	}
	if u.User != nil {
		u.User = url.User(u.User.Username())
	}
	q := u.Query()
	q.Del("password")
	u.RawQuery = q.Encode()
	return u.String()
}
