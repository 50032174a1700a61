package proof

import (
	"fmt"
	"strings"

	"flipcalc/mirror/motion"
)

// differ makes the error that two moves don't correspond, with both in words.
func (l *lane) differ(m, w *motion.Move, a, b *motion.Block) error {
	col := 1
	for i := range 3 {
		if !w.To[i].Equal(m.To[i].Signed(l.sign[i]).Add(l.rel[i])) {
			col = column(b, 'X'+byte(i))
			break
		}
	}
	return l.p.no(b.Line, col, describeMove(w),
		fmt.Sprintf("the mirror of line %d of the input, %s, through %s", a.Line, describeMove(m), l.p.o.mapFor(m)))
}

// mapFor writes the map in the unit of a move.
func (o *Options) mapFor(m *motion.Move) string {
	if m.State.Unit == o.InchMap.Unit && m.State.Unit != o.Map.Unit {
		return o.InchMap.String()
	}
	return o.Map.String()
}

// describeMove writes a move in words.
func describeMove(m *motion.Move) string {
	var s strings.Builder
	switch m.Kind {
	case motion.Rapid:
		s.WriteString("a rapid")
	case motion.Feed:
		s.WriteString("a feed")
	case motion.CW:
		s.WriteString("a clockwise arc")
	case motion.CCW:
		s.WriteString("a counter-clockwise arc")
	}
	switch {
	case m.Home:
		s.WriteString(" home")
		return s.String()
	case m.Machine:
		s.WriteString(" in machine coordinates")
	}
	s.WriteString(" from")
	place(&s, m.From, m.FromOK)
	s.WriteString(" to")
	place(&s, m.To, m.ToOK)
	if m.Circular() {
		if m.ByRadius {
			fmt.Fprintf(&s, " of radius %s", m.Radius)
		} else {
			first, second, _ := m.State.Plane.Axes()
			fmt.Fprintf(&s, " round %c%s %c%s", 'X'+first, m.Centre[0], 'X'+second, m.Centre[1])
		}
		if m.Turns != 1 {
			fmt.Fprintf(&s, " in %d turns", m.Turns)
		}
		fmt.Fprintf(&s, " in %s", m.State.Plane)
	}
	return s.String()
}

// place writes a point; a coordinate that counts from an unknown place is in
// brackets.
func place(s *strings.Builder, p motion.Point, ok [3]bool) {
	for i := range 3 {
		if ok[i] {
			fmt.Fprintf(s, " %c%s", 'X'+i, p[i])
		} else {
			fmt.Fprintf(s, " %c[%s]", 'X'+i, p[i])
		}
	}
}

// describeState writes what is set.
func describeState(s motion.State) string {
	return fmt.Sprintf("%s, %s, T%d, H%d, spindle %+d at S%s, F%s under G%d, G%d, coolant %d, path mode %d",
		s.Unit, s.Plane, s.Tool, s.Length, s.Spindle, s.Speed, s.Feed, s.FeedMode, s.Comp, s.Coolant, s.Path)
}

// lost makes the refusal of a move that starts at a place of the machine.
func (l *lane) lost(m *motion.Move, a *motion.Block, axis int) error {
	what := "an incremental move"
	if m.Circular() {
		what = "an arc"
	}
	return refuse(a, 'X'+byte(axis), fmt.Sprintf("%s along %c from a place of the machine (after G28, G30, G53 or another work offset)", what, 'X'+axis),
		"home doesn't turn over with the blank: give the axis in G90 first")
}
