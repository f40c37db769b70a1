package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"sync"
)

// journal writes the history, a line an event, in the order in which they happened here.
type journal struct {
	path string
	mu   sync.Mutex
	file *os.File
	out  *bufio.Writer
	op   int
}

func newJournal(path string) (*journal, error) {
	file, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	return &journal{path: path, file: file, out: bufio.NewWriter(file)}, nil
}

func (j *journal) write(event map[string]any) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.line(event)
}

func (j *journal) line(event map[string]any) {
	raw, err := json.Marshal(event)
	if err != nil {
		panic(fmt.Sprintf("an event of ours that is not JSON: %v", err))
	}
	_, _ = j.out.Write(append(raw, '\n')) // an error stays in the writer, and close gives it
}

// invoke writes the beginning of an operation and gives its number.
func (j *journal) invoke(event map[string]any) int {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.op++
	event["e"], event["op"] = "invoke", j.op
	j.line(event)
	return j.op
}

func (j *journal) close() error { return errors.Join(j.out.Flush(), j.file.Close()) }
