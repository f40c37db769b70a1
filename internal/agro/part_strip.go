package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/strip"
	"hilum/internal/cite"
)

// Fewer pairs than four, which on-farm guides ask for, show only large differences; a difference is
// called real below 5 % (both published).
const (
	enoughPairs = 4
	realBelow   = 0.05
)

// strips compares the check strips.
func (f *field) strips() StripPart {
	pairs := make([]strip.Pair, len(f.in.Strips))
	for i, s := range f.in.Strips {
		pairs[i] = strip.Pair{With: float64(bushels(s.With)), Without: float64(bushels(s.Without))}
	}
	r := strip.Analyse(pairs)
	part := StripPart{Pairs: r.Pairs, Messages: []Message{}}
	sources := []string{cite.Student, cite.OnFarmStrips}
	if r.Spread {
		part.Mean = known(r.Mean, "bu/ac", cite.Derived, sources...).between(r.Low, r.High).
			step(code.StepDeviation, r.Deviation, "bu/ac").
			step(code.StepStdError, r.Error, "bu/ac").
			step(code.StepFreedom, float64(r.Freedom), "")
		part.T = known(r.T, "t", cite.Derived, sources...).
			step(code.StepStdError, r.Error, "bu/ac")
		part.P = known(r.P, "p", cite.Derived, sources...).
			step(code.StepFreedom, float64(r.Freedom), "")
		f.judgeStrips(&part, r, pairs)
		return part
	}
	name := code.StripEqual
	part.Mean = known(r.Mean, "bu/ac", cite.Derived, sources...)
	switch r.Pairs {
	case 0:
		name = code.StripNone
		part.Mean = unknown("bu/ac", cite.Derived, tell(name))
	case 1:
		name = code.StripOnePair
	}
	part.T = unknown("t", cite.Derived, tell(name))
	part.P, part.Flipped = unknown("p", cite.Derived, tell(name)), part.T
	part.Flipped.Unit = "p"
	return part
}

// judgeStrips says what the test shows, with the test that assumes no bell curve beside it.
func (f *field) judgeStrips(part *StripPart, r strip.Result, pairs []strip.Pair) {
	name := code.StripNotShown
	if r.P < realBelow {
		name = code.StripReal
	}
	part.Messages = append(part.Messages, tell(name, code.Num("p", r.P, "")))
	if r.Pairs < enoughPairs {
		part.Messages = append(part.Messages, tell(code.StripFewPairs,
			code.Num("pairs", float64(r.Pairs), ""), code.Num("least", enoughPairs, "")))
	}
	p, ok := strip.Flipped(pairs)
	part.Flipped = unknown("p", cite.Derived, tell(code.StripMany,
		code.Num("most", strip.FlipMost, "")), cite.FlipTest)
	if ok {
		part.Flipped = known(p, "p", cite.Derived, cite.FlipTest)
		if (p < realBelow) != (r.P < realBelow) {
			part.Messages = append(part.Messages, tell(code.StripFlipSplit))
		}
	}
}
