package words

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/report/letters"
)

// What a job finds in its programs.
type (
	// OtherUnit: a program is, or is partly, in another unit than the job.
	OtherUnit struct {
		Unit, Job transform.Unit `json:"-"`
		Partly    bool           `json:"-"`
		Over      motion.Extents `json:"-"`
	}
	// UnitDoubtful: a program names no unit and stays within a twentieth of the blank.
	UnitDoubtful struct {
		Job transform.Unit `json:"-"`
	}
	// UnitAssumed: a program names no unit.
	UnitAssumed struct {
		Job transform.Unit `json:"-"`
	}
	// Unturned: nothing starts the spindle before a program's cuts.
	Unturned struct{}
	// Reversed: a cut under M4.
	Reversed struct{}
	// ToolAssumed: a cut before any T, and what it is cut with here.
	ToolAssumed struct{ Tool int }
	// CutsNothing: every feed move of a program stays over the blank's top.
	CutsNothing struct{}
	// Unfed: a cut before any F.
	Unfed struct{}
	// OtherLength: a tool cuts with another's length.
	OtherLength motion.Number
	// OtherRadius: a tool cuts with another's radius.
	OtherRadius motion.Number
	// NoHollow: a touch is of a hole that the face program doesn't make, or makes blind, so that
	// the back has none.
	NoHollow struct {
		Touch int
		Of    string
		Blind bool
	}
	// FaceOffset: a mirrored program runs in the face's offsets, none for the active one; Key is
	// how the back's is given, with one that is free where there is one.
	FaceOffset struct {
		Called []string `json:"-"`
		Key    string   `json:"-"`
	}
	// WrittenOut: a macro was written out by the tool's reading of it.
	WrittenOut struct{}
	// WritingOut: what to know of lines that were written out, and the lines after the first.
	WritingOut struct {
		What string `json:"-"`
		Also []int  `json:"-"`
	}
	// PairAlone: a correction is of one pair's back alone; As is how another's piece is given.
	PairAlone struct {
		Offset string `json:"-"`
		Pair   int    `json:"-"`
		As     string `json:"-"`
	}
)

// What a job leaves undone.
type (
	// NotChecked: why nothing was cut in memory.
	NotChecked struct {
		Why string `json:"-"`
	}
	// PinsNotCleared: dowels were placed without a look at the cuts; Key gives the cutters.
	PinsNotCleared struct {
		Key string `json:"-"`
	}
	// PlugMeasures: why a plug has no measures.
	PlugMeasures struct {
		Why string `json:"-"`
	}
	// Picture: what the picture of a check shows.
	Picture struct{}
)

// What the reckoning of locators and of a cut says beside its result.
type (
	// TurnFree: a round part turns freely on its plug.
	TurnFree struct{}
	// TurnAtRim: how far one seat can turn the blank, in degrees and at its farthest corner.
	TurnAtRim struct {
		Degrees float64 `json:"-"`
		Rim     float64 `json:"-"`
	}
	// PlugMemory: limits of a fit that are from memory.
	PlugMemory struct{ Fit string }
	// PlugPractice: a plug's measures beside its diameter.
	PlugPractice struct{}
	// ThroughTaken: cuts through that nothing was said of, the least overlap among them.
	ThroughTaken struct {
		Outlines, Openings int     `json:"-"`
		Least              float64 `json:"-"`
	}
	// IndexHoleMissing: the face program cuts a plug's bore alone; the place in that program of
	// the index pin's hole.
	IndexHoleMissing struct{ X, Y, Dia decimal.Decimal }
	// Compensated: what moves under G41 and G42 were cut with.
	Compensated struct {
		Radius Radius
		Tool   int
		Sides  string      `json:"-"`
		Use    cut.CompUse `json:"-"`
	}
)

// Radius is a length that is handed on with four decimals.
type Radius float64

func (r Radius) String() string { return letters.Rounded(r, 4) }

// jobFact: what a job finds in its programs, and what it leaves undone.
func jobFact(is any, u string) string {
	switch f := is.(type) {
	case OtherUnit:
		return otherUnit(f)
	case UnitDoubtful:
		return "write G20 or G21 into it; every move is within a twentieth of the blank, taken as " + unitCode(f.Job)
	case UnitAssumed:
		return noUnit(f.Job)
	case Unturned:
		return "nothing starts the spindle: write S and M3, or start it by hand first"
	case Reversed:
		return "a cut under M4: is it a left-hand cutter?"
	case ToolAssumed:
		return "a cut before any T: T" + strconv.Itoa(f.Tool) + " assumed, the first tool listed; write in T and M6"
	case CutsNothing:
		return "cuts nothing: all feed moves stay over the blank: check where its Z0 is [z-zero, back-z-zero]"
	case Unfed:
		return "a cut before any F: write its feed"
	case OtherLength:
		return "H" + strconv.Itoa(f.Number) + " with T" + strconv.Itoa(f.Tool) + ": is its length stored there?"
	case OtherRadius:
		return "D" + strconv.Itoa(f.Number) + " with T" + strconv.Itoa(f.Tool) + ": is its radius stored there?"
	case NoHollow:
		if f.Blind {
			return "touch " + strconv.Itoa(f.Touch) + ", " + f.Of + ": the hole doesn't reach the back: drill it through, or touch edges"
		}
		return "touch " + strconv.Itoa(f.Touch) + ", " + f.Of + ": the face program makes no hole there"
	case FaceOffset:
		text := "still calls " + strings.Join(f.Called, ", ") + ", as the face does"
		if len(f.Called) == 0 {
			text = "calls no offset: it runs in the active one"
		}
		return text + "; set the back's with " + f.Key + " or map"
	case WrittenOut:
		return "written out as plain moves, run by this tool's reading of the macro: dry run"
	case WritingOut:
		return f.What + alsoIn(f.Also)
	case PairAlone:
		return "this corrects " + f.Offset + ", the back of pair " + strconv.Itoa(f.Pair) + ", alone; measure a piece of each other pair and give its number, as in " + f.As
	case NotChecked:
		return "NOT cut in memory: " + f.Why + "; web, dowels, clamps and travel not checked"
	case PinsNotCleared:
		return "cuts not checked: give the cutters' width with " + f.Key
	case PlugMeasures:
		return "no measures for the plug: " + f.Why
	case Picture:
		return "check.png shows both sides as they lie, and the web"
	case TurnFree:
		return "the round part turns freely on its plug: let no feature depend on its turn"
	case TurnAtRim:
		return "one seat can turn the blank by " + letters.Up(f.Degrees, 4) + " degrees, " + letters.Up(f.Rim, 3) + " " + u + " at its farthest corner"
	case PlugMemory:
		return "limits of " + f.Fit + " at this size are from memory: check against the standard"
	case PlugPractice:
		return "height, lead, relief and shoulder are common practice"
	case ThroughTaken:
		return letters.Plural(f.Outlines, "outline", "outlines") + " and " + letters.Plural(f.Openings, "opening", "openings") + " cut through by at least " + letters.Down(f.Least, 3) + " " + u +
			", taken as meant: confirm [through = \"outlines=" + strconv.Itoa(f.Outlines) + ",openings=" + strconv.Itoa(f.Openings) + "\"]"
	case IndexHoleMissing:
		return "the face program lacks the index pin's hole: add " + f.Dia.String() + " " + u + " dia at X" + f.X.String() + " Y" + f.Y.String()
	case Compensated:
		return f.Sides + ": " + takenFor(f, u) + ". The programmed line is then the contour (NISTIR 6556, appendix B). If the control stores wear alone, check the program without G41 and G42"
	}
	return ""
}

// otherUnit says in which unit a program is, and how far it goes in both.
func otherUnit(f OtherUnit) string {
	how := "the program is in "
	if f.Partly {
		how = "the program is partly in "
	}
	text := how + unitCode(f.Unit) + ", the job in " + unitCode(f.Job) + "; each length is taken in its own unit"
	if mm, in := extents(f.Over, transform.MM), extents(f.Over, transform.Inch); mm != "" {
		text += "; it goes over " + mm + ", or " + in
	}
	return text + "; if that isn't the part's size, correct the unit of program or job"
}

// unitCode names a unit with the word of a program that calls it.
func unitCode(u transform.Unit) string {
	if u == transform.Inch {
		return "inches (G20)"
	}
	return "mm (G21)"
}

// noUnit: a program that names no unit is taken in one.
func noUnit(u transform.Unit) string {
	return "no G20 or G21 before the first length: " + unitCode(u) + " assumed; write it in"
}

// extents gives extents in a unit, "" where one isn't known.
func extents(e motion.Extents, u transform.Unit) string {
	b := e.Box(u)
	if !b.Any {
		return ""
	}
	places := int32(3)
	if u == transform.Inch {
		places = 4
	}
	var words []string
	for i, axis := range []string{"X", "Y", "Z"} {
		words = append(words, fmt.Sprintf("%s %s to %s", axis, b.Least[i].Round(places), b.Greatest[i].Round(places)))
	}
	return strings.Join(words, ", ") + " " + u.String()
}

// alsoIn names further lines, the first five.
func alsoIn(lines []int) string {
	const most = 5
	if len(lines) == 0 {
		return ""
	}
	var also []string
	for _, l := range lines[:min(len(lines), most)] {
		also = append(also, strconv.Itoa(l))
	}
	text := ", also in " + strings.Join(also, ", ")
	if more := len(lines) - most; more > 0 {
		text += " and " + strconv.Itoa(more) + " more"
	}
	return text
}

// takenFor says which radius or diameter compensation goes by.
func takenFor(f Compensated, u string) string {
	radius := f.Radius.String() + " " + u
	switch {
	case f.Use.By == motion.CompByDiameter:
		return "the D of G41.1 and G42.1 is taken as the cutter's diameter, " + (2 * f.Radius).String() + " " + u
	case f.Use.By == motion.CompByNumber:
		text := "D" + strconv.FormatFloat(f.Use.D, 'f', -1, 64) + " under G41 and G42 is taken as the radius of tool " + strconv.Itoa(f.Use.Of) + ", " + radius
		if f.Use.Of != f.Use.Tool {
			text += "; tool " + strconv.Itoa(f.Use.Tool) + " cuts"
		}
		return text
	}
	return "G41 and G42 without D take the radius of tool " + strconv.Itoa(f.Use.Of) + ", " + radius
}
