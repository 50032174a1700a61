package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"flipcalc/mirror/fault"
	"flipcalc/registration"
)

// This file owns how flipcalc speaks to the person at the terminal: a message is
// one line, starts with the program's name in lower case, and has no full stop:
//
//	flipcalc: where: what was found, expected what; hint: what to do

// Exit codes.
const (
	exitDone  = 0
	exitNo    = 1 // the answer is no
	exitWrong = 2 // the question is wrong
)

// problem is a message of the command itself.
type problem struct {
	where    string // a file position or a flag, may be empty
	found    string
	expected string
	hint     string
	code     int
}

// Error writes the message without the program's name.
func (p *problem) Error() string {
	s := p.found
	if p.where != "" {
		s = p.where + ": " + s
	}
	if p.expected != "" {
		s += ", expected " + p.expected
	}
	if p.hint != "" {
		s += "; hint: " + p.hint
	}
	return s
}

// wrong is a bad question: exit 2.
func wrong(where, found, expected, hint string) error {
	return &problem{where: where, found: found, expected: expected, hint: hint, code: exitWrong}
}

// no is an answer of no: exit 1.
func no(where, found, hint string) error {
	return &problem{where: where, found: found, hint: hint, code: exitNo}
}

// complain prints an error and gives the exit code.
func complain(w io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	var list faults
	if !errors.As(err, &list) {
		list = faults{err}
	}
	for i, e := range list {
		if i == mostFaults {
			fmt.Fprintf(w, "flipcalc: and %d more\n", len(list)-i)
			break
		}
		fmt.Fprintf(w, "flipcalc: %s\n", oneLine(message(e)))
	}
	return exitCode(err)
}

// mostFaults is how many faults are told at once: about a terminal's height.
const mostFaults = 20

// faults are all the faults of a file, or of a command line, each told on its own line.
type faults []error

// Error joins the messages.
func (f faults) Error() string { return errors.Join(f...).Error() }

// Unwrap gives the faults.
func (f faults) Unwrap() []error { return f }

// together makes one error of several, of which some may be lists; nil of none.
func together(list []error) error {
	var all faults
	for _, err := range list {
		if more, ok := err.(faults); ok {
			all = append(all, more...)
		} else {
			all = append(all, err)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// exitCode tells an answer of no from a wrong question.
func exitCode(err error) int {
	var p *problem
	var f *fault.Error
	var r *registration.Error
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &p):
		return p.code
	case errors.As(err, &f) && f.No, errors.As(err, &r) && r.No:
		return exitNo
	}
	return exitWrong
}

// message words an error; a system error loses its call's name.
func message(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return fmt.Sprintf("%s: %s%s", pe.Path, pe.Err, pathHint(pe))
	}
	return err.Error()
}

// pathHint names the file beside one that isn't there, or in a folder, that was meant.
func pathHint(err *fs.PathError) string {
	dir, folder := filepath.Dir(err.Path), errors.Is(err, syscall.EISDIR)
	if folder {
		dir = err.Path
	} else if !errors.Is(err, fs.ErrNotExist) {
		return ""
	}
	var names []string
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if !e.IsDir() && (!folder || strings.EqualFold(filepath.Ext(e.Name()), ".toml")) {
			names = append(names, e.Name())
		}
	}
	name := nearest(filepath.Base(err.Path), names)
	if folder {
		name = nearest("job.toml", names)
	}
	if name == "" {
		return ""
	}
	return "; hint: did you mean " + filepath.Join(dir, name) + "?"
}

// oneLine keeps a message on one line whatever a file's bytes put into it.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
}

// flagProblem rewords what the flag parser says, with the nearest flag's name.
func flagProblem(verbName string, fs *pflag.FlagSet, err error) error {
	hint := fmt.Sprintf("'flipcalc %s --help' lists the flags", verbName)
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		dashes := "--"
		if len(name) == 1 {
			dashes = "-"
		}
		var names []string
		fs.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := nearest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean --%s?", near)
		}
		if other := verbsTaking(name); other != "" {
			hint = fmt.Sprintf("--%s belongs to %s", name, other)
		}
		return wrong(dashes+name, fmt.Sprintf("no such flag of %s", verbName), "", hint)
	case errors.As(err, &missing):
		return wrong("--"+missing.GetFlag().Name, "no value", missing.GetFlag().Value.Type(), "")
	case errors.As(err, &invalid):
		return wrong("--"+invalid.GetFlag().Name, invalid.Unwrap().Error(), "", "give it once")
	}
	return wrong("", err.Error(), "", hint)
}

// verbsTaking names the verbs that take a flag.
func verbsTaking(name string) string {
	for i := range flagTable {
		if flagTable[i].name == name && !flagTable[i].jobOnly {
			return strings.Join(strings.Fields(flagTable[i].verbs), ", ")
		}
	}
	return ""
}

// nearest gives the candidate that word begins, or the one within two edits of it, one
// where it is short; "" where none is near.
func nearest(word string, candidates []string) string {
	if len(word) > 2 {
		for _, c := range candidates {
			if strings.HasPrefix(c, word) {
				return c
			}
		}
	}
	best, bestAt := "", min(2, len(word)/3)+1
	for _, c := range candidates {
		d := edits(word, c)
		if d < bestAt && d < len(c) {
			best, bestAt = c, d
		}
	}
	return best
}

// edits counts the insertions, deletions, changes and swaps of neighbours that
// lead from a to b (optimal string alignment).
func edits(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}
