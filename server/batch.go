package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"runtime"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// One case a line in, one answer a line out, in the same order. A reader, a worker for each
// processor and a writer hand lines on; how many are on the way is bounded, and with it memory.

// ahead is how many lines may be on the way for each worker.
const ahead = 4

// job is one line on its way. done holds its answer, once.
type job struct {
	number int
	line   []byte
	long   bool // longer than maxCase: line is empty
	done   chan outcome
}

type outcome struct {
	text    []byte
	refused bool
}

// evaluateLines works out every line of a file. A line that is refused becomes
// {"line":N,"error":{...}} and touches no other; at the end it makes an Invalid fault.
func evaluateLines(ctx context.Context, name string) error {
	file, err := openCase(name)
	if err != nil {
		return err
	}
	defer file.Close()
	out := bufio.NewWriterSize(os.Stdout, 1<<16)
	refused, total, err := pump(ctx, file, out)
	if err == nil {
		err = out.Flush()
	}
	if err == nil && refused > 0 {
		err = fault.New(fault.Invalid, "batch", "%d of %d lines were refused", refused, total)
	}
	return err
}

// pump moves all lines from in to out. An error of reading, writing or of ctx ends it.
func pump(ctx context.Context, in io.Reader, out io.Writer) (refused, total int, err error) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	workers := runtime.GOMAXPROCS(0)
	todo := make(chan *job, workers*ahead)
	order := make(chan *job, workers*ahead)
	failed := make(chan error, 1)
	go func() {
		defer close(order)
		defer close(todo)
		failed <- readLines(ctx, in, todo, order)
	}()
	for range workers {
		go func() {
			for j := range todo {
				j.done <- j.work()
			}
		}()
	}
	for j := range order {
		o := <-j.done
		total++
		if o.refused {
			refused++
		}
		if _, err := out.Write(append(o.text, '\n')); err != nil {
			return refused, total, err
		}
	}
	return refused, total, <-failed
}

// readLines cuts the input into jobs.
func readLines(ctx context.Context, in io.Reader, todo, order chan<- *job) error {
	lines := bufio.NewReaderSize(in, 1<<16)
	for number := 1; ; number++ {
		line, long, err := readLine(lines)
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		j := &job{number, line, long, make(chan outcome, 1)}
		for _, to := range []chan<- *job{todo, order} {
			select {
			case to <- j:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
	}
}

// readLine reads one line without its end; of one that is too long nothing is kept.
func readLine(from *bufio.Reader) (line []byte, long bool, err error) {
	for {
		part, err := from.ReadSlice('\n')
		if err != nil && !errors.Is(err, bufio.ErrBufferFull) {
			if errors.Is(err, io.EOF) && len(line)+len(part) > 0 {
				return append(line, part...), long, nil
			}
			return nil, false, err
		}
		if long = long || len(line)+len(part) > maxCase; long {
			line = nil
		} else {
			line = append(line, part...)
		}
		if err == nil {
			return line, long, nil
		}
	}
}

// work evaluates the line.
func (j *job) work() outcome {
	text, err := j.answer()
	if err == nil {
		return outcome{text: text}
	}
	problem := struct {
		Line  int           `json:"line"`
		Error *wire.Problem `json:"error"`
	}{j.number, wire.ProblemOf(err)}
	if text, err = json.Marshal(problem); err != nil {
		text = []byte(`{"error":{"code":"internal","message":"the problem cannot be written"}}`)
	}
	return outcome{text, true}
}

func (j *job) answer() ([]byte, error) {
	if j.long {
		return nil, fault.New(fault.Invalid, "size", "the line is longer than 4 MiB")
	}
	in, err := wire.ReadInput(j.line)
	if err != nil {
		return nil, err
	}
	answer, err := wire.Evaluate(in)
	if err != nil {
		return nil, err
	}
	return wire.WriteAnswer(answer)
}
