package cut

import (
	"flipcalc/mirror/motion"
)

// Why a move isn't followed.
const (
	NotRotated = iota // it runs under G68 without a centre
	NotSpline         // it is a spline, of which only the chord is cut
	NotPreset         // its zero was set by G92 where the tool's place isn't known
	NotLevel          // a cycle without R, drilled from where the tool stands
)

// FromMove gives a move of the interpreter, in coordinates of its work offset (see
// motion.Track), as a segment in millimetres. An arc whose centre can't be placed comes
// back with its end unknown.
func FromMove(m *motion.Move) Segment {
	mm := m.State.Unit.MM()
	s := Segment{
		Line: m.Line, Rapid: m.Kind == motion.Rapid, Tool: m.State.Tool, Offset: m.State.Offset,
		FromOK: m.FromOK, ToOK: m.ToOK, Machine: m.Machine, Home: m.Home,
		Plane: m.State.Plane, Turns: m.Turns, Still: m.State.Spindle == 0,
	}
	if m.State.Comp == 41 || m.State.Comp == 42 {
		s.Comp = Comp{Side: 83 - 2*m.State.Comp, By: m.State.CompBy, D: m.State.D.Float(), Apart: m.Cycle != 0}
		if s.Comp.By == motion.CompByDiameter {
			s.Comp.D *= mm
		}
	}
	for i := range 3 {
		s.From[i], s.To[i] = m.From[i].Float()*mm, m.To[i].Float()*mm
	}
	if m.Circular() {
		s.Arc, s.CCW = true, m.Kind == motion.CCW
		centre, _, _, ok := m.Arc()
		s.Centre = [2]float64{centre[0] * mm, centre[1] * mm}
		if !ok {
			s.ToOK = [3]bool{}
		}
	}
	return s
}
