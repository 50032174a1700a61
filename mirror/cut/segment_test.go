package cut

// Straight gives a straight cutting move with both ends known.
func Straight(line, tool int, from, to [3]float64) Segment {
	return Segment{Line: line, Tool: tool, From: from, To: to, FromOK: known, ToOK: known}
}

// Circular gives an arc in the XY plane (a helix where Z differs) with both ends
// known, one turn or less; a full circle where the ends coincide in X and Y.
func Circular(line, tool int, from, to [3]float64, centre [2]float64, ccw bool) Segment {
	s := Straight(line, tool, from, to)
	s.Arc, s.Centre, s.CCW, s.Turns = true, centre, ccw, 1
	return s
}
