package main

import (
	"fmt"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/report"
	"flipcalc/report/words"
)

// quietly ends a verb under --quiet: the result alone, which is a line or a few, and
// nothing where it went into files. Warnings and cautions go to standard error.
func (c *call) quietly(s report.Setup, lines string) error {
	c.warn(s)
	if c.toOutput() || c.Given("output") && !c.On("dry-run") {
		return nil
	}
	return printAll(c.out, lines)
}

// warn prints a report's warnings and cautions to standard error, each once.
func (c *call) warn(s report.Setup) {
	said := words.Said{}
	say := func(level, text string) {
		if (level == registration.LevelWarning || level == registration.LevelCaution) && said.First(text) {
			fmt.Fprintln(c.err, "flipcalc: "+level+": "+ask.OneLine(text))
		}
	}
	notes := func(list []report.Note) {
		for _, n := range list {
			say(n.Level, report.NoteText(n, s.Unit))
		}
	}
	for _, p := range s.Alerts() {
		say(p.Level, p.Text)
	}
	if s.Pins != nil {
		notes(s.Pins.Notes)
	}
	for _, m := range s.Mirrors {
		notes(m.Notes)
	}
	if s.Plan != nil {
		notes(s.Plan.Notes)
	}
	if s.Check != nil {
		notes(s.Check.Notes)
	}
	if s.Landed != nil {
		notes(s.Landed.Notes)
		if s.Landed.Turn != nil {
			say(registration.LevelWarning, "the measurements show a turn, which no zero corrects: "+s.Landed.Ways[s.Landed.Best].Do)
		}
	}
	notes(s.Notes)
}
