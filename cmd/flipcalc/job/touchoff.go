package job

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// addTouchOff adds how the stations' offsets are set by hand and how each is looked at.
func (j *Job) addTouchOff() (err error) {
	if j.Setup.ClearZ == nil {
		if j.Setup.ClearZ, err = j.knownClear(); err != nil {
			return err
		}
	}
	clear := j.Setup.ClearZ
	if !j.Machine.G53 {
		clear = nil
	}
	j.Setup.SetTouchOff(j.Layout, j.Pairs, j.tools(), clear)
	return nil
}

// knownClear gives the clear height of a job where it is given or what it takes to
// reckon it is; nil otherwise.
func (j *Job) knownClear() (*decimal.Decimal, error) {
	if !j.Given("clear") && !j.Given("longest") {
		return nil, nil
	}
	boxes, err := j.extents()
	if err != nil {
		return nil, err
	}
	z, _, err := j.clearHeight(levels(boxes), 0)
	return &z, err
}

// levels are how high the programs of either side go; nil where that isn't known.
func levels(boxes [2]transform.Box) (z [2]*decimal.Decimal) {
	for i := range boxes {
		if boxes[i].Any {
			z[i] = &boxes[i].Greatest[2]
		}
	}
	return z
}

// answersAt asks the question again at each pair of stations; nil where it can't be,
// since a locator's place was given or can't be turned with its station.
func answersAt(a *registration.Answer, l *bed.Layout) (out []*registration.Answer) {
	if a.Question.At != nil {
		out = append(out, a)
	}
	for i := 2 * len(out); i+1 < len(l.Stations); i += 2 {
		at, err := a.At(standing(l.Stations[i]), standing(l.Stations[i+1]))
		if err != nil {
			return out
		}
		out = append(out, at)
	}
	return out
}
