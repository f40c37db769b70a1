//go:build wasip1

// Command wasm is the engine as a WebAssembly reactor for the phone: it takes a JSON request and
// gives a JSON reply. Build it with
//
//	GOOS=wasip1 GOARCH=wasm go build -buildmode=c-shared -trimpath -ldflags='-s -w'
package main

import (
	"unsafe"

	"hilum/internal/wire"
)

// The buffers live here so that the garbage collector leaves them alone between calls.
var request, reply []byte

// alloc gives the host room for a request of n bytes.
//
//go:wasmexport alloc
func alloc(n int32) unsafe.Pointer {
	if int(n) > cap(request) {
		request = make([]byte, n)
	}
	request = request[:n]
	return unsafe.Pointer(unsafe.SliceData(request))
}

// run answers the request in the buffer and gives the length of the reply.
//
//go:wasmexport run
func run() int32 {
	reply = wire.Handle(request)
	return int32(len(reply))
}

// out gives the address of the reply.
//
//go:wasmexport out
func out() unsafe.Pointer { return unsafe.Pointer(unsafe.SliceData(reply)) }

func main() {}
