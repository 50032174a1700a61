package main

import (
	"fmt"
	"path/filepath"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/report"
)

func runPins(c *call) error {
	dir := c.Text("output")
	if c.Given("output") && (dir == "-" || dir == "") {
		return ask.Wrong("-o", fmt.Sprintf("%q", dir), "a folder", "pins writes several programs")
	}
	err := c.Pins()
	if err != nil {
		return err
	}
	return c.showPins(dir)
}

// listFiles says what was written or would be.
func (c *call) listFiles(dir string, changes []change) error {
	head := "Files"
	if c.On("dry-run") {
		head = "Files that would be written"
	}
	text := fmt.Sprintf("\n%s in %s:\n", head, filepath.Clean(dir))
	for _, ch := range changes {
		text += fmt.Sprintf("  %-24s %s\n", filepath.Base(ch.path), ch.what)
	}
	return printAll(c.out, text)
}

// showPins writes the drilling programs of a layout where -o asks for them, and prints
// it.
func (c *call) showPins(dir string) (err error) {
	s := c.Setup
	var changes []change
	if c.Given("output") {
		if changes, err = c.write(set{dir: dir, files: c.Files}); err != nil {
			return err
		}
		if c.On("bare") {
			c.cautions()
		}
	}
	switch {
	case c.On("json"):
		return report.PinsJSON(c.out, s)
	case c.On("quiet"):
		s.Answer = nil
		return c.quietly(s, report.PinLines(s.Pins))
	}
	s.Answer = nil
	if err := report.Terminal(c.out, s, c.terminal()); err != nil || len(changes) == 0 {
		return err
	}
	return c.listFiles(dir, changes)
}
