package job

import (
	"fmt"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// question is where the blank lies, as the maker says it.
func (j *Job) question() (q registration.Question, err error) {
	q = registration.Question{
		Unit:  j.Unit(),
		Stock: ask.Optional[registration.Blank](j.Ask, "stock"), Measured: ask.Optional[registration.Blank](j.Ask, "measured"),
		Flip: ask.Value[registration.Flip](j.Ask, "flip"),
		Zero: ask.Said[registration.Zero](j.Ask, "zero"), BackZero: ask.Value[registration.Zero](j.Ask, "back-zero"),
		ZZero: ask.Said[registration.ZZero](j.Ask, "z-zero"), BackZZero: ask.Value[registration.ZZero](j.Ask, "back-z-zero"),
		At:   ask.Optional[registration.Position](j.Ask, "at"),
		Seat: j.Length("seat"), BackSeat: j.Length("back-seat"), Skimmed: j.Length("skimmed"),
		TouchOff: ask.Said[registration.TouchOff](j.Ask, "touch-off"),
		Register: ask.Value[registration.Register](j.Ask, "register"),
	}
	if j.Given("offset") {
		q.Offset = j.Text("offset")
	}
	q.BackOffset = j.Text("back-offset")
	if transform.ReadOffset(q.BackOffset) > transform.MoreOffsets && j.Verb.Name == "mirror" && q.Register == registration.NoRegister {
		q.BackOffset = "" // no zero is stored, so that it needn't be one of those that G10 L2 writes
	}
	j.locators(&q)
	if !j.Given("register") && j.Verb.Name != "pins" {
		for _, name := range []string{"pin", "bore", "plug", "plug-at", "fence", "stop", "back-fence", "back-stop", "touched"} {
			if j.Given(name) {
				return q, ask.Wrong(j.Where(name), "a locator, and no register", "register as well", "dowels, plug, fence or touched: say which of them finds the blank again")
			}
		}
	}
	q.Extended, q.Taken = j.Machine.Extended, j.Machine.Taken(j.Name())
	q.Lengths, err = j.lengths()
	return q, err
}

// locators adds what the blank is found again by.
func (j *Job) locators(q *registration.Question) {
	q.Pins = ask.Values[registration.Pin](j.Ask, "pin")
	q.Hole = j.Lengths("hole")
	q.Fit = j.Text("fit")
	q.BackPin = ask.Optional[registration.Point](j.Ask, "back-pin")
	q.DrilledFace = ask.Value[bool](j.Ask, "drilled")
	q.Bore = ask.Optional[registration.Pin](j.Ask, "bore")
	q.PlugD = j.OptionalLength("plug")
	q.PlugAt = ask.Optional[registration.Point](j.Ask, "plug-at")
	q.Clock = ask.Value[registration.Clocking](j.Ask, "clock")
	q.Round = j.On("round")
	for key, to := range map[string]*registration.Contact{"fence": &q.Fence, "stop": &q.Stop, "back-fence": &q.BackFence, "back-stop": &q.BackStop} {
		*to = ask.Value[registration.Contact](j.Ask, key)
	}
	q.Contacts = ask.Optional[registration.Contacts](j.Ask, "contacts")
	q.Touched = ask.Values[registration.Spot](j.Ask, "touched")
	q.Finder = j.OptionalLength("finder")
	t := j.Tolerances()
	if v, ok := t[budget.Clearance]; ok {
		q.Clearance = &v.Amount
	}
	if q.Register == registration.Touched {
		q.Slack = t.Slack(*q)
		limit := j.Length("turn-limit")
		q.TurnLimit = &limit
	}
}

// solve answers the question that the flags ask.
func (j *Job) solve() error {
	q, err := j.question()
	if err != nil {
		return err
	}
	if j.Answer, err = registration.Solve(q); err != nil {
		return err
	}
	if err := j.single(); err != nil || q.At == nil || q.At.Z != nil {
		return err
	}
	// One Z for the answer and the offsets: where it wasn't given, that of the table.
	z, _ := j.Machine.Levels(j.Answer, j.OptionalLength("stick-out"))
	if z == nil {
		return nil
	}
	at := *q.At
	at.Z, q.At = z, &at
	j.Answer, err = registration.Solve(q)
	return err
}

// single refuses a touched blank where this verb can't follow how it lies: one that has
// stations asks for locators.
func (j *Job) single() error {
	a := j.Answer
	switch {
	case a.Question.Register != registration.Touched || j.Verb.Name == "origin":
		return nil
	case a.ToTouch() && (j.Verb.Name == "mirror" || j.Verb.Name == "correct"):
		return ask.Wrong(j.Where("touched"), "touches that aren't read yet", "where the spindle stood, behind an @", "turn the blank, touch it, then ask again")
	case j.placing() || j.Verb.Name == "pins":
		return ask.Wrong(j.Where("register"), "touched, a blank that lies anywhere", "dowels, plug or fence", "stations and pairs need locators; flipcalc origin finds one touched blank")
	}
	return nil
}

// lengths says what a stored Z is measured with, from the programs of the job and the
// machine. Where Z is said to be stored with lengths in use, every tool that cuts must
// call its own: one that doesn't would go too deep by its whole length.
func (j *Job) lengths() (registration.Lengths, error) {
	whole := j.Machine.Whole
	if !whole && !j.Given("at") && !j.Given("stick-out") {
		return registration.LengthsTool, nil // no Z to be mistaken
	}
	called := false
	for _, path := range j.Programs() {
		stints, err := j.stints(path)
		if err != nil {
			return registration.LengthsTool, err
		}
		for _, s := range stints {
			if called = called || s.Length; whole && !s.Length {
				return registration.LengthsTool, ask.Wrong(j.Where("lengths"), fmt.Sprintf("whole, and %s:%d cuts with no tool length called", path, s.Line),
					"G43 H for every tool", "it would cut too deep by the tool's length; without lengths = \"whole\" Z is touched off for the tool")
			}
		}
	}
	switch {
	case whole:
		return registration.LengthsWhole, nil
	case called:
		return registration.LengthsCalled, nil
	}
	return registration.LengthsTool, nil
}

// stints interprets a program for the tools that cut, and whether each calls its length.
func (j *Job) stints(path string) ([]motion.Stint, error) {
	in, err := j.program(path)
	if err != nil {
		return nil, err
	}
	return motion.Stints(again(in), j.reading(shownInput(path)))
}

// find reads the machine and answers the question at every pair of stations.
func (j *Job) find() error {
	if err := j.start(); err != nil {
		return err
	}
	if err := j.solve(); err != nil {
		return err
	}
	return j.stand()
}

// start reads the machine.
func (j *Job) start() (err error) {
	j.Machine, err = j.Ask.Machine()
	return err
}

// placing reports whether pairs of stations are to be placed on the bed: by the verbs
// that place them, where pairs are asked for, and for a job that has a machine, doesn't
// say where the face lies, and makes a run of parts or has a seat for the back. Else
// there is one station, at which the blank is turned over.
func (j *Job) placing() bool {
	switch {
	case j.Verb.Name == "stations" || j.Verb.Name == "pair":
		return true
	case j.Given("pairs"):
		return j.Text("pairs") != "0"
	}
	return j.JobFile != "" && j.Given("machine") && j.Given("register") && !j.Given("at") && (j.Given("parts") || j.Given("back-seat"))
}

// Origin answers the question at its first pair of stations, with the misalignment budget
// where it is asked for.
func (j *Job) Origin(budget bool) error {
	if err := j.find(); err != nil {
		return err
	}
	j.setup()
	if !budget {
		return nil
	}
	return j.addBudget()
}
