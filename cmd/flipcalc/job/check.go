package job

import (
	"fmt"
	"slices"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/fact"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
	"flipcalc/report/words"
)

// Check works out the job as far as check needs it, and cuts its programs.
func (c *Task) Check() (*Job, error) {
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	a, err := c.solve(m)
	if err != nil {
		return nil, err
	}
	j := &Job{Machine: m, Answer: a}
	if err := c.stand(j); err != nil {
		return nil, err
	}
	j.Setup = c.setup(j.Answer, m)
	if err := c.checkPrograms(j); err != nil {
		return nil, err
	}
	return j, c.addCheck(j)
}

// checkPrograms gathers the programs to cut: those of a job file as prepare would
// write them for its stations, those of the command line as they are, since they are
// what the machine will run. A back given there takes the place of all that the job
// file says of the back.
func (c *Task) checkPrograms(j *Job) error {
	raw := c.Typed
	if raw("face") || raw("back") {
		j.Pairs = j.Pairs[:1] // they stand for one pair of stations
	}
	for i := range j.Pairs {
		for _, s := range c.sides() {
			if s.flag == "mirror" && raw("back") {
				continue
			}
			for _, path := range c.Texts(s.flag) {
				var err error
				if raw(s.flag) {
					err = c.addAsIs(j, i, path, s.flag != "face")
				} else {
					err = c.addProgram(j, i, path, fmt.Sprint(i, s.flag, path), s.role)
				}
				if err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// cutJob cuts a whole job in memory, where it has programs for both sides and says
// what the cutters are; where it doesn't, the sheet says that it wasn't done.
func (c *Task) cutJob(j *Job) error {
	if len(j.runs) == 0 {
		return nil
	}
	why := ""
	switch {
	case !c.Given("tool"):
		why = "give a cutter, such as tool = [\"1=flat,6\"]"
	case !c.Given("face"):
		why = "no face program"
	case !c.Given("mirror") && !c.Given("back"):
		why = "no back program"
	default:
		if err := c.addCheck(j); err != nil || j.Setup.Plan == nil {
			return err
		}
		j.Setup.Check.Notes = append(j.Setup.Check.Notes, report.Note{Level: fact.Note, Is: words.MergedCuts{Programs: RunFiles[:]}})
		return nil
	}
	j.Setup.Notes = append(append(j.Setup.Notes, j.units...), report.Note{Code: "not-checked", Level: "warning",
		Text: "NOT cut in memory: " + why + "; web, dowels, clamps and travel not checked"})
	return nil
}

// addCheck cuts the programs of every pair in memory and adds what comes of it to
// the report. The cuts of all pairs are the same; their places on the machine aren't.
func (c *Task) addCheck(j *Job) error {
	asked, err := c.cutting(j)
	if err != nil {
		return err
	}
	for i, a := range j.Pairs {
		r, notes, err := c.cutPair(j, asked, i)
		if err != nil {
			return err
		}
		if i == 0 {
			j.Setup.SetCheck(r, asked.Web)
			j.Setup.Check.Notes = append(append(j.units, notes...), j.Setup.Check.Notes...)
			j.Setup.Check.Standing = asked.Standing()
		} else {
			j.Setup.AddPair(i+1, a, r)
		}
	}
	return nil
}

// cutPair cuts the programs of one pair of stations in memory, with notes on what that
// rests on.
func (c *Task) cutPair(j *Job, asked *Cutting, pair int) (*cut.Result, []report.Note, error) {
	asked.Answer = j.Pairs[pair]
	asked.Face, asked.Back = nil, nil
	for _, p := range j.runs {
		if p.pair != pair {
			continue
		}
		o, err := c.motionOptions(p.source)
		if err != nil {
			return nil, nil, err
		}
		text, done := c.progress(again(p.content), p.source, p.content.Size())
		defer done()
		run := cut.Program{Name: p.source, Read: text, Options: o, Source: p.lines}
		if p.back {
			asked.Back = append(asked.Back, run)
		} else {
			asked.Face = append(asked.Face, run)
		}
	}
	q, notes := asked.Request()
	r, err := cut.Check(q)
	if err != nil {
		return nil, nil, err
	}
	return r, notes, nil
}

// cutting reads the flags that say what check looks at.
func (c *Task) cutting(j *Job) (*Cutting, error) {
	r := c.NewReader()
	k := &Cutting{Answer: j.Answer, KeepOffset: c.On("keep-offset")}
	length := ask.Positive(r.Length)
	ask.Optional(r, "flute", length, &k.Flute)
	ask.Optional(r, "stick-out", r.Length, &k.StickOut)
	ask.Optional(r, "web", ask.NotNegative(r.Length), &k.Web)
	ask.Optional(r, "cell", length, &k.Cell)
	ask.Optional(r, "pin-height", length, &k.PinHeight)
	ask.Optional(r, "fence-height", length, &k.FenceHeight)
	ask.Optional(r, "bed-depth", ask.NotNegative(r.Length), &k.BedDepth)
	ask.Optional(r, "breakthrough", ask.NotNegative(r.Length), &k.Breakthrough)
	ask.Optional(r, "neck", ask.NotNegative(r.Length), &k.Neck)
	var places []*registration.Point
	ask.Every(r, "through", func(s string) (*registration.Point, error) {
		if n, ok, err := ask.ParseCuts(s); ok {
			k.Count = n
			return nil, err
		}
		p, err := registration.ParsePoint(s, r.Unit)
		return &p, err
	}, &places)
	for _, p := range places {
		if p != nil {
			k.Through = append(k.Through, *p)
		}
	}
	k.HeldAll = slices.Contains(c.Texts("held"), "all")
	if !k.HeldAll {
		ask.Every(r, "held", ask.In(r, registration.ParsePoint), &k.Held)
	}
	if r.Err != nil {
		return nil, r.Err
	}
	// A cutter can't be kept clear of a pin of no diameter, nor of one that is taken thin.
	for i, s := range k.Standing() {
		flag, form := "pin", "X,Y,DIA"
		if i >= len(j.Answer.Question.Pins) {
			flag, form = "clock", "pin=X,Y,DIA"
		}
		if s.Pin && s.Dia.IsZero() {
			return nil, ask.Wrong(c.Where(flag), "no diameter of the "+s.Name, form, "")
		}
	}
	var err error
	if k.PinHeight == nil {
		if k.PinTops, err = c.pinTops(j); err != nil {
			return nil, err
		}
	}
	if k.Tools, err = c.tools(); err != nil {
		return nil, err
	}
	if k.NoGo, err = c.NoGo(j.Machine); err != nil {
		return nil, err
	}
	if k.Clamps, err = c.Clamps(); err != nil {
		return nil, err
	}
	k.Others = slices.ContainsFunc(j.Machine.Others(c.JobName()), func(o bed.InUse) bool { return o.Rect != nil })
	if j.Machine.Known {
		k.Machine = &j.Machine.Machine
	}
	if j.Answer.Second != nil {
		if k.Budget, err = c.budgetResult(j.Answer); err != nil {
			return nil, err
		}
	}
	j.Setup.SetNoGo(k.NoGo, k.Clamps)
	return k, nil
}
