package job

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
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
	boxes, err := j.extents(j.Answer)
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
