package main

import "flipcalc/report"

func runOrigin(c *call) error {
	err := c.Origin(c.budgetAsked())
	if err != nil {
		return err
	}
	s, a := c.Setup, c.Answer
	return c.show(s, func() error {
		if s.Budget != nil {
			return report.OriginBudgetJSON(c.out, a, s.Budget)
		}
		return report.OriginJSON(c.out, a)
	}, func() string { return report.OneLine(a) + "\n" })
}

// budgetAsked reports whether a quick look-up asks for the budget: by --budget, or
// by a term of it on the command line.
func (c *call) budgetAsked() bool {
	if c.On("budget") {
		return true
	}
	for _, name := range []string{"tolerance", "wood", "moisture", "grain", "quartersawn", "point"} {
		if c.Typed(name) {
			return true
		}
	}
	return false
}
