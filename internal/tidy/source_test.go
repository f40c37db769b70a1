// Package tidy is the house style as tests: a rule that no test enforces is forgotten. Each
// failure says where, what and how to put it right. The rules themselves are tested too.
package tidy

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// source is one text file of the project.
type source struct {
	path string // from the top folder, with slashes
	text string
}

// problem is one breach of a rule.
type problem struct {
	path string
	line int // 0: the whole file
	what string
	fix  string
}

func (p problem) String() string {
	where := p.path
	if p.line > 0 {
		where = fmt.Sprintf("%s:%d", p.path, p.line)
	}
	return fmt.Sprintf("%s: %s\n\tfix: %s", where, p.what, p.fix)
}

// report fails the test for each problem.
func report(t *testing.T, problems []problem) {
	t.Helper()
	for _, p := range problems {
		t.Error(p)
	}
}

// root is the top folder, found by its go.mod.
func root(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for !exists(filepath.Join(dir, "go.mod")) {
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod above the tests")
		}
		dir = filepath.Dir(dir)
	}
	return dir
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// unkept are folders that are made, not written.
var unkept = []string{".git", ".data", ".build", "node_modules", "pictures", "pwa/site/app"}

// textEndings are the kinds of file that people write here.
var textEndings = []string{".go", ".ts", ".tsx", ".mjs", ".css", ".html", ".sql", ".sh", ".md",
	".yml", ".yaml", ".json", ".mod", ".webmanifest", ".svg", "Dockerfile", "Caddyfile",
	"deploy/run", "deploy/test", ".ci/run", ".npmrc", ".gitignore"}

// sources reads every text file of the project.
func sources(t *testing.T) []source {
	t.Helper()
	top := root(t)
	var found []source
	err := filepath.WalkDir(top, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := relative(top, path)
		if slices.Contains(unkept, name) || slices.Contains(unkept, entry.Name()) {
			if !entry.IsDir() {
				return nil // in a worktree .git is a file
			}
			return fs.SkipDir
		}
		if entry.IsDir() || !hasEnding(name, textEndings...) {
			return nil
		}
		text, err := os.ReadFile(path)
		found = append(found, source{name, string(text)})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) < 10 {
		t.Fatalf("only %d files below %s: the tests look in the wrong place", len(found), top)
	}
	return found
}

func relative(top, path string) string {
	name, err := filepath.Rel(top, path)
	if err != nil {
		return path
	}
	return filepath.ToSlash(name)
}

func hasEnding(name string, endings ...string) bool {
	return slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(name, e) })
}

// generated reports whether a machine wrote the file; only its generator can be tidied.
func (s source) generated() bool {
	return strings.Contains(s.path, ".gen.") || strings.HasSuffix(s.path, "package-lock.json") ||
		strings.Contains(s.text[:min(len(s.text), 200)], "Code generated")
}

// isTest reports whether the file is part of the tests.
func (s source) isTest() bool {
	return hasEnding(s.path, "_test.go", ".test.ts", ".test.tsx", ".test.mjs") ||
		strings.Contains(s.path, "pwa/tests/") || strings.HasPrefix(s.path, "deploy/prove/")
}

// each applies a rule to the files that it is for.
func each(all []source, wanted func(source) bool, rule func(source) []problem) []problem {
	var problems []problem
	for _, s := range all {
		if wanted(s) && !s.generated() {
			problems = append(problems, rule(s)...)
		}
	}
	return problems
}
