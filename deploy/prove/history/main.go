// Command history checks what phones saw against what a database holds, from a recorded log alone.
// It shares no code with the program or with what wrote the log: its rules are its own.
//
//	go run ./deploy/prove/history FILE
//
// The log is JSON lines, in the order in which things happened to the recorder:
//
//	{"e":"invoke","op":1,"dev":"d","push":[{"n":1,"rec":"r"}],"cursor":0,"epoch":""}
//	{"e":"ok","op":1,"epoch":"x","head":3,"cursor":3,"reset":false,
//	    "acks":[{"n":1,"outcome":"applied","seq":2}],"rows":[{"id":"r","seq":2,"sum":"s"}]}
//	{"e":"fail","op":1}       refused for certain: nothing of it was taken
//	{"e":"unknown","op":1}    no answer, or one that says nothing about the push
//	{"e":"final","dev":"d","rows":[...]}   what a phone holds at the end, live rows
//	{"e":"truth","head":3,"rows":[...],"mutations":[{"dev":"d","n":1,"outcome":"applied","seq":2}]}
package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
)

// event is one line.
type event struct {
	E         string     `json:"e"`
	Op        int        `json:"op"`
	Dev       string     `json:"dev"`
	Push      []pushed   `json:"push"`
	Epoch     string     `json:"epoch"`
	Head      int64      `json:"head"`
	Cursor    int64      `json:"cursor"`
	Reset     bool       `json:"reset"`
	Acks      []ack      `json:"acks"`
	Rows      []row      `json:"rows"`
	Mutations []mutation `json:"mutations"`
}

type pushed struct {
	N   int64  `json:"n"`
	Rec string `json:"rec"`
}

type ack struct {
	N       int64  `json:"n"`
	Outcome string `json:"outcome"`
	Seq     int64  `json:"seq"`
}

type row struct {
	ID  string `json:"id"`
	Seq int64  `json:"seq"`
	Sum string `json:"sum"`
	Del bool   `json:"del"`
}

type mutation struct {
	Dev string `json:"dev"`
	ack
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "history: name one log")
		os.Exit(2)
	}
	file, err := os.Open(os.Args[1])
	if err != nil {
		fmt.Fprintf(os.Stderr, "history: %v\n", err)
		os.Exit(2)
	}
	defer file.Close()
	events, err := read(file)
	if err != nil {
		fmt.Fprintf(os.Stderr, "history: %v\n", err)
		os.Exit(2)
	}
	faults := check(events)
	for i, f := range faults {
		if i == 20 {
			fmt.Printf("and %d more\n", len(faults)-i)
			break
		}
		fmt.Println(f)
	}
	fmt.Printf("%d events, %d faults\n", len(events), len(faults))
	if len(faults) > 0 {
		os.Exit(1)
	}
}

func read(in io.Reader) ([]event, error) {
	const longest = 64 << 20
	var events []event
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, longest)
	for n := 1; lines.Scan(); n++ {
		var e event
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		events = append(events, e)
	}
	return events, lines.Err()
}
