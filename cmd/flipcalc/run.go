package main

import (
	"bufio"
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
	content *io.SectionReader
	lines   func(int) int // from a line of content to one of source; nil where they are the same
}

// runOf is a program that was written for its station. Findings name the maker's own
// file and line, which is where they are put right; for a line of a chain whose cuts
// were reversed that is the chain's first.
func runOf(pair int, back bool, source string, in, out *io.SectionReader, r *mirror.Report) toRun {
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
func sourceLines(in, out *io.SectionReader, offset string) func(int) int {
	var added []int
	want := countLines(again(out)) - countLines(again(in))
	from, to := bufio.NewReader(again(in)), bufio.NewReader(again(out))
	a, _ := from.ReadBytes('\n')
	for n := 1; len(added) < want; n++ {
		b, err := to.ReadBytes('\n')
		if isAdded(b, offset) && !isAdded(a, offset) {
			added = append(added, n)
		} else {
			a, _ = from.ReadBytes('\n')
		}
		if err != nil {
			break
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

// countLines counts line ends.
func countLines(r io.Reader) (n int) {
	buf := make([]byte, 64<<10)
	for {
		k, err := r.Read(buf)
		n += bytes.Count(buf[:k], []byte{'\n'})
		if err != nil {
			return n
		}
	}
}

// isAdded says whether a line is one of those that are added to a program.
func isAdded(line []byte, offset string) bool {
	line = bytes.TrimSpace(line)
	return bytes.HasPrefix(line, []byte("(flipcalc: ")) || offset != "" && string(line) == offset
}

// addAsIs adds a program to the job that is run as it stands.
func (c *call) addAsIs(j *job, pair int, path string, back bool) error {
	in, err := c.program(path)
	if err != nil {
		return err
	}
	name := shownInput(path)
	j.runs = append(j.runs, toRun{pair: pair, back: back, source: name, content: in})
	o, err := c.motionOptions(name)
	if err != nil {
		return err
	}
	r, done := c.progress(again(in), name, in.Size())
	s, err := motion.Walk(r, o, nil)
	done()
	if err != nil {
		return err
	}
	j.units = append(j.units, unitNotes(name, s, j.answer, false)...)
	return nil
}
