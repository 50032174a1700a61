package report

import (
	"strconv"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/motion"
	"flipcalc/report/letters"
)

// NoteCompensated says what cutter radius compensation is taken to go by.
const NoteCompensated = "compensated"

// compensationNotes says what moves under G41 and G42 were cut with; k carries millimetres to the
// unit u.
func compensationNotes(uses []cut.CompUse, k float64, u string) []Note {
	var out []Note
	for i, c := range uses {
		side := c.Side.String()
		again := false
		for j, o := range uses {
			o.Side, o.File, o.Line = c.Side, c.File, c.Line
			if o == c && j != i {
				again = again || j < i
				side = "both sides"
			}
		}
		if again {
			continue
		}
		radius := letters.Rounded(c.Radius*k, 4) + " " + u
		text := side + ": "
		switch {
		case c.By == motion.CompByDiameter:
			text += "the D of G41.1 and G42.1 is taken as the cutter's diameter, " + letters.Rounded(2*c.Radius*k, 4) + " " + u
		case c.By == motion.CompByNumber:
			text += "D" + strconv.FormatFloat(c.D, 'f', -1, 64) + " under G41 and G42 is taken as the radius of tool " + itoa(c.Of) + ", " + radius
			if c.Of != c.Tool {
				text += ", while tool " + itoa(c.Tool) + " cuts"
			}
		default:
			text += "G41 and G42 without D take the radius of tool " + itoa(c.Of) + ", " + radius
		}
		out = append(out, Note{Code: NoteCompensated, Level: "assumed", File: c.File, Line: c.Line, Values: []string{letters.Rounded(c.Radius*k, 4), itoa(c.Tool)},
			Text: text + ". The programmed line is then the contour (NISTIR 6556, appendix B). If the control stores wear alone, check the program without G41 and G42"})
	}
	return out
}

// compensationWords says why the real way of a compensated move can't be followed, and
// what to do.
func compensationWords(why int, radius string) (text, do string) {
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
	}
	return "a place isn't known", "give X and Y before it is turned on"
}
