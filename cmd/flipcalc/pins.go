package main

import "flipcalc/report"

func runPins(c *call) error {
	dir := c.Text("output")
	if err := c.Pins(); err != nil {
		return err
	}
	changes, err := c.intoFolder(dir)
	if err != nil {
		return err
	}
	s := c.Setup
	s.Answer = nil
	return c.showWith(s, dir, changes, func() error { return report.PinsJSON(c.out, c.Setup) }, func() string { return report.PinLines(s.Pins) })
}
