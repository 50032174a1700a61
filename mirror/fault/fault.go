// Package fault is how the mirror room says that a program can't be used: where,
// what was found, what was expected and what the maker can do.
package fault

import "fmt"

// Error is one refusal, with a place in a program. Line and Col count from 1;
// Col counts bytes. Line 0 means the program as a whole.
type Error struct {
	File      string
	Line, Col int
	Found     string // what was found, for example "G16 (polar coordinates)"
	Expected  string // what was expected, may be empty
	Hint      string // what the maker can do, may be empty
	No        bool   // the answer is no (exit 1), not a bad question (exit 2)
}

// Error writes "file:line:col: found, expected ...; hint: ...".
func (e *Error) Error() string {
	s := e.Found
	if e.Expected != "" {
		s += ", expected " + e.Expected
	}
	if e.Hint != "" {
		s += "; hint: " + e.Hint
	}
	switch {
	case e.Line > 0:
		s = fmt.Sprintf("%d:%d: %s", e.Line, e.Col, s)
		if e.File != "" {
			s = e.File + ":" + s
		}
	case e.File != "":
		s = e.File + ": " + s
	}
	return s
}
