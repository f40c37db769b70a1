package store

import (
	"context"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"hilum/internal/pgtest"
)

// TestEveryStatementPrepares reads the SQL out of this package's own source, so that a new
// statement cannot be forgotten.
func TestEveryStatementPrepares(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, pgtest.Database(t))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(ctx)
	statements := statementsOf(t)
	if len(statements) < 40 {
		t.Fatalf(
			"found %d statements, expected at least 40: is the search broken?",
			len(statements),
		)
	}
	for name, sql := range statements {
		if _, err := conn.Prepare(ctx, name, positional(sql)); err != nil {
			t.Errorf("%s does not prepare: %v", name, err)
		}
	}
	t.Logf("%d statements prepared", len(statements))
}

var (
	isSQL   = regexp.MustCompile(`^\s*(SELECT|INSERT|UPDATE|DELETE|WITH)\b`)
	isNamed = regexp.MustCompile(`@[a-z_0-9]+`)
)

// positional turns @name into $n, as pgx does.
func positional(sql string) string {
	seen := map[string]string{}
	return isNamed.ReplaceAllStringFunc(sql, func(name string) string {
		if seen[name] == "" {
			seen[name] = "$" + strconv.Itoa(len(seen)+1)
		}
		return seen[name]
	})
}

func statementsOf(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if spec, ok := n.(*ast.ValueSpec); ok {
				collectSQL(spec, found)
			}
			return true
		})
	}
	return found
}

func collectSQL(spec *ast.ValueSpec, found map[string]string) {
	for i, value := range spec.Values {
		lit, ok := value.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING || i >= len(spec.Names) {
			continue
		}
		if sql, err := strconv.Unquote(lit.Value); err == nil && isSQL.MatchString(sql) {
			found[spec.Names[i].Name] = strings.TrimSpace(sql)
		}
	}
}
