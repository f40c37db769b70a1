// Command write writes the model cards anew, in every language. Run it with:
// go generate ./internal/card
package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"hilum/internal/card"
)

func main() {
	for _, language := range card.Languages {
		for name, write := range map[string]func(io.Writer, string) error{
			card.File(language): card.Write, card.PageFile(language): card.WritePage} {
			var out bytes.Buffer
			err := write(&out, language)
			if err == nil {
				err = os.WriteFile(name, out.Bytes(), 0o644)
			}
			if err != nil {
				fmt.Fprintln(os.Stderr, "writing the model card:", err)
				os.Exit(1)
			}
		}
	}
}
