package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// at puts a flag's place into an error that speaks of a value alone.
func (c *call) at(name string, err error) error { return about(c.where(name), name, err) }

// about puts the place where a flag or key was given into an error of its value.
func about(where, name string, err error) error {
	var f *fault.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &f) && f.Line == 0:
		named := *f
		named.About, named.File = where+strings.TrimPrefix(f.About, "--"+name), ""
		return &named
	}
	return wrong(where, err.Error(), "", "")
}

// placed says where the value that an error speaks of was given: in place of a flag's
// name at its start the place in the job file, where the value came from there, and
// before the name of a file that can't be read the key or flag that named it. Every
// error of a verb passes through here.
func (c *call) placed(err error) error {
	var f *fault.Error
	var pe *fs.PathError
	var list faults
	switch {
	case errors.As(err, &list): // each has its place
	case errors.As(err, &f) && f.About != "":
		named := *f
		named.About = c.givenAt(f.About)
		return &named
	case errors.As(err, &pe):
		if where := c.naming(pe.Path); where != "" {
			f := refusal(err)
			return wrong(where+": "+f.File, f.Found, "", f.Hint)
		}
	}
	return err
}

// givenAt turns the name of a flag or key at the start of a place into the flag, or the
// key's place in the job or machine file, wherever its value was given.
func (c *call) givenAt(where string) string {
	if at := c.machineAt[where]; at != "" {
		return at
	}
	flag, rest, _ := strings.Cut(where, " ")
	name, dashed := strings.CutPrefix(flag, "--")
	if v := c.flags[name]; v != nil && (dashed && len(v.vals) > 0 || where == name) {
		return strings.TrimSpace(v.where + " " + rest)
	}
	if at := c.naming(where); at != "" {
		return at + ": " + where
	}
	return where
}

// naming gives the place of the flag or key that names a file, "" where none does.
func (c *call) naming(path string) string {
	if slices.Contains(c.operands, path) {
		return ""
	}
	for _, key := range fileKeys {
		if v := c.flags[key]; v != nil && slices.Contains(v.vals, path) {
			return v.where
		}
	}
	return ""
}

// unit is the unit of plain lengths.
func (c *call) unit() (transform.Unit, error) {
	u, err := registration.ParseUnit(c.text("units"))
	return u, c.at("units", err)
}

// reader reads flags into values and keeps the first error.
type reader struct {
	c    *call
	unit transform.Unit
	err  error
}

// newReader reads lengths in the call's unit.
func (c *call) newReader() *reader {
	u, err := c.unit()
	return &reader{c: c, unit: u, err: err}
}

// read parses a flag that was given; it reports whether it did.
func read[T any](r *reader, name string, parse func(string) (T, error), into *T) bool {
	if r.err != nil || !r.c.given(name) {
		return false
	}
	v, err := parse(r.c.text(name))
	if err != nil {
		r.err = r.c.at(name, err)
		return false
	}
	*into = v
	return true
}

// optional reads a flag into a pointer that stays nil where it wasn't given.
func optional[T any](r *reader, name string, parse func(string) (T, error), into **T) {
	var v T
	if read(r, name, parse, &v) {
		*into = &v
	}
}

// every reads a flag that may be given more than once.
func every[T any](r *reader, name string, parse func(string) (T, error), into *[]T) {
	for _, s := range r.c.texts(name) {
		if r.err != nil {
			return
		}
		v, err := parse(s)
		if err != nil {
			r.err = r.c.at(name, err)
			return
		}
		*into = append(*into, v)
	}
}

// in gives a parser of values that hold lengths in the reader's unit.
func in[T any](r *reader, parse func(string, transform.Unit) (T, error)) func(string) (T, error) {
	return func(s string) (T, error) { return parse(s, r.unit) }
}

// length parses a length in the reader's unit.
func (r *reader) length(s string) (decimal.Decimal, error) {
	return registration.ParseLength(s, r.unit)
}

// question reads the flags that say where the blank lies.
func (c *call) question(m *machine) (registration.Question, error) {
	r := c.newReader()
	q := registration.Question{Unit: r.unit}
	size, point, zero := in(r, registration.ParseSize), in(r, registration.ParsePoint), in(r, registration.ParseZero)
	contact := in(r, registration.ParseContact)
	optional(r, "stock", size, &q.Stock)
	optional(r, "measured", size, &q.Measured)
	read(r, "flip", registration.ParseFlip, &q.Flip)
	read(r, "zero", zero, &q.Zero)
	q.BackZeroGiven = read(r, "back-zero", zero, &q.BackZero)
	read(r, "z-zero", registration.ParseZZero, &q.ZZero)
	read(r, "back-z-zero", registration.ParseZZero, &q.BackZZero)
	optional(r, "at", in(r, registration.ParsePosition), &q.At)
	if c.given("offset") {
		q.Offset = c.text("offset")
	}
	q.BackOffset = c.text("back-offset")
	read(r, "seat", r.length, &q.Seat)
	read(r, "back-seat", r.length, &q.BackSeat)
	read(r, "skimmed", r.length, &q.Skimmed)
	read(r, "touch-off", registration.ParseTouchOff, &q.TouchOff)
	read(r, "register", registration.ParseRegister, &q.Register)
	if _, extended := mirror.ExtendedOffset(q.BackOffset); extended && c.verb.name == "mirror" && q.Register == registration.NoRegister {
		q.BackOffset = "" // no zero is stored, so that it needn't be one of those that G10 L2 writes
	}
	every(r, "pin", in(r, registration.ParsePin), &q.Pins)
	every(r, "hole", r.length, &q.Hole)
	q.Fit = c.text("fit")
	t, err := c.tolerances(r)
	if err != nil {
		return q, err
	}
	if v, ok := t[budget.Clearance]; ok {
		q.Clearance = &v.Amount
	}
	optional(r, "back-pin", point, &q.BackPin)
	read(r, "drilled", registration.ParseDrilled, &q.DrilledFace)
	optional(r, "bore", in(r, registration.ParseBore), &q.Bore)
	optional(r, "plug", r.length, &q.PlugD)
	optional(r, "plug-at", point, &q.PlugAt)
	read(r, "clock", in(r, registration.ParseClock), &q.Clock)
	q.Round = c.on("round")
	read(r, "fence", contact, &q.Fence)
	read(r, "stop", contact, &q.Stop)
	read(r, "back-fence", contact, &q.BackFence)
	read(r, "back-stop", contact, &q.BackStop)
	every(r, "touched", in(r, registration.ParseSpot), &q.Touched)
	optional(r, "finder", r.length, &q.Finder)
	if q.Register == registration.Touched && r.err == nil {
		q.Slack = t.Slack(q)
		limit, err := above(c.text("turn-limit"), transform.MM)
		if err != nil {
			return q, c.at("turn-limit", err)
		}
		q.TurnLimit = &limit
	}
	optional(r, "contacts", in(r, registration.ParseContacts), &q.Contacts)
	if r.err == nil && !c.given("register") && c.verb.name != "pins" {
		for _, name := range []string{"pin", "bore", "plug", "plug-at", "fence", "stop", "back-fence", "back-stop", "touched"} {
			if c.given(name) {
				return q, wrong(c.where(name), "a locator, and no register", "register as well", "dowels, plug, fence or touched: say which of them finds the blank again")
			}
		}
	}
	if m != nil {
		if r.err == nil {
			q.Lengths, r.err = c.lengths(m)
		}
		q.Extended = m.Extended
		q.Taken = m.Taken(c.jobName())
	}
	return q, r.err
}

// solve answers the question that the flags ask.
func (c *call) solve(m *machine) (*registration.Answer, error) {
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
	r := c.newReader()
	optional(r, "stick-out", r.length, &stick)
	z, _ := m.Levels(a, stick)
	if r.err != nil || z == nil {
		return a, r.err
	}
	at := *q.At
	at.Z, q.At = z, &at
	return registration.Solve(q)
}

// single refuses a touched blank where this verb can't follow how it lies: one that has
// stations asks for locators.
func (c *call) single(a *registration.Answer) error {
	switch {
	case a.Lie == nil || c.verb.name == "origin":
		return nil
	case c.placing() || c.verb.name == "pins":
		return wrong(c.where("register"), "touched, a blank that lies anywhere", "dowels, plug or fence", "stations and pairs need locators; flipcalc origin finds one touched blank")
	case c.verb.name == "sheet" || c.verb.name == "prepare":
		return wrong(c.where("register"), "touched: its steps seat the blank on locators", "dowels, plug or fence", "use flipcalc mirror, check and origin: cut the face, turn, touch, then store the zero")
	}
	return nil
}

// lengths says what a stored Z is measured with, from the programs of the job and the
// machine. Where Z is said to be stored with lengths in use, every tool that cuts must
// call its own: one that doesn't would go too deep by its whole length.
func (c *call) lengths(m *machine) (registration.Lengths, error) {
	if !m.whole && !c.given("at") && !c.given("stick-out") {
		return registration.LengthsTool, nil // no Z to be mistaken
	}
	called := false
	for _, side := range jobSides {
		for _, path := range c.texts(side.flag) {
			stints, err := c.stints(path)
			if err != nil {
				return registration.LengthsTool, err
			}
			for _, s := range stints {
				if called = called || s.Length; m.whole && !s.Length {
					return registration.LengthsTool, wrong(c.where("lengths"), fmt.Sprintf("whole, and %s:%d cuts with no tool length called", path, s.Line),
						"G43 H for every tool", "it would cut too deep by the tool's length; without lengths = \"whole\" Z is touched off for the tool")
				}
			}
		}
	}
	switch {
	case m.whole:
		return registration.LengthsWhole, nil
	case called:
		return registration.LengthsCalled, nil
	}
	return registration.LengthsTool, nil
}

// stints interprets a program for the tools that cut, and whether each calls its length.
func (c *call) stints(path string) ([]motion.Stint, error) {
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
func (c *call) answer() (*machine, *registration.Answer, error) {
	j, err := c.answers()
	if err != nil {
		return nil, nil, err
	}
	return j.machine, j.answer, nil
}

// answers reads the machine and answers the question at every pair of stations.
func (c *call) answers() (*job, error) {
	m, err := c.machine()
	if err != nil {
		return nil, err
	}
	a, err := c.solve(m)
	if err != nil {
		return nil, err
	}
	j := &job{machine: m, answer: a}
	return j, c.stand(j)
}

// placing reports whether pairs of stations are to be placed on the bed: by the verbs
// that place them, where pairs are asked for, and for a job that has a machine, doesn't
// say where the face lies, and makes a run of parts or has a seat for the back. Else
// there is one station, at which the blank is turned over.
func (c *call) placing() bool {
	switch {
	case c.verb.name == "stations" || c.verb.name == "pair":
		return true
	case c.given("pairs"):
		return c.text("pairs") != "0"
	}
	return c.jobFile != "" && c.given("machine") && c.given("register") && !c.given("at") && (c.given("parts") || c.given("back-seat"))
}
