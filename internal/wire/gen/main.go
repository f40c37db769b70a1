// Command gen writes what follows from the Go shapes, so that there is one contract: the client's
// types, and the engine's JSON codec. Run it with: go generate ./internal/wire
package main

import (
	"fmt"
	"os"
	"reflect"
	"strings"
)

func main() {
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(client, codec string) error {
	text, err := engineCodec()
	if err != nil {
		return err
	}
	if err := os.WriteFile(codec, text, 0o644); err != nil {
		return err
	}
	return os.WriteFile(client, []byte(clientTypes()), 0o644)
}

// nameOf gives a struct its name in what is generated. The engine's own Dig, Pass, Season and
// SoilTest share a name with record bodies and take the prefix Engine.
func nameOf(t reflect.Type) string {
	clash := map[string]bool{"Dig": true, "Pass": true, "Season": true, "SoilTest": true}[t.Name()]
	if clash && strings.HasSuffix(t.PkgPath(), "/agro") {
		return "Engine" + t.Name()
	}
	return t.Name()
}

// keyOf gives a field's key, and whether an empty value is left out.
func keyOf(f reflect.StructField) (key string, omitted bool) {
	key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	return key, strings.Contains(options, "omitempty")
}

func isRaw(t reflect.Type) bool {
	return t.PkgPath() == "encoding/json" && t.Name() == "RawMessage"
}
