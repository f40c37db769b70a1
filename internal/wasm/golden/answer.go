package main

import (
	"bytes"
	"encoding/json"

	"hilum/internal/golden"
	"hilum/internal/wire"
)

// answer runs a case file; a file that starts with a schema is a whole input and is evaluated.
func answer(raw []byte) []byte {
	var head struct {
		Schema int `json:"schema"`
	}
	if err := json.Unmarshal(raw, &head); err == nil && head.Schema != 0 {
		request := [][]byte{[]byte(`{"op":"evaluate","input":`), raw, []byte(`}`)}
		return wire.Handle(bytes.Join(request, nil))
	}
	out, err := json.Marshal(golden.Run(raw))
	if err != nil {
		return []byte(`{"faults":["writing the result"]}`)
	}
	return out
}
