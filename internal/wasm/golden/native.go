//go:build !wasip1

package main

import (
	"fmt"
	"os"
)

// main runs the files named in the arguments natively, one reply on a line, so that the WebAssembly
// replies can be held against them.
func main() {
	for _, name := range os.Args[1:] {
		raw, err := os.ReadFile(name)
		if err != nil {
			fmt.Fprintln(os.Stderr, "reading the case:", err)
			os.Exit(1)
		}
		fmt.Println(string(answer(raw)))
	}
}
