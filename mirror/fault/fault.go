// Package fault is how every room says that a question can't be answered: where,
// what was found, what was expected and what the maker can do.
package fault

import (
	"errors"
	"fmt"
)

// Exit codes of a question that isn't answered.
const (
	ExitNo    = 1 // the answer is no
	ExitWrong = 2 // bad input
)

// MovesOut is the hint for what only a control that runs the program can follow.
const MovesOut = "write the program's moves out"

// Error is one refusal. It is about a key, or stands at a place in a file.
// Line and Col count from 1; Col counts bytes. What a file as a whole is or lacks, Line 0,
// is told at its start, 1:1.
// A key in the texts is marked, alone or with a value, ‹at› or ‹stop left›, or with one
// beside those that it has, ‹tool + 9=flat,6›: who asks knows whether it is a flag or a
// line of a file.
type Error struct {
	About     string // a key, for example "stop"; may be empty
	File      string
	Line, Col int
	Found     string // what was found, for example "G16 (polar coordinates)"
	Expected  string // what was expected, may be empty
	Hint      string // what the maker can do, may be empty
	No        bool   // the answer is no (exit 1), not a bad question (exit 2)

	Count int      // blocks of which it is true, this the first; 0 or 1 for one
	More  []*Error // further ones of the same file
}

// Where names the key, else the place as file:line:col; "" where neither is
// known.
func (e *Error) Where() string {
	switch {
	case e.About != "":
		return e.About
	case e.File == "" && e.Line == 0:
		return ""
	case e.File == "":
		return fmt.Sprintf("%d:%d", e.Line, max(e.Col, 1))
	}
	return fmt.Sprintf("%s:%d:%d", e.File, max(e.Line, 1), max(e.Col, 1))
}

// Error writes "where: found, expected ...; hint: ...".
func (e *Error) Error() string {
	s := e.Found
	if e.Count > 1 {
		s += fmt.Sprintf(" (%d blocks, this is the first)", e.Count)
	}
	if where := e.Where(); where != "" {
		s = where + ": " + s
	}
	if e.Expected != "" {
		s += ", expected " + e.Expected
	}
	if e.Hint != "" {
		s += "; hint: " + e.Hint
	}
	return s
}

// Exit is the exit code of the whole tool that goes with it.
func (e *Error) Exit() int {
	if e.No {
		return ExitNo
	}
	return ExitWrong
}

// About names the key that err is about, where err doesn't say yet. Parsers of
// a value leave it to their caller.
func About(err error, name string) error {
	var e *Error
	if errors.As(err, &e) && e.Where() == "" {
		named := *e
		named.About = name
		return &named
	}
	return err
}
