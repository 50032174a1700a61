package main

import (
	"io"
	"os"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/report"
)

func runCorrect(c *call) error {
	err := c.Correct()
	if err != nil {
		return err
	}
	if c.Given("output") {
		if err := c.writeTurned(); err != nil {
			return err
		}
	}
	s := c.Setup
	return c.show(s, func() error { return report.CorrectJSON(c.out, *s.Landed, s.Unit) },
		func() string { return report.CorrectedLine(s.Landed, s.Unit) + "\n" })
}

// writeTurned writes the back programs of a job, turned as the measured turn asks: one to
// the file that -o names, several into that folder.
func (c *call) writeTurned() error {
	out := c.Text("output")
	switch len(c.Files) {
	case 0:
		return ask.Wrong(c.Where("output"), "no back program to turn", "mirror or back in the job file", "or leave out -o")
	case 1:
		return c.writeFile(out, func(to io.Writer) error {
			_, err := to.Write(c.Files[0].Content)
			return err
		})
	}
	if out == "-" {
		return ask.Wrong("-o", "-, and several programs", "a folder", "")
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	_, err := c.write(set{dir: out, files: c.Files, loose: true})
	return err
}
