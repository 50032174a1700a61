package job

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// question reads the flags that say where the blank lies.
func (c *Task) question(m *ask.Machine) (registration.Question, error) {
	r := c.NewReader()
	q := registration.Question{Unit: r.Unit}
	size, point, zero := ask.In(r, registration.ParseSize), ask.In(r, registration.ParsePoint), ask.In(r, registration.ParseZero)
	contact := ask.In(r, registration.ParseContact)
	ask.Optional(r, "stock", size, &q.Stock)
	ask.Optional(r, "measured", size, &q.Measured)
	ask.Read(r, "flip", registration.ParseFlip, &q.Flip)
	ask.Read(r, "zero", zero, &q.Zero)
	q.BackZeroGiven = ask.Read(r, "back-zero", zero, &q.BackZero)
	ask.Read(r, "z-zero", registration.ParseZZero, &q.ZZero)
	ask.Read(r, "back-z-zero", registration.ParseZZero, &q.BackZZero)
	ask.Optional(r, "at", ask.In(r, registration.ParsePosition), &q.At)
	if c.Given("offset") {
		q.Offset = c.Text("offset")
	}
	q.BackOffset = c.Text("back-offset")
	ask.Read(r, "seat", r.Length, &q.Seat)
	ask.Read(r, "back-seat", r.Length, &q.BackSeat)
	ask.Read(r, "skimmed", r.Length, &q.Skimmed)
	ask.Read(r, "touch-off", registration.ParseTouchOff, &q.TouchOff)
	ask.Read(r, "register", registration.ParseRegister, &q.Register)
	if transform.ReadOffset(q.BackOffset) > transform.MoreOffsets && c.Verb.Name == "mirror" && q.Register == registration.NoRegister {
		q.BackOffset = "" // no zero is stored, so that it needn't be one of those that G10 L2 writes
	}
	ask.Every(r, "pin", ask.In(r, registration.ParsePin), &q.Pins)
	ask.Every(r, "hole", r.Length, &q.Hole)
	q.Fit = c.Text("fit")
	t, err := c.Tolerances(r)
	if err != nil {
		return q, err
	}
	if v, ok := t[budget.Clearance]; ok {
		q.Clearance = &v.Amount
	}
	ask.Optional(r, "back-pin", point, &q.BackPin)
	ask.Read(r, "drilled", registration.ParseDrilled, &q.DrilledFace)
	ask.Optional(r, "bore", ask.In(r, registration.ParseBore), &q.Bore)
	ask.Optional(r, "plug", r.Length, &q.PlugD)
	ask.Optional(r, "plug-at", point, &q.PlugAt)
	ask.Read(r, "clock", ask.In(r, registration.ParseClock), &q.Clock)
	q.Round = c.On("round")
	ask.Read(r, "fence", contact, &q.Fence)
	ask.Read(r, "stop", contact, &q.Stop)
	ask.Read(r, "back-fence", contact, &q.BackFence)
	ask.Read(r, "back-stop", contact, &q.BackStop)
	ask.Every(r, "touched", ask.In(r, registration.ParseSpot), &q.Touched)
	ask.Optional(r, "finder", r.Length, &q.Finder)
	if q.Register == registration.Touched && r.Err == nil {
		q.Slack = t.Slack(q)
		limit, err := ask.Above(c.Text("turn-limit"), transform.MM)
		if err != nil {
			return q, c.At("turn-limit", err)
		}
		q.TurnLimit = &limit
	}
	ask.Optional(r, "contacts", ask.In(r, registration.ParseContacts), &q.Contacts)
	if r.Err == nil && !c.Given("register") && c.Verb.Name != "pins" {
		for _, name := range []string{"pin", "bore", "plug", "plug-at", "fence", "stop", "back-fence", "back-stop", "touched"} {
			if c.Given(name) {
				return q, ask.Wrong(c.Where(name), "a locator, and no register", "register as well", "dowels, plug, fence or touched: say which of them finds the blank again")
			}
		}
	}
	if m != nil {
		if r.Err == nil {
			q.Lengths, r.Err = c.lengths(m)
		}
		q.Extended = m.Extended
		q.Taken = m.Taken(c.JobName())
	}
	return q, r.Err
}

// solve answers the question that the flags ask.
func (c *Task) solve(m *ask.Machine) (*registration.Answer, error) {
	q, err := c.question(m)
	if err != nil {
		return nil, err
	}
	a, err := registration.Solve(q)
	if err == nil {
		err = c.single(a)
	}
	if err != nil || q.At == nil || q.At.Z != nil {
		return a, err
	}
	// One Z for the answer and the offsets: where it wasn't given, that of the table.
	var stick *decimal.Decimal
	r := c.NewReader()
	ask.Optional(r, "stick-out", r.Length, &stick)
	z, _ := m.Levels(a, stick)
	if r.Err != nil || z == nil {
		return a, r.Err
	}
	at := *q.At
	at.Z, q.At = z, &at
	return registration.Solve(q)
}

// single refuses a touched blank where this verb can't follow how it lies: one that has
// stations asks for locators.
func (c *Task) single(a *registration.Answer) error {
	switch {
	case a.Question.Register != registration.Touched || c.Verb.Name == "origin":
		return nil
	case a.ToTouch() && (c.Verb.Name == "mirror" || c.Verb.Name == "correct"):
		return ask.Wrong(c.Where("touched"), "touches that aren't read yet", "where the spindle stood, behind an @", "turn the blank, touch it, then ask again")
	case c.placing() || c.Verb.Name == "pins":
		return ask.Wrong(c.Where("register"), "touched, a blank that lies anywhere", "dowels, plug or fence", "stations and pairs need locators; flipcalc origin finds one touched blank")
	}
	return nil
}

// lengths says what a stored Z is measured with, from the programs of the job and the
// machine. Where Z is said to be stored with lengths in use, every tool that cuts must
// call its own: one that doesn't would go too deep by its whole length.
func (c *Task) lengths(m *ask.Machine) (registration.Lengths, error) {
	if !m.Whole && !c.Given("at") && !c.Given("stick-out") {
		return registration.LengthsTool, nil // no Z to be mistaken
	}
	called := false
	for _, side := range jobSides {
		for _, path := range c.Texts(side.flag) {
			stints, err := c.stints(path)
			if err != nil {
				return registration.LengthsTool, err
			}
			for _, s := range stints {
				if called = called || s.Length; m.Whole && !s.Length {
					return registration.LengthsTool, ask.Wrong(c.Where("lengths"), fmt.Sprintf("whole, and %s:%d cuts with no tool length called", path, s.Line),
						"G43 H for every tool", "it would cut too deep by the tool's length; without lengths = \"whole\" Z is touched off for the tool")
				}
			}
		}
	}
	switch {
	case m.Whole:
		return registration.LengthsWhole, nil
	case called:
		return registration.LengthsCalled, nil
	}
	return registration.LengthsTool, nil
}

// stints interprets a program for the tools that cut, and whether each calls its length.
func (c *Task) stints(path string) ([]motion.Stint, error) {
	in, err := c.program(path)
	if err != nil {
		return nil, err
	}
	o, err := c.motionOptions(shownInput(path))
	if err != nil {
		return nil, err
	}
	return motion.Stints(again(in), o)
}

// answer reads the machine and answers the question, at the first pair of stations
// where the flags or the job ask for pairs.
func (c *Task) answer() (*ask.Machine, *registration.Answer, error) {
	j, err := c.answers()
	if err != nil {
		return nil, nil, err
	}
	return j.Machine, j.Answer, nil
}

// answers reads the machine and answers the question at every pair of stations.
func (c *Task) answers() (*Job, error) {
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	a, err := c.solve(m)
	if err != nil {
		return nil, err
	}
	j := &Job{Machine: m, Answer: a}
	return j, c.stand(j)
}

// placing reports whether pairs of stations are to be placed on the bed: by the verbs
// that place them, where pairs are asked for, and for a job that has a machine, doesn't
// say where the face lies, and makes a run of parts or has a seat for the back. Else
// there is one station, at which the blank is turned over.
func (c *Task) placing() bool {
	switch {
	case c.Verb.Name == "stations" || c.Verb.Name == "pair":
		return true
	case c.Given("pairs"):
		return c.Text("pairs") != "0"
	}
	return c.JobFile != "" && c.Given("machine") && c.Given("register") && !c.Given("at") && (c.Given("parts") || c.Given("back-seat"))
}

// Origin answers the question at its first pair of stations, with the misalignment budget
// where it is asked for.
func (c *Task) Origin(budget bool) (*Job, error) {
	j, err := c.answers()
	if err != nil {
		return nil, err
	}
	j.Setup = c.setup(j.Answer, j.Machine)
	if budget {
		j.Setup.Budget, err = c.budgetOf(j.Answer)
	}
	return j, err
}
