package words

import "flipcalc/mirror/cut"

// uncompensated says why the real way of a compensated move can't be followed, and
// what to do.
func uncompensated(why cut.CompFault, radius string) (text, do string) {
	const cancel = "cancel it with G40 first"
	switch why {
	case cut.CompTight:
		return "an inside corner or arc is tighter than " + radius, "take a smaller cutter, or widen the corner [tool]"
	case cut.CompEntry:
		return "the first move is shorter than the radius, " + radius, "begin farther from the contour"
	case cut.CompRound:
		return "an arc leads in or out", "lead in and out with a straight move"
	case cut.CompPlane:
		return "a move in another plane than XY", cancel + ", or write the moves in G17"
	case cut.CompRadius:
		return "its radius isn't known", "write a tool's number in D, or the diameter with G41.1, G42.1 [tool]"
	case cut.CompChange:
		return "the side or D changes while it is on", cancel
	case cut.CompCode:
		return "a cycle, G28, G30, G53 or new zero in it", cancel
	case cut.CompPlace:
		return "a place isn't known", "give X and Y before it is turned on"
	}
	return "", ""
}
