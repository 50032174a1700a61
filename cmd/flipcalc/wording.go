package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"flipcalc/mirror/fault"
	"flipcalc/report"
)

// This file owns how flipcalc speaks to the person at the terminal: a message is
// one line, starts with the program's name in lower case, and has no full stop:
//
//	flipcalc: where: what was found, expected what; hint: what to do

// Exit codes.
const (
	exitDone  = 0
	exitNo    = fault.ExitNo
	exitWrong = fault.ExitWrong
)

// wrong is a bad question: exit 2. where is a flag, a key or a place in a file.
func wrong(where, found, expected, hint string) error {
	return &fault.Error{About: where, Found: found, Expected: expected, Hint: hint}
}

// no is an answer of no: exit 1.
func no(where, found, hint string) error {
	return &fault.Error{About: where, Found: found, Hint: hint, No: true}
}

// complain prints an error and gives the exit code.
func complain(w io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	list := listed(err)
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
	var f *fault.Error
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &f):
		return f.Exit()
	}
	return exitWrong
}

// finish prints an error and gives the exit code. Under --json standard output says it
// too, where no answer stands there yet.
func finish(w, out io.Writer, json bool, err error) int {
	if answer, ok := out.(*answer); ok && answer.begun {
		json = false
	}
	if json && err != nil {
		var list []*fault.Error
		for _, e := range listed(err) {
			list = append(list, refusal(e))
		}
		report.ErrorJSON(out, list) // the exit code stands, and standard error says it
	}
	return complain(w, err)
}

// answer is standard output that knows whether anything was written.
type answer struct {
	io.Writer
	begun bool
}

func (a *answer) Write(b []byte) (int, error) {
	a.begun = a.begun || len(b) > 0
	return a.Writer.Write(b)
}

// asksJSON reports whether the arguments ask for JSON, also where they can't be read.
func asksJSON(args []string) bool {
	if end := slices.Index(args, "--"); end >= 0 {
		args = args[:end]
	}
	return slices.Contains(args, "--json")
}

// listed gives the faults that an error is made of.
func listed(err error) faults {
	var list, all faults
	if !errors.As(err, &list) {
		list = faults{err}
	}
	for _, e := range list {
		all = append(all, e)
		var f *fault.Error
		if errors.As(e, &f) {
			for _, more := range f.More {
				all = append(all, more)
			}
		}
	}
	return all
}

// refusal is an error with its parts; a system error loses its call's name.
func refusal(err error) *fault.Error {
	var f *fault.Error
	var pe *fs.PathError
	switch {
	case errors.As(err, &f) && f.Error() == err.Error():
		return f
	case errors.As(err, &pe):
		return &fault.Error{File: pe.Path, Found: pe.Err.Error(), Hint: pathHint(pe)}
	}
	return &fault.Error{Found: err.Error(), No: exitCode(err) == exitNo}
}

// message words an error.
func message(err error) string { return refusal(err).Error() }

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
	return "did you mean " + filepath.Join(dir, name) + "?"
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
		if gone[name] != "" {
			hint = gone[name]
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
