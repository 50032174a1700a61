package job

import (
	"errors"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report"
	"flipcalc/report/words"
)

// Dowels, plugs and index pins: their pattern, how high they stand, and their holes.

// Pins gives a layout of dowels, or the measures of a plug, with the programs that drill
// their holes.
func (j *Job) Pins() error {
	if err := j.start(); err != nil {
		return err
	}
	q, err := j.question()
	if err != nil {
		return err
	}
	switch {
	case q.Register == registration.FenceStop:
		return ask.Wrong(j.Where("register"), "fence", "dowels or plug", "a fence and a stop need no pins; flipcalc origin says where they stand")
	case q.Register == registration.Plug, q.Register == registration.NoRegister && q.Bore != nil && len(q.Pins) == 0:
		q.Register = registration.Plug
		err = j.plugPins(q)
	default:
		err = j.dowelPins(q)
	}
	j.Setup.Programs, j.Setup.Tools = nil, nil // the layout lists them with its holes
	return err
}

// dowelPins proposes or checks dowels and writes the programs that drill their holes.
func (j *Job) dowelPins(q registration.Question) error {
	o := j.patternOptions()
	var uncut []report.Note
	var err error
	if o.Clear, uncut, err = j.clearOfCuts(q, o.Over); err != nil {
		return err
	}
	p, err := pattern.Propose(q, o)
	if err != nil {
		return err
	}
	j.Answer = p.Answer
	patterns := []*pattern.Pattern{p}
	if j.Given("pairs") {
		if err := j.stand(); err != nil {
			return err
		}
		if patterns, err = j.patterns(pattern.At); err != nil {
			return err
		}
		// The stations change nothing of what was proposed.
		patterns[0].Style, patterns[0].Strip, patterns[0].Facts = p.Style, p.Strip, p.Facts
	}
	j.setup()
	j.Setup.Pins = report.PinsOf(patterns[0])
	j.Setup.Pins.Notes = append(j.Setup.Pins.Notes, uncut...)
	if !j.Given("output") {
		return nil
	}
	return j.addDrilling(patterns)
}

// plugPins gives the measures of a plug and the turn that is left on it, and writes the
// programs that drill the bed for its index pin.
func (j *Job) plugPins(q registration.Question) (err error) {
	if j.Given("output") && !j.drillsIndex(q) {
		return ask.Wrong("-o", "no index pin's hole to drill", "‹clock pin=X,Y,DIA› and ‹spoilboard›, or no -o",
			"the bore is milled or bored with the part, the plug turned or milled from the measures")
	}
	if q.Fit == "" && q.PlugD == nil {
		return ask.Wrong(j.Where("fit"), "no fit and no plug", "‹fit› such as H7/g6, or ‹plug DIA›", "H7/g6 slides, H7/h6 is close, H8/f7 is easy")
	}
	if j.Answer, err = registration.Solve(q); err != nil {
		return err
	}
	if err := j.stand(); err != nil {
		return err
	}
	j.setup()
	return j.addPlug()
}

// clearOfCuts cuts the programs that are given in memory, and gives what tells whether a
// place on the blank is clear of the cuts of both sides, but for what is less deep than over;
// nil where there are none.
func (j *Job) clearOfCuts(q registration.Question, over decimal.Decimal) (func(registration.Point, decimal.Decimal) bool, []report.Note, error) {
	if len(j.Programs()) == 0 {
		return nil, nil, nil
	}
	if !j.Given("tool") {
		return nil, []report.Note{{Level: fact.Warning, Is: words.PinsNotCleared{Key: j.Spelt("‹tool›")}}}, nil
	}
	q.Register, q.Pins, q.Bore = registration.NoRegister, nil, nil
	a, err := registration.Solve(q)
	if err != nil {
		return nil, nil, err
	}
	bare := *j
	bare.Answer, bare.Pairs = a, []*registration.Answer{a}
	bare.setup()
	if err := bare.checkPrograms(); err != nil {
		return nil, nil, err
	}
	w, err := bare.cutting()
	if err != nil {
		return nil, nil, err
	}
	r, _, err := w.cut(0)
	if err != nil {
		return nil, nil, err
	}
	return ClearOf(r.Grid, a, over), nil, nil
}

// patternOptions are what a pattern rests on beside the question.
func (j *Job) patternOptions() pattern.Options {
	return pattern.Options{Style: pattern.Style(j.Text("pattern")), Margin: j.OptionalLength("margin"), Diameters: j.Lengths("diameter"),
		Spoilboard: j.Length("spoilboard"), Over: j.Length("over"),
		Standard: ask.Value[fit.Standard](j.Ask, "standard"), Chosen: j.Given("standard")}
}

// patterns gives the pattern of the same pins at each pair of stations, of dowels by
// pattern.At, of a plug's index pin by pattern.Index.
func (j *Job) patterns(at func(*registration.Answer, pattern.Options) (*pattern.Pattern, error)) (out []*pattern.Pattern, err error) {
	for _, a := range j.Pairs {
		p, err := at(a, j.patternOptions())
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// addPins adds the dowels' fit and their drilling programs to a job that says how
// deep pins go into the bed.
func (j *Job) addPins() error {
	if j.Answer.Question.Register != registration.Dowels || !j.Given("spoilboard") {
		j.Setup.Notes = append(j.Setup.Notes, report.AsDrilled(j.Answer.Question)...)
		return nil
	}
	patterns, err := j.patterns(pattern.At)
	if err != nil {
		return err
	}
	j.Setup.Pins = report.PinsOf(patterns[0])
	return j.addDrilling(patterns)
}

// addPlug adds the plug's measures, and the holes of its index pin. What forbids the measures
// is told alone in a job: it may do with a plug that is there already.
func (j *Job) addPlug() error {
	q := j.Answer.Question
	if q.Register != registration.Plug {
		return nil
	}
	if q.Fit != "" || q.PlugD != nil {
		measures, err := j.plugMeasures(j.Answer)
		switch {
		case err == nil:
			j.Setup.Pins = report.PlugOf(j.Answer, measures)
		case j.Verb.Name == "pins":
			return err
		default:
			j.note(fact.Warning, words.PlugMeasures{Why: ask.Message(j.Placed(err))})
		}
	}
	if !j.drillsIndex(q) {
		return nil
	}
	// The index pin, with the programs that drill its holes where files are asked for.
	if j.Setup.Pins == nil {
		j.Setup.Pins = &report.PinFit{}
	}
	patterns, err := j.patterns(pattern.Index)
	if err != nil {
		return err
	}
	j.Setup.Pins.AddIndex(patterns[0])
	if j.Verb.Name == "pins" && !j.Given("output") {
		return nil
	}
	return j.addDrilling(patterns)
}

// drillsIndex reports whether the index pin's holes in the bed are asked for.
func (j *Job) drillsIndex(q registration.Question) bool {
	return q.Register == registration.Plug && q.Clock.Kind == registration.ClockPin && j.Given("spoilboard")
}

// plugMeasures proposes a plug for the bore of an answer; its height is pin-height
// where that is given.
func (j *Job) plugMeasures(a *registration.Answer) (fit.PlugMeasures, error) {
	q := a.Question
	var f *fit.Fit
	stud, key := decimal.Decimal{}, "plug"
	if q.PlugD != nil {
		stud = *q.PlugD
	} else {
		parsed := ask.Value[fit.Fit](j.Ask, "fit")
		f, key = &parsed, "bore"
	}
	m, err := fit.ForBore(q.Bore.Dia, a.Uncut(), decimal.Max(j.Length("over"), q.Skimmed), f, stud, q.Unit)
	if height := j.OptionalLength("pin-height"); height != nil {
		m.Height = *height
	}
	var refused *fault.Error
	if errors.As(err, &refused) {
		err = ask.Wrong(j.Where(key), refused.Found, refused.Expected, refused.Hint)
	}
	return m, err
}

// pinTops gives how high each dowel of a job stands over the seat, where it says how deep
// they go into it, or the plug, where its measures follow. They stay as they are when a
// blank turns out thinner than its nominal size, so for the programs of check they are
// also taken as that size has them, and the higher counts; prepare gives them anew, for
// the piece in hand.
func (j *Job) pinTops() ([]decimal.Decimal, error) {
	q := j.Answer.Question
	questions := []registration.Question{q}
	if q.Measured != nil && q.Stock != nil && j.Verb.Name == "check" {
		q.Measured = nil
		questions = append(questions, q)
	}
	var tops []decimal.Decimal
	for _, q := range questions {
		heights, err := j.topsOf(q)
		var e *registration.Error
		if j.Verb.Name == "check" && errors.As(err, &e) && e.No {
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
func (j *Job) topsOf(q registration.Question) (tops []decimal.Decimal, err error) {
	if q.Register == registration.Dowels && j.Given("spoilboard") {
		p, err := pattern.Propose(q, j.patternOptions())
		if err != nil {
			return nil, err
		}
		for _, d := range p.Dowels {
			tops = append(tops, d.Height())
		}
		return tops, nil
	}
	measured, index := q.Fit != "" || q.PlugD != nil, j.drillsIndex(q)
	if q.Register != registration.Plug || !measured && !index {
		return nil, nil
	}
	a, err := registration.Solve(q)
	if err != nil {
		return nil, err
	}
	plug := decimal.Zero // unknown
	if measured {
		if m, err := j.plugMeasures(a); err == nil { // what forbids them is told with them
			plug = m.Height
		}
	}
	switch {
	case !index && plug.IsZero():
		return nil, nil
	case !index:
		return []decimal.Decimal{plug}, nil
	}
	p, err := pattern.Index(a, j.patternOptions())
	if err != nil {
		return nil, err
	}
	return []decimal.Decimal{plug, p.Dowels[0].Height()}, nil
}
