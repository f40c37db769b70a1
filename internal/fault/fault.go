// Package fault is the one error type that may reach a person, with a closed set of kinds.
package fault

import "errors"

// Kind says what a fault means to the caller. The zero value is Internal, so an error that
// nobody classified lands there and its text stays in the log.
type Kind int

// The kinds. api maps each to one HTTP status; the command line maps Invalid to exit code 2.
const (
	Internal     Kind = iota // a defect or an outage of ours
	Invalid                  // the input is wrong: the message says what, where and the accepted range
	NotFound                 // it does not exist, or it is not yours
	Conflict                 // it clashes with what is there
	Unauthorized             // sign in first
	Forbidden                // signed in, but the role may not
	TooLarge                 // more bytes or items than accepted
	TooMany                  // slow down; Retry-After says how long
	Unavailable              // try again later; nothing was stored
	Full                     // no room to store it
)

// Error is the only error type whose words reach a client.
type Error struct {
	Kind    Kind
	Code    string // stable key, for example "range"; clients choose their own words by it
	Field   string // dotted path of the wrong value, for example "layers.1.nitrate.value"
	Message string // for people; never holds SQL, paths of a machine or secrets
	Err     error  // for the log
}

// Error gives the message with its field in front.
func (e *Error) Error() string {
	text := e.Message
	if e.Field != "" {
		text = e.Field + ": " + text
	}
	if e.Err != nil && e.Kind == Internal {
		text += ": " + e.Err.Error()
	}
	return text
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// New makes a fault without a cause. Arguments go into the message by %s, %d, %q, %v and %g.
func New(kind Kind, code, message string, args ...any) *Error {
	return &Error{Kind: kind, Code: code, Message: fill(message, args...)}
}

// At makes an Invalid fault that names the field.
func At(field, code, message string, args ...any) *Error {
	return &Error{Kind: Invalid, Code: code, Field: field, Message: fill(message, args...)}
}

// Under puts a parent's path in front of the field of an Invalid fault; other errors pass through.
func Under(parent string, err error) error {
	var f *Error
	if !errors.As(err, &f) || f.Kind != Invalid {
		return err
	}
	inner := *f
	if inner.Field == "" {
		inner.Field = parent
	} else {
		inner.Field = parent + "." + inner.Field
	}
	return &inner
}

// KindOf gives the kind of the first fault in the chain, Internal if there is none.
func KindOf(err error) Kind {
	var f *Error
	if errors.As(err, &f) {
		return f.Kind
	}
	return Internal
}
