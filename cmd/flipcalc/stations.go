package main

import (
	"io"
	"path/filepath"
	"strings"

	"flipcalc/cmd/flipcalc/job"
	"flipcalc/report"
)

func runStations(c *call) error {
	err := c.Stations()
	if err != nil {
		return err
	}
	s := c.Setup
	if out := c.Text("output"); out != "" {
		if err := c.writeLines(out, s.Lines); err != nil {
			return err
		}
		if out == "-" {
			return nil
		}
		s.LinesFile = out
	}
	err = c.show(s, func() error { return report.StationsJSON(c.out, s) }, func() string { return report.StationLines(s.Stations, s.Unit) })
	if err != nil || c.On("json") || c.On("quiet") {
		return err
	}
	text, err := c.Machine.StationEntries(c.Name(), c.Layout)
	if err != nil {
		return err
	}
	return printAll(c.out, text)
}

// writeLines writes a program of lines.
func (c *call) writeLines(out string, lines []string) error {
	text := strings.Join(lines, "\n") + "\n"
	if out == "-" {
		return printAll(c.out, text)
	}
	if _, regular, err := target(out); err == nil && !regular {
		return c.writeFile(out, func(w io.Writer) error { return printAll(w, text) })
	}
	_, err := c.write(set{dir: filepath.Dir(out), files: []job.File{{Name: filepath.Base(out), Content: []byte(text)}}, loose: true})
	return err
}
