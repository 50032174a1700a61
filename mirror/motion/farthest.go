package motion

import (
	"fmt"

	"flipcalc/mirror/fault"
)

// aHundredMetres is how far a coordinate or a radius may be from zero where nothing is known of
// the machine, in mm: 100 m, longer than any machine that this is written for. Beyond it
// a number is a slip of the keyboard, and a path that is followed in steps has no end.
var aHundredMetres = FromInt(100_000)

// far refuses a move that goes farther than Options.Farthest.
func (w *walker) far(mv *Move) error {
	limit := w.m.o.Farthest
	if limit.IsZero() {
		limit = aHundredMetres
	}
	unit := mv.State.Unit
	beyond := func(n Num) bool {
		n = n.mm(unit)
		return n.Cmp(limit) > 0 || n.Neg().Cmp(limit) > 0
	}
	tooFar := func(found string) error {
		return &fault.Error{File: w.name, Line: mv.Line, Col: 1, Found: found, Expected: fmt.Sprintf("at most %.0f %s from zero", limit.Float()/unit.MM(), unit),
			Hint: "no machine goes so far: is a decimal point missing, or the unit wrong?"}
	}
	for i, name := range "XYZ" {
		if mv.ToOK[i] && beyond(mv.To[i]) {
			return tooFar(fmt.Sprintf("%c%s", name, mv.To[i]))
		}
	}
	if mv.ByRadius && beyond(mv.Radius) {
		return tooFar("R" + mv.Radius.String())
	}
	for i, n := range mv.Centre {
		if mv.CentreOK[i] && beyond(n) {
			return tooFar("an arc's centre at " + n.String())
		}
	}
	return nil
}
