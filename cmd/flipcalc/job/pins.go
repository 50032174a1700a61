package job

import (
	"errors"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fault"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report"
)

// Drilling programs: the holes of a pattern of dowels, in the blank and in the
// bed of every station.

// addPins adds the dowels' fit and their drilling programs to a job that says how
// deep pins go into the bed.
func (c *Task) addPins(j *Job) error {
	if j.Answer.Question.Register != registration.Dowels || !c.Given("spoilboard") {
		j.Setup.Notes = append(j.Setup.Notes, report.AsDrilled(j.Answer.Question)...)
		return nil
	}
	o, err := c.patternOptions()
	if err != nil {
		return err
	}
	patterns, err := c.patterns(j.Pairs, o)
	if err != nil {
		return err
	}
	j.Setup.Pins = report.PinsOf(patterns[0])
	return c.addDrilling(j, patterns, o, j.Setup.Pins)
}

// pinTops gives how high each dowel of a job stands over the bed, where it says how deep
// they go into it, or the plug, where its measures follow. They stay as they are when a
// blank turns out thinner than its nominal size, so for the programs of check they are
// also taken as that size has them, and the higher counts; prepare gives them anew, for
// the piece in hand.
func (c *Task) pinTops(j *Job) ([]decimal.Decimal, error) {
	q := j.Answer.Question
	questions := []registration.Question{q}
	if q.Measured != nil && q.Stock != nil && c.Verb.Name == "check" {
		q.Measured = nil
		questions = append(questions, q)
	}
	var tops []decimal.Decimal
	for _, q := range questions {
		heights, err := c.topsOf(q)
		var e *registration.Error
		if c.Verb.Name == "check" && errors.As(err, &e) && e.No {
			continue // no dowel has such a length: this size has none of its own
		}
		if err != nil {
			return nil, err
		}
		for i, h := range heights {
			if i == len(tops) {
				tops = append(tops, h)
			}
			tops[i] = decimal.Max(tops[i], h)
		}
	}
	return tops, nil
}

// topsOf gives the heights of one question's dowels or plug, none where they don't
// follow from it.
func (c *Task) topsOf(q registration.Question) (tops []decimal.Decimal, err error) {
	switch {
	case q.Register == registration.Dowels && c.Given("spoilboard"):
		o, err := c.patternOptions()
		if err != nil {
			return nil, err
		}
		p, err := pattern.Propose(q, o)
		if err != nil {
			return nil, err
		}
		for _, d := range p.Dowels {
			tops = append(tops, d.Height())
		}
	case q.Register == registration.Plug && (q.Fit != "" || q.PlugD != nil):
		a, err := registration.Solve(q)
		if err != nil {
			return nil, err
		}
		if m, err := c.plugMeasures(a); err == nil { // what forbids them is told with them
			tops = append(tops, m.Height)
		}
	}
	if q.Register != registration.Plug || !c.drillsIndex(q) {
		return tops, nil
	}
	a, err := registration.Solve(q)
	if err != nil {
		return nil, err
	}
	o, err := c.patternOptions()
	if err != nil {
		return nil, err
	}
	p, err := pattern.Index(a, o)
	if err != nil {
		return nil, err
	}
	if len(tops) == 0 {
		tops = append(tops, decimal.Zero) // the plug's isn't known
	}
	return append(tops, p.Dowels[0].Height()), nil
}

// drillsIndex reports whether the index pin's holes in the bed are asked for.
func (c *Task) drillsIndex(q registration.Question) bool {
	return q.Register == registration.Plug && q.Clock.Kind == registration.ClockPin && c.Given("spoilboard")
}

// addIndex adds the index pin of a plug, with the programs that drill its holes in the bed
// where files are asked for.
func (c *Task) addIndex(j *Job, f *report.PinFit) error {
	o, err := c.patternOptions()
	if err != nil {
		return err
	}
	var patterns []*pattern.Pattern
	for _, a := range j.Pairs {
		p, err := pattern.Index(a, o)
		if err != nil {
			return err
		}
		patterns = append(patterns, p)
	}
	f.AddIndex(patterns[0])
	if c.Verb.Name == "pins" && !c.Given("output") {
		return nil
	}
	return c.addDrilling(j, patterns, o, f)
}

// clearOfCuts cuts the programs that are given in memory, and gives what tells whether a
// place on the blank is clear of the cuts of both sides; nil where there are none.
func (c *Task) clearOfCuts(m *ask.Machine, q registration.Question, o pattern.Options) (func(registration.Point, decimal.Decimal) bool, []report.Note, error) {
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
	j := &Job{Machine: m, Answer: a, Pairs: []*registration.Answer{a}}
	j.Setup = c.setup(a, m)
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
	return ClearOf(r.Grid, a, o.Over), nil, nil
}

// patternOptions reads what a pattern rests on beside the question.
func (c *Task) patternOptions() (pattern.Options, error) {
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
func (c *Task) patterns(pairs []*registration.Answer, o pattern.Options) ([]*pattern.Pattern, error) {
	var out []*pattern.Pattern
	for _, a := range pairs {
		p, err := pattern.At(a, o)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// addPlug adds the plug's measures to a job, and the holes of its index pin. What forbids
// the measures is told alone: the job may do with a plug that is there already.
func (c *Task) addPlug(j *Job) error {
	q := j.Answer.Question
	if q.Register != registration.Plug {
		return nil
	}
	if q.Fit != "" || q.PlugD != nil {
		measures, err := c.plugMeasures(j.Answer)
		if err != nil {
			j.Setup.Notes = append(j.Setup.Notes, report.Note{Code: "plug-measures", Level: "warning", Text: "no measures for the plug: " + ask.Message(c.Placed(err))})
		} else {
			j.Setup.Pins = report.PlugOf(j.Answer, measures)
		}
	}
	if !c.drillsIndex(q) {
		return nil
	}
	if j.Setup.Pins == nil {
		j.Setup.Pins = &report.PinFit{}
	}
	return c.addIndex(j, j.Setup.Pins)
}

// plugMeasures proposes a plug for the bore of an answer; its height is pin-height
// where that is given.
func (c *Task) plugMeasures(a *registration.Answer) (fit.PlugMeasures, error) {
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
func (c *Task) fitted(name string, err error) error {
	var f *fault.Error
	if !errors.As(err, &f) {
		return err
	}
	return ask.Wrong(c.Where(name), f.Found, f.Expected, f.Hint)
}

// Pins gives a layout of dowels, or the measures of a plug, with the programs that drill
// their holes.
func (c *Task) Pins() (*Job, error) {
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	q, err := c.question(m)
	if err != nil {
		return nil, err
	}
	switch {
	case q.Register == registration.FenceStop:
		return nil, ask.Wrong(c.Where("register"), "fence", "dowels or plug", "a fence and a stop need no pins; flipcalc origin says where they stand")
	case q.Register == registration.Plug, q.Register == registration.NoRegister && q.Bore != nil && len(q.Pins) == 0:
		q.Register = registration.Plug
		return c.plugPins(m, q)
	}
	return c.dowelPins(m, q)
}

// dowelPins proposes or checks dowels and writes the programs that drill their holes.
func (c *Task) dowelPins(m *ask.Machine, q registration.Question) (*Job, error) {
	o, err := c.patternOptions()
	if err != nil {
		return nil, err
	}
	var uncut []report.Note
	if o.Clear, uncut, err = c.clearOfCuts(m, q, o); err != nil {
		return nil, err
	}
	p, err := pattern.Propose(q, o)
	if err != nil {
		return nil, err
	}
	j := &Job{Machine: m, Answer: p.Answer}
	patterns := []*pattern.Pattern{p}
	if c.Given("pairs") {
		if err := c.stand(j); err != nil {
			return nil, err
		}
		if patterns, err = c.patterns(j.Pairs, o); err != nil {
			return nil, err
		}
		// The stations change nothing of what was proposed.
		patterns[0].Style, patterns[0].Strip, patterns[0].Facts = p.Style, p.Strip, p.Facts
	}
	s := c.setup(j.Answer, m)
	s.Pins = report.PinsOf(patterns[0])
	s.Pins.Notes = append(s.Pins.Notes, uncut...)
	if c.Given("output") {
		if err := c.addDrilling(j, patterns, o, s.Pins); err != nil {
			return nil, err
		}
	}
	j.Setup = s
	return j, nil
}

// plugPins gives the measures of a plug and the turn that is left on it, and writes the
// programs that drill the bed for its index pin.
func (c *Task) plugPins(m *ask.Machine, q registration.Question) (*Job, error) {
	if c.Given("output") && !c.drillsIndex(q) {
		return nil, ask.Wrong("-o", "no index pin's hole to drill", "--clock pin=X,Y,DIA and --spoilboard, or no -o",
			"the bore is milled or bored with the part, the plug turned or milled from the measures")
	}
	if q.Fit == "" && q.PlugD == nil {
		return nil, ask.Wrong(c.Where("fit"), "no fit and no plug", "--fit such as H7/g6, or --plug DIA", "H7/g6 slides, H7/h6 is close, H8/f7 is easy")
	}
	a, err := registration.Solve(q)
	if err != nil {
		return nil, err
	}
	j := &Job{Machine: m, Answer: a}
	if err := c.stand(j); err != nil {
		return nil, err
	}
	a = j.Answer
	measures, err := c.plugMeasures(a)
	if err != nil {
		return nil, err
	}
	s := c.setup(a, m)
	s.Pins = report.PlugOf(a, measures)
	if c.drillsIndex(q) {
		if err := c.addIndex(j, s.Pins); err != nil {
			return nil, err
		}
	}
	j.Setup = s
	return j, nil
}
