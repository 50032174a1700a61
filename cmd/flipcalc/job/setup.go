package job

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/report"
	"flipcalc/report/words"
)

// readings are the machine Z that is read when the tool that Z is touched off with stands
// on the zero of the face and of the back; nil where that isn't known.
func (c *Task) readings(m *ask.Machine, a *registration.Answer) (z [2]*decimal.Decimal, err error) {
	var stick *decimal.Decimal
	r := c.NewReader()
	ask.Optional(r, "stick-out", r.Length, &stick)
	if m == nil || a == nil || r.Err != nil {
		return z, r.Err
	}
	_, reading := m.Levels(a, stick)
	return [2]*decimal.Decimal{reading, raised(reading, a.Rise)}, nil
}

// setup begins the report with what the flags say.
func (c *Task) setup(a *registration.Answer, m *ask.Machine) report.Setup {
	s := report.Setup{Title: c.Text("title"), Job: c.JobFile, Correct: c.Command("correct"), Version: c.Version, Answer: a}
	if w, err := ask.FindWood(c.Text("wood")); c.Given("wood") && err == nil && w.From == budget.Handbook { // a figure names nothing
		s.Material = c.Text("wood")
	}
	if a != nil {
		s.Unit = a.Question.Unit
	}
	if !c.Given("units") {
		s.Notes = append(s.Notes, report.Note{Code: words.NoteUnits, Level: registration.LevelAssumed, Values: []string{s.Unit.String()}})
	}
	if m != nil && a != nil {
		s.Notes = append(s.Notes, c.blanksOn(a, m)...)
	}
	var stick *decimal.Decimal
	r := c.NewReader()
	ask.Optional(r, "stick-out", r.Length, &stick)
	if reading, err := c.readings(m, a); err == nil {
		s.Reading = reading
	}
	if m != nil && m.Known {
		s.SetBed(nil, &m.Machine)
		if a != nil {
			if d := m.Doubts(a, stick); d != nil && r.Err == nil {
				v := []string{d.At.String(), d.Expected.String(), "", a.Question.ZZero.String(), ""}
				if d.Least {
					v[2] = "least"
				}
				if d.Other {
					v[4] = "other"
				}
				s.Notes = append(s.Notes, report.Note{Code: words.NoteLevel, Level: registration.LevelWarning, Values: v})
			}
			for _, o := range m.Outside(a, stick) {
				s.Notes = append(s.Notes, report.Note{Code: words.NoteTravel, Level: registration.LevelWarning, Values: []string{o.Side, o.Axis, o.At.String(), o.Least.String(), o.Greatest.String(), o.What}})
			}
		}
	} else if a != nil && a.Question.At != nil && a.Question.At.Z != nil && a.Question.At.Z.IsPositive() {
		s.Notes = append(s.Notes, report.Note{Code: words.NoteAbove, Level: registration.LevelNote, Values: []string{a.Question.At.Z.String()}})
	}
	return s
}

// blanksOn warns of blanks that lie on something that stands on the bed.
func (c *Task) blanksOn(a *registration.Answer, m *ask.Machine) (list []report.Note) {
	areas, err := c.NoGo(m)
	if err != nil {
		return nil // told where they are needed
	}
	on := func(side string, corner registration.Point) {
		w, h := a.LyingSize()
		u := m.Under(c.JobName(), corner, w, h, a.Question.Unit)
		blank := bed.Rect{X: corner.X, Y: corner.Y, W: a.Used.W, H: a.Used.H}
		i := slices.IndexFunc(areas, func(n bed.Area) bool { return n.Overlaps(blank) })
		var what string
		switch {
		case u != nil:
			what = strings.TrimSuffix("what stands at "+u.Offset+" ("+u.For+")", " ()")
		case i >= 0:
			what = "the no-go area " + areas[i].String()
		default:
			return
		}
		list = append(list, report.Note{Code: words.NoteOn, Level: registration.LevelWarning, Values: []string{side, what}})
	}
	if a.FaceMachine {
		on(bed.FaceSide, a.FaceCorner)
	}
	if a.Machine && a.BackCorner != nil {
		on(bed.BackSide, *a.BackCorner)
	}
	return list
}

// addNoGo adds the no-go areas and the clamps to the machine in the report.
func (c *Task) addNoGo(s *report.Setup, m *ask.Machine) error {
	areas, err := c.NoGo(m)
	if err != nil || s.Machine == nil {
		return err
	}
	clamps, err := c.Clamps()
	s.SetNoGo(areas, clamps)
	return err
}
