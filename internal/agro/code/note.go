// Package code holds the catalogue codes that the engine can emit, each with the names of its
// arguments. The engine returns codes and values; catalogues hold the words.
package code

// Note is a code with its arguments in order.
type Note struct {
	Code string
	Args []Arg
}

// Arg is one argument: a number with its unit, or, with Word set, another code.
type Arg struct {
	Name   string
	Number float64
	Unit   string
	Word   string
}

// Say makes a note.
func Say(code string, args ...Arg) Note { return Note{Code: code, Args: args} }

// Num makes a number argument.
func Num(name string, value float64, unit string) Arg {
	return Arg{Name: name, Number: value, Unit: unit}
}

// Word makes an argument that is itself a code.
func Word(name, code string) Arg { return Arg{Name: name, Word: code} }
