package main

import (
	"io"
	"os"

	"golang.org/x/term"

	"flipcalc/report"
)

// terminal says what standard output can show.
func (c *call) terminal() report.Options { return c.shows(c.out) }

// shows says what the stream that a report goes to can show.
func (c *call) shows(to io.Writer) report.Options {
	o := report.Options{Width: 80, ASCII: c.On("ascii"), Why: c.On("why") || c.Verb.Name == "sheet"}
	f, ok := to.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return o
	}
	if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
		o.Width = w
	}
	o.Color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	return o
}
