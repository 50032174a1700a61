package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
	"flipcalc/report"
)

func runSheet(c *call) error {
	out := c.Text("output")
	render, err := c.sheetForm(out)
	if err != nil {
		return err
	}
	err = c.Prepare()
	if err != nil {
		return err
	}
	switch {
	case render == nil:
		err = c.drawAlone(out, c.Setup)
	case out == "" || out == "-":
		err = render(c.out, c.Setup)
	case !c.On("dry-run"):
		err = c.writeFile(out, func(w io.Writer) error { return render(w, c.Setup) })
	}
	if err != nil {
		return err
	}
	if c.On("quiet") {
		c.warn(c.Setup)
	}
	return c.verdict(", and the sheet says so")
}

// sheetForm picks the form of the sheet by --json or by the file's ending; nil is the
// drawings alone.
func (c *call) sheetForm(out string) (func(io.Writer, report.Setup) error, error) {
	terminal := func(w io.Writer, s report.Setup) error { return report.Terminal(w, s, c.terminal()) }
	ending := strings.ToLower(filepath.Ext(out))
	switch {
	case c.On("json") || ending == ".json":
		return report.JSON, nil
	case out == "" || out == "-" || ending == ".txt":
		return terminal, nil
	case ending == ".html" || ending == ".htm":
		return report.HTML, nil
	case ending == ".svg":
		return nil, nil
	}
	return nil, ask.Wrong("-o", fmt.Sprintf("%s: no known form of the sheet", out), ".html, .json, .txt or .svg", "")
}

// drawAlone writes each drawing that there is into a file of its own: the bed under the
// name that was given, the others beside it. One that a former run left, and this one
// hasn't, is named: it may be of another job.
func (c *call) drawAlone(out string, s report.Setup) error {
	ending := filepath.Ext(out)
	stem := strings.TrimSuffix(out, ending)
	var said strings.Builder
	files := set{dir: filepath.Dir(out), named: filepath.Base(out), loose: true}
	bed := false
	for _, d := range report.DrawingsAlone(s) {
		name := out
		if d.Name != "" {
			name = stem + "-" + d.Name + ending
		}
		if d.SVG == "" {
			if _, err := os.Stat(name); err == nil {
				c.warning(fmt.Sprintf("%s is of an earlier run: there is no drawing of %s now", name, d.What))
			}
			continue
		}
		bed = bed || d.Name == ""
		fmt.Fprintf(&said, "%s: %s\n", name, d.What)
		files.files = append(files.files, job.File{Name: filepath.Base(name), Content: []byte(d.SVG)})
	}
	if _, err := c.write(files); err != nil {
		return err
	}
	if !c.On("quiet") {
		if err := printAll(c.out, said.String()); err != nil {
			return err
		}
	}
	if !bed {
		return ask.No("-o", "nothing is known in machine coordinates, so there is no bed to draw in "+out, "give ‹at›, or ‹pairs› with a machine file")
	}
	return nil
}
