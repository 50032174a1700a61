package main

import (
	"bytes"
	"io"

	"flipcalc/mirror"
	"flipcalc/mirror/motion"
)

// toRun is a program as the machine runs it at one pair of stations.
type toRun struct {
	pair    int
	back    bool
	name    string // as it is written; "" where it isn't
	source  string // the file that messages name
	content []byte
	lines   func(int) int // from a line of content to one of source; nil where they are the same
}

// runOf is a program that was written for its station. Findings name the maker's own
// file and line, which is where they are put right; for a line of a chain whose cuts
// were reversed that is the chain's first.
func runOf(pair int, back bool, source string, in, out []byte, r *mirror.Report) toRun {
	t := toRun{pair: pair, back: back, source: source, content: out, lines: sourceLines(in, out, r.InsertedOffset)}
	if len(r.Turned) > 0 {
		lines := t.lines
		t.lines = func(n int) int {
			if lines != nil {
				n = lines(n)
			}
			for _, c := range r.Turned {
				if c.First <= n && n <= c.Last {
					return c.First
				}
			}
			return n
		}
	}
	return t
}

// sourceLines gives the line of in that a line of out came from, where a comment line
// or a block with a work offset was put in between.
func sourceLines(in, out []byte, offset string) func(int) int {
	var added []int
	count := func(b []byte) int { return bytes.Count(b, []byte{'\n'}) }
	for want, n := count(out)-count(in), 1; len(added) < want && len(out) > 0; n++ {
		a, rest := cutLine(in)
		var b []byte
		b, out = cutLine(out)
		if isAdded(b, offset) && !isAdded(a, offset) {
			added = append(added, n)
		} else {
			in = rest
		}
	}
	if len(added) == 0 {
		return nil
	}
	return func(n int) int {
		before := 0
		for _, l := range added {
			if l < n {
				before++
			}
		}
		return n - before
	}
}

// cutLine takes the first line off a text.
func cutLine(text []byte) (line, rest []byte) {
	line, rest, _ = bytes.Cut(text, []byte{'\n'})
	return line, rest
}

// isAdded says whether a line is one of those that are added to a program.
func isAdded(line []byte, offset string) bool {
	line = bytes.TrimSpace(line)
	return bytes.HasPrefix(line, []byte("(flipcalc: ")) || offset != "" && string(line) == offset
}

// addAsIs adds a program to the job that is run as it stands.
func (c *call) addAsIs(j *job, pair int, path string, back bool) error {
	in, name, err := c.open(path)
	if err != nil {
		return err
	}
	defer in.Close()
	text, err := io.ReadAll(in)
	if err != nil {
		return err
	}
	j.runs = append(j.runs, toRun{pair: pair, back: back, source: name, content: text})
	o, err := c.motionOptions(name)
	if err != nil {
		return err
	}
	s, err := motion.Walk(bytes.NewReader(text), o, nil)
	if err != nil {
		return err
	}
	j.units = append(j.units, unitNotes(name, s, j.answer, false)...)
	return nil
}
