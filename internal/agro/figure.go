package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/cite"
)

// The small makers below are called in a hundred places. Kept out of line they save the phone 48 kB
// of WebAssembly.

// say turns a note of the lower floors into a message.
//
//go:noinline
func say(n code.Note) Message {
	return Message{Code: n.Code, Args: arguments(n.Args)}
}

func arguments(args []code.Arg) map[string]Arg {
	if len(args) == 0 {
		return nil
	}
	out := make(map[string]Arg, len(args))
	for _, a := range args {
		if a.Word != "" {
			out[a.Name] = Arg{Code: a.Word}
			continue
		}
		v := a.Number
		out[a.Name] = Arg{Number: &v, Unit: a.Unit}
	}
	return out
}

// tell is say for a code with its arguments.
//
//go:noinline
func tell(name string, args ...code.Arg) Message { return say(code.Say(name, args...)) }

func sayAll(notes []code.Note) []Message {
	out := []Message{}
	for _, n := range notes {
		out = append(out, say(n))
	}
	return out
}

// known makes a figure with a value.
//
//go:noinline
func known(v float64, unit, kind string, sources ...string) Figure {
	return Figure{Value: &v, Unit: unit, Kind: kind, Sources: sources}
}

// unknown makes a figure that says why it has no value.
//
//go:noinline
func unknown(unit, kind string, why Message, sources ...string) Figure {
	return Figure{Unit: unit, Kind: kind, Unknown: &why, Sources: sources}
}

// between adds the range of a figure.
//
//go:noinline
func (f Figure) between(low, high float64) Figure {
	f.Low, f.High = &low, &high
	return f
}

// around adds the range of a chance: the chance with the model's part of the soil's spread at its
// 10 and 90 % points, widened where need be to hold the chance itself, which averages over the
// tails too.
//
//go:noinline
func (f Figure) around(low, high float64) Figure {
	return f.between(min(low, *f.Value), max(high, *f.Value))
}

// step adds a line of the working.
//
//go:noinline
func (f Figure) step(name string, value float64, unit string, args ...code.Arg) Figure {
	f.Steps = append(f.Steps, Step{Code: name, Args: arguments(args), Value: value, Unit: unit})
	return f
}

// kindOf gives the kind of a depth: what a laboratory measured is derived from it by a published
// factor, unless the factor is from memory.
func kindOf(rule string) (kind, source string) {
	switch rule {
	case "2per6in":
		return cite.Derived, cite.PPMPerSixInches
	case "0.3perInch":
		return cite.Memory, cite.PPMPerInch
	}
	return cite.Derived, ""
}
