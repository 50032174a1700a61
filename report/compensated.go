package report

import (
	"flipcalc/mirror/cut"
	"flipcalc/mirror/fact"
	"flipcalc/report/words"
)

// compensationNotes says what moves under G41 and G42 were cut with; k carries millimetres to the
// unit.
func compensationNotes(uses []cut.CompUse, k float64) []Note {
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
		out = append(out, Note{Level: fact.Assumed, File: c.File, Line: c.Line, Is: words.Compensated{Radius: words.Radius(c.Radius * k), Tool: c.Tool, Sides: side, Use: c}})
	}
	return out
}
