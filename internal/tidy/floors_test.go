package tidy

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// module is the name that our import paths begin with.
const module = "hilum/"

// floors are the packages from the ground up. A package imports only from floors below its own,
// so packages of one floor never know each other: whoever needs two joins them from above.
var floors = [][]string{
	{"internal/num", "internal/unit", "internal/cite", "internal/date", "internal/fault",
		"internal/words", "db", "pwa"},
	{"internal/agro/crop", "internal/agro/code"},
	{"internal/agro/soiln", "internal/agro/starter", "internal/agro/risk", "internal/agro/nodule",
		"internal/agro/stage", "internal/agro/rescue", "internal/agro/stress",
		"internal/agro/balance", "internal/agro/rotation", "internal/agro/strip",
		"internal/agro/calibration", "internal/agro/value", "internal/agro/product",
		"internal/agro/seeding", "internal/outline"},
	{"internal/agro", "internal/merge"},
	{"internal/wire"},
	{"internal/kind", "internal/auth", "internal/poke", "internal/photo", "internal/wire/gen",
		"internal/golden", "internal/explain", "internal/sample", "internal/card"},
	{"internal/feed"},
	{"internal/store", "internal/memlog", "internal/snapshot"}, // they stand on the feed's log
	{"internal/api", "internal/site"},
	{"internal/card/write", "internal/demo", "internal/wasm", "internal/wasm/golden", "internal/pgrun"},
	{"internal/pgtest", "server", "deploy/prove/program"},
	{"internal/pgtest/cluster", "internal/tidy"},
}

// programs are folders whose packages stand on top of everything.
var programs = []string{"deploy/"}

// engineFloors is how many floors, from the ground, the engine takes.
const engineFloors = 4

// only lists packages that may import nothing of ours but what is named.
var only = map[string][]string{
	"internal/pgrun": {"internal/fault"},
	"internal/wasm":  {"internal/wire", "internal/agro"},
	"internal/num":   {}, "internal/cite": {}, "internal/date": {}, "internal/fault": {},
	"db": {}, "pwa": {},
}

// ban forbids an import to some packages.
type ban struct {
	packages []string
	imports  []string // the package itself and everything below it
	reason   string
}

var bans = []ban{
	{engine(), []string{"encoding/json", "reflect"},
		"it costs the phone 240 kB of WebAssembly; JSON is paid for once, in wire"},
	{engine(), []string{"os", "net", "net/http", "os/exec", "log", "log/slog"},
		"the engine is pure: same input, same answer, no machine"},
	{engine(), []string{"math/rand", "math/rand/v2", "crypto/rand"},
		"a result must be the same twice, on server and phone"},
	{without(engine(), "internal/fault"), []string{"fmt"},
		"it brings reflect and os into the WebAssembly; results hold codes, not sentences"},
	{[]string{"internal/feed", "internal/merge", "internal/wire", "internal/auth", "internal/api",
		"internal/demo", "internal/snapshot"},
		[]string{"github.com/jackc/pgx/v5"},
		"SQL lives in store; here it would tie the rules to one database"},
	{[]string{"internal/feed", "internal/merge", "internal/wire", "internal/store",
		"internal/auth", "internal/agro", "internal/fault"},
		[]string{"github.com/labstack/echo/v4", "net/http"},
		"HTTP is known at the edge only, in api and site"},
	{[]string{"internal/merge", "internal/feed", "internal/wire"},
		[]string{"hilum/internal/store"},
		"conflict rules and the door are tested without a database"},
	{engine(), []string{"time"},
		"it brings zones and files into the WebAssembly, 65 kB; internal/date has the calendar"},
}

// engine are the packages of the engine's floors.
func engine() []string {
	return without(slices.Concat(floors[:engineFloors]...), "db", "pwa", "internal/merge")
}

func without(list []string, names ...string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(p string) bool {
		return slices.Contains(names, p)
	})
}

func TestImportsOnlyGoDown(t *testing.T) {
	for name, imports := range listPackages(t) {
		mine := floorOf(name)
		if mine < 0 {
			const fix = "give it one in floors_test.go"
			t.Error(problem{name, 0, "the package stands on no floor", fix})
			continue
		}
		for _, imported := range imports {
			theirs := floorOf(imported)
			if strings.HasPrefix(imported, module) && theirs >= mine {
				t.Error(problem{name, 0, "it imports " + imported + ", which is not below it",
					"turn the call round: take a value or an interface from above"})
			}
		}
	}
}

func TestBannedImports(t *testing.T) {
	packages := listPackages(t)
	for _, b := range bans {
		for _, name := range b.packages {
			for _, imported := range packages[module+name] {
				if b.covers(imported) {
					t.Error(problem{name, 0, "it imports " + imported, "leave it out: " + b.reason})
				}
			}
		}
	}
}

func TestSomePackagesNeedLittle(t *testing.T) {
	packages := listPackages(t)
	for name, allowed := range only {
		for _, imported := range packages[module+name] {
			own, ours := strings.CutPrefix(imported, module)
			if ours && !slices.Contains(allowed, own) {
				t.Error(problem{name, 0, "it imports " + imported,
					"of ours it may import only: " + strings.Join(allowed, " ")})
			}
		}
	}
}

// What one import far below drags along, no list of imports shows.
func TestThePhoneCarriesNothingHeavy(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", "./internal/wasm")
	cmd.Dir = root(t)
	cmd.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	carried := strings.Fields(string(out))
	for _, heavy := range []string{"reflect", "fmt", "os", "time", "encoding/json", "crypto/sha256"} {
		if slices.Contains(carried, heavy) {
			t.Error(problem{"internal/wasm", 0, "it carries " + heavy,
				"see what imports it (go list -deps) and use wire's codec, fault or date"})
		}
	}
}

// A ban on something that does not exist guards nothing.
func TestBannedNamesExist(t *testing.T) {
	out, err := exec.Command("go", "list", "std").Output()
	if err != nil {
		t.Fatal(err)
	}
	standard := strings.Fields(string(out))
	required, err := os.ReadFile(filepath.Join(root(t), "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range bans {
		for _, name := range b.imports {
			known := slices.Contains(standard, name) || strings.Contains(string(required), name) ||
				strings.HasPrefix(name, module) && floorOf(name) >= 0
			if !known {
				t.Error(problem{"internal/tidy/floors_test.go", 0, "nothing is called " + name,
					"name the ban's package as it is called now"})
			}
		}
	}
}

func (b ban) covers(imported string) bool {
	return slices.ContainsFunc(b.imports, func(name string) bool {
		library := strings.Contains(name, ".")
		return imported == name || library && strings.HasPrefix(imported, name+"/")
	})
}

// floorOf is the floor of one of our packages, -1 if it has none.
func floorOf(importPath string) int {
	name := strings.TrimPrefix(importPath, module)
	for i, floor := range floors {
		if slices.Contains(floor, name) {
			return i
		}
	}
	for _, program := range programs {
		if strings.HasPrefix(name, program) {
			return len(floors)
		}
	}
	return -1
}

// listPackages maps each of our packages to its imports, tests left out. The engine's program
// exists only for WebAssembly, so both systems are asked.
func listPackages(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	for _, system := range [][]string{nil, {"GOOS=wasip1", "GOARCH=wasm"}} {
		cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Imports", "./...")
		cmd.Dir = root(t)
		cmd.Env = append(os.Environ(), system...)
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list: %v", err)
		}
		maps.Copy(found, decodePackages(t, out))
	}
	return found
}

func decodePackages(t *testing.T, out []byte) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	for decoder := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath string
			Imports    []string
		}
		err := decoder.Decode(&p)
		if errors.Is(err, io.EOF) {
			return found
		}
		if err != nil {
			t.Fatal(err)
		}
		found[p.ImportPath] = p.Imports
	}
}

func TestTheFloorRuleItself(t *testing.T) {
	for low, high := range map[string]string{
		"internal/num": "internal/agro/risk", "internal/agro": "internal/wire",
		"internal/store": "internal/api", "internal/api": "server", "server": "deploy/prove/x",
	} {
		if floorOf(module+low) >= floorOf(module+high) {
			t.Errorf("%s does not stand below %s", low, high)
		}
	}
	if floorOf(module+"internal/unheard") != -1 {
		t.Error("an unlisted package has a floor")
	}
	if !bans[4].covers("github.com/jackc/pgx/v5/pgxpool") || bans[1].covers("os/signal") {
		t.Error("a ban covers what lies below a library, and exactly one package of the language")
	}
}
