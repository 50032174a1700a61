package job

import (
	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report"
)

// addBudget adds the misalignment budget to the report.
func (j *Job) addBudget() error {
	b, err := j.budget(j.Answer)
	if err != nil {
		return err
	}
	j.Setup.Budget = report.BudgetOf(b, j.Answer.Question)
	return nil
}

// budget draws up the misalignment budget that the flags ask for.
func (j *Job) budget(a *registration.Answer) (*budget.Result, error) {
	o := budget.Options{Wood: j.Text("wood"), Quartersawn: j.On("quartersawn"), Grain: j.Text("grain"),
		Moisture: j.OptionalLength("moisture"), At: ask.Optional[registration.Point](j.Ask, "point"), Tolerances: j.Tolerances()}
	for _, side := range j.sides() {
		of := &o.Rounding[1]
		if side.role == "face" {
			of = &o.Rounding[0]
		}
		for _, path := range j.Texts(side.flag) {
			// What is written out and then turned is rounded twice, one error on the other.
			*of = decimal.Max(*of, j.plain[path].Step(a.Question.Unit).Add(j.turned[path].Step(a.Question.Unit)))
		}
	}
	return budget.For(a, o)
}
