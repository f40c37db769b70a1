package tidy

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// The limits of the house style.
const (
	fileLines     = 400
	testFileLines = 600
	functionLines = 70
	columns       = 120 // the aim is 100; strings and SQL may pass it
	tabColumns    = 4
)

func code(s source) bool { return hasEnding(s.path, ".go", ".ts", ".tsx", ".mjs", ".sql", ".css") }
func goCode(s source) bool {
	return strings.HasSuffix(s.path, ".go")
}

func TestFilesAreShort(t *testing.T)     { report(t, each(sources(t), code, longFile)) }
func TestLinesAreShort(t *testing.T)     { report(t, each(sources(t), code, longLines)) }
func TestFunctionsAreShort(t *testing.T) { report(t, each(sources(t), goCode, longFunctions)) }

func TestPackagesAreNouns(t *testing.T) {
	out, err := exec.Command("go", "list", "std").Output()
	if err != nil {
		t.Fatal(err)
	}
	standard := map[string]bool{}
	for _, name := range strings.Fields(string(out)) {
		if !strings.Contains(name, "internal/") && !strings.HasPrefix(name, "vendor/") {
			standard[path.Base(name)] = true
		}
	}
	report(t, each(sources(t), goCode, func(s source) []problem { return badName(s, standard) }))
}

func TestTheTopLevelIsAsDesigned(t *testing.T) {
	wanted := []string{"server", "pwa", "internal", "db", "deploy", "testdata", "go.mod", "go.sum",
		"README.md", "DEVELOPERS.md", "docker-compose.yml"}
	entries, err := os.ReadDir(root(t))
	if err != nil {
		t.Fatal(err)
	}
	var there []string
	for _, entry := range entries {
		if !strings.HasPrefix(entry.Name(), ".") && !slices.Contains(unkept, entry.Name()) {
			there = append(there, entry.Name())
		}
	}
	for _, name := range there {
		if !slices.Contains(wanted, name) {
			const fix = "move it into one of its folders"
			t.Error(problem{name, 0, "not part of the top level", fix})
		}
	}
	for _, name := range wanted {
		if !slices.Contains(there, name) {
			t.Error(problem{name, 0, "is missing", "the top level promises it: write it"})
		}
	}
}

// longFile allows tests more: their tables are long and plain.
func longFile(s source) []problem {
	most := fileLines
	if s.isTest() {
		most = testFileLines
	}
	if strings.Count(s.text, "\n") <= most {
		return nil
	}
	return []problem{{s.path, most + 1, "the file is longer than its limit",
		"split it where a reader would; each file has one purpose"}}
}

// longLines passes over tests: their tables read best a case a line.
func longLines(s source) []problem {
	if strings.Contains(s.path, "_test.") || strings.Contains(s.path, ".test.") {
		return nil
	}
	var problems []problem
	for i, line := range strings.Split(s.text, "\n") {
		wide := utf8.RuneCountInString(line) + strings.Count(line, "\t")*(tabColumns-1)
		if wide > columns {
			problems = append(problems, problem{s.path, i + 1, "the line is over 120 columns",
				"break it, or name a part of it"})
		}
	}
	return problems
}

func longFunctions(s source) []problem {
	var problems []problem
	positions, file := parse(s)
	ast.Inspect(file, func(n ast.Node) bool {
		var body *ast.BlockStmt
		switch n := n.(type) {
		case *ast.FuncDecl:
			body = n.Body
		case *ast.FuncLit:
			body = n.Body
		}
		if body == nil {
			return true
		}
		from, to := positions.Position(n.Pos()).Line, positions.Position(body.End()).Line
		if to-from+1 > functionLines {
			problems = append(problems, problem{s.path, from, "the function is over 70 lines",
				"decide at the top, compute in pure functions below"})
		}
		return true
	})
	return problems
}

// badName looks for package names that say nothing, or that hide a package of the language.
func badName(s source, standard map[string]bool) []problem {
	_, file := parse(s)
	name := strings.TrimSuffix(file.Name.Name, "_test")
	empty := []string{"util", "utils", "common", "helper", "helpers", "model", "models", "types",
		"base", "misc", "shared", "lib", "core", "tools"}
	const fix = "name it by a noun of the trade, short and singular"
	if slices.Contains(empty, name) {
		return []problem{{s.path, 0, "package " + name + " says nothing", fix}}
	}
	if standard[name] && name != "main" {
		return []problem{{s.path, 0, "package " + name + " is also one of the language's", fix}}
	}
	return nil
}

// parse reads a Go file. One that cannot be parsed gives what could be read of it: the compiler
// says the rest.
func parse(s source) (*token.FileSet, *ast.File) {
	positions := token.NewFileSet()
	file, err := parser.ParseFile(positions, s.path, s.text, parser.ParseComments)
	if err != nil && file == nil {
		file = &ast.File{Name: ast.NewIdent("unreadable")}
	}
	return positions, file
}

// expect runs a rule on a text and compares the lines that it complains about.
func expect(t *testing.T, rule func(source) []problem, path, text string, lines ...int) {
	t.Helper()
	var got []int
	for _, p := range rule(source{path, text}) {
		got = append(got, p.line)
	}
	if !slices.Equal(got, lines) {
		t.Errorf("%q: complaints at lines %v, want %v", text[:min(len(text), 80)], got, lines)
	}
}

func TestTheSizeRulesThemselves(t *testing.T) {
	expect(t, longFile, "a.go", strings.Repeat("\n", 400))
	expect(t, longFile, "a.go", strings.Repeat("\n", 401), 401)
	expect(t, longFile, "a_test.go", strings.Repeat("\n", 600))
	expect(t, longLines, "a.go", strings.Repeat("é", 120)+"\n"+strings.Repeat("x", 121), 2)
	expect(t, longLines, "a.go", "\t"+strings.Repeat("x", 117), 1)
	expect(t, longLines, "a_test.go", strings.Repeat("x", 121))
	body := func(lines int) string {
		return "package a\nfunc f() {\n" + strings.Repeat("_ = 1\n", lines) + "}\n"
	}
	expect(t, longFunctions, "a.go", body(68))
	expect(t, longFunctions, "a.go", body(69), 2)
	named := func(s source) []problem { return badName(s, map[string]bool{"sync": true}) }
	expect(t, named, "a.go", "package util", 0)
	expect(t, named, "a.go", "package sync", 0)
	expect(t, named, "a_test.go", "package feed_test")
}
