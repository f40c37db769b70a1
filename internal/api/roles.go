package api

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hilum/internal/kind"
)

// parts are the roles in the order of the printed table.
var parts = []string{"owner", "consultant", "scout", "grower"}

// Roles prints who may do what: each route, and each kind of record with the values that no client
// may set. deploy/roles.md is this text.
func Roles() string {
	var out strings.Builder
	out.WriteString("# Who may do what\n\nPrinted by `hilum roles` from the tables that the program itself " +
		"goes by (`internal/api/rule.go`, `internal/kind/kind.go`). Do not edit.\n\n")
	out.WriteString("A grower is shown the fields of the own grower record only, and keeps nothing on the device. " +
		"Every other role sees all records of the account. Nobody sees another account.\n\n## Routes\n\n")
	head(&out, "route")
	for _, r := range (Deps{}).rules() {
		may := r.may
		name := r.method + " /api/v1" + r.path
		if may == nil {
			fmt.Fprintf(&out, "| `%s` | before sign-in ||||\n", name)
			continue
		}
		row(&out, "`"+name+"`", may)
	}
	out.WriteString("\n## Records, written through sync alone\n\n")
	head(&out, "kind")
	for _, name := range slices.Sorted(maps.Keys(kind.All)) {
		row(&out, name, kind.All[name].Writers)
	}
	out.WriteString("| conflict, result | the server alone ||||\n\n" +
		"A closed dig, a correction and a closed decision are never edited. " +
		"Values that the server alone sets: ")
	var served []string
	for _, name := range slices.Sorted(maps.Keys(kind.All)) {
		for _, field := range kind.All[name].ServedFields() {
			served = append(served, name+"."+field)
		}
	}
	out.WriteString(strings.Join(served, ", ") + ".\n\n## People\n\n" +
		"| value of a person | who sets it |\n|---|---|\n" +
		"| name, language, archived | the owner for all but other owners; " +
		"a consultant for scouts and growers |\n" +
		"| role, grower record | whoever adds the person, once |\n" +
		"| sign-in name, password, second step | the person alone |\n" +
		"| alias in the place of the name | the owner |\n" +
		"| device shut out | whoever looks after its person; nobody the one in use |\n" +
		"| session ended | its person; whoever shuts the device out |\n")
	return out.String()
}

func head(out *strings.Builder, first string) {
	fmt.Fprintf(out, "| %s | %s |\n|---|---|---|---|---|\n", first, strings.Join(parts, " | "))
}

func row(out *strings.Builder, name string, may []string) {
	fmt.Fprintf(out, "| %s |", name)
	for _, p := range parts {
		mark := " "
		if slices.Contains(may, p) {
			mark = " yes "
		}
		out.WriteString(mark + "|")
	}
	out.WriteString("\n")
}
