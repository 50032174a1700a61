package job

import (
	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
)

// addTouchOff adds how the stations' offsets are set by hand and how each is looked
// at. pairs are the answers at the stations, nil where the answer can't be asked there.
func (c *Task) addTouchOff(s *report.Setup, m *ask.Machine, a *registration.Answer, l *bed.Layout, pairs []*registration.Answer) error {
	tools, err := c.tools()
	if err != nil {
		return err
	}
	if s.ClearZ == nil {
		if s.ClearZ, err = c.knownClear(m, a); err != nil {
			return err
		}
	}
	clear := s.ClearZ
	if !m.G53 {
		clear = nil
	}
	s.SetTouchOff(l, pairs, tools, clear)
	return nil
}

// knownClear gives the clear height of a job where it is given or what it takes to
// reckon it is; nil otherwise.
func (c *Task) knownClear(m *ask.Machine, a *registration.Answer) (*decimal.Decimal, error) {
	if !c.Given("clear") && !c.Given("longest") {
		return nil, nil
	}
	var levels [2]*decimal.Decimal
	for side, names := range [2][]string{{"face"}, {"mirror", "back"}} {
		for _, name := range names {
			box, err := c.extent(name, a)
			if err != nil {
				return nil, err
			}
			if name == "mirror" {
				box = a.Transform.Box(box)
			}
			if box.Any && (levels[side] == nil || box.Greatest[2].GreaterThan(*levels[side])) {
				levels[side] = &box.Greatest[2]
			}
		}
	}
	z, _, err := c.clearHeight(m, a, levels, 0)
	return &z, err
}

// answersAt asks the question again at each pair of stations; nil where it can't be,
// since a locator's place was given or can't be turned with its station.
func answersAt(a *registration.Answer, l *bed.Layout) (out []*registration.Answer) {
	if a.Question.At != nil {
		out = append(out, a)
	}
	for i := 2 * len(out); i+1 < len(l.Stations); i += 2 {
		face, back := l.Stations[i], l.Stations[i+1]
		at, err := a.At(standing(face), standing(back))
		if err != nil {
			return out
		}
		out = append(out, at)
	}
	return out
}
