package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
	"flipcalc/report"
)

func runCheck(c *call) error {
	draw, err := c.pictureForm()
	if err != nil {
		return err
	}
	j, err := c.Check()
	if err != nil {
		return err
	}
	picture := c.Text("picture")
	if draw != nil {
		if err := c.writeFile(picture, func(w io.Writer) error { return draw(w, j.Setup) }); err != nil {
			return err
		}
	}
	switch {
	case c.On("json"):
		err = report.CheckJSON(c.out, *j.Setup.Check, j.Setup.Unit, picture)
	case c.On("quiet") && j.Setup.Check.OK():
		err = c.quietly(report.Setup{Unit: j.Setup.Unit, Check: j.Setup.Check}, "")
	default:
		err = c.printCheck(j)
	}
	if err != nil {
		return err
	}
	return verdict(j, "")
}

// pictureForm picks the form of the picture by the file's ending; nil where none is
// asked for.
func (c *call) pictureForm() (func(io.Writer, report.Setup) error, error) {
	if !c.Given("picture") {
		return nil, nil
	}
	name := c.Text("picture")
	switch strings.ToLower(filepath.Ext(name)) {
	case ".png":
		return report.PicturePNG, nil
	case ".svg":
		return report.PictureSVG, nil
	}
	return nil, ask.Wrong(c.Where("picture"), fmt.Sprintf("%s: no known form of a picture", name), "a name that ends in .png or .svg", "")
}

// printCheck prints what check found and nothing else of the job.
func (c *call) printCheck(j *job.Job) error {
	s := report.Setup{Title: j.Setup.Title, Job: j.Setup.Job, Unit: j.Setup.Unit, Version: j.Setup.Version, Check: j.Setup.Check}
	return report.Terminal(c.out, s, c.terminal())
}

// verdict is the answer of no where check found something; done says what that
// means here.
func verdict(j *job.Job, done string) error {
	if j.Setup.Check.OK() {
		return nil
	}
	return ask.No("check", j.Setup.Check.Verdict()+done, "each finding says what to do")
}
