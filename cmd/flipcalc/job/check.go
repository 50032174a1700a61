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
func (j *Job) Check() error {
	if err := j.find(); err != nil {
		return err
	}
	j.setup()
	if err := j.checkPrograms(); err != nil {
		return err
	}
	return j.addCheck()
}

// checkPrograms gathers the programs to cut: those of a job file as prepare would
// write them for its stations, those of the command line as they are, since they are
// what the machine will run. A back given there takes the place of all that the job
// file says of the back.
func (j *Job) checkPrograms() error {
	raw := j.Typed
	if raw("face") || raw("back") {
		j.Pairs = j.Pairs[:1] // they stand for one pair of stations
	}
	for i := range j.Pairs {
		for _, s := range j.sides() {
			if s.flag == "mirror" && raw("back") {
				continue
			}
			for _, path := range j.Texts(s.flag) {
				var err error
				if raw(s.flag) {
					err = j.addAsIs(i, path, s.flag != "face")
				} else {
					err = j.addProgram(i, path, fmt.Sprint(i, s.flag, path), s.role)
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
func (j *Job) cutJob() error {
	if len(j.runs) == 0 {
		return nil
	}
	why := ""
	switch {
	case !j.Given("tool"):
		why = "give a cutter, such as tool = [\"1=flat,6\"]"
	case !j.Given("face"):
		why = "no face program"
	case !j.Given("mirror") && !j.Given("back"):
		why = "no back program"
	default:
		if err := j.addCheck(); err != nil || j.Setup.Plan == nil {
			return err
		}
		j.Setup.Check.Notes = append(j.Setup.Check.Notes, report.Note{Level: fact.Note, Is: words.MergedCuts{Programs: RunFiles[:]}})
		return nil
	}
	j.Setup.Notes = append(append(j.Setup.Notes, j.units...), report.Note{Level: fact.Warning, Is: words.NotChecked{Why: why}})
	return nil
}

// addCheck cuts the programs of every pair in memory and adds what comes of it to
// the report. The cuts of all pairs are the same; their places on the machine aren't.
func (j *Job) addCheck() error {
	asked, err := j.cutting()
	if err != nil {
		return err
	}
	for i, a := range j.Pairs {
		r, notes, err := j.cutPair(asked, i)
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
func (j *Job) cutPair(asked *Cutting, pair int) (*cut.Result, []report.Note, error) {
	asked.Answer = j.Pairs[pair]
	asked.Face, asked.Back = nil, nil
	for _, p := range j.runs {
		if p.pair != pair {
			continue
		}
		text, done := j.progress(again(p.content), p.source, p.content.Size())
		defer done()
		run := cut.Program{Name: p.source, Read: text, Options: j.reading(p.source), Source: p.lines}
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

// cutting is what check looks at.
func (j *Job) cutting() (k *Cutting, err error) {
	k = &Cutting{Answer: j.Answer, KeepOffset: j.On("keep-offset"),
		Tools: j.tools(), Flute: j.OptionalLength("flute"), StickOut: j.OptionalLength("stick-out"),
		Web: j.OptionalLength("web"), Cell: j.OptionalLength("cell"), BedDepth: j.OptionalLength("bed-depth"),
		PinHeight: j.OptionalLength("pin-height"), FenceHeight: j.OptionalLength("fence-height"),
		Breakthrough: j.OptionalLength("breakthrough"), Neck: j.OptionalLength("neck"),
		NoGo: j.NoGo(j.Machine), Clamps: j.Clamps(),
		Others: slices.ContainsFunc(j.Machine.Others(j.Name()), func(o bed.InUse) bool { return o.Rect != nil })}
	if j.Machine.Known {
		k.Machine = &j.Machine.Machine
	}
	for _, t := range ask.Values[ask.Through](j.Ask, "through") {
		if t.Count != nil {
			k.Count = t.Count
		} else {
			k.Through = append(k.Through, *t.Place)
		}
	}
	for _, place := range ask.Values[*registration.Point](j.Ask, "held") {
		if place == nil {
			k.Held, k.HeldAll = nil, true
			break
		}
		k.Held = append(k.Held, *place)
	}
	if err := j.thinPins(k); err != nil {
		return nil, err
	}
	if k.PinHeight == nil {
		if k.PinTops, err = j.pinTops(); err != nil {
			return nil, err
		}
	}
	if j.Answer.Second != nil {
		if k.Budget, err = j.budget(j.Answer); err != nil {
			return nil, err
		}
	}
	j.Setup.SetNoGo(k.NoGo, k.Clamps)
	return k, nil
}

// thinPins refuses pins of no diameter: a cutter can't be kept clear of one, nor of one
// that is taken thin.
func (j *Job) thinPins(k *Cutting) error {
	for i, s := range k.Standing() {
		key, form := "pin", "X,Y,DIA"
		if i >= len(j.Answer.Question.Pins) {
			key, form = "clock", "pin=X,Y,DIA"
		}
		if s.Pin && s.Dia.IsZero() {
			return ask.Wrong(j.Where(key), "no diameter of the "+s.Name, form, "")
		}
	}
	return nil
}
