package job

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fact"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/report"
	"flipcalc/report/words"
)

// readings are the machine Z that is read when the tool that Z is touched off with stands
// on the zero of the face and of the back; nil where that isn't known.
func (j *Job) readings() (z [2]*decimal.Decimal) {
	if j.Answer == nil {
		return z
	}
	_, reading := j.Machine.Levels(j.Answer, j.OptionalLength("stick-out"))
	return [2]*decimal.Decimal{reading, raised(reading, j.Answer.Rise)}
}

// setup begins the report with what the flags say.
func (j *Job) setup() {
	j.Setup = report.Setup{Title: j.Text("title"), Job: j.JobFile, Correct: j.Command("correct"), Version: j.Version,
		Answer: j.Answer, Reading: j.readings(), StickOut: j.OptionalLength("stick-out") != nil}
	if ask.Value[budget.Species](j.Ask, "wood").From == budget.Handbook { // a figure names nothing
		j.Setup.Material = j.Text("wood")
	}
	if j.Answer != nil {
		j.Setup.Unit = j.Answer.Question.Unit
	}
	if !j.Given("units") {
		j.note(fact.Assumed, words.UnitsDefault{Unit: j.Setup.Unit})
	}
	if j.Machine.Known {
		j.Setup.SetBed(nil, &j.Machine.Machine)
	}
	if j.Answer != nil {
		j.doubtPlace()
	}
}

// note adds a note to the report.
func (j *Job) note(level string, is any) {
	j.Setup.Notes = append(j.Setup.Notes, report.Note{Level: level, Is: is})
}

// doubtPlace warns where the blank can't lie as it is said to, by the bed and the travel.
func (j *Job) doubtPlace() {
	a, m, stick := j.Answer, j.Machine, j.OptionalLength("stick-out")
	j.doubtBed()
	if !m.Known {
		if at := a.Question.At; at != nil && at.Z != nil && at.Z.IsPositive() {
			j.note(fact.Note, words.ZPositive{Z: *at.Z})
		}
		return
	}
	if d := m.Doubts(a, stick); d != nil {
		j.note(fact.Warning, words.ZDoubtful{Doubt: *d, Zero: a.Question.ZZero})
	}
	for _, o := range m.Outside(a, stick) {
		j.note(fact.Warning, words.OutsideTravel{Outside: o})
	}
}

// farCorrections warns of corrections of pairs that are farther than locators explain.
func farCorrections(pairs []*registration.Answer) (notes []report.Note) {
	for _, a := range pairs {
		for _, f := range a.Facts {
			if _, is := f.Is.(registration.Corrected); is && f.Level == registration.LevelWarning {
				notes = append(notes, report.Note{Level: f.Level, Is: f.Is})
			}
		}
	}
	return notes
}

// doubtBed warns of blanks that lie on something that stands on the bed.
func (j *Job) doubtBed() {
	a, areas := j.Answer, j.NoGo(j.Machine)
	on := func(side string) {
		blank := a.Outline(side == bed.BackSide)
		u := j.Machine.Under(j.Name(), blank, a.Question.Unit)
		i := slices.IndexFunc(areas, func(n bed.Area) bool { return n.Meets(blank) })
		switch {
		case u != nil:
			j.note(fact.Warning, words.BlankOn{Side: side, What: strings.TrimSuffix("what stands at "+u.Offset+" ("+u.For+")", " ()")})
		case i >= 0:
			j.note(fact.Warning, words.BlankOn{Side: side, What: "the no-go area " + areas[i].String()})
		}
	}
	if a.FaceMachine {
		on(bed.FaceSide)
	}
	if a.Machine && a.BackCorner != nil {
		on(bed.BackSide)
	}
}

// addNoGo adds the no-go areas and the clamps to the machine in the report.
func (j *Job) addNoGo() {
	if j.Setup.Machine != nil {
		j.Setup.SetNoGo(j.NoGo(j.Machine), j.Clamps())
	}
}
