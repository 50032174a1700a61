package main

import (
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report"
)

// budgetOf draws up the misalignment budget that the flags ask for, in words.
func (c *call) budgetOf(a *registration.Answer) (*report.Budget, error) {
	b, err := c.budgetResult(a)
	if err != nil {
		return nil, err
	}
	return report.BudgetOf(b, a.Question), nil
}

// budgetResult draws up the misalignment budget that the flags ask for.
func (c *call) budgetResult(a *registration.Answer) (*budget.Result, error) {
	r := c.newReader()
	o := budget.Options{Wood: c.text("wood"), Quartersawn: c.on("quartersawn")}
	optional(r, "moisture", in(r, registration.ParseLength), &o.Moisture)
	optional(r, "point", in(r, registration.ParsePoint), &o.At)
	if r.err != nil {
		return nil, r.err
	}
	if c.given("grain") {
		o.Grain = c.text("grain")
	}
	var err error
	if o.Tolerances, err = c.tolerances(r); err != nil {
		return nil, err
	}
	return budget.For(a, o)
}

// tolerances reads the terms of the budget that are given.
func (c *call) tolerances(r *reader) (budget.Tolerances, error) {
	list := budget.Tolerances{}
	for _, t := range c.texts("tolerance") {
		if r.err != nil {
			return nil, r.err
		}
		if err := list.Set(t, r.unit, r.length); err != nil {
			return nil, c.at("tolerance", err)
		}
	}
	return list, nil
}

// budgetAsked reports whether a quick look-up asks for the budget: by --budget, or
// by a term of it on the command line.
func (c *call) budgetAsked() bool {
	if c.on("budget") {
		return true
	}
	for _, name := range []string{"tolerance", "wood", "moisture", "grain", "quartersawn", "point"} {
		if v := c.flags[name]; v != nil && len(v.vals) > 0 && !v.job {
			return true
		}
	}
	return false
}
