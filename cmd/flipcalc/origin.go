package main

import "flipcalc/report"

var originVerb = &verb{
	name: "origin", does: "gives the second zero, the transform and what they rest on",
	run: runOrigin,
	examples: []example{
		{"a bread board against a fence and two stops", "flipcalc origin --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60,-20"},
		{"a row marker on two dowels, with the budget of what can be off", "flipcalc origin --stock 120x80x12 --flip y --register dowels --pin 60,6,6 --pin 60,74,5 --fit H7/g6 --budget"},
		{"a round bobbin end on a plug, as JSON", "flipcalc origin --stock 60x60x8 --flip x --register plug --bore 30,30,12 --plug 12 --round --zero center --json"},
	},
}

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
	if c.on("json") && s.Budget != nil {
		return report.OriginBudgetJSON(c.out, a, s.Budget)
	}
	if c.on("json") {
		return report.OriginJSON(c.out, a)
	}
	if c.on("quiet") {
		return c.quietly(s, report.OneLine(a)+"\n")
	}
	return report.Terminal(c.out, s, c.terminal())
}
