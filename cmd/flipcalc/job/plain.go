package job

import (
	"bytes"
	"errors"
	"io"
	"os"
	"slices"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/plain"
	"flipcalc/report"
	"flipcalc/report/words"
)

// writeOut runs a program and gives its moves as plain blocks.
func (j *Job) writeOut(path, name string, text []byte) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(len(text)) // a plain program becomes about as long
	r, err := plain.Write(text, &b, j.writing(name))
	if err != nil {
		return nil, err
	}
	j.plain[path] = r
	return b.Bytes(), nil
}

// writing says how a program is written out: what a verb can't take of it, it refuses itself.
func (j *Job) writing(name string) plain.Options {
	o := plain.Options{Read: j.reading(name)}
	o.Read.Extended = true
	return o
}

// sourceLine gives the line of a program that a line of it, written out, came from.
func (j *Job) sourceLine(path string, line int) int {
	if r := j.plain[path]; r != nil && line > 0 && line <= len(r.Lines) {
		return int(r.Lines[line-1])
	}
	return line
}

// ofSource puts the lines that an error names back into the program that was written out.
func (j *Job) ofSource(path, name string, err error) error {
	var f *fault.Error
	if j.plain[path] == nil || !errors.As(err, &f) || f.File != name || f.Line == 0 {
		return err
	}
	said := *f
	said.Line, said.Col = j.sourceLine(path, f.Line), 1
	return &said
}

// macroNotes puts the lines of notes back, and says what the proof of a program that was
// written out doesn't cover.
func (j *Job) macroNotes(path, name string, notes []report.Note) []report.Note {
	if j.plain[path] == nil {
		return notes
	}
	for i := range notes {
		notes[i].Line = j.sourceLine(path, notes[i].Line)
	}
	notes = append(notes, writingNotes(name, j.plain[path].Notes)...)
	return append(notes, report.Note{Level: fact.Caution, File: name, Is: words.WrittenOut{}})
}

// writingNotes warns of what a maker should know of lines that were written out, one note
// for all lines of a kind.
func writingNotes(name string, all []plain.Note) (notes []report.Note) {
	for i, n := range all {
		alike := func(o plain.Note) bool { return o.Text == n.Text }
		if slices.IndexFunc(all, alike) < i {
			continue
		}
		var also []int
		for _, o := range all[i+1:] {
			if alike(o) {
				also = append(also, o.Line)
			}
		}
		notes = append(notes, report.Note{Level: fact.Warning, File: name, Line: n.Line, Is: words.WritingOut{What: n.Text, Also: also}})
	}
	return notes
}

// mostTried is the longest program that is run to see whether writing it out would do.
const mostTried = 16 << 20

// CouldWriteOut adds to the refusal of what only a control that runs the program can follow
// that it goes through written out, where it does. What was read from a pipe can't be tried again.
func (j *Job) CouldWriteOut(err error) error {
	var f *fault.Error
	if j.Machine == nil || !errors.As(err, &f) || f.Hint != fault.MovesOut || j.On("write-out") || !ask.Find("write-out").TakenBy(j.Verb.Name) {
		return err
	}
	if info, unread := os.Stat(f.File); unread == nil && info.Mode().IsRegular() && info.Size() <= mostTried {
		text, unread := os.ReadFile(f.File)
		if unread != nil {
			return err
		}
		if _, refused := plain.Write(text, io.Discard, j.writing(f.File)); refused != nil {
			return err
		}
	}
	said := *f
	said.Hint = "write its moves out: ‹write-out true›"
	return &said
}
