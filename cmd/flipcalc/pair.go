package main

import (
	"fmt"
	"slices"

	"flipcalc/report"
)

func runPair(c *call) error {
	dir := c.Text("output")
	if err := c.Pair(); err != nil {
		return err
	}
	changes, err := c.intoFolder(dir)
	if err != nil {
		return err
	}
	return c.showWith(c.Setup, dir, changes, func() error { return report.PairJSON(c.out, c.Setup) }, func() string {
		orders := c.Setup.Plan.Orders
		chosen := orders[slices.IndexFunc(orders, func(o report.PlanOrder) bool { return o.Chosen })]
		return fmt.Sprintf("%d tool changes, %.0f s a cycle, %.1f parts an hour\n", chosen.Changes, chosen.Seconds, chosen.PerHour)
	})
}
