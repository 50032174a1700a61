package words

import (
	"math"
	"strconv"
	"strings"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// Axis names an axis by its number.
func Axis(i int) string { return string("XYZ"[i%3]) }

// Finding says what was found and what to do, with the keys of a job file that
// change it in brackets. k carries millimetres to the unit u, met names the pin or the
// locator that the finding is about, and at is its place from the blank's near-left corner, face up,
// as through and held take it.
func Finding(f cut.Finding, k float64, u, met, at string) (text, do string) {
	places := 3
	if u == transform.Inch.String() {
		places = 4
	}
	mm := func(v float64) string { return letters.Rounded(v*k, places) + " " + u }
	left := func(v float64) string { return letters.Down(v*k, places) + " " + u }
	area := letters.Rounded(f.Area*k*k, 2) + " " + u + "2"
	side := f.Side.String()
	switch f.Code {
	case cut.CodeThrough:
		const meant = ". If meant: through = [\""
		text, do = "broken through: face and back overlap "+mm(f.Amount)+", hole of "+area, "cut one side less deep, or move one of the two"+meant+at+"\"]"
		if f.Limit > 0 {
			text, do = "face and back overlap "+mm(f.Amount)+", at least "+mm(f.Limit)+" asked for", "cut one of them deeper [breakthrough]"+meant+at+"\"]"
		}
		if f.FaceLine == 0 || f.BackLine == 0 {
			alone, opposite := "face", "the bed side"
			if f.FaceLine == 0 {
				alone, opposite = "back", "the face"
			}
			text, do = "broken through: the "+alone+" comes out on "+opposite+" by "+mm(f.Amount)+", hole of "+area, "cut the "+alone+" less deep, or take a thicker blank [stock, measured]"+meant+at+"\"]"
		}
	case cut.CodeCount:
		text = letters.Plural(int(f.Amount), "opening", "openings") + " cut through, " + strconv.Itoa(int(f.Limit)) + " expected"
		if f.Index == 0 {
			text = letters.Plural(int(f.Amount), "outline", "outlines") + " cut through, " + strconv.Itoa(int(f.Limit)) + " expected"
		}
		do = "find the wrong one, or correct the number [through]"
	case cut.CodeWeb:
		text, do = "web too thin: "+left(f.Amount)+" left, "+mm(f.Limit)+" asked for", "cut one side less deep, or take a thicker blank [stock, measured, web]"
	case cut.CodeWebTolerance:
		if f.Limit == 0 {
			text, do = "at worst the two sides meet", closer
			break
		}
		text, do = "worst-case web too thin: "+left(f.Amount)+" left, "+mm(f.Limit)+" asked for", closer
	case cut.CodeUnproven:
		text, do = "web not proven, too many cuts: at least "+left(f.Amount), "check fewer programs at a time"
		if f.Limit > 0 {
			text += ", " + mm(f.Limit) + " asked for"
		}
	case cut.CodeWall:
		text, do = "wall between face and back too thin: "+left(f.Amount)+" left, "+mm(f.Limit)+" asked for", "move one of the two, or cut one less deep [web]"
	case cut.CodeWallTolerance:
		if f.Limit == 0 {
			text, do = "at worst a cut of the back meets one of the face beside it", closer
			break
		}
		text, do = "worst-case wall too thin: "+left(f.Amount)+" left, "+mm(f.Limit)+" asked for", closer
	case cut.CodeShort:
		const keep = ". For a web: cut less deep, or take a thicker blank [stock, measured, web]"
		text, do = "cuts that should meet don't: "+mm(f.Amount)+" left between face and back", "cut one of them deeper"+keep
		if f.Index == 1 {
			text, do = "not cut through where it should be: "+mm(f.Amount)+" left", "cut deeper, or correct the place [through]"
		}
		if f.Length > 0 {
			text = "a through cut falls short by " + mm(f.Amount) + " along " + mm(f.Length) + ", more than a tab"
			do = "cut deeper there, or leave a higher tab"
		}
		if f.Side != cut.Both {
			text = side + ": the groove around a part isn't through: " + mm(f.Amount) + " left, web of " + mm(f.Limit) + " asked for"
			do = "cut deeper" + keep
		}
	case cut.CodeShortTolerance:
		text = "face and back meet by " + mm(f.Limit-f.Amount) + ", but at worst " + mm(f.Amount) + " is left"
		do = "cut one of them " + mm(f.Amount) + " deeper, or measure the blank [measured, tolerance]"
	case cut.CodeMeets:
		text, do = "a cut goes through with nothing to spare", "cut a little deeper: a blank a hair thicker stays uncut"
	case cut.CodeLedge:
		text, do = side+": a ledge of up to "+mm(f.Amount)+" is left at the bottom of a helix", "end with a level turn, or go deeper by a whole turn"
	case cut.CodeTab:
		text, do = "tab of "+left(f.Amount)+" is too low, at least "+mm(f.Limit), "leave it higher, or hold the part: held = \"all\" for vacuum"
		if f.Index == 2 {
			text, do = "tab hangs on loose waste "+left(f.Amount)+" wide, at least "+mm(f.Limit), "move the tab, leave a wider margin, or hold the part [held, neck]"
		}
		if f.Index == 1 {
			text, do = "tab of "+mm(f.Amount)+" may not be there: at worst "+mm(f.Limit)+" missing", "leave it higher, or measure the blank [measured, tolerance]. Under vacuum: held = \"all\""
		}
	case cut.CodeStep:
		text, do = "step of "+mm(f.Amount)+" in the wall of a through cut, "+mm(f.Limit)+" allowed", "check flip axis, zeros and cutter diameters [flip, zero, back-zero, tool]. If meant: through = [\""+at+"\"]"
		if f.Index == 1 {
			text = "the bores of a stepped hole are " + mm(f.Amount) + " apart, " + mm(f.Limit) + " allowed"
		}
	case cut.CodeOffBlank:
		if f.Limit > 0 {
			text, do = side+": a cut runs "+mm(f.Amount)+" off the blank in "+Axis(f.Index), "check the zero and the blank's size: W and H exchanged [stock, zero, back-zero]"
			break
		}
		text, do = side+": most cuts run off the blank, up to "+mm(f.Amount)+" in "+Axis(f.Index), "check the program's zero, and the line of its mirror [zero, back-zero, flip]"
	case cut.CodeTurned:
		if f.Index == 1 {
			text, do = "a hole from both sides is "+mm(f.Amount)+" off the plug's center. The part turns freely, so its halves miss", "drill it from one side, or clock the part [clock]"
			break
		}
		text, do = "web of the freely turning part too thin: "+left(f.Amount)+" left, "+mm(f.Limit)+" asked for", "cut less deep that far from the center, or clock the part [clock]"
	case cut.CodeMissed:
		what := "outlines"
		if f.Index == 1 {
			what = "holes"
		}
		text, do = what+" of one size on face and back are "+mm(f.Amount)+" apart and miss", "check the flip axis and the back's zero [flip, back-zero]"
	case cut.CodeRapid:
		text, do = side+": a rapid move runs "+mm(f.Depth)+" deep through stock", "raise the retract height, or make it a feed move"
	case cut.CodeShank:
		text, do = side+": stock stands "+mm(f.Depth)+" above the flutes, which are "+mm(f.Limit)+" long", "take a longer cutter, or clear the stock first [flute]"
	case cut.CodeNotFollowed:
		switch f.Index {
		case cut.NotPreset:
			text, do = side+": G92 at an unknown place, so this move is left out", "set the zero in the work offset, and take G92 out"
		case cut.NotSpline:
			text, do = side+": a spline is cut as one straight line", "write it as arcs or short lines"
		case cut.NotLevel:
			text, do = side+": a cycle without R starts at an unknown level", "write R into the cycle's block"
		default:
			text, do = side+": G68 without X and Y, so this move is left out: controls differ", "give G68 its X and Y"
		}
	case cut.CodeStopped:
		text, do = side+": a cut with the spindle stopped", "write M3 or M4 before it, and after each tool change"
	case cut.CodeCone:
		text, do = side+": a vee goes "+mm(f.Depth)+" deeper than its cone, "+mm(f.Limit)+" high", "give its flute length, take a wider vee, or clear the stock first [flute, tool]"
	case cut.CodePin:
		text, do = side+": the cutter runs "+mm(f.Amount)+" into "+met+", "+mm(f.Depth)+" below its top", "move it or the cut, or use a shorter one [pin, pin-height, over]"
	case cut.CodeFence:
		text, do = side+": the cutter runs "+mm(f.Amount)+" into "+met+", "+mm(f.Depth)+" below its top", "cut inside that edge, use another edge, or a lower fence [fence, stop, back-fence, back-stop, fence-height]"
	case cut.CodeNoGo:
		text, do = side+": the cutter enters "+met+" by "+mm(f.Amount), "move it, or move the station [no-go, clamp, at]"
	case cut.CodeBed:
		text, do = side+": cut "+mm(f.Amount)+" into the bed, "+mm(f.Limit)+" allowed", "check Z zero and thickness, or cut less deep [z-zero, back-z-zero, measured, bed-depth]"
	case cut.CodeTravel:
		text, do = side+": leaves the travel of "+Axis(f.Index)+" by "+mm(f.Amount)+" at "+mm(f.Limit), "move the station, or use a shorter tool [at, stick-out]"
		switch {
		case f.Index == 2:
		case f.Limit == 0: // the key travel counts from 0
			do = "move the station; if " + Axis(f.Index) + " runs past 0, give its least and greatest [at, machine]"
		default:
			do = "move the station [at]"
		}
	case cut.CodeLoose:
		text = side + ": a part of " + area + " comes loose"
		do = "leave tabs, or hold it. Screw or tape there: held = [\"" + at + "\"]. Vacuum: held = \"all\""
		if 2*f.Amount < screwWidth {
			do = "leave tabs, or clamp it: " + letters.Rounded(2*f.Amount*k, 1) + " " + u + " is too narrow for a screw. Clamp or tape there: held = [\"" + at + "\"]. Vacuum: held = \"all\""
		}
	case cut.CodeEarly:
		text, do = side+": a part is cut after the groove around it", "cut the outline last [mirror, back: in order of running], or hold the part [held]"
	case cut.CodeMargin:
		text, do = "the face cuts off the margin with "+met+", which the back needs", "cut through on the back, or leave tabs"
	case cut.CodeBore:
		where := "hole of " + met
		if f.Index < 0 {
			where = "bore"
		}
		text, do = "the face cuts "+mm(f.Depth)+" deep into the wall of the "+where, "move the cut clear of it, or register elsewhere [pin, bore]"
	case cut.CodeEdge:
		text, do = "the face cuts "+mm(f.Depth)+" into the "+cut.Edge(min(max(f.Index, 0), 3)).String()+" edge, along "+mm(f.Amount)+": the back touches there", "use another edge on the back, or cut this one last [back-fence, back-stop]"
	case cut.CodeOffset:
		text, do = side+": a move under "+transform.OffsetName(f.Index)+", which isn't its station's offset", "check the offsets in the program [offset, back-offset, map, keep-offset]"
	case cut.CodeCoarse:
		text = "cells of " + mm(f.Amount) + " are too large for tool " + strconv.Itoa(f.Index) + ", " + mm(f.Depth) + " wide: some cuts go unseen"
		do = "check a smaller blank, or with cell " + mm(math.Floor(f.Limit*1e4)/1e4) + " if memory allows"
	case cut.CodePlace:
		text, do = side+": a cutting move at an unknown place is left out", "give the move its X, Y and Z"
	case cut.CodeCompensated:
		text, do = uncompensated(f.Index, mm(f.Limit))
		text = side + ": cutter compensation not followed: " + text
	default:
		text = strings.ReplaceAll(string(f.Code), "-", " ")
	}
	if f.Count > 1 {
		which := "worst"
		switch f.Code {
		case cut.CodeThrough:
			which = "largest"
		case cut.CodeOffset, cut.CodePlace, cut.CodeCompensated, cut.CodeNotFollowed, cut.CodeStopped:
			which = "first"
		}
		text += "; " + which + " of " + strconv.Itoa(f.Count)
	}
	return text, do
}

// screwWidth is the least width of a part that a screw is proposed for, mm: a head of 8
// and a millimetre beside it (judgement).
const screwWidth = 10

// closer is what to do where only the errors taken off make the web too thin.
const closer = "cut less deep, measure the blank, or take a closer fit [measured, fit, tolerance, web]"

// Pin names a pin of a request that a Cutting made: the dowels first, then the
// plug, then the pin that clocks it.
func Pin(a *registration.Answer, i int) string {
	if a == nil || i < len(a.Question.Pins) {
		return "dowel " + strconv.Itoa(i+1)
	}
	return [...]string{"the plug", "the index pin"}[min(i-len(a.Question.Pins), 1)]
}
