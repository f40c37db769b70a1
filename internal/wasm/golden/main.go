//go:build wasip1

// Command golden is the golden cases' runner as a WebAssembly reactor, for tests only: the request
// is a case file or an engine request, the reply is its result.
package main

import "unsafe"

var request, reply []byte

//go:wasmexport alloc
func alloc(n int32) unsafe.Pointer {
	request = make([]byte, n)
	return unsafe.Pointer(unsafe.SliceData(request))
}

//go:wasmexport run
func run() int32 {
	reply = answer(request)
	return int32(len(reply))
}

//go:wasmexport out
func out() unsafe.Pointer { return unsafe.Pointer(unsafe.SliceData(reply)) }

func main() {}
