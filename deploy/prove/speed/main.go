// Command speed times the engine on one case, natively, and prints one JSON object: milliseconds of
// the engine alone and of a whole request (JSON in, JSON out), and the figures of the compared
// plans. The programs beside it hold the same work in WebAssembly and in numpy against it:
//
//	go run ./deploy/prove/speed [-rounds 200] testdata/evaluate/pea-all-plans-priced.json
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
	"time"

	"hilum/internal/agro"
	"hilum/internal/wire"
)

// result is what the other programs read.
type result struct {
	Engine  float64       `json:"engine"`  // ms
	Request float64       `json:"request"` // ms
	Options []agro.Option `json:"options"`
}

func main() {
	rounds := flag.Int("rounds", 200, "how often the case is worked out")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "speed takes one case file")
		os.Exit(2)
	}
	if err := run(flag.Arg(0), *rounds); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(name string, rounds int) error {
	raw, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	in, err := wire.ReadInput(raw)
	if err != nil {
		return err
	}
	report, err := agro.Evaluate(in)
	if err != nil {
		return err
	}
	request := bytes.Join([][]byte{[]byte(`{"op":"evaluate","input":`), raw, []byte(`}`)}, nil)
	out := result{Options: report.Inoculation.Options}
	out.Engine = quick(rounds, func() { _, _ = agro.Evaluate(in) })
	out.Request = quick(rounds, func() { wire.Handle(request) })
	return json.NewEncoder(os.Stdout).Encode(out)
}

// quick gives the time that one run in ten stays under, in milliseconds: on a machine that others
// use too, the middle would measure them.
func quick(rounds int, work func()) float64 {
	times := make([]float64, rounds)
	for i := range times {
		began := time.Now()
		work()
		times[i] = float64(time.Since(began).Nanoseconds()) / 1e6
	}
	slices.Sort(times)
	return times[rounds/10]
}
