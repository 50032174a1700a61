package job

import (
	"fmt"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/fact"
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
	if err := j.addCheck(); err != nil {
		return err
	}
	j.Setup.Check.Notes = append(j.Setup.Check.Notes, farCorrections(j.Pairs)...)
	return nil
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
	k, err := j.cutting()
	if err != nil {
		return err
	}
	for i, a := range j.Pairs {
		r, notes, err := k.cut(i)
		if err != nil {
			return err
		}
		if i == 0 {
			j.Setup.SetCheck(r, j.OptionalLength("web"))
			j.Setup.Check.Notes = append(append(j.units, notes...), j.Setup.Check.Notes...)
			j.Setup.Check.Standing = k.standing()
		} else {
			j.Setup.AddPair(i+1, a, r)
		}
	}
	return nil
}

// cut cuts the programs of one pair of stations in memory, with notes on what that
// rests on.
func (w *cutting) cut(pair int) (*cut.Result, []report.Note, error) {
	w.answer = w.Pairs[pair]
	w.face, w.back = nil, nil
	for _, p := range w.runs {
		if p.pair != pair {
			continue
		}
		text, done := w.progress(again(p.content), p.source, p.content.Size())
		defer done()
		to := &w.face
		if p.back {
			to = &w.back
		}
		*to = append(*to, cut.Program{Name: p.source, Read: text, Options: w.reading(p.source), Source: p.lines})
	}
	q, notes := w.request()
	r, err := cut.Check(q)
	if err != nil {
		return nil, nil, err
	}
	return r, append(notes, w.hollows(r.Grid)...), nil
}

// hollows warns of touches in holes that the face program doesn't make, or not through to the back.
func (w *cutting) hollows(g *cut.Grid) (notes []report.Note) {
	for i, s := range w.answer.Question.Touched {
		if !s.Cut {
			continue
		}
		at := w.point(w.answer.FaceZero.Add(s.Hole))
		if centred, through := g.Hollow(at[0], at[1]); !through {
			notes = append(notes, report.Note{Level: fact.Warning, Is: words.NoHollow{Touch: i + 1, Of: s.Name(), Blind: centred}})
		}
	}
	return notes
}

// cutting is what check looks at, at every pair.
func (j *Job) cutting() (w *cutting, err error) {
	w = &cutting{Job: j, answer: j.Answer}
	if err := w.thinPins(); err != nil {
		return nil, err
	}
	if !j.Given("pin-height") {
		if w.tops, err = j.pinTops(); err != nil {
			return nil, err
		}
	}
	if j.Answer.Second != nil {
		if w.misalignment, err = j.budget(j.Answer); err != nil {
			return nil, err
		}
	}
	j.Setup.SetNoGo(j.NoGo(j.Machine), j.Clamps())
	j.Setup.Held, j.Setup.HeldAll = j.held()
	return w, nil
}

// thinPins refuses pins of no diameter: a cutter can't be kept clear of one, nor of one
// that is taken thin.
func (w *cutting) thinPins() error {
	for i, s := range w.standing() {
		key, form := "pin", "X,Y,DIA"
		if i >= len(w.answer.Question.Pins) {
			key, form = "clock", "pin=X,Y,DIA"
		}
		if s.Pin && s.Dia.IsZero() {
			return ask.Wrong(w.Where(key), "no diameter of the "+s.Name, form, "")
		}
	}
	return nil
}
