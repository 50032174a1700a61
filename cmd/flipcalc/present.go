package main

import (
	"fmt"
	"os"
	"path/filepath"

	"golang.org/x/term"

	"flipcalc/report"
)

// show prints a verb's answer in the form that is asked for: JSON, its line or lines alone,
// or a report.
func (c *call) show(s report.Setup, json func() error, lines func() string) error {
	switch {
	case c.On("json"):
		return json()
	case c.On("quiet"):
		return c.quietly(s, lines())
	}
	return report.Terminal(c.reports(), s, c.terminal())
}

// intoFolder writes a verb's files into a folder, where one is given, and says to standard
// error what bare programs don't say themselves.
func (c *call) intoFolder(dir string) ([]change, error) {
	if dir == "" {
		return nil, nil
	}
	changes, err := c.write(set{dir: dir, files: c.Files})
	if err == nil && c.On("bare") {
		c.cautions()
	}
	return changes, err
}

// showWith is show with the files that were written into a folder, or would be, behind a
// report.
func (c *call) showWith(s report.Setup, dir string, changes []change, json func() error, lines func() string) error {
	if err := c.show(s, json, lines); err != nil || len(changes) == 0 || c.On("json") || c.On("quiet") {
		return err
	}
	head := "Files"
	if c.On("dry-run") {
		head = "Files that would be written"
	}
	if dir != "" {
		head += " in " + filepath.Clean(dir)
	}
	return printAll(c.reports(), "\n"+head+":\n"+listed(changes))
}

// listed is a line for each file, with what became of it.
func listed(changes []change) string {
	text := ""
	for _, ch := range changes {
		text += fmt.Sprintf("  %-24s %s\n", filepath.Base(ch.path), ch.what)
	}
	return text
}

// terminal says what the stream that the report goes to can show.
func (c *call) terminal() report.Options {
	o := report.Options{Width: 80, ASCII: c.On("ascii"), Why: c.On("why") || c.Verb.Name == "sheet"}
	f, ok := c.reports().(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return o
	}
	if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
		o.Width = w
	}
	o.Color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	return o
}
