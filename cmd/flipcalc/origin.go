package main

import "flipcalc/report"

func runOrigin(c *call) error {
	m, a, err := c.answer()
	if err != nil {
		return err
	}
	s := c.setup(a, m)
	if c.budgetAsked() {
		if s.Budget, err = c.budgetOf(a); err != nil {
			return err
		}
	}
	if c.On("json") && s.Budget != nil {
		return report.OriginBudgetJSON(c.out, a, s.Budget)
	}
	if c.On("json") {
		return report.OriginJSON(c.out, a)
	}
	if c.On("quiet") {
		return c.quietly(s, report.OneLine(a)+"\n")
	}
	return report.Terminal(c.out, s, c.terminal())
}
