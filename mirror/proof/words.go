package proof

import (
	"fmt"
	"strings"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// differ makes the error that two moves don't correspond, with both in words.
func (l *lane) differ(m, w *motion.Move, a, b *motion.Block) error {
	col := 1
	for i := range 3 {
		if !w.To[i].Equal(m.To[i].Signed(l.sign[i]).Add(l.rel[i])) {
			col = b.Column('X' + byte(i))
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
func describeMove(m *motion.Move) string { return describe(m, [3]bool{true, true, true}, true) }

// describe writes a move in words, with the axes of its end that count, and with or without
// the place where it starts.
func describe(m *motion.Move, named [3]bool, from bool) string {
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
	case motion.Spline:
		s.WriteString("a spline")
	case motion.Store:
		s.WriteString("storing " + transform.OffsetName(m.Stored))
	}
	switch {
	case m.Home:
		s.WriteString(" home")
		return s.String()
	case m.Machine:
		s.WriteString(" in machine coordinates")
	}
	if from && m.Kind != motion.Store {
		s.WriteString(" from")
		place(&s, m.From, m.FromOK, [3]bool{true, true, true})
	}
	s.WriteString(" to")
	place(&s, m.To, m.ToOK, named)
	if m.Kind == motion.Spline {
		fmt.Fprintf(&s, " with I%s J%s P%s Q%s", m.Control[0][0], m.Control[0][1], m.Control[1][0], m.Control[1][1])
	}
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

// place writes a point; "X?" is an unknown place, "X?+5" lies 5 beyond it.
func place(s *strings.Builder, p motion.Point, ok, named [3]bool) {
	for i := range 3 {
		switch {
		case !named[i]:
		case ok[i]:
			fmt.Fprintf(s, " %c%s", 'X'+i, p[i])
		case p[i].IsZero():
			fmt.Fprintf(s, " %c?", 'X'+i)
		case p[i].Sign() < 0:
			fmt.Fprintf(s, " %c?%s", 'X'+i, p[i])
		default:
			fmt.Fprintf(s, " %c?+%s", 'X'+i, p[i])
		}
	}
}

// settings names what a state has set.
func settings(s *motion.State) []string {
	return []string{
		s.Unit.String(), s.Plane.String(), fmt.Sprintf("tool %d", s.Tool), fmt.Sprintf("length %d", s.Length),
		fmt.Sprintf("spindle %+d", s.Spindle), "speed " + s.Speed.String(), "feed " + s.Feed.String(),
		fmt.Sprintf("G%d", s.FeedMode), fmt.Sprintf("G%d", s.Comp), fmt.Sprintf("coolant %d", s.Coolant),
		fmt.Sprintf("path mode G%d", s.Path/10),
	}
}

// stateDiffers says what is set otherwise in t than in s.
func stateDiffers(s, t *motion.State) (found, expected string) {
	a, b := settings(s), settings(t)
	for i := range a {
		if a[i] != b[i] {
			return b[i], a[i]
		}
	}
	return "another distance mode", "the same"
}

// lost makes the refusal of a move that starts at a place of the machine.
func (l *lane) lost(m *motion.Move, a *motion.Block, axis int) error {
	what := "an incremental move along %c from"
	switch {
	case m.Circular():
		what = "an arc that starts in %c at"
	case m.Kind == motion.Spline:
		what = "a spline that starts in %c at"
	}
	return refuse(a, 'X'+byte(axis), fmt.Sprintf(what+" a place of the machine (after G28, G30, G53 or another work offset)", 'X'+axis),
		"home doesn't turn over with the blank: give the axis in G90 first")
}
