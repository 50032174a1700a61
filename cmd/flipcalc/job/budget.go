package job

import (
	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report"
)

// budgetOf draws up the misalignment budget that the flags ask for, in words.
func (c *Task) budgetOf(a *registration.Answer) (*report.Budget, error) {
	b, err := c.budgetResult(a)
	if err != nil {
		return nil, err
	}
	return report.BudgetOf(b, a.Question), nil
}

// budgetResult draws up the misalignment budget that the flags ask for.
func (c *Task) budgetResult(a *registration.Answer) (*budget.Result, error) {
	r := c.NewReader()
	o := budget.Options{Wood: c.Text("wood"), Quartersawn: c.On("quartersawn")}
	ask.Optional(r, "moisture", ask.In(r, registration.ParseLength), &o.Moisture)
	ask.Optional(r, "point", ask.In(r, registration.ParsePoint), &o.At)
	if r.Err != nil {
		return nil, r.Err
	}
	if c.Given("grain") {
		o.Grain = c.Text("grain")
	}
	var err error
	if o.Tolerances, err = c.Tolerances(r); err != nil {
		return nil, err
	}
	for _, side := range c.sides() {
		of := &o.Rounding[1]
		if side.role == "face" {
			of = &o.Rounding[0]
		}
		for _, path := range c.Texts(side.flag) {
			// What is written out and then turned is rounded twice, one error on the other.
			*of = decimal.Max(*of, c.plain[path].Step(a.Question.Unit).Add(c.turned[path].Step(a.Question.Unit)))
		}
	}
	return budget.For(a, o)
}
