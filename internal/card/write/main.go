// Command write writes the model cards anew, in every language. Run it with:
// go generate ./internal/card
package main

import (
	"bytes"
	"fmt"
	"os"

	"hilum/internal/card"
)

func main() {
	for _, language := range card.Languages {
		var out bytes.Buffer
		err := card.Write(&out, language)
		if err == nil {
			err = os.WriteFile(card.File(language), out.Bytes(), 0o644)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, "writing the model card:", err)
			os.Exit(1)
		}
	}
}
