package main

import (
	"io"

	"flipcalc/mirror/motion"
)

// toRun is a program as the machine runs it at one pair of stations.
type toRun struct {
	pair    int
	back    bool
	name    string // as it is written; "" where it isn't
	source  string // the file that messages name
	content *io.SectionReader
	// From a line of content to one of source, where findings are put right; nil where they
	// are the same.
	lines func(int) int
}

// addAsIs adds a program to the job that is run as it stands.
func (c *call) addAsIs(j *job, pair int, path string, back bool) error {
	in, err := c.program(path)
	if err != nil {
		return err
	}
	name := shownInput(path)
	run := toRun{pair: pair, back: back, source: name, content: in}
	if c.plain[path] != nil {
		run.lines = func(n int) int { return c.sourceLine(path, n) }
	}
	j.runs = append(j.runs, run)
	o, err := c.motionOptions(name)
	if err != nil {
		return err
	}
	r, done := c.progress(again(in), name, in.Size())
	s, err := motion.Walk(r, o, nil)
	done()
	if err != nil {
		return c.ofSource(path, name, err)
	}
	j.units = append(j.units, unitNotes(name, s, j.answer, false)...)
	return nil
}
