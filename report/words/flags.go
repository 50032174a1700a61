package words

import "flipcalc/report/letters"

// CorrectOnce says how a second zero is corrected by a piece measured at two places: by the
// command, which is named, or by hand; with several pairs also for another one's.
func CorrectOnce(offset, command string, pairs bool) string {
	text := "Correct " + offset + " once: " + command + " --landed DX1,DY1@X1,Y1 --landed DX2,DY2@X2,Y2. By hand: X minus the mean DX, Y minus the mean DY."
	if pairs {
		text += " For another pair put its number first: --landed 2:DX1,DY1@X1,Y1."
	}
	return text
}

// Reasons says how many reasons were left out, and what shows them.
func Reasons(n int) string {
	return letters.Plural(n, "reason and assumption", "reasons and assumptions") + ": --why"
}

// HalfTool says what half the tool at a touch point is.
const HalfTool = "half the tool: half its diameter, known with --tool N=flat,DIAMETER"
