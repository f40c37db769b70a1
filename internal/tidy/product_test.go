package tidy

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The engine gives the same bits on the server and on the phone. Compilers for some processors
// fuse x*y+z into one operation that rounds once instead of twice, and only an explicit
// conversion forbids it. Functions of math beyond the exact ones differ by processor too.

// exact are the functions and values of math that have one right answer everywhere.
var exact = map[string]bool{
	"Abs": true, "Ceil": true, "Copysign": true, "Float64bits": true, "Float64frombits": true,
	"Floor": true, "Frexp": true, "Inf": true, "IsInf": true, "IsNaN": true, "Ldexp": true,
	"Max": true, "Min": true, "Mod": true, "Modf": true, "NaN": true, "Round": true,
	"RoundToEven": true, "Signbit": true, "Sqrt": true, "Trunc": true,
}

func TestTheEngineGivesTheSameBitsEverywhere(t *testing.T) {
	top := root(t)
	lookup := exports(t, top)
	for _, folder := range engineFolders(t, top) {
		positions := token.NewFileSet()
		files := parseFolder(t, positions, top, folder)
		if len(files) > 0 {
			report(t, unsteady(positions, files, importer.ForCompiler(positions, "gc", lookup)))
		}
	}
}

// engineFolders are the folders with the engine's arithmetic, as far as they exist.
func engineFolders(t *testing.T, top string) []string {
	t.Helper()
	folders := []string{"internal/num", "internal/unit", "internal/agro"}
	match, err := filepath.Glob(filepath.Join(top, "internal/agro/*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range match {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			folders = append(folders, relative(top, path))
		}
	}
	return folders
}

// exports lets the type checker read what the compiler knows of each imported package.
func exports(t *testing.T, top string) importer.Lookup {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-export", "-deps",
		"-f", "{{.ImportPath}}\t{{.Export}}", "./internal/...")
	cmd.Dir = top
	out, err := cmd.Output()
	if err != nil {
		t.Logf("go list: %v (packages that do not compile are left to the compiler)", err)
	}
	files := map[string]string{}
	for _, line := range strings.Split(string(out), "\n") {
		if name, file, found := strings.Cut(line, "\t"); found {
			files[name] = file
		}
	}
	return func(path string) (io.ReadCloser, error) { return os.Open(files[path]) }
}

func parseFolder(t *testing.T, positions *token.FileSet, top, folder string) []*ast.File {
	t.Helper()
	match, err := filepath.Glob(filepath.Join(top, folder, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, path := range match {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := relative(top, path)
		file, err := parser.ParseFile(positions, name, text, parser.SkipObjectResolution)
		if err != nil {
			t.Errorf("parsing: %v", err)
			continue
		}
		files = append(files, file)
	}
	return files
}

// unsteady lists what may give other bits on another processor, or on another day.
func unsteady(positions *token.FileSet, files []*ast.File, imports types.Importer) []problem {
	info := &types.Info{
		Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{},
	}
	// What does not compile is the compiler's to report; the rest is still checked.
	config := types.Config{Importer: imports, Error: func(error) {}}
	_, _ = config.Check("engine", positions, files, info)
	c := checker{info: info, positions: positions, wrapped: map[ast.Expr]bool{}}
	for _, file := range files {
		ast.Inspect(file, c.visit)
	}
	return c.problems
}

type checker struct {
	info      *types.Info
	positions *token.FileSet
	wrapped   map[ast.Expr]bool // arguments of conversions to a float type
	problems  []problem
}

func (c *checker) complain(at token.Pos, what, fix string) {
	where := c.positions.Position(at)
	c.problems = append(c.problems, problem{where.Filename, where.Line, what, fix})
}

func (c *checker) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		if c.info.Types[n.Fun].IsType() && c.isFloat(n.Fun) && len(n.Args) == 1 {
			c.wrapped[ast.Unparen(n.Args[0])] = true
		}
	case *ast.BinaryExpr:
		if n.Op == token.MUL && c.isFloat(n) && !c.wrapped[n] {
			c.complain(n.OpPos, "this product may be fused with a sum",
				"write float64(x * y), or a conversion to a named float type")
		}
	case *ast.AssignStmt:
		if n.Tok == token.MUL_ASSIGN && c.isFloat(n.Lhs[0]) {
			c.complain(n.TokPos, "this product may be fused with a sum", "write x = float64(x * y)")
		}
	case *ast.GoStmt:
		c.complain(n.Pos(), "the engine starts a goroutine", "compute in order")
	case *ast.Ident:
		c.visitName(n)
	}
	return true
}

// visitName looks at a name that comes from another package.
func (c *checker) visitName(n *ast.Ident) {
	used := c.info.Uses[n]
	if used == nil || used.Pkg() == nil {
		return
	}
	_, constant := used.(*types.Const)
	switch used.Pkg().Path() {
	case "math":
		if !constant && !exact[n.Name] {
			c.complain(n.Pos(), "math."+n.Name+" differs between processors",
				"take Exp and Log from package num; use only the exact functions of math")
		}
	case "time":
		if n.Name == "Now" || n.Name == "Since" || n.Name == "Until" {
			c.complain(n.Pos(), "the engine asks for the time", "take the date as an argument")
		}
	}
}

// isFloat reports whether an expression is a float that is computed at run time, or a type.
func (c *checker) isFloat(e ast.Expr) bool {
	known, ok := c.info.Types[e]
	if !ok || known.Value != nil {
		return false
	}
	basic, ok := known.Type.Underlying().(*types.Basic)
	return ok && basic.Info()&(types.IsFloat|types.IsComplex) != 0
}

func TestTheProductRuleItself(t *testing.T) {
	const text = `package a
import ("math"; "time")
type kg float64
const half = 0.5 * 3.0
func f(x, y, z float64, n int, k kg) float64 {
	x = float64(x*y) + z
	x += float64((x * y))
	k = kg(k*k) + k
	n = n * n
	x = x * y
	x *= y
	x = float64(x*y*z)
	x = math.Exp(x) + math.Sqrt(x) + math.Pi
	_ = time.Now()
	return x
}`
	rule := func(s source) []problem {
		positions := token.NewFileSet()
		file, err := parser.ParseFile(positions, "a.go", s.text, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		imports := importer.ForCompiler(positions, "source", nil)
		return unsteady(positions, []*ast.File{file}, imports)
	}
	expect(t, rule, "a.go", text, 10, 11, 12, 13, 14)
}
