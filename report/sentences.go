package report

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/registration/landed"
)

// values are what a fact or a note carries with its code.
type values []string

// at gives value i, counted from 0, or "?" so that a gap is seen.
func (v values) at(i int) string {
	if i < len(v) {
		return v[i]
	}
	return "?"
}

// from gives value i and those after it, or nothing.
func (v values) from(i int) []string {
	if i >= len(v) {
		return nil
	}
	return v[i:]
}

// A sentence finds the words for one code; u is the unit of its lengths.
type sentence func(v values, u string) string

// fixed is a sentence without values.
func fixed(s string) sentence { return func(values, string) string { return s } }

// frameOf turns a frame value into words.
func frameOf(s string) string {
	if s == "machine" {
		return "machine coordinates"
	}
	return "from the face zero"
}

var factSentences = map[string]sentence{
	registration.FactZeroDefault: func(v values, _ string) string {
		return "the face zero wasn't given: taken as " + v.at(0)
	},
	registration.FactBackZeroDefault: func(v values, _ string) string {
		return "the back zero wasn't given: taken as " + v.at(0) + ", the same name as on the face, read as the blank then lies"
	},
	registration.FactZZeroDefault: func(v values, _ string) string {
		if v.at(0) == v.at(1) {
			return "Z zero wasn't given: taken as " + v.at(0) + " on both sides"
		}
		return "Z zero wasn't given for both sides: taken as " + v.at(0) + " for the face, " + v.at(1) + " for the back"
	},
	registration.FactOffsetFree: func(v values, _ string) string {
		return v.at(1) + " is taken: the face uses " + v.at(0)
	},
	registration.FactOffsetDefault: func(v values, _ string) string {
		return "the face's offset wasn't given: taken as " + v.at(0)
	},
	registration.FactBackOffset: func(v values, _ string) string {
		taken := v.from(1)
		if len(taken) == 0 {
			return "the back's offset wasn't given: " + v.at(0) + " is taken to be free, since nothing says which offsets are in use"
		}
		return "the back's offset wasn't given: " + v.at(0) + " is the first free one (" + list(taken) + belong(len(taken)) + " to something else)"
	},
	registration.FactLocatorDefault: func(v values, u string) string {
		return "no coordinate was given for the " + v.at(0) + " on the " + v.at(1) + " side: reckoned to stand where the blank's nominal edge lies, at " +
			v.at(2) + " " + u + " (" + frameOf(v.at(3)) + ")"
	},
	registration.FactPlugAtDefault: func(v values, _ string) string {
		return "the plug's place for the back wasn't given: taken as X" + v.at(0) + " Y" + v.at(1) + " (" + frameOf(v.at(2)) + "), where the bore lay at the face station"
	},
	registration.FactNoRegister: fixed("no register was given, so nothing finds the blank again: this is the transform only"),
	registration.FactUnused: func(v values, _ string) string {
		return list(v.from(1)) + " given, but without a part in " + v.at(0) + ": not used"
	},
	registration.FactMeasured: func(v values, u string) string {
		return "reckoned with the measured size " + v.at(1) + " " + u + ", not the nominal " + v.at(0)
	},
	registration.FactSkimmed: func(v values, u string) string {
		s := "the face program skims " + v.at(0) + " " + u + ", so the blank is " + v.at(1) + " " + u + " thick when it is turned over"
		if v.at(2) == registration.Top.String() {
			s += "; the face's Z0 is the top before it is skimmed"
		}
		return s
	},
	registration.FactZUnknown: func(v values, u string) string {
		return "the face zero's Z isn't known: the second zero's Z is the face zero's Z plus " + v.at(0) + " " + u
	},
	registration.FactCorrected: func(v values, u string) string {
		return "the second zero holds " + v.at(0) + map[bool]string{true: " correction", false: " corrections"}[v.at(0) == "1"] + " of the job, X" + v.at(1) + " Y" + v.at(2) + " " + u + " in all"
	},
	registration.FactZTouchOff: func(v values, u string) string {
		rise := v.at(0)
		more := "the face's plus " + rise + " " + u
		if rise == "0" {
			more = "the face's"
		}
		return "the programs call tool lengths (G43): touch off Z with the length in use; the back's Z is " + more +
			". If Z is stored with whole lengths in use, say lengths = \"whole\" in the machine file"
	},
	registration.FactSameEdge: func(v values, _ string) string {
		return v.at(0) + ": the same physical edge touches both times (" + v.at(1) + " with the face up), so the blank's size error stays out"
	},
	registration.FactSamePins: func(v values, u string) string {
		return "the same pins serve both sides: the flip line lies " + v.at(1) + " " + u + " from the " + v.at(0) + " edge"
	},
	registration.FactSecondPins: func(v values, _ string) string {
		return "the second station has " + v.at(0) + " pins in the mirrored pattern"
	},
	registration.FactDrilled: fixed("the holes are drilled through blank and bed in the face set-up, so only the back's seat on the pins can be off"),
	registration.FactFoolproof: func(v values, _ string) string {
		if len(v) > 0 {
			return "foolproof: turned wrong the blank does not go on; unturned it does"
		}
		return "foolproof: the blank goes on one way only"
	},
	registration.FactRound: fixed("a round part: how it is turned on its plug doesn't matter"),
	registration.FactFlatTurns: func(v values, _ string) string {
		return "the plug's flat lies " + v.at(0) + " for the face, " + v.at(1) + " for the back"
	},
	registration.FactClockMoves: func(v values, _ string) string {
		return "for the back the index pin goes to X" + v.at(0) + " Y" + v.at(1) + " (" + frameOf(v.at(2)) + ")"
	},
	registration.FactZeroMoved: func(v values, u string) string {
		return "the zero is fixed by a locator on another edge, so on this measured piece it lies X" + v.at(0) + " Y" + v.at(1) + " " + u + " off the place it is named after"
	},
	registration.FactTool: func(v values, _ string) string {
		s := "Z holds only for the tool that was touched off"
		if v.at(0) != "" && v.at(0) != "?" {
			s = "Z holds only for " + v.at(0) + ", the tool that was touched off"
		}
		if v.at(1) == "once" {
			return s + " once for the run; other tools need their lengths from G43"
		}
		return s + ", on each blank; other tools need their lengths from G43"
	},
	registration.FactZPiece: func(v values, u string) string {
		return "Z is touched off once: reckoned as if that was done on the measured piece, " + v.at(0) + " " + u + " thick; a Z stored on a piece of another thickness is wrong for this one by the difference"
	},
	registration.FactOtherEdge: func(v values, _ string) string {
		return v.at(0) + ": another physical edge touches on the back (" + v.at(2) + " instead of " + v.at(1) + ", as named with the face up): the blank's size error enters, the error of " + v.at(3)
	},
	registration.FactFenceEdge: func(v values, _ string) string {
		s := "the fence's edge changes from " + v.at(0) + " to " + v.at(1) + ", as named with the face up: "
		if v.at(2) == "square" {
			return s + "a corner out of square turns the back"
		}
		return s + "edges out of parallel turn the back"
	},
	registration.FactFenceShort: func(v values, u string) string {
		return v.at(0) + ": the fence stands on the shorter edge (" + v.at(1) + ", " + v.at(2) + " " + u + " against " + v.at(3) + "): its two contacts hold the angle less well than on the longer one"
	},
	registration.FactZeroOutside: func(v values, _ string) string {
		return "the " + v.at(0) + " zero X" + v.at(1) + " Y" + v.at(2) + " lies outside the blank"
	},
	registration.FactNotFoolproof: func(v values, _ string) string {
		s := "not foolproof: the blank goes onto its pins wrongly too"
		if wrong := v.from(1); len(wrong) > 0 {
			s += " (" + list(wrong) + ")"
		}
		if cure := CureWords(v.at(0)); cure != "" {
			s += "; cure: " + cure
		}
		return s
	},
	registration.FactNearMiss: func(v values, u string) string {
		return v.at(0) + " is kept off by only " + v.at(1) + " " + u + ": a push or that much more clearance lets it on"
	},
	registration.FactPinAtEdge: func(v values, u string) string {
		return "pin " + v.at(0) + ": its hole runs " + v.at(1) + " " + u + " over the blank's edge"
	},
	registration.FactHoleTight: func(v values, u string) string {
		return "hole " + v.at(0) + " " + u + ", pin " + v.at(1) + " " + u + ": it doesn't slide on by hand"
	},
	registration.FactPressed: func(v values, u string) string {
		var gives []string
		for i := 1; i+2 < len(v); i += 3 {
			gives = append(gives, v[i+1]+" to "+v[i+2]+" "+u+" at "+v[i])
		}
		return v.at(0) + ": clearance " + list(gives) + ", " + pressedOn +
			"; H7/g6 slides and H7/h6 is close: press what locates into the bed, not into the blank"
	},
	registration.FactPinLoose: func(v values, u string) string {
		return "the holes are up to " + v.at(0) + " " + u + " wider than their pins, so the back can come out that far off the face; at most " + v.at(1) + " " + u +
			" registers (common practice): give thicker pins or narrower holes"
	},
	registration.FactFenceUnsaid: fixed("a fence clocks the blank, but on which side it stands isn't said"),
	registration.FactFenceMoves: func(v values, _ string) string {
		return "the clocking fence must stand elsewhere for the back:" + fenceAt(v) + " with the face up," + fenceAt(v.from(3)) + " for the back"
	},
	registration.FactFenceNominal: func(v values, u string) string {
		return "the clocking fence at " + v.at(1) + " " + u + " suits the nominal size: with the " + v.at(3) + " up this piece has its " + v.at(0) + " edge at " + v.at(2) + ", so it would lie turned"
	},
	registration.FactPlugLoose: func(v values, u string) string {
		return "the plug is loose in its bore: clearance " + v.at(0) + " " + u + " on the diameter"
	},
	registration.FactPlugTight: func(v values, u string) string {
		return "plug and bore are both " + v.at(0) + " " + u + ": as they come out the blank goes on hard, loose or not at all; turn the plug until it just slides, and say its diameter"
	},
	registration.FactLooseClocking: func(v values, u string) string {
		return "the clocking lets the blank turn: up to " + v.at(0) + " " + u + " at the rim"
	},
	registration.FactTurnUnknown: func(v values, _ string) string {
		return "how far the " + v.at(0) + " lets the blank turn isn't known: its clearance wasn't given"
	},
	registration.FactTurnKnown: func(v values, _ string) string {
		return "the blank was found turned by " + v.at(0) + "°, known to " + v.at(1) + "°; counter-clockwise is positive"
	},
	registration.FactLiesTurned: func(v values, _ string) string {
		return "turned by " + v.at(0) + "°: run only a back program that was mirrored with these touches"
	},
	registration.FactEndForEnd: fixed("turned end for end: the back program is turned by 180°"),
	registration.FactTouchDisagrees: func(v values, u string) string {
		return "touch " + v.at(0) + ", " + v.at(1) + ", is " + v.at(2) + " " + u + " off the others: touch it again"
	},
	registration.FactTouchesDisagree: fixed("the touches disagree: touch again, or give the measured size"),
	registration.FactSizeImplied: func(v values, u string) string {
		return "the edges make " + v.at(0) + " " + v.at(1) + " " + u + ", taken as " + v.at(2) + ": measure the blank"
	},
	registration.FactEdgesAlone: fixed("right only where the face was set by these edges too"),
	registration.FactTouchBlind: func(v values, _ string) string {
		what := map[string]string{"side": "which side is up", "end": "which end is which"}
		var parts []string
		for _, k := range v {
			parts = append(parts, what[k])
		}
		return "touches don't show " + strings.Join(parts, " or ") + ": check the lettering"
	},
	registration.FactTouchOffEdge: func(v values, _ string) string {
		from := v.at(0)
		if from == "fence" {
			from = "fence and stop"
		}
		return "the zeros come from the " + from + ": don't touch them off on the blank's own edge"
	},
}

// pressedOn says what an interference does to a blank that has to come off again.
const pressedOn = "below 0 is interference: the blank may need pressing on and won't come off by hand, and a pressed blank can lie hollow"

// fenceAt says where a fence touches: its side, coordinate and frame.
func fenceAt(v values) string {
	return " on the " + v.at(0) + " side at " + sideAxis(v.at(0)) + v.at(1) + " (" + frameOf(v.at(2)) + ")"
}

// sideAxis is the axis along which a locator on that side places the blank.
func sideAxis(side string) string {
	if side == registration.Left.String() || side == registration.Right.String() {
		return "X"
	}
	return "Y"
}

// CureWords says how a pin pattern is made foolproof.
func CureWords(code string) string {
	code, pin := registration.ParseCure(code)
	switch code {
	case registration.CureDiameters:
		return "make pin " + pin + " and its hole another diameter"
	case registration.CureThirdPin:
		if pin != "" {
			return "add one more pin, as thick as the first, at " + pin + " from the blank's near-left corner, face up"
		}
		return "add one more pin on the flip line, clear of the cuts: pins proposes its place with --face, --back and --tool"
	case registration.CureNone:
		return "none with these places: take other places, or a fence and stop"
	case registration.CureFlat:
		return "put the flat where the flip leaves it on its side"
	case registration.CureClockPin:
		return "put the index pin on the flip line through the bore"
	}
	return strings.ReplaceAll(code, "-", " ")
}

// noteSentences are for the notes of a mirrored program.
var noteSentences = map[string]sentence{
	mirror.AssumedUnit: func(v values, _ string) string {
		return "no G20 or G21 before the first length: taken as " + v.at(0)
	},
	mirror.AssumedDistance: func(v values, _ string) string {
		return "no G90 or G91 before the first move: taken as " + v.at(0)
	},
	mirror.AssumedPlane: func(v values, _ string) string {
		return "no G17, G18 or G19 before the first arc or cycle: taken as " + v.at(0)
	},
	mirror.AssumedCentres: func(v values, _ string) string {
		return "no G90.1 or G91.1 before the first arc with I, J or K: taken as " + v.at(0)
	},
	mirror.AssumedFeed: func(v values, _ string) string {
		return "no G93, G94 or G95 before the first feed move: taken as " + v.at(0)
	},
	mirror.AssumedStraight: fixed("an axis word without G0 or G1 in force: controls move at rapid or at feed, in a straight line"),
	mirror.WholeNumbers: func(v values, _ string) string {
		return "numbers without a point are read as whole " + v.at(0) + "; a control that reads them in its least increment would move elsewhere"
	},
	mirror.InchRounded: func(v values, _ string) string {
		return v.at(0) + ": the transform's " + v.at(2) + " mm is no finite number of inches, so " + v.at(1) + " in is used"
	},
	mirror.IncrementalStart: func(v values, _ string) string {
		return "the program moves " + v.at(0) + " by G91 from wherever the tool stands: before the back, put the tool at the mirror image of the face's start"
	},
	mirror.CutAtStart: func(v values, _ string) string {
		return v.at(0) + " isn't given before the first cut, which starts wherever the tool stands: before the back, put the tool at the mirror image of the face's start, or give " + v.at(0) + " in the program"
	},
	mirror.CycleKept: func(v values, _ string) string {
		return v.at(0) + " with L0 keeps its words and drills nothing there; controls differ on whether the tool goes there"
	},
	mirror.CycleLevel: func(v values, _ string) string {
		return v.at(0) + " has no R word: controls take another cycle's level or the height where the tool stands; write R into it"
	},
	mirror.CycleBare: func(v values, _ string) string {
		return v.at(0) + " stands without axis words: nothing is drilled there"
	},
	mirror.StoppedTap:    fixed("G84 taps with the spindle stopped: write M3 before it"),
	mirror.MachineCounts: fixed("a G53 block stands in G91: some controls ignore G53 there"),
	mirror.MarkDropped:   fixed("the byte-order mark at the start of the file is left out"),
	mirror.TextKept:      fixed("text outside parentheses, or with parentheses inside, is kept as a comment: it holds no word"),
	mirror.PassedOn: func(v values, _ string) string {
		return v.at(0) + " is passed on as it is, since it moves no axis: check what it does on the back"
	},
	mirror.LookAhead: func(v values, _ string) string {
		return v.at(0) + " is passed on as it is: it switches the control's look-ahead and moves nothing"
	},
	mirror.TextAfterEnd:    fixed("what stands behind the end of the program is left as it is: it moves nothing"),
	mirror.AlreadyMirrored: fixed("this program was mirrored before, as its comment says: mirrored again it lies as on the face"),
	mirror.SpindleStopped: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "a cut with the spindle stopped: write M3 or M4 before it"
		}
		return v.at(0) + " cuts with the spindle stopped, this is the first: write M3 or M4 before it"
	},
	mirror.LowRapids: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "1 rapid move runs below the surface: is the work cut away there?"
		}
		return v.at(0) + " rapid moves run below the surface, of which this is the first: is the work cut away there?"
	},
	mirror.NotSummarised: func(v values, _ string) string {
		return "the program is longer than " + v.at(0) + " MiB: mirrored and proved, but not looked through for where it cuts, how long it takes and whether it lies on the blank"
	},
	mirror.OtherOffset: func(v values, _ string) string {
		if len(v) > 3 { // the face's own program: whose the offset is, where that is known
			of := ""
			if v.at(3) != "" {
				of = ", which is taken: " + v.at(3)
			}
			return "the program calls " + v.at(0) + of + ", though the job's face runs in " + v.at(1) + ": it becomes " + v.at(2) + "; give --offset " + v.at(0) + " if the face runs there, and look whether it is the right program"
		}
		return "the program calls " + v.at(0) + ", though the face's offset is " + v.at(1) + ": it becomes " + v.at(2) + ", the back's; give --offset " + v.at(0) + " if the face runs there"
	},
	mirror.ZeroHere: func(v values, _ string) string {
		return "G92 calls the tool's place " + v.at(0) + v.at(1) + " on the face, " + v.at(0) + v.at(2) + " (" + v.at(3) + ") on the back: before the back starts, the tool must stand at the mirror image of the face's start, at that place of the back program"
	},
	mirror.ZeroLeft: func(v values, _ string) string {
		what := "G92 or G52"
		if len(v) > 0 {
			what = v.at(0)
		}
		if what == "G68" {
			return "G68 isn't ended by G69 before the end: the next program would run turned"
		}
		return what + " isn't cancelled before the end: the next program would run from a shifted zero"
	},
	mirror.Machine: func(v values, _ string) string {
		return "a G53 move in machine coordinates (" + list(v) + ") stays as it is: check that it is clear with the back's station"
	},
	mirror.Home: func(v values, _ string) string {
		return v.at(0) + " goes home, which isn't mirrored: only the point on the way is"
	},
	mirror.Rotary: func(v values, _ string) string {
		text := "the rotary axis " + v.at(0) + " is left as it is: a turned blank may need it the other way round"
		if v.at(0) == "A" {
			text += "; where A beside G1 is a line's angle on your control, write the line's end point instead"
		}
		return text
	},
	mirror.Helix: fixed("a helix is mirrored with its hand: a milled thread changes from right-hand to left-hand or back"),
	mirror.ArcMismatch: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "an arc ends at another radius than it starts with, by " + v.at(1) + " mm: mirrored with that difference, which some controls refuse"
		}
		return v.at(0) + " arcs end at another radius than they start with, by up to " + v.at(1) + " mm: mirrored with that difference, which some controls refuse"
	},
	mirror.BackBoring: fixed("G87 stops the spindle at an angle that isn't mirrored: check that the tool comes free on the other side"),
	mirror.NoOffset:   fixed("the program calls no work offset and none was added: it runs in whatever offset is active"),
	mirror.OffsetsKept: func(v values, _ string) string {
		return list(v) + " left as it is, although the zeros differ: store the back's zero there before it runs"
	},
	mirror.OffsetMapped: func(v values, _ string) string { return v.at(0) + " becomes " + v.at(1) },
	mirror.OffsetInserted: func(v values, _ string) string {
		return "no work offset is called before the first motion: a block with " + v.at(0) + " is added there"
	},
	mirror.DeletedState: fixed("a block with a slash changes what later blocks mean; the mirror is right with the block delete switch on and with it off: leave the switch as it is while the program runs"),
	mirror.AfterChange: func(v values, _ string) string {
		return "the first move after a tool change doesn't give " + v.at(0) + " anew: where the machine drives to a place of its own to change tools, which isn't mirrored, the back goes wrong; write " + v.at(0) + " in G90 after M6"
	},
	mirror.NoEnd: fixed("no M2, M30 or closing %: is the program whole?"),
	mirror.OtherSide: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "1 cutting chain changes between climb and conventional; --reverse-cuts turns it round"
		}
		return v.at(0) + " cutting chains change between climb and conventional; --reverse-cuts turns them round"
	},
	mirror.CutsReversed: func(v values, _ string) string {
		reversed, left := chains(v.at(0)), chains(v.at(1))
		switch {
		case v.at(1) == "0":
			return reversed + " reversed, so that the cutter keeps its side"
		case v.at(0) == "0":
			return "no cutting chain could be reversed: " + left + " left as mirrored, where climb turns into conventional or back"
		}
		return reversed + " reversed, so that the cutter keeps its side; " + left + " left as mirrored, where climb turns into conventional or back: see that no groove has passes of both"
	},
	mirror.WrittenTurned: func(v values, _ string) string {
		places, _ := strconv.Atoi(v.at(1))
		step := decimal.New(1, int32(-places)).String() + " " + v.at(2)
		return "turned by " + v.at(0) + "° about the back zero, move by move, rounded to " + step
	},
	mirror.OtherEnd: func(v values, _ string) string {
		word := " open chains, reversed, now plunge at their other end"
		if v.at(0) == "1" {
			word = " open chain, reversed, now plunges at its other end"
		}
		return v.at(0) + word + ": the tool must cut over its centre"
	},
	mirror.LeftAsMirrored: func(v values, _ string) string {
		const shown = 20
		lines := v.from(1)
		more := ""
		if len(lines) > shown {
			more = " and " + strconv.Itoa(len(lines)-shown) + " more"
			lines = lines[:shown]
		}
		word := ": lines "
		if len(lines) == 1 && !strings.ContainsAny(lines[0], "- ") {
			word = ": line "
		}
		return "left as mirrored (" + v.at(0) + ")" + word + strings.Join(lines, ", ") + more
	},
	mirror.OffBlank: func(v values, _ string) string {
		return "the cuts run off the blank along " + v.at(0) + ": " + v.at(1) + " to " + v.at(2) + ", where the blank reaches from " + v.at(3) + " to " + v.at(4) + " " + v.at(5) +
			"; likely another zero than the one stated, or a program that is already mirrored"
	},
}

// chains counts cutting chains in words.
func chains(n string) string {
	if n == "1" {
		return "1 cutting chain"
	}
	return n + " cutting chains"
}

// budgetSentences are for the facts of a misalignment budget.
var budgetSentences = map[string]sentence{
	budget.FactTight: func(v values, u string) string {
		what := v.at(0)
		if !strings.Contains(what, "/") { // a size, not a fit
			what = "a hole of " + what + " " + u
		}
		return what + " can be tight: clearance " + v.at(1) + " to " + v.at(2) + " " + u + "; then it goes on by force and has no play"
	},
	budget.FactMemory: func(v values, _ string) string {
		return "the limits of " + v.at(0) + " are values from memory, not read in the standard"
	},
	budget.FactGrain: func(v values, _ string) string {
		return "the grain is taken to run along " + strings.ToUpper(v.at(0)) + ", the longer side"
	},
	budget.FactMoisture: func(v values, _ string) string {
		return "the wood's moisture is taken to change by " + v.at(0) + " % between the two sides (common practice)"
	},
	budget.FactRange: func(v values, _ string) string {
		return "a change of moisture of " + v.at(0) + " % goes beyond the range from 6 to 14 % for which the coefficients hold"
	},
	budget.FactWoodMemory: func(v values, _ string) string {
		return "the coefficient of " + v.at(0) + " is a value from memory, not read in the handbook"
	},
	budget.FactLever: func(v values, u string) string {
		return "the flat or fence that clocks the blank is taken to hold it " + v.at(0) + " " + u + " from the plug"
	},
	budget.FactContacts: func(v values, u string) string {
		return "fence contacts taken at " + v.at(0) + " and " + v.at(1) + " " + u + " along it, the stop's at " + v.at(2) + " " + u + " from it: give --contacts"
	},
	budget.FactPinSpread: func(v values, u string) string {
		return "the pins stand across the grain: their holes move apart or together by " + v.at(0) + " " + u + " with the wood"
	},
}

// landedSentences are for the facts of a correction.
var landedSentences = map[string]sentence{
	landed.FactOnePlace: fixed("all was measured at one place, so a turn can't be told from a shift: measure at two places far apart"),
	landed.FactTurnSmall: func(v values, u string) string {
		return "the turn, " + v.at(0) + " " + u + " over the measured places, is within what the measuring can hide"
	},
	landed.FactPlace: func(v values, u string) string {
		return "measurement " + v.at(0) + " lies " + v.at(1) + " " + u + " off the others, which agree to " + v.at(2) + " " + u + " without it: measure it again, or leave it out"
	},
	landed.FactContacts: func(v values, u string) string {
		return "fence contacts taken at " + v.at(0) + " and " + v.at(1) + " " + u + " along it, the stop's at " + v.at(2) + " " + u + " from it: give --contacts"
	},
	landed.FactNotRigid: func(v values, u string) string {
		return "no shift and turn explains what was measured: " + v.at(0) + " " + u + " remains; " + causeWords(v.at(1), v.at(2), u)
	},
	landed.FactMeasuring: func(v values, u string) string {
		return "each measured value is taken to be good to " + v.at(0) + " " + u + " either way"
	},
	landed.FactNoMove: func(v values, _ string) string {
		return "no move of the " + v.at(0) + " along " + strings.ToUpper(v.at(1)) + " corrects " + v.at(2) + ", since it places both sides alike"
	},
	landed.FactLarge: func(v values, u string) string {
		return "a mismatch of more than " + v.at(0) + " " + u + " is more than locators do: look first whether the blank was turned as flip " + v.at(1) +
			" says and seated on the right edges, whether DX and DY have the right sign (where the back lies minus where it should) and unit; correct only what is explained"
	},
	landed.FactBeyond: func(v values, u string) string {
		return "a mismatch of more than " + v.at(0) + " " + u + " is more than twice the budget's worst case, " + v.at(1) + " " + u +
			": before correcting look for a chip under the blank, whether it was turned as flip " + v.at(2) +
			" says and seated on the right locators and edges, and whether DX and DY have the right sign (where the back lies minus where it should) and unit; correct only what is explained"
	},
	landed.FactNoZero: fixed("without a register there is no second zero to correct: move it by the opposite of the mismatch"),
}

// causeWords says why a mismatch is no shift and turn.
func causeWords(cause, amount, u string) string {
	switch cause {
	case landed.CauseSizeX:
		return "the back's length along X is off by " + amount + " " + u
	case landed.CauseSizeY:
		return "the back's length along Y is off by " + amount + " " + u
	case landed.CauseSquare:
		return "an axis or the blank is out of square by " + amount + " " + u
	case landed.CauseStretch:
		return "the length between the places differs by " + amount + " " + u
	case landed.CauseScatter:
		return "the measurements don't agree with each other by " + amount + " " + u
	}
	return strings.ReplaceAll(cause, "-", " ")
}

var layUpReasons = map[string]string{
	registration.ReasonPlaces:    "the holes don't come over the pins",
	registration.ReasonFlat:      "the flats don't meet",
	registration.ReasonDiameters: "the places agree, the diameters don't",
}
