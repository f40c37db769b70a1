// Command speed times the engine on one case, natively, and prints one JSON object: processor
// milliseconds of the engine alone and of a whole request (JSON in, JSON out), and the figures of
// the compared plans. The programs beside it hold the same work in WebAssembly and in numpy against
// it:
//
//	go run ./deploy/prove/speed [-rounds 200] testdata/evaluate/pea-all-plans-priced.json
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"syscall"
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
	out.Engine = each(rounds, func() { _, _ = agro.Evaluate(in) })
	out.Request = each(rounds, func() { wire.Handle(request) })
	return json.NewEncoder(os.Stdout).Encode(out)
}

// each gives the processor time of one run, in milliseconds. The clock on the wall would measure
// who else uses the machine.
func each(rounds int, work func()) float64 {
	began := processor()
	for range rounds {
		work()
	}
	return float64((processor() - began).Microseconds()) / 1000 / float64(rounds)
}

// processor gives the processor time used so far, all threads together.
func processor() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		return 0
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
