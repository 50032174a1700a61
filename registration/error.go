package registration

import "errors"

// Error says that a question has no answer. About names the flag or job key.
type Error struct {
	About    string // for example "--stop"
	Found    string
	Expected string
	Hint     string
	No       bool // the answer is no (exit 1), not a bad question (exit 2)
}

// Error writes "about: found, expected ...; hint: ...".
func (e *Error) Error() string {
	s := e.Found
	if e.About != "" {
		s = e.About + ": " + s
	}
	if e.Expected != "" {
		s += ", expected " + e.Expected
	}
	if e.Hint != "" {
		s += "; hint: " + e.Hint
	}
	return s
}

// About names the flag or job key that err is about, where err doesn't say yet.
// The parsers of this package leave it to the caller.
func About(err error, name string) error {
	var e *Error
	if errors.As(err, &e) && e.About == "" {
		named := *e
		named.About = name
		return &named
	}
	return err
}
