package ask

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"flipcalc/mirror/fault"
)

// Wrong is a bad question: exit 2. where is a flag, a key or a place in a file.
func Wrong(where, found, expected, hint string) error {
	return &fault.Error{About: where, Found: found, Expected: expected, Hint: hint}
}

// No is an answer of no: exit 1.
func No(where, found, hint string) error {
	return &fault.Error{About: where, Found: found, Hint: hint, No: true}
}

// wrongFile is a bad question: a file as a whole, which is told at its start.
func wrongFile(path, found, expected, hint string) error {
	return &fault.Error{File: path, Found: found, Expected: expected, Hint: hint}
}

// MostFaults is how many faults are told at once: about a terminal's height.
const MostFaults = 20

// Faults are all the faults of a file, or of a command line, each told on its own line.
type Faults []error

// Error joins the messages.
func (f Faults) Error() string { return errors.Join(f...).Error() }

// Unwrap gives the faults.
func (f Faults) Unwrap() []error { return f }

// Together makes one error of several, of which some may be lists; nil of none.
func Together(list []error) error {
	var all Faults
	for _, err := range list {
		if more, ok := err.(Faults); ok {
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

// Listed gives the faults that an error is made of.
func Listed(err error) Faults {
	var list, all Faults
	if !errors.As(err, &list) {
		list = Faults{err}
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

// Refusal is an error with its parts; a system error loses its call's name.
func Refusal(err error) *fault.Error {
	var f *fault.Error
	var pe *fs.PathError
	switch {
	case errors.As(err, &f) && f.Error() == err.Error():
		return (*Ask)(nil).worded(f)
	case errors.As(err, &pe):
		return &fault.Error{About: pe.Path, Found: pe.Err.Error(), Hint: pathHint(pe)}
	}
	return &fault.Error{Found: (*Ask)(nil).Spelt(err.Error()), No: f != nil && f.No}
}

// Message words an error.
func Message(err error) string { return Refusal(err).Error() }

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
	name := Nearest(filepath.Base(err.Path), names)
	if folder {
		name = Nearest("job.toml", names)
	}
	if name == "" {
		return ""
	}
	return "did you mean " + filepath.Join(dir, name) + "?"
}

// FlagProblem rewords what the flag parser says, with the nearest flag's name.
func FlagProblem(verbName string, fs *pflag.FlagSet, err error) error {
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
		if short := unknown.GetSpecifiedShortnames(); short != "" && strings.Contains(".0123456789", name) {
			return Wrong("-"+short, fmt.Sprintf("no such flag of %s", verbName), "", "a pair is one value, with a comma and no blank: 0.12,-0.05")
		}
		var names []string
		fs.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := Nearest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean --%s?", near)
		}
		if gone[name] != "" {
			hint = gone[name]
		}
		switch d := Find(name); {
		case d == nil:
		case d.hasFlag():
			hint = fmt.Sprintf("--%s belongs to %s", name, d.taken())
		default:
			return Wrong("--"+name, "a key of "+d.File()+": "+d.sample(), "", "for this run alone: --set "+name+"="+d.value())
		}
		return Wrong(dashes+name, fmt.Sprintf("no such flag of %s", verbName), "", hint)
	case errors.As(err, &missing):
		return Wrong("--"+missing.GetFlag().Name, "no value", missing.GetFlag().Value.Type(), "")
	case errors.As(err, &invalid):
		return Wrong("--"+invalid.GetFlag().Name, invalid.Unwrap().Error(), "", "write --"+invalid.GetFlag().Name+" alone")
	}
	return Wrong("", err.Error(), "", hint)
}

// Nearest gives the candidate that word begins, or the one within two edits of it, one
// where it is short, whatever their case; "" where none is near.
func Nearest(word string, candidates []string) string {
	word = strings.ToLower(word)
	if len(word) > 2 {
		for _, c := range candidates {
			if strings.HasPrefix(strings.ToLower(c), word) {
				return c
			}
		}
	}
	best, bestAt := "", min(2, len(word)/3)+1
	for _, c := range candidates {
		d := edits(word, strings.ToLower(c))
		if d < bestAt && d < len(c) {
			best, bestAt = c, d
		}
	}
	return best
}

// meant asks for the candidate that is near to a word; otherwise is said where none is.
func meant(word string, candidates []string, otherwise string) string {
	if near := Nearest(word, candidates); near != "" {
		return "did you mean " + near + "?"
	}
	return otherwise
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

// OneLine keeps a message on one line whatever a file's bytes put into it.
func OneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
}
