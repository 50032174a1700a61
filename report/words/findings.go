package words

import (
	"math"
	"strconv"

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
	text, do = findingWords(f, scale{k, u}, met, at)
	if n := f.At().Count; n > 1 {
		which := "worst"
		switch f.(type) {
		case *cut.BrokenThrough, *cut.BrokenOut, *cut.ScantOverlap:
			which = "largest"
		case *cut.WrongOffset, *cut.PlaceUnknown, *cut.Compensated, *cut.NotFollowed, *cut.SpindleStopped:
			which = "first"
		}
		text += "; " + which + " of " + strconv.Itoa(n)
	}
	return text, do
}

// scale writes millimetres in a unit.
type scale struct {
	k float64 // carries millimetres to it
	u string
}

func (s scale) places() int {
	if s.u == transform.Inch.String() {
		return 4
	}
	return 3
}

func (s scale) mm(v float64) string   { return letters.Rounded(v*s.k, s.places()) + " " + s.u }
func (s scale) left(v float64) string { return letters.Down(v*s.k, s.places()) + " " + s.u }
func (s scale) area(v float64) string { return letters.Rounded(v*s.k*s.k, 2) + " " + s.u + "2" }

// asked says what is left and what was asked for.
func (s scale) asked(f cut.Thin) string {
	return s.left(f.Left) + " left, " + s.mm(f.Asked) + " asked for"
}

// findingWords finds the words for each kind of finding.
func findingWords(f cut.Finding, s scale, met, at string) (text, do string) {
	side := f.At().Side.String()
	meant := ". If meant: through = [\"" + at + "\"]"
	switch f := f.(type) {
	case *cut.PinCut:
		return side + ": the cutter runs " + s.mm(f.Into) + " into " + met + ", " + s.mm(f.Depth) + " below its top", "move it or the cut, or use a shorter one [pin, pin-height, over]"
	case *cut.FenceCut:
		return side + ": the cutter runs " + s.mm(f.Into) + " into " + met + ", " + s.mm(f.Depth) + " below its top",
			"cut inside that edge, use another edge, or a lower fence [fence, stop, back-fence, back-stop, fence-height]"
	case *cut.NoGoEntered:
		return side + ": the cutter enters " + met + " by " + s.mm(f.Into), "move it, or move the station [no-go, clamp, at]"
	case *cut.BedCut:
		return side + ": cut " + s.mm(f.Into) + " into the bed, " + s.mm(f.Allowed) + " allowed", "check Z zero and thickness, or cut less deep [z-zero, back-z-zero, measured, bed-depth]"
	case *cut.RapidInStock:
		return side + ": a rapid move runs " + s.mm(f.Depth) + " deep through stock", "raise the retract height, or make it a feed move"
	case *cut.ShankInStock:
		return side + ": stock stands " + s.mm(f.Depth) + " above the flutes, which are " + s.mm(f.Flute) + " long", "take a longer cutter, or clear the stock first [flute]"
	case *cut.VeeOverCone:
		return side + ": a vee goes " + s.mm(f.Depth) + " deeper than its cone, " + s.mm(f.Cone) + " high", "give its flute length, take a wider vee, or clear the stock first [flute, tool]"
	case *cut.SpindleStopped:
		return side + ": a cut with the spindle stopped", "write M3 or M4 before it, and after each tool change"
	case *cut.TravelExceeded:
		return side + ": leaves the travel of " + Axis(f.Axis) + " by " + s.mm(f.By) + " at " + s.mm(f.End), s.intoTravel(f)
	case *cut.WrongOffset:
		return side + ": a move under " + transform.OffsetName(f.Offset) + ", which isn't its station's offset", "check the offsets in the program [offset, back-offset, map, keep-offset]"
	case *cut.NotFollowed:
		text, do = unfollowed(f.Why)
		return side + ": " + text, do
	case *cut.PlaceUnknown:
		return side + ": a cutting move at an unknown place is left out", "give the move its X, Y and Z"
	case *cut.Compensated:
		text, do = uncompensated(f.Why, s.mm(f.Radius))
		return side + ": cutter compensation not followed: " + text, do
	case *cut.OffBlank:
		return side + ": a cut runs " + s.mm(f.By) + " off the blank in " + Axis(f.Axis), "check the zero and the blank's size: W and H exchanged [stock, zero, back-zero]"
	case *cut.MostlyOffBlank:
		return side + ": most cuts run off the blank, up to " + s.mm(f.By) + " in " + Axis(f.Axis), "check the program's zero, and the line of its mirror [zero, back-zero, flip]"
	case *cut.SkimShort:
		return side + ": a place of the top is only " + s.mm(f.Off) + " lower, not " + s.mm(f.Said), "say what comes off at the highest place, or face all of the top [skimmed]"
	case *cut.SkimUnsaid:
		return side + ": all of the top is " + s.mm(f.Off) + " lower or more, not " + s.mm(f.Said), "say what comes off at the highest place, else web or back Z is off [skimmed]"
	case *cut.CellsCoarse:
		return "cells of " + s.mm(f.Cell) + " are too large for tool " + strconv.Itoa(f.Tool) + ", " + s.mm(f.Diameter) + " wide: some cuts go unseen",
			"check a smaller blank, or with cell " + s.mm(math.Floor(f.Shown*1e4)/1e4) + " if memory allows"
	case *cut.BrokenThrough:
		return "broken through: face and back overlap " + s.mm(f.Overlap) + ", hole of " + s.area(f.Area), "cut one side less deep, or move one of the two" + meant
	case *cut.BrokenOut:
		opposite := "the bed side"
		if f.By == cut.Back {
			opposite = "the face"
		}
		return "broken through: the " + f.By.String() + " comes out on " + opposite + " by " + s.mm(f.Overlap) + ", hole of " + s.area(f.Area),
			"cut the " + f.By.String() + " less deep, or take a thicker blank [stock, measured]" + meant
	case *cut.ScantOverlap:
		return "face and back overlap " + s.left(f.Overlap) + ", at least " + s.mm(f.Asked) + " asked for", "cut one of them deeper [breakthrough]" + meant
	case *cut.OutlineCount:
		return s.number(f.Number, "outline", "outlines")
	case *cut.OpeningCount:
		return s.number(f.Number, "opening", "openings")
	case *cut.OutlinesMissed:
		return "outlines of one size on face and back are " + s.mm(f.Apart) + " apart and miss", aim
	case *cut.HolesMissed:
		return "holes of one size on face and back are " + s.mm(f.Apart) + " apart and miss", aim
	case *cut.WallStep:
		return "step of " + s.mm(f.Step) + " in the wall of a through cut, " + s.mm(f.Allowed) + " allowed", align + meant
	case *cut.BoresApart:
		return "the bores of a stepped hole are " + s.mm(f.Apart) + " apart, " + s.mm(f.Allowed) + " allowed", align + meant
	case *cut.GroovesShort:
		return "cuts that should meet don't: " + s.mm(f.Left) + " left between face and back", "cut one of them deeper. For a web: cut less deep, or take a thicker blank [stock, measured, web]"
	case *cut.StretchShort:
		return "a through cut falls short by " + s.mm(f.Left) + " along " + s.mm(f.Length) + ", more than a tab", "cut deeper there, or leave a higher tab"
	case *cut.PlaceShort:
		return "not cut through where it should be: " + s.mm(f.Left) + " left", "cut deeper, or correct the place [through]"
	case *cut.ShortAtTolerance:
		return "face and back meet by " + s.mm(f.Tolerance-f.Left) + ", but at worst " + s.mm(f.Left) + " is left",
			"cut one of them " + s.mm(f.Left) + " deeper, or measure the blank [measured, tolerance]"
	case *cut.JustMeets:
		return "a cut goes through with nothing to spare", "cut a little deeper: a blank a hair thicker stays uncut"
	case *cut.LedgeLeft:
		return side + ": a ledge of up to " + s.mm(f.Height) + " is left at the bottom of a helix", "end with a level turn, or go deeper by a whole turn"
	case *cut.TabLow:
		return "tab of " + s.left(f.Height) + " is too low, at least " + s.mm(f.Least), "leave it higher, or hold the part: held = \"all\" for vacuum"
	case *cut.TabDoubtful:
		return "tab of " + s.mm(f.Height) + " may not be there: at worst " + s.mm(f.Off) + " missing",
			"leave it higher, or measure the blank [measured, tolerance]. Under vacuum: held = \"all\""
	case *cut.TabHangs:
		return "tab hangs on loose waste " + s.left(f.Width) + " wide, at least " + s.mm(f.Least), "move the tab, leave a wider margin, or hold the part [held, neck]"
	case *cut.WebThin:
		return "web too thin: " + s.asked(f.Thin), "cut one side less deep, or take a thicker blank [stock, measured, web]; " + deeper
	case *cut.WebThinAtTolerance:
		if f.Asked == 0 {
			return "at worst the two sides meet", closer + "; " + deeper
		}
		return "worst-case web too thin: " + s.asked(f.Thin), closer + "; " + deeper
	case *cut.WebUnproven:
		if text = "web not proven, too many cuts: at least " + s.left(f.Left); f.Asked > 0 {
			text += ", " + s.mm(f.Asked) + " asked for"
		}
		return text, "check fewer programs at a time"
	case *cut.WallThin:
		return "wall between face and back too thin: " + s.asked(f.Thin), "move one of the two, or cut one less deep [web]"
	case *cut.WallThinAtTolerance:
		if f.Asked == 0 {
			return "at worst a cut of the back meets one of the face beside it", closer
		}
		return "worst-case wall too thin: " + s.asked(f.Thin), closer
	case *cut.TurnedWeb:
		return "web of the freely turning part too thin: " + s.asked(f.Thin), "cut less deep that far from the center, or clock the part [clock]"
	case *cut.TurnedHole:
		return "a hole from both sides is " + s.mm(f.Off) + " off the plug's center. The part turns freely, so its halves miss", "drill it from one side, or clock the part [clock]"
	case *cut.PartLoose:
		return side + ": a part of " + s.area(f.Area) + " comes loose", s.hold(f, at)
	case *cut.CutOnTabs:
		return side + ": a part is cut after the groove around it", "cut the outline last [mirror, back: in order of running], or hold the part [held]"
	case *cut.MarginSevered:
		return "the face cuts off the margin with " + met + ", which the back needs", "cut through on the back, or leave tabs"
	case *cut.BoreBroken:
		return "the face cuts " + s.mm(f.Depth) + " deep into the wall of the bore", elsewhere
	case *cut.HoleBroken:
		return "the face cuts " + s.mm(f.Depth) + " deep into the wall of the hole of " + met, elsewhere
	case *cut.EdgeMachined:
		return "the face cuts " + s.mm(f.Depth) + " into the " + f.Edge.String() + " edge, along " + s.mm(f.Along) + ": the back touches there",
			"use another edge on the back, or cut this one last [back-fence, back-stop]"
	}
	return "", ""
}

// What to do about several kinds.
const (
	recount   = "correct the number [through]"
	aim       = "check the flip axis and the back's zero [flip, back-zero]"
	align     = "check flip axis, zeros and cutter diameters [flip, zero, back-zero, tool]"
	elsewhere = "move the cut clear of it, or register elsewhere [pin, bore]"
	// closer is for where only the errors taken off make the web too thin.
	closer = "cut less deep, measure the blank, or take a closer fit [measured, fit, tolerance, web]"
	// deeper is for where too little is left: a cut may be meant to leave nothing.
	deeper = "deeper where it should go through"
)

// number says how many cuts go through, and what the deepest of the others leaves.
func (s scale) number(f cut.Number, one, many string) (text, do string) {
	text = letters.Plural(f.Found, one, many) + " cut through, " + strconv.Itoa(f.Declared) + " expected"
	if f.Left > 0 {
		return text + ": the deepest blind cut leaves " + s.mm(f.Left), "cut " + deeper + ", or " + recount
	}
	return text, "find the wrong one, or " + recount
}

// intoTravel says how a move comes back into the travel.
func (s scale) intoTravel(f *cut.TravelExceeded) string {
	switch {
	case f.Moved != 0:
		return "check corrections: in all they move the zero by " + s.mm(f.Moved) + " in " + Axis(f.Axis) + "; else move the station [corrections, at]"
	case f.Axis == 2:
		return "move the station, or use a shorter tool [at, stick-out]"
	case f.End == 0: // the key travel counts from 0
		return "move the station; if " + Axis(f.Axis) + " runs past 0, give its least and greatest [at, machine]"
	}
	return "move the station [at]"
}

// unfollowed says why a move isn't cut where it really runs, and what to do.
func unfollowed(why cut.Unfollowed) (text, do string) {
	switch why {
	case cut.NotRotated:
		return "G68 without X and Y, so this move is left out: controls differ", "give G68 its X and Y"
	case cut.NotSpline:
		return "a spline is cut as one straight line", "write it as arcs or short lines"
	case cut.NotPreset:
		return "G92 at an unknown place, so this move is left out", "set the zero in the work offset, and take G92 out"
	case cut.NotLevel:
		return "a cycle without R starts at an unknown level", "write R into the cycle's block"
	case cut.NotCounted:
		return "R or depth kept over G90 or G91, or R counted behind G99: controls differ", "give R and the depth in G90 in the cycle's block"
	}
	return "", ""
}

// screwWidth is the least width of a part that a screw is proposed for, mm: a head of 8
// and a millimetre beside it (judgement).
const screwWidth = 10

// hold says how a part is held that comes loose.
func (s scale) hold(f *cut.PartLoose, at string) string {
	places := "\"" + at + "\""
	for _, p := range f.Also {
		places += ", \"" + letters.Rounded(p[0]*s.k, 2) + "," + letters.Rounded(p[1]*s.k, 2) + "\""
	}
	held := " or tape there: held = [" + places + "]. Vacuum: held = \"all\""
	if wide := 2 * f.Clear; wide < screwWidth {
		return "leave tabs, or clamp it: " + letters.Rounded(wide*s.k, 1) + " " + s.u + " is too narrow for a screw. Clamp" + held
	}
	return "leave tabs, or hold it. Screw" + held
}

// Pin names a pin of a request that a Cutting made: the dowels first, then the
// plug, then the pin that clocks it.
func Pin(a *registration.Answer, i int) string {
	if a == nil || i < len(a.Question.Pins) {
		return "dowel " + strconv.Itoa(i+1)
	}
	return [...]string{"the plug", "the index pin"}[min(i-len(a.Question.Pins), 1)]
}
