package main

import (
	"path/filepath"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/report"
)

func runCorrect(c *call) error {
	err := c.Correct()
	if err != nil {
		return err
	}
	var dir string
	var changes []change
	if c.Given("output") {
		if dir, changes, err = c.writeTurned(); err != nil {
			return err
		}
	}
	s := c.Setup
	return c.showWith(s, dir, changes, func() error { return report.CorrectJSON(c.out, *s.Landed, s.Unit) },
		func() string { return report.CorrectedLine(s.Landed, s.Unit) + "\n" })
}

// writeTurned writes the back programs of a job, turned as the measured turn asks: one to
// the file that -o names, several into that folder.
func (c *call) writeTurned() (dir string, changes []change, err error) {
	out := c.Text("output")
	switch len(c.Files) {
	case 0:
		return "", nil, ask.Wrong(c.Where("output"), "no back program to turn", "mirror or back in the job file", "or leave out -o")
	case 1:
		changes, err = c.writeProgram(out, filepath.Base(out), c.Files[0].Content)
		return filepath.Dir(out), changes, err
	}
	if out == "-" {
		return "", nil, ask.Wrong("-o", "-, and several programs", "a folder", "")
	}
	changes, err = c.write(set{dir: out, files: c.Files})
	return out, changes, err
}
