package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"flipcalc/report"
)

var sheetVerb = &verb{
	name: "sheet", operands: "[JOB]", most: 1,
	does: "prints the set-up sheet of a job; writes no program",
	run:  runSheet,
	examples: []example{
		{"on the terminal", "flipcalc sheet job.toml"},
		{"as a page to print, with drawings", "flipcalc sheet job.toml -o sheet.html"},
		{"without a job file", "flipcalc sheet --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60,-20 -o sheet.md"},
	},
}

func runSheet(c *call) error {
	out := c.text("output")
	render, err := c.sheetForm(out)
	if err != nil {
		return err
	}
	j, err := c.work()
	if err != nil {
		return err
	}
	switch {
	case out == "" || out == "-":
		err = render(c.out, j.setup)
	case !c.on("dry-run"):
		err = writeFile(out, func(w io.Writer) error { return render(w, j.setup) })
	}
	if err != nil {
		return err
	}
	if c.on("quiet") {
		c.warn(j.setup)
	}
	return j.verdict(", and the sheet says so")
}

// sheetForm picks the form of the sheet by --json or by the file's ending.
func (c *call) sheetForm(out string) (func(io.Writer, report.Setup) error, error) {
	terminal := func(w io.Writer, s report.Setup) error { return report.Terminal(w, s, c.terminal()) }
	ending := strings.ToLower(filepath.Ext(out))
	switch {
	case c.on("json") || ending == ".json":
		return report.JSON, nil
	case out == "" || out == "-" || ending == ".txt":
		return terminal, nil
	case ending == ".html" || ending == ".htm":
		return report.HTML, nil
	case ending == ".md":
		return report.Markdown, nil
	case ending == ".svg":
		return func(w io.Writer, s report.Setup) error {
			drawing := report.BedDrawing(s)
			if drawing == "" {
				return no("-o", "nothing is known in machine coordinates, so there is no bed to draw", "give --at, or --pairs with a machine file")
			}
			_, err := io.WriteString(w, drawing)
			return err
		}, nil
	}
	return nil, wrong("-o", fmt.Sprintf("%s: no known form of the sheet", out), ".html, .md, .json, .txt or .svg", "")
}
