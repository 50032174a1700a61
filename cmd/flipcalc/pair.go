package main

import (
	"fmt"
	"slices"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
	"flipcalc/report"
)

func runPair(c *call) error {
	dir := c.Text("output")
	if dir == "-" {
		return ask.Wrong("-o", "-", "a folder", "pair writes three programs, "+job.RunFiles[0]+", "+job.RunFiles[1]+" and "+job.RunFiles[2])
	}
	err := c.Pair()
	if err != nil {
		return err
	}
	var changes []change
	if dir != "" {
		if changes, err = c.write(set{dir: dir, files: c.Files}); err != nil {
			return err
		}
	}
	if c.On("bare") && dir != "" {
		c.cautions()
	}
	switch {
	case c.On("json"):
		return report.PairJSON(c.out, c.Setup)
	case c.On("quiet"):
		orders := c.Setup.Plan.Orders
		chosen := orders[slices.IndexFunc(orders, func(o report.PlanOrder) bool { return o.Chosen })]
		return c.quietly(c.Setup, fmt.Sprintf("%d tool changes, %.0f s a cycle, %.1f parts an hour\n", chosen.Changes, chosen.Seconds, chosen.PerHour))
	}
	if err := report.Terminal(c.out, c.Setup, c.terminal()); err != nil || dir == "" {
		return err
	}
	return c.listFiles(dir, changes)
}
