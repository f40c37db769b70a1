package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"strings"

	"hilum/internal/card"
	"hilum/internal/explain"
	"hilum/internal/fault"
	"hilum/internal/wire"
)

// The subcommands that ask the engine. They need no database.

// maxCase bounds the JSON of one case.
const maxCase = 4 << 20

// evaluate works one case out: an engine input in, hash and whole report out. With --batch it does
// so for every line.
func evaluate(ctx context.Context, args []string) error {
	batch, args := takeFlag(args, "--batch")
	if len(args) != 1 {
		return fault.New(fault.Invalid, "usage",
			"evaluate takes one file, or - for standard input; with --batch it holds a case a line")
	}
	if batch {
		return evaluateLines(ctx, args[0])
	}
	answer, err := answerFile(args[0])
	if err != nil {
		return err
	}
	raw, err := wire.WriteAnswer(answer)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := json.Indent(&out, raw, "", "  "); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err = out.WriteTo(os.Stdout)
	return err
}

// explainField prints the working of one case as text.
func explainField(_ context.Context, args []string) error {
	language, args, err := takeLanguage(args)
	if err != nil {
		return err
	}
	if len(args) != 1 {
		return fault.New(fault.Invalid, "usage",
			"explain takes one file, or - for standard input, and --lang en or fr")
	}
	answer, err := answerFile(args[0])
	if err != nil {
		return err
	}
	return explain.Report(os.Stdout, answer.Report, language)
}

// listCrops prints what the engine knows of all crops, or of one.
func listCrops(_ context.Context, args []string) error {
	language, args, err := takeLanguage(args)
	if err != nil {
		return err
	}
	if len(args) > 1 {
		return fault.New(fault.Invalid, "usage", "crops takes one crop at most, and --lang en or fr")
	}
	return explain.Crops(os.Stdout, strings.Join(args, ""), language)
}

// listSources prints the register of sources.
func listSources(_ context.Context, args []string) error {
	language, args, err := takeLanguage(args)
	if err != nil {
		return err
	}
	if len(args) > 0 {
		return fault.New(fault.Invalid, "usage", "sources takes --lang en or fr only")
	}
	return explain.Sources(os.Stdout, language)
}

// printCard prints the model card with the residuals as the engine has them now.
func printCard(_ context.Context, args []string) error {
	language, args, err := takeLanguage(args)
	if err != nil {
		return err
	}
	if len(args) > 0 {
		return fault.New(fault.Invalid, "usage", "model-card takes --lang en or fr only")
	}
	return card.Write(os.Stdout, language)
}

func answerFile(name string) (wire.Answer, error) {
	raw, err := readCase(name)
	if err != nil {
		return wire.Answer{}, err
	}
	in, err := wire.ReadInput(raw)
	if err != nil {
		return wire.Answer{}, fault.Under(name, err)
	}
	return wire.Evaluate(in)
}

func readCase(name string) ([]byte, error) {
	file, err := openCase(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, maxCase+1))
	if err != nil {
		return nil, fault.New(fault.Invalid, "file", "cannot read %s", name)
	}
	if len(raw) > maxCase {
		return nil, fault.New(fault.Invalid, "size", "%s is larger than 4 MiB", name)
	}
	return raw, nil
}

func openCase(name string) (*os.File, error) {
	if name == "-" {
		return os.Stdin, nil
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, fault.New(fault.Invalid, "file", "cannot open %s", name)
	}
	return file, nil
}

// takeFlag takes a flag out of the arguments and says whether it was there.
func takeFlag(args []string, name string) (found bool, rest []string) {
	for _, a := range args {
		if a == name {
			found = true
			continue
		}
		rest = append(rest, a)
	}
	return found, rest
}

// takeLanguage takes --lang WORD or --lang=WORD out of the arguments; English where there is none.
func takeLanguage(args []string) (language string, rest []string, err error) {
	language = explain.Languages[0]
	for i := 0; i < len(args); i++ {
		word, joined := strings.CutPrefix(args[i], "--lang=")
		switch {
		case joined:
			language = word
		case args[i] == "--lang" && i+1 < len(args):
			i++
			language = args[i]
		case args[i] == "--lang":
			return "", nil, fault.New(fault.Invalid, "usage", "--lang needs a language, en or fr")
		default:
			rest = append(rest, args[i])
		}
	}
	return language, rest, nil
}
