package main

import (
	"strings"

	"flipcalc/report"
)

func runStations(c *call) error {
	err := c.Stations()
	if err != nil {
		return err
	}
	s := c.Setup
	if out := c.Text("output"); out != "" {
		if _, err := c.writeProgram(out, "", []byte(strings.Join(s.Lines, "\n")+"\n")); err != nil {
			return err
		}
		if out != "-" {
			s.LinesFile = out
		}
	}
	err = c.show(s, func() error { return report.StationsJSON(c.out, s) }, func() string { return report.StationLines(s.Stations, s.Unit) })
	if err != nil || c.On("json") || c.On("quiet") {
		return err
	}
	text, err := c.Machine.StationEntries(c.Name(), c.Layout)
	if err != nil {
		return err
	}
	return printAll(c.reports(), text)
}
