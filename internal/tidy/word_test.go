package tidy

import (
	"go/ast"
	"strings"
	"testing"
)

// foreign are words that tie the project to one machine or one mirror. They are put together
// here so that this file does not hold them itself.
var foreign = map[string]string{
	"/wor" + "k/":              "a path of one machine: say it from the top folder",
	"registry." + "npmjs":      "a registry's address: lock files go without (see pwa/.npmrc)",
	"proxy." + "golang":        "a proxy's address: the go command knows it",
	"deb.deb" + "ian.org":      "a mirror's address: the package manager knows it",
	"\"resol" + "ved\": \"htt": "a download address: make the lock file anew with pwa/.npmrc",
}

func TestNothingTiesTheProjectToOneMachine(t *testing.T) {
	var problems []problem
	for _, s := range sources(t) {
		problems = append(problems, foreignWords(s)...)
	}
	report(t, problems)
}

func TestExportedNamesAreDocumented(t *testing.T) {
	wanted := func(s source) bool { return goCode(s) && !s.isTest() }
	report(t, each(sources(t), wanted, undocumented))
}

func TestPackagesHaveACommentThatSaysWhatFor(t *testing.T) {
	commented, first := map[string]bool{}, map[string]string{}
	for _, s := range sources(t) {
		if !goCode(s) {
			continue
		}
		folder := s.path[:strings.LastIndex(s.path, "/")+1]
		_, file := parse(s)
		commented[folder] = commented[folder] || file.Doc != nil
		if first[folder] == "" {
			first[folder] = s.path
		}
	}
	for folder, path := range first {
		if !commented[folder] {
			t.Error(problem{path, 1, "its package has no comment",
				"write one in the main file: what it is for, what it trusts, what can fail"})
		}
	}
}

func foreignWords(s source) []problem {
	var problems []problem
	for i, line := range strings.Split(s.text, "\n") {
		for word, fix := range foreign {
			if strings.Contains(line, word) {
				problems = append(problems, problem{s.path, i + 1, "it holds " + word, fix})
			}
		}
	}
	return problems
}

// undocumented lists exported names without a comment. A comment on a group serves its members.
func undocumented(s source) []problem {
	positions, file := parse(s)
	var problems []problem
	complain := func(name *ast.Ident, docs ...*ast.CommentGroup) {
		for _, doc := range docs {
			if doc != nil {
				return
			}
		}
		if name.IsExported() {
			problems = append(problems, problem{s.path, positions.Position(name.Pos()).Line,
				name.Name + " has no comment",
				"say its contract, the faults it returns, the edge cases; or unexport it"})
		}
	}
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if ast.IsExported(receiver(d)) {
				complain(d.Name, d.Doc)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					complain(spec.Name, d.Doc, spec.Doc, spec.Comment)
				case *ast.ValueSpec:
					complain(spec.Names[0], d.Doc, spec.Doc, spec.Comment)
				}
			}
		}
	}
	return problems
}

// receiver is the name of a method's type, or the function's own name.
func receiver(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return f.Name.Name
	}
	kind := f.Recv.List[0].Type
	if star, ok := kind.(*ast.StarExpr); ok {
		kind = star.X
	}
	if generic, ok := kind.(*ast.IndexExpr); ok {
		kind = generic.X
	}
	if name, ok := kind.(*ast.Ident); ok {
		return name.Name
	}
	return ""
}

func TestTheWordRulesThemselves(t *testing.T) {
	expect(t, foreignWords, "a.md", "fine\nsee /wor"+"k/main", 2)
	expect(t, undocumented, "a.go", "package a\nfunc F() {}\n// G is.\nfunc G() {}\nfunc h() {}", 2)
	expect(t, undocumented, "a.go", "package a\ntype t int\nfunc (t t) M() {}")
	expect(t, undocumented, "a.go", "package a\n// T is.\ntype T int\nfunc (t *T) M() {}", 4)
	expect(t, undocumented, "a.go", "package a\n// All.\nconst (\nA = 1\nB = 2\n)\nvar C = 1", 7)
}
