package plain

import (
	"math"
	"math/cmplx"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// A turned program turns about X0 Y0 of the work offset in force. Z, feeds, cycles, centres
// and the hand of cutter compensation stay as they are; arcs keep their sense. X and Y are
// given and known together or not at all. Arcs in G18 and G19 stay arcs in a plane of the
// control only at quarter turns, which carry one of the two planes into the other.

// turn turns moves.
type turn struct {
	on      bool
	quarter int // 1 or -1 for 90 degrees counter-clockwise or clockwise
	unit    complex128
	degrees decimal.Decimal
}

func newTurn(degrees decimal.Decimal) turn {
	t := turn{on: !degrees.IsZero(), degrees: degrees}
	if degrees.Abs().Equal(decimal.New(90, 0)) {
		t.quarter = degrees.Sign()
	}
	t.unit = cmplx.Rect(1, degrees.InexactFloat64()*math.Pi/180)
	return t
}

// place turns X and Y: exactly by a quarter, else to 1e-9.
func (t *turn) place(x, y motion.Num) (motion.Num, motion.Num) {
	switch t.quarter {
	case 1:
		return y.Neg(), x
	case -1:
		return y, x.Neg()
	}
	v := complex(x.Float(), y.Float()) * t.unit
	nano := func(v float64) motion.Num { return motion.FromNano(int64(math.Round(v * 1e9))) }
	return nano(real(v)), nano(imag(v))
}

// plane gives what a plane becomes and whether that is another one.
func (t *turn) plane(p transform.Plane) (transform.Plane, bool) {
	switch {
	case t.quarter == 0 || p == transform.XY:
		return p, false
	case p == transform.ZX:
		return transform.YZ, true
	}
	return transform.ZX, true
}

// farthest is how far from zero a place may lie that is turned: beyond it floats no
// longer carry 1e-9. In either unit further than any machine reaches.
const farthest = 100_000

// move turns one move of block b, or says why it can't be turned.
func (t *turn) move(b *motion.Block, m *motion.Move) (motion.Move, error) {
	w := *m
	switch alone := m.ToOK[0] != m.ToOK[1]; {
	case !t.on:
		return w, nil
	case alone && m.Machine:
		return w, t.refuse(b, "G53 with one of X and Y", "both X and Y, or Z alone")
	case m.Machine || m.Home:
		return w, nil
	case alone:
		return w, t.refuse(b, "a move while one of X and Y isn't known", "both X and Y in G90 first")
	case m.State.Plane != transform.XY && m.State.Comp != 40:
		return w, t.refuse(b, "cutter compensation outside G17", "G40")
	case m.Circular() && m.State.Plane != transform.XY && t.quarter == 0:
		return w, t.refuse(b, "an arc in "+m.State.Plane.String(), "arcs in G17")
	}
	for _, p := range [2]*motion.Point{&w.From, &w.To} {
		if math.Abs(p[0].Float()) > farthest || math.Abs(p[1].Float()) > farthest {
			return w, t.refuse(b, "a place more than 100000 from X0 Y0", "a number that a machine can use")
		}
		p[0], p[1] = t.place(p[0], p[1])
	}
	for k, c := range m.Control {
		w.Control[k][0], w.Control[k][1] = t.place(c[0], c[1])
	}
	from := m.FromOK[0] && m.FromOK[1]
	w.FromOK[0], w.FromOK[1] = from, from
	if w.State.Plane, _ = t.plane(m.State.Plane); !m.Circular() {
		return w, nil
	}
	switch m.State.Plane {
	case transform.XY:
		w.Centre[0], w.Centre[1] = t.place(m.Centre[0], m.Centre[1])
		known := m.CentreOK[0] && m.CentreOK[1]
		w.CentreOK = [2]bool{known, known}
	case transform.ZX: // centre in Z and X, which becomes Y or -Y
		w.Centre, w.CentreOK = [2]motion.Num{m.Centre[1].Signed(t.quarter), m.Centre[0]}, [2]bool{m.CentreOK[1], m.CentreOK[0]}
	case transform.YZ: // centre in Y, which becomes -X or X, and Z
		w.Centre, w.CentreOK = [2]motion.Num{m.Centre[1], m.Centre[0].Signed(-t.quarter)}, [2]bool{m.CentreOK[1], m.CentreOK[0]}
	}
	// X or Y of an arc in a plane with Z turns round where the quarter reverses it, and the
	// planes take their axes in opposite order: Z, X and Y, Z.
	if m.State.Plane == transform.ZX && t.quarter > 0 || m.State.Plane == transform.YZ && t.quarter < 0 {
		w.Kind = motion.CW + motion.CCW - m.Kind
	}
	return w, nil
}

func (t *turn) refuse(b *motion.Block, found, expected string) error {
	return &fault.Error{File: b.File, Line: b.Line, Col: 1, Found: found, Expected: expected + ", since the program is turned by " + t.degrees.String() + " degrees"}
}
