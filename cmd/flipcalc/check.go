package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/report"
)

func runCheck(c *call) error {
	draw, err := c.pictureForm()
	if err != nil {
		return err
	}
	err = c.Check()
	if err != nil {
		return err
	}
	picture := c.Text("picture")
	if draw != nil {
		if err := c.writeFile(picture, func(w io.Writer) error { return draw(w, c.Setup) }); err != nil {
			return err
		}
	}
	switch {
	case c.On("json"):
		err = report.CheckJSON(c.out, *c.Setup.Check, c.Setup.Unit, picture)
	case c.On("quiet") && c.Setup.Check.OK():
		err = c.quietly(report.Setup{Unit: c.Setup.Unit, Check: c.Setup.Check}, "")
	default:
		err = c.printCheck()
	}
	if err != nil {
		return err
	}
	return c.verdict("")
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
func (c *call) printCheck() error {
	s := report.Setup{Title: c.Setup.Title, Job: c.Setup.Job, Unit: c.Setup.Unit, Version: c.Setup.Version, Check: c.Setup.Check}
	return report.Terminal(c.out, s, c.terminal())
}

// verdict is the answer of no where check found something; done says what that
// means here.
func (c *call) verdict(done string) error {
	if c.Setup.Check.OK() {
		return nil
	}
	return ask.No("check", c.Setup.Check.Verdict()+done, "each finding says what to do")
}
