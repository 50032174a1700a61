package motion

import (
	"fmt"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// aHundredMetres is how far a coordinate or a radius may be from zero where nothing is known of
// the machine, in mm: 100 m, longer than any machine that this is written for. Beyond it
// a number is a slip of the keyboard, and a path that is followed in steps has no end.
var aHundredMetres = FromInt(100_000)

// far refuses a move that goes farther than Options.Farthest. The limits of both units
// are reckoned once a program.
func (w *walker) far(mv *Move) error {
	if w.limit[0].IsZero() {
		mm := w.m.o.Farthest
		if mm.IsZero() {
			mm = aHundredMetres
		}
		w.limit = [2]Num{mm, mm.Quo(FromNano(25_400_000_000))}
	}
	limit := w.limit[0]
	if mv.State.Unit == transform.Inch {
		limit = w.limit[1]
	}
	beyond := func(n Num) bool { return n.Cmp(limit) > 0 || n.Cmp(limit.Neg()) < 0 }
	for i, name := range "XYZ" {
		if mv.ToOK[i] && beyond(mv.To[i]) {
			return w.tooFar(fmt.Sprintf("%c%s", name, mv.To[i]), limit, mv)
		}
	}
	if mv.ByRadius && beyond(mv.Radius) {
		return w.tooFar("R"+mv.Radius.String(), limit, mv)
	}
	for i, n := range mv.Centre {
		if mv.CentreOK[i] && beyond(n) {
			return w.tooFar("an arc's centre at "+n.String(), limit, mv)
		}
	}
	return nil
}

// tooFar is the error of a move that goes too far.
func (w *walker) tooFar(found string, limit Num, mv *Move) error {
	return &fault.Error{File: w.name, Line: mv.Line, Col: 1, Found: found, Expected: fmt.Sprintf("at most %.0f %s from zero", limit.Float(), mv.State.Unit),
		Hint: "no machine goes so far: is a decimal point missing, or the unit wrong?"}
}
