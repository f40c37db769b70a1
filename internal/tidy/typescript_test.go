package tidy

import (
	"regexp"
	"strings"
	"testing"
)

// habit is something that TypeScript allows and this project does not.
type habit struct {
	pattern *regexp.Regexp
	what    string
	fix     string
}

var habits = []habit{
	{regexp.MustCompile(`([:<|&]|\bas|=>|,)\s*any\s*([;,)>=|&\[\]{}]|$)|\bany\[\]`),
		"any switches the compiler off", "use unknown and narrow it, or the real type"},
	{regexp.MustCompile(`[\w)\]]!([^=]|$)`),
		"! claims what nobody checked", "handle the missing value, or narrow it before"},
	{regexp.MustCompile(`\benum\s+\w+\s*\{`),
		"an enum is code where a type would do", "use a union of literal strings"},
	{regexp.MustCompile(`\bexport\s+default\b|\bas default\b`),
		"a default export has no name of its own", "export it by name"},
	{regexp.MustCompile(`\bexport\s+\*`),
		"a barrel hides where things come from", "import from the file itself"},
	{regexp.MustCompile(`\binnerHTML\b|\bdangerouslySetInnerHTML\b|\beval\(`),
		"text becomes code or markup", "use text content and elements"},
}

// silenced is looked for in comments, which the other habits skip.
var silenced = habit{regexp.MustCompile(`@ts-(ignore|nocheck|expect-error)|eslint-disable`),
	"the compiler is silenced", "make the types true"}

func TestTypeScriptKeepsTheCompilerHonest(t *testing.T) {
	wanted := func(s source) bool {
		// Declarations describe what the build gives; its form is not ours to choose.
		return hasEnding(s.path, ".ts", ".tsx") && !strings.HasSuffix(s.path, ".d.ts") &&
			strings.HasPrefix(s.path, "pwa/src/")
	}
	report(t, each(sources(t), wanted, badHabits))
}

func badHabits(s source) []problem {
	var problems []problem
	plain := strings.Split(strip(s.text), "\n")
	for i, line := range strings.Split(s.text, "\n") {
		for _, h := range habits {
			if h.pattern.MatchString(plain[i]) {
				problems = append(problems, problem{s.path, i + 1, h.what, h.fix})
			}
		}
		if silenced.pattern.MatchString(line) {
			problems = append(problems, problem{s.path, i + 1, silenced.what, silenced.fix})
		}
	}
	return problems
}

var (
	closing = map[string]string{"//": "\n", "/*": "*/", "'": "'", "\"": "\"", "`": "`"}
	opening = []string{"//", "/*", "'", "\"", "`"}
	literal = regexp.MustCompile(`[(=,:]\s*/(\\.|\[[^\]\n]*\]|[^/\\\n*\[])` +
		`(\\.|\[[^\]\n]*\]|[^/\\\n\[])*/`)
	spoken = regexp.MustCompile(`>[^<>{}()=;]+</`)
)

// strip empties comments, strings, regular expressions and text between tags, and keeps the
// lines. It is no parser: an apostrophe between tags over several lines can mislead it, and the
// end of the line brings it back.
func strip(text string) string {
	text = literal.ReplaceAllStringFunc(text, func(m string) string { return m[:1] })
	text = spoken.ReplaceAllStringFunc(text, func(m string) string {
		return ">" + strings.Repeat("\n", strings.Count(m, "\n")) + "</"
	})
	var out strings.Builder
	for len(text) > 0 {
		open := opener(text)
		if open == "" {
			out.WriteByte(text[0])
			text = text[1:]
			continue
		}
		inside := text[:skipped(text, open)]
		out.WriteString(`''`)
		out.WriteString(strings.Repeat("\n", strings.Count(inside, "\n")))
		text = text[len(inside):]
	}
	return out.String()
}

// opener is the mark at the start of the text that begins something to skip, or "".
func opener(text string) string {
	for _, open := range opening {
		if strings.HasPrefix(text, open) {
			return open
		}
	}
	return ""
}

// skipped is the length of a comment or string that begins the text.
func skipped(text, open string) int {
	end := closing[open]
	for i := len(open); i < len(text); i++ {
		switch {
		case strings.HasPrefix(text[i:], end):
			return i + len(end)
		case text[i] == '\\':
			i++
		case text[i] == '\n' && (open == "'" || open == `"`):
			return i
		}
	}
	return len(text)
}

func TestTheTypeScriptRulesThemselves(t *testing.T) {
	bad := []string{
		"const a: any = 1", "f(x as any)", "const a: any[] = []", "type T = Map<string, any>",
		"a!.b", "f(a!)", "const b = list[0]!;", "const c = f()!", "enum A { B }",
		"export default f", "export { f as default }", "export * from './a'",
		"// @ts-ignore", "a.innerHTML = b",
	}
	for _, text := range bad {
		expect(t, badHabits, "pwa/src/a.ts", "fine\n"+text+"\nfine", 2)
	}
	good := []string{
		"if (!a) return", "a !== b", "a!==b", "// any enum! export default", "'a! any'", "`x!`",
		"const any_ = 1", "/* any\nthing! */", `const r = /any!/.test(s)`, "type A = 'a' | 'b'",
		"<p>Is there any signal? Good!</p>", "const company = many", `f("it's any")`,
		"don't\nconst x = 1",
	}
	for _, text := range good {
		expect(t, badHabits, "pwa/src/a.ts", text)
	}
}
