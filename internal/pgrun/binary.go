package pgrun

import (
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hilum/internal/fault"
)

// OldestMajor is the oldest PostgreSQL that serves: views that respect row-level security of
// their caller (security_invoker) came with 15.
const OldestMajor = 15

// binary is one installed PostgreSQL.
type binary struct {
	dir   string
	major int
}

// installed are the folders that packages for Linux and macOS put PostgreSQL into.
var installed = []string{
	"/usr/lib/postgresql/*/bin",
	"/usr/pgsql-*/bin",
	"/opt/homebrew/opt/postgresql@*/bin",
	"/usr/local/opt/postgresql@*/bin",
	"/Applications/Postgres.app/Contents/Versions/*/bin",
}

// findBinary picks the PostgreSQL to run. A cluster of major version want (0: none yet) can only
// be opened by that same major. A folder that a person named must fit; it is never passed over.
func findBinary(named string, want int) (binary, error) {
	if named == "" {
		named = os.Getenv("PG_BINDIR")
	}
	if named != "" {
		return namedBinary(named, want)
	}
	found := search()
	for _, b := range found {
		if b.major == want || (want == 0 && b.major >= OldestMajor) {
			return b, nil
		}
	}
	return binary{}, fault.New(fault.Unavailable, "database.missing", "%s", missing(found, want))
}

// namedBinary checks the folder that a setting names.
func namedBinary(dir string, want int) (binary, error) {
	b, err := inspect(dir)
	if err != nil {
		return b, fault.At("PG_BINDIR", "database.bindir",
			"%s holds no usable postgres and initdb: %v", dir, err)
	}
	if want != 0 && b.major != want {
		return b, fault.At("PG_BINDIR", "database.major",
			"%s is PostgreSQL %d but the data folder was written by %d; name a PostgreSQL %d,"+
				" or dump the data and load it into an empty data folder", dir, b.major, want, want)
	}
	if b.major < OldestMajor {
		return b, fault.At("PG_BINDIR", "database.major",
			"%s is PostgreSQL %d; %d or newer is needed", dir, b.major, OldestMajor)
	}
	return b, nil
}

// Tool finds a program that comes with PostgreSQL, pg_dump for one: in the folder that PG_BINDIR
// names, else of the newest installed, else on the PATH. Newer ones read older servers.
func Tool(name string) (string, error) {
	dirs := []string{os.Getenv("PG_BINDIR")}
	if dirs[0] == "" {
		for _, b := range search() {
			dirs = append(dirs, b.dir)
		}
	}
	for _, dir := range dirs {
		path := filepath.Join(dir, name)
		if info, err := os.Stat(path); dir != "" && err == nil && info.Mode().IsRegular() {
			return path, nil
		}
	}
	if path, err := exec.LookPath(name); err == nil {
		return path, nil
	}
	return "", fault.New(fault.Unavailable, "database.tool",
		"%s was not found: install the client programs of PostgreSQL, or set PG_BINDIR to their folder", name)
}

// search lists what is installed, newest major first.
func search() []binary {
	var found []binary
	for _, dir := range candidates() {
		if b, err := inspect(dir); err == nil && !slices.Contains(found, b) {
			found = append(found, b)
		}
	}
	slices.SortStableFunc(found, func(a, b binary) int { return cmp.Compare(b.major, a.major) })
	return found
}

// candidates are folders that may hold PostgreSQL.
func candidates() []string {
	var dirs []string
	for _, pattern := range installed {
		match, err := filepath.Glob(pattern)
		if err == nil {
			dirs = append(dirs, match...)
		}
	}
	if out, err := exec.Command("pg_config", "--bindir").Output(); err == nil {
		dirs = append(dirs, strings.TrimSpace(string(out)))
	}
	if path, err := exec.LookPath("postgres"); err == nil {
		dirs = append(dirs, filepath.Dir(path))
	}
	return dirs
}

var versionWords = regexp.MustCompile(`PostgreSQL\)? (\d+)`)

// inspect asks the programs in a folder for their version. initdb counts too: some packages
// ship the client half only.
func inspect(dir string) (binary, error) {
	if _, err := os.Stat(filepath.Join(dir, "initdb")); err != nil {
		return binary{}, fmt.Errorf("looking for initdb: %w", err)
	}
	out, err := exec.Command(filepath.Join(dir, "postgres"), "--version").Output()
	if err != nil {
		return binary{}, fmt.Errorf("asking postgres for its version: %w", err)
	}
	words := versionWords.FindSubmatch(out)
	if words == nil {
		return binary{}, fmt.Errorf("postgres calls itself %q", out)
	}
	major, err := strconv.Atoi(string(words[1]))
	if err != nil {
		return binary{}, fmt.Errorf("reading the version: %w", err)
	}
	return binary{dir: dir, major: major}, nil
}

// missing says what was looked for, what was found instead and how to go on.
func missing(found []binary, want int) string {
	var seen []string
	for _, b := range found {
		seen = append(seen, fmt.Sprintf("%d in %s", b.major, b.dir))
	}
	other := "none was found"
	if seen != nil {
		other = "found " + strings.Join(seen, ", ")
	}
	if want != 0 {
		return fmt.Sprintf("the data folder was written by PostgreSQL %d, but %s: install"+
			" postgresql-%d, or set PG_BINDIR to its programs", want, other, want)
	}
	return fmt.Sprintf("PostgreSQL %d or newer is needed, but %s: install the package"+
		" postgresql, or set PG_BINDIR to the folder of postgres and initdb, or set"+
		" DATABASE_URL to a server that is running", OldestMajor, other)
}
