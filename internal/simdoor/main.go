//go:build js && wasm

// Command simdoor is the shipped feed and merge over a log in memory, for the simulation of many
// phones. It runs inside Node: the host hands a JSON request to the global function simdoor and
// gets a JSON reply. It can crash at each transaction boundary, come back from an earlier copy and,
// to test the simulation itself, carry one planted fault. Build it with
//
//	GOOS=js GOARCH=wasm go build ./internal/simdoor
//
// js and not wasip1, since wire's half for the phone's engine has no decoder for what syncs.
package main

import (
	"encoding/json"
	"syscall/js"
	_ "time/tzdata" // settings name a time zone, and there are no files here
)

func main() {
	var w world
	js.Global().Set("simdoor", js.FuncOf(func(_ js.Value, args []js.Value) any {
		var req request
		if err := json.Unmarshal([]byte(args[0].String()), &req); err != nil {
			panic(err) // the host is a program of ours
		}
		reply := w.do(req)
		raw, err := json.Marshal(reply)
		if err != nil {
			panic(err) // a reply of ours that cannot be encoded is a defect of this program
		}
		return string(raw)
	}))
	select {}
}
