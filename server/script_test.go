package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hilum": main})
}

// TestCommandLine runs the scripts: each is a session at the command line with what it must print.
func TestCommandLine(t *testing.T) {
	cases, err := os.ReadDir("../testdata/evaluate")
	if err != nil || len(cases) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			return os.CopyFS(e.WorkDir+"/example", os.DirFS("../testdata/evaluate"))
		},
	})
}
