package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	jobroom "flipcalc/cmd/flipcalc/job"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/motion"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
)

func runCheck(c *call) error {
	draw, err := c.pictureForm()
	if err != nil {
		return err
	}
	j, err := c.checkedJob()
	if err != nil {
		return err
	}
	picture := c.Text("picture")
	if draw != nil {
		if err := c.writeFile(picture, func(w io.Writer) error { return draw(w, j.setup) }); err != nil {
			return err
		}
	}
	switch {
	case c.On("json"):
		err = report.CheckJSON(c.out, *j.setup.Check, j.setup.Unit, picture)
	case c.On("quiet") && j.setup.Check.OK():
		err = c.quietly(report.Setup{Unit: j.setup.Unit, Check: j.setup.Check}, "")
	default:
		err = c.printCheck(j)
	}
	if err != nil {
		return err
	}
	return j.verdict("")
}

// pictureForm picks the form of the picture by the file's ending; nil where none is
// asked for.
func (c *call) pictureForm() (func(io.Writer, report.Setup) error, error) {
	if !c.Given("picture") {
		return nil, nil
	}
	name := c.Text("picture")
	switch strings.ToLower(filepath.Ext(name)) {
	case ".png":
		return report.PicturePNG, nil
	case ".svg":
		return report.PictureSVG, nil
	}
	return nil, ask.Wrong(c.Where("picture"), fmt.Sprintf("%s: no known form of a picture", name), "a name that ends in .png or .svg", "")
}

// checkedJob works out the job as far as check needs it, and cuts its programs.
func (c *call) checkedJob() (*job, error) {
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	a, err := c.solve(m)
	if err != nil {
		return nil, err
	}
	j := &job{machine: m, answer: a}
	if err := c.stand(j); err != nil {
		return nil, err
	}
	j.setup = c.setup(j.answer, m)
	if err := c.checkPrograms(j); err != nil {
		return nil, err
	}
	return j, c.addCheck(j)
}

// checkPrograms gathers the programs to cut: those of a job file as prepare would
// write them for its stations, those of the command line as they are, since they are
// what the machine will run. A back given there takes the place of all that the job
// file says of the back.
func (c *call) checkPrograms(j *job) error {
	raw := c.Typed
	if raw("face") || raw("back") {
		j.pairs = j.pairs[:1] // they stand for one pair of stations
	}
	for i := range j.pairs {
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
func (c *call) cutJob(j *job) error {
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
		if err := c.addCheck(j); err != nil || j.setup.Plan == nil {
			return err
		}
		j.setup.Check.Notes = append(j.setup.Check.Notes, report.MergedCuts(runFiles))
		return nil
	}
	j.setup.Notes = append(append(j.setup.Notes, j.units...), report.Note{Code: "not-checked", Level: "warning",
		Text: "NOT cut in memory: " + why + "; web, dowels, clamps and travel not checked"})
	return nil
}

// addCheck cuts the programs of every pair in memory and adds what comes of it to
// the report. The cuts of all pairs are the same; their places on the machine aren't.
func (c *call) addCheck(j *job) error {
	asked, err := c.cutting(j)
	if err != nil {
		return err
	}
	for i, a := range j.pairs {
		r, notes, err := c.cutPair(j, asked, i)
		if err != nil {
			return err
		}
		if i == 0 {
			j.setup.SetCheck(r, asked.Web)
			j.setup.Check.Notes = append(append(j.units, notes...), j.setup.Check.Notes...)
			j.setup.Check.Standing = asked.Standing()
		} else {
			j.setup.AddPair(i+1, a, r)
		}
	}
	return nil
}

// cutPair cuts the programs of one pair of stations in memory, with notes on what that
// rests on.
func (c *call) cutPair(j *job, asked *jobroom.Cutting, pair int) (*cut.Result, []report.Note, error) {
	asked.Answer = j.pairs[pair]
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
func (c *call) cutting(j *job) (*jobroom.Cutting, error) {
	r := c.NewReader()
	k := &jobroom.Cutting{Answer: j.answer, KeepOffset: c.On("keep-offset")}
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
		if i >= len(j.answer.Question.Pins) {
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
	if k.NoGo, err = c.NoGo(j.machine); err != nil {
		return nil, err
	}
	if k.Clamps, err = c.Clamps(); err != nil {
		return nil, err
	}
	k.Others = slices.ContainsFunc(j.machine.Others(c.jobName()), func(o bed.InUse) bool { return o.Rect != nil })
	if j.machine.Known {
		k.Machine = &j.machine.Machine
	}
	if j.answer.Second != nil {
		if k.Budget, err = c.budgetResult(j.answer); err != nil {
			return nil, err
		}
	}
	j.setup.SetNoGo(k.NoGo, k.Clamps)
	return k, nil
}

// motionOptions says what a program leaves to the control.
func (c *call) motionOptions(name string) (motion.Options, error) {
	u, err := c.Unit()
	if err != nil {
		return motion.Options{}, err
	}
	inert, err := c.inert()
	if err != nil {
		return motion.Options{}, err
	}
	arc, err := c.arcTolerance()
	return motion.Options{Name: name, Unit: u, AbsoluteCentres: c.Text("centres") == "absolute", Inert: inert, ArcTolerance: motion.FromDecimal(arc)}, err
}

// printCheck prints what check found and nothing else of the job.
func (c *call) printCheck(j *job) error {
	s := report.Setup{Title: j.setup.Title, Job: j.setup.Job, Unit: j.setup.Unit, Version: j.setup.Version, Check: j.setup.Check}
	return report.Terminal(c.out, s, c.terminal())
}

// verdict is the answer of no where check found something; done says what that
// means here.
func (j *job) verdict(done string) error {
	if j.setup.Check.OK() {
		return nil
	}
	return ask.No("check", j.setup.Check.Verdict()+done, "each finding says what to do")
}
