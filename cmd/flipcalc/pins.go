package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	jobroom "flipcalc/cmd/flipcalc/job"
	"flipcalc/mirror/fault"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report"
)

func runPins(c *call) error {
	dir := c.Text("output")
	if c.Given("output") && (dir == "-" || dir == "") {
		return ask.Wrong("-o", fmt.Sprintf("%q", dir), "a folder", "pins writes several programs")
	}
	m, err := c.Machine()
	if err != nil {
		return err
	}
	q, err := c.question(m)
	if err != nil {
		return err
	}
	switch {
	case q.Register == registration.FenceStop:
		return ask.Wrong(c.Where("register"), "fence", "dowels or plug", "a fence and a stop need no pins; flipcalc origin says where they stand")
	case q.Register == registration.Plug, q.Register == registration.NoRegister && q.Bore != nil && len(q.Pins) == 0:
		q.Register = registration.Plug
		return c.plugPins(m, q, dir)
	}
	return c.dowelPins(m, q, dir)
}

// dowelPins proposes or checks dowels and writes the programs that drill their holes.
func (c *call) dowelPins(m *ask.Machine, q registration.Question, dir string) error {
	o, err := c.patternOptions()
	if err != nil {
		return err
	}
	var uncut []report.Note
	if o.Clear, uncut, err = c.clearOfCuts(m, q, o); err != nil {
		return err
	}
	p, err := pattern.Propose(q, o)
	if err != nil {
		return err
	}
	j := &job{machine: m, answer: p.Answer}
	patterns := []*pattern.Pattern{p}
	if c.Given("pairs") {
		if err := c.stand(j); err != nil {
			return err
		}
		if patterns, err = c.patterns(j.pairs, o); err != nil {
			return err
		}
		// The stations change nothing of what was proposed.
		patterns[0].Style, patterns[0].Strip, patterns[0].Facts = p.Style, p.Strip, p.Facts
	}
	s := c.setup(j.answer, m)
	s.Pins = report.PinsOf(patterns[0])
	s.Pins.Notes = append(s.Pins.Notes, uncut...)
	if c.Given("output") {
		if err := c.addDrilling(j, patterns, o, s.Pins); err != nil {
			return err
		}
	}
	return c.showPins(s, j, dir)
}

// clearOfCuts cuts the programs that are given in memory, and gives what tells whether a
// place on the blank is clear of the cuts of both sides; nil where there are none.
func (c *call) clearOfCuts(m *ask.Machine, q registration.Question, o pattern.Options) (func(registration.Point, decimal.Decimal) bool, []report.Note, error) {
	if !c.Given("face") && !c.Given("back") && !c.Given("mirror") {
		return nil, nil, nil
	}
	if !c.Given("tool") {
		return nil, []report.Note{{Code: "pins-not-cleared", Level: "warning", Text: "cuts not checked: give the cutters' width with --tool"}}, nil
	}
	q.Register, q.Pins, q.Bore = registration.NoRegister, nil, nil
	a, err := registration.Solve(q)
	if err != nil {
		return nil, nil, err
	}
	j := &job{machine: m, answer: a, pairs: []*registration.Answer{a}}
	j.setup = c.setup(a, m)
	if err := c.checkPrograms(j); err != nil {
		return nil, nil, err
	}
	asked, err := c.cutting(j)
	if err != nil {
		return nil, nil, err
	}
	r, _, err := c.cutPair(j, asked, 0)
	if err != nil {
		return nil, nil, err
	}
	return jobroom.ClearOf(r.Grid, a, o.Over), nil, nil
}

// listFiles says what was written or would be.
func (c *call) listFiles(dir string, changes []change) error {
	head := "Files"
	if c.On("dry-run") {
		head = "Files that would be written"
	}
	text := fmt.Sprintf("\n%s in %s:\n", head, filepath.Clean(dir))
	for _, ch := range changes {
		text += fmt.Sprintf("  %-24s %s\n", filepath.Base(ch.path), ch.what)
	}
	return printAll(c.out, text)
}

// patternOptions reads what a pattern rests on beside the question.
func (c *call) patternOptions() (pattern.Options, error) {
	r := c.NewReader()
	o := pattern.Options{Style: pattern.Style(c.Text("pattern"))}
	ask.Optional(r, "margin", r.Length, &o.Margin)
	ask.Every(r, "diameter", r.Length, &o.Diameters)
	ask.Read(r, "spoilboard", r.Length, &o.Spoilboard)
	ask.Read(r, "over", r.Length, &o.Over)
	o.Chosen = ask.Read(r, "standard", fit.ParseStandard, &o.Standard)
	return o, r.Err
}

// patterns gives the pattern of the same pins at each pair of stations.
func (c *call) patterns(pairs []*registration.Answer, o pattern.Options) ([]*pattern.Pattern, error) {
	var out []*pattern.Pattern
	for _, a := range pairs {
		q := a.Question
		p, err := pattern.Propose(q, o)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// plugPins gives the measures of a plug and the turn that is left on it, and writes the
// programs that drill the bed for its index pin.
func (c *call) plugPins(m *ask.Machine, q registration.Question, dir string) error {
	if c.Given("output") && !c.drillsIndex(q) {
		return ask.Wrong("-o", "no index pin's hole to drill", "--clock pin=X,Y,DIA and --spoilboard, or no -o",
			"the bore is milled or bored with the part, the plug turned or milled from the measures")
	}
	if q.Fit == "" && q.PlugD == nil {
		return ask.Wrong(c.Where("fit"), "no fit and no plug", "--fit such as H7/g6, or --plug DIA", "H7/g6 slides, H7/h6 is close, H8/f7 is easy")
	}
	a, err := registration.Solve(q)
	if err != nil {
		return err
	}
	j := &job{machine: m, answer: a}
	if err := c.stand(j); err != nil {
		return err
	}
	a = j.answer
	measures, err := c.plugMeasures(a)
	if err != nil {
		return err
	}
	s := c.setup(a, m)
	s.Pins = report.PlugOf(a, measures)
	if c.drillsIndex(q) {
		if err := c.addIndex(j, s.Pins); err != nil {
			return err
		}
	}
	return c.showPins(s, j, dir)
}

// showPins writes the drilling programs of a layout where -o asks for them, and prints
// it.
func (c *call) showPins(s report.Setup, j *job, dir string) (err error) {
	var changes []change
	if c.Given("output") {
		if changes, err = c.write(set{dir: dir, files: j.files}); err != nil {
			return err
		}
		if c.On("bare") {
			c.cautions()
		}
	}
	switch {
	case c.On("json"):
		return report.PinsJSON(c.out, s)
	case c.On("quiet"):
		s.Answer = nil
		return c.quietly(s, report.PinLines(s.Pins))
	}
	s.Answer = nil
	if err := report.Terminal(c.out, s, c.terminal()); err != nil || len(changes) == 0 {
		return err
	}
	return c.listFiles(dir, changes)
}

// addPlug adds the plug's measures to a job, and the holes of its index pin. What forbids
// the measures is told alone: the job may do with a plug that is there already.
func (c *call) addPlug(j *job) error {
	q := j.answer.Question
	if q.Register != registration.Plug {
		return nil
	}
	if q.Fit != "" || q.PlugD != nil {
		measures, err := c.plugMeasures(j.answer)
		if err != nil {
			j.setup.Notes = append(j.setup.Notes, report.Note{Code: "plug-measures", Level: "warning", Text: "no measures for the plug: " + ask.Message(c.Placed(err))})
		} else {
			j.setup.Pins = report.PlugOf(j.answer, measures)
		}
	}
	if !c.drillsIndex(q) {
		return nil
	}
	if j.setup.Pins == nil {
		j.setup.Pins = &report.PinFit{}
	}
	return c.addIndex(j, j.setup.Pins)
}

// plugMeasures proposes a plug for the bore of an answer; its height is pin-height
// where that is given.
func (c *call) plugMeasures(a *registration.Answer) (fit.PlugMeasures, error) {
	r := c.NewReader()
	q := a.Question
	over := q.Skimmed
	ask.Read(r, "over", r.Length, &over)
	var height decimal.Decimal
	ask.Read(r, "pin-height", ask.Positive(r.Length), &height)
	if r.Err != nil {
		return fit.PlugMeasures{}, r.Err
	}
	var f *fit.Fit
	stud, flag := decimal.Decimal{}, "plug"
	if q.PlugD != nil {
		stud = *q.PlugD
	} else {
		parsed, err := fit.Parse(q.Fit)
		if err != nil {
			return fit.PlugMeasures{}, c.fitted("fit", err)
		}
		f, flag = &parsed, "bore"
	}
	m, err := fit.ForBore(q.Bore.Dia, a.Uncut(), decimal.Max(over, q.Skimmed), f, stud, q.Unit)
	if height.IsPositive() {
		m.Height = height
	}
	return m, c.fitted(flag, err)
}

// fitted puts a flag's place into an error of the fits.
func (c *call) fitted(name string, err error) error {
	var f *fault.Error
	if !errors.As(err, &f) {
		return err
	}
	return ask.Wrong(c.Where(name), f.Found, f.Expected, f.Hint)
}
