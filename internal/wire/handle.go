package wire

import (
	"errors"
	"strconv"

	"hilum/internal/agro"
	"hilum/internal/fault"
)

// Request is what the phone asks its engine.
type Request struct {
	// Op: "evaluate" takes Input; "case", "dig" and "stop" take Records, Field and CropYear, "dig" also
	// Dig; "outline" takes Outline, Spots, and for these Field and CropYear, Area is what was typed;
	// "order" takes Round, and Records for their passes.
	Op       string         `json:"op"`
	Input    *agro.Input    `json:"input,omitempty"`
	Records  []Record       `json:"records,omitempty"`
	Field    string         `json:"field,omitempty"`
	CropYear int            `json:"cropYear,omitempty"`
	Dig      string         `json:"dig,omitempty"`
	Outline  Raw            `json:"outline,omitempty"` // a GeoJSON geometry
	Area     *agro.Quantity `json:"area,omitempty"`
	Round    *agro.Round    `json:"round,omitempty"`
	Spots    int            `json:"spots,omitempty"` // how many to suggest; below 0: as many as usual
}

// Answer is one evaluated case.
type Answer struct {
	Input     agro.Input  `json:"input"`
	InputHash string      `json:"inputHash"`
	Report    agro.Report `json:"report"`
}

// Reply answers a Request: one of them is set.
type Reply struct {
	OK      *Answer       `json:"ok,omitempty"`
	Outline *Outlined     `json:"outline,omitempty"`
	Dig     *agro.DigPart `json:"dig,omitempty"`
	Stop    *agro.Stop    `json:"stop,omitempty"`
	Order   *agro.Order   `json:"order,omitempty"`
	Error   *Problem      `json:"error,omitempty"`
}

// Evaluate checks, hashes and evaluates one input.
func Evaluate(in agro.Input) (Answer, error) {
	report, err := agro.Evaluate(in)
	if err != nil {
		return Answer{}, err
	}
	hash, err := Hash(in)
	if err != nil {
		return Answer{}, err
	}
	return Answer{Input: in, InputHash: hash, Report: report}, nil
}

// EvaluateCase is Case and Evaluate in one step.
func EvaluateCase(records []Record, field string, cropYear int) (Answer, error) {
	in, err := Case(records, field, cropYear)
	if err != nil {
		return Answer{}, err
	}
	return Evaluate(in)
}

// Handle answers one JSON Request with a JSON Reply; it never fails otherwise.
func Handle(raw []byte) []byte {
	reply, err := handle(raw)
	if err != nil {
		reply = Reply{Error: ProblemOf(err)}
	}
	e := encoder{}
	if reply.OK != nil {
		e = newEncoder()
	}
	if writeReply(&e, &reply); e.bad {
		return []byte(
			`{"error":{"code":"internal","message":"the answer cannot be written as JSON"}}`,
		)
	}
	return e.buf
}

// ReadInput decodes one engine input and refuses unknown keys. Faults are Invalid and name the
// key.
func ReadInput(raw []byte) (agro.Input, error) {
	var in agro.Input
	err := decode(raw, true, &in, readInput)
	return in, err
}

// WriteAnswer gives an answer as JSON, the same bytes as in a Reply. A number that is not finite
// is an internal fault.
func WriteAnswer(a Answer) ([]byte, error) {
	e := newEncoder()
	if writeAnswer(&e, &a); e.bad {
		return nil, fault.New(fault.Internal, "json", "the answer holds a number that is not finite")
	}
	return e.buf, nil
}

// WriteReport gives a report as JSON, the same bytes as in a Reply. A number that is not finite is an
// internal fault.
func WriteReport(r agro.Report) ([]byte, error) {
	e := newEncoder()
	if writeReport(&e, &r); e.bad {
		return nil, fault.New(fault.Internal, "json", "the report holds a number that is not finite")
	}
	return e.buf, nil
}

func handle(raw []byte) (Reply, error) {
	var req Request
	if err := decode(raw, true, &req, readRequest); err != nil {
		return Reply{}, err
	}
	switch {
	case req.Op == "case":
		answer, err := EvaluateCase(req.Records, req.Field, req.CropYear)
		return Reply{OK: &answer}, err
	case req.Op == "dig":
		dig, err := DigOf(req.Records, req.Field, req.CropYear, req.Dig)
		return Reply{Dig: &dig}, err
	case req.Op == "stop":
		stop, err := StopOf(req.Records, req.Field, req.CropYear)
		return Reply{Stop: &stop}, err
	case req.Op == "evaluate" && req.Input != nil:
		answer, err := Evaluate(*req.Input)
		return Reply{OK: &answer}, err
	case req.Op == "evaluate":
		return Reply{}, fault.At("input", "required", "is missing")
	case req.Op == "outline":
		seed := req.Field + "/" + strconv.Itoa(req.CropYear)
		outlined, err := Outline(req.Outline, req.Area, seed, req.Spots)
		return Reply{Outline: &outlined}, err
	case req.Op == "order" && req.Round != nil:
		order, err := InOrder(*req.Round, req.Records)
		return Reply{Order: &order}, err
	case req.Op == "order":
		return Reply{}, fault.At("round", "required", "is missing")
	}
	return Reply{}, fault.At("op", "word", "is %q, accepted: case, dig, evaluate, order, outline, stop", req.Op)
}

// ProblemOf gives an error as a client may see it: the words of a fault, nothing of any other.
func ProblemOf(err error) *Problem {
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind == fault.Internal {
		return &Problem{
			Code:    "internal",
			Message: "something went wrong on our side; nothing was stored",
		}
	}
	return &Problem{Code: f.Code, Field: f.Field, Message: f.Message}
}
