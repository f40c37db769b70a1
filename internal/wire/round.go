package wire

import (
	"hilum/internal/agro"
	"hilum/internal/fault"
)

// InOrder puts the fields of a round in the order that pays, each with its passes out of the
// account's records: all of them, whichever crop year they belong to, since a label does not ask.
func InOrder(round agro.Round, records []Record) (agro.Order, error) {
	of := map[string][]agro.Pass{}
	for _, r := range records {
		if r.Kind != "pass" {
			continue
		}
		var p Pass
		if err := decode(r.Body, false, &p, readPass); err != nil {
			return agro.Order{}, fault.Under(r.Kind, err)
		}
		of[p.Field] = append(of[p.Field], p.Pass)
	}
	for i := range round.Stops {
		s := &round.Stops[i]
		s.Passes = append(s.Passes, of[s.Field]...)
	}
	return agro.InOrder(round)
}

// DigOf evaluates a field's crop year and gives what it says of one dig, which a phone asks for after
// every plant. A dig that is not among the records is refused.
func DigOf(records []Record, field string, cropYear int, dig string) (agro.DigPart, error) {
	answer, err := EvaluateCase(records, field, cropYear)
	if err != nil {
		return agro.DigPart{}, err
	}
	for _, part := range answer.Report.Digs {
		if part.ID == dig {
			return part, nil
		}
	}
	return agro.DigPart{}, fault.At("dig", "reference", "is %q, accepted: a dig among the records", dig)
}

// StopOf evaluates a field's crop year and gives what a walk needs of it: a small part of a report,
// so that a phone with many fields need not read them all.
func StopOf(records []Record, field string, cropYear int) (agro.Stop, error) {
	in, err := Case(records, field, cropYear)
	if err != nil {
		return agro.Stop{}, err
	}
	report, err := agro.Evaluate(in)
	if err != nil {
		return agro.Stop{}, err
	}
	for _, r := range records {
		if r.Kind != "field" || r.ID != field {
			continue
		}
		var f Field
		err := decode(r.Body, false, &f, readField)
		return agro.StopOf(field, f.Area, report), err
	}
	return agro.StopOf(field, nil, report), nil
}
