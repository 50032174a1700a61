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
