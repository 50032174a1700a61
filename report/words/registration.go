package words

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/report/letters"
)

// registrationFact: where a blank lies.
func registrationFact(is any, u string) string {
	switch f := is.(type) {
	case registration.ZeroDefault:
		return "face zero taken as " + f.Zero
	case registration.BackZeroDefault:
		return "back zero taken as " + f.Zero + " of the turned blank, the face zero's name"
	case registration.ZZeroDefault:
		if f.Face == f.Back {
			return "Z zero taken as " + f.Face.String() + " on both sides"
		}
		return "Z zero taken as " + f.Face.String() + " for the face, " + f.Back.String() + " for the back"
	case registration.OffsetFree:
		return f.Taken + " is taken: the face uses " + f.Offset
	case registration.OffsetDefault:
		return "face offset taken as " + f.Offset
	case registration.BackOffsetChosen:
		if len(f.Taken) == 0 {
			return "using " + f.Offset + ": check that it is free"
		}
		return "using " + f.Offset + ", the first free offset (" + letters.List(f.Taken) + " taken)"
	case registration.LocatorDefault:
		return f.Locator + " assumed at " + f.Side.Axis() + f.At.String() + ", the nominal edge (" + frameOf(f.Frame) + "): give " + f.Side.String() + "@" + f.Side.Axis()
	case registration.PlugAtDefault:
		return "plug assumed at X" + f.X.String() + " Y" + f.Y.String() + " for the back too (" + frameOf(f.Frame) + ")"
	case registration.NoRegisterFact:
		return "no register given: the transform only"
	case registration.Unused:
		return letters.List(flags(f.Keys)) + " not used with " + f.Register.String()
	case registration.Measured:
		return "measured size " + f.Used.String() + " " + u + " used, not the nominal " + f.Nominal.String()
	case registration.Skimmed:
		s := "the face skims " + f.By.String() + " " + u + ": the blank is then " + f.Thick.String() + " " + u + " thick"
		if f.Zero == registration.Top {
			s += "; the face's Z0 is the unskimmed top"
		}
		return s
	case registration.ZUnknown:
		return "Z of the second zero: the face zero's Z plus " + f.Rise.String() + " " + u
	case registration.Corrected:
		if f.Limit.IsPositive() {
			return "corrections move the second zero by X" + f.X.String() + " Y" + f.Y.String() + ", over " + f.Limit.String() + " " + u + ": check signs, unit and locators"
		}
		turned := ""
		if !f.Turn.IsZero() {
			turned = "; the back programs are turned by " + f.Turn.String() + "°"
		}
		return "the second zero includes " + letters.Plural(f.Rounds, "correction", "corrections") + " of the job, X" + f.X.String() + " Y" + f.Y.String() + " " + u + turned
	case registration.ZLeft:
		return "Z" + f.Z.String() + " isn't used: the programs call tool lengths (G43); touch off Z [at]"
	case registration.ZTouchOff:
		more := "the face's plus " + f.Rise.String() + " " + u
		if f.Rise.IsZero() {
			more = "the face's"
		}
		return "the programs call G43: touch off Z with the length active; the back's Z is " + more +
			"; if the control stores whole lengths, set lengths = \"whole\" in the machine file"
	case registration.SameEdge:
		return f.Locator + ": the same edge touches both times (" + f.Edge.String() + ", face up), so size errors stay out"
	case registration.SamePins:
		return "the same dowels serve both sides: flip line " + f.At.String() + " " + u + " from the " + f.Edge + " edge"
	case registration.SecondPins:
		return "the second station has " + strconv.Itoa(f.Pins) + " dowels in the mirrored pattern"
	case registration.DrilledFace:
		return "holes drilled through blank and bed in one set-up: only the back's seat counts"
	case registration.Foolproof:
		if len(f.Unturned) > 0 {
			return "foolproof against a wrong turn; unturned the blank goes on: check which side is up"
		}
		return "foolproof: the blank goes on one way only"
	case registration.Round:
		return "round part: any turn on the plug will do"
	case registration.ClockFlatTurns:
		return "plug's flat on the " + f.Face.String() + " side for the face, " + f.Back.String() + " for the back"
	case registration.ClockPinMoves:
		return "move the index pin to X" + f.X.String() + " Y" + f.Y.String() + " for the back (" + frameOf(f.Frame) + ")"
	case registration.ZeroMoved:
		return "locators fix the zero: here it is X" + f.X.String() + " Y" + f.Y.String() + " " + u + " off its named place"
	case registration.ToolZ:
		s := "Z is for the tool you touch off with"
		if f.Tool != "" {
			s = "Z is for " + f.Tool + ", the tool you touch off with"
		}
		if f.TouchOff == registration.TouchOffOnce {
			return s + ", once for the run; other tools need G43"
		}
		return s + ", on each blank; other tools need G43"
	case registration.TouchOffPiece:
		return "touch off Z on the measured piece, " + f.Thick.String() + " " + u + " thick; another thickness shifts Z by the difference"
	case registration.OtherEdge:
		return f.Locator + ": another edge touches on the back (" + f.Back.String() + ", not " + f.Face.String() + ", face up); the error of " + f.Error + " enters"
	case registration.FenceEdgeChanged:
		s := "fence edge changes, " + f.Face.String() + " to " + f.Back.String() + " (face up); "
		if f.Error == "square" {
			return s + "a corner out of square turns the back"
		}
		return s + "edges out of parallel turn the back"
	case registration.FenceShort:
		return f.Of + ": the fence is on the shorter edge (" + f.Side.String() + ", " + f.Length.String() + " " + u + " against " + f.Other.String() + "); the longer one squares better"
	case registration.ZeroOutside:
		return "the " + f.Of + " zero X" + f.X.String() + " Y" + f.Y.String() + " is outside the blank"
	case registration.NotFoolproof:
		s := "not foolproof: the blank goes on wrongly too"
		if len(f.Wrong) > 0 {
			s += " (" + letters.List(f.Wrong) + ")"
		}
		if cure := Cure(f.Cure); cure != "" {
			s += "; " + cure
		}
		return s
	case registration.NearMiss:
		return f.LayUp + " misses by only " + f.Miss.String() + " " + u + ": a push lets it on"
	case registration.PinAtEdge:
		if f.Out.IsZero() {
			return "dowel " + strconv.Itoa(f.Pin) + ": its hole leaves no wall at the blank's edge"
		}
		return "dowel " + strconv.Itoa(f.Pin) + ": its hole runs " + f.Out.String() + " " + u + " over the blank's edge"
	case registration.HoleTight:
		return "hole " + f.Hole.String() + " " + u + ", dowel " + f.Pin.String() + " " + u + ": it doesn't slide on by hand"
	case registration.FitPressed:
		var gives []string
		for _, p := range f.Pins {
			gives = append(gives, p.Least.String()+" to "+p.Most.String()+" "+u+" at "+p.Dia.String())
		}
		return f.Fit + ": clearance " + letters.List(gives) + "; " + pressedOn +
			"; press dowels into the bed, not into the blank: H7/g6 slides, H7/h6 is close"
	case registration.PinLoose:
		return "clearance up to " + f.Most.String() + " " + u + ": the back can be that far off; use thicker dowels or narrower holes, clearance at most " + f.Limit.String() + " " + u + " (common practice)"
	case registration.ClockFenceUnsaid:
		return "a fence clocks the blank: give its side"
	case registration.ClockFenceMoves:
		return "move the clocking fence for the back: face" + fenceAt(f.Face, f.FaceAt, f.FaceFrame) + "; back" + fenceAt(f.Back, f.BackAt, f.BackFrame)
	case registration.ClockFenceNominal:
		return "clocking fence at " + f.At.String() + " " + u + ": with the " + f.Up + " up this piece's " + f.Side.String() + " edge is at " + f.Edge.String() + "; move it, or the piece turns"
	case registration.PlugLoose:
		return "plug loose in its bore: clearance " + f.Clearance.String() + " " + u + " on the diameter"
	case registration.PlugTight:
		return "plug and bore are both " + f.Dia.String() + " " + u + "; turn the plug until it just slides, and give its diameter"
	case registration.ClockingLoose:
		return "clocking loose: the rim can move up to " + f.AtRim.String() + " " + u
	case registration.TurnUnknown:
		return "give the clearance of the " + f.Clocking + ": how far the blank can turn isn't known"
	case registration.TurnKnown:
		text := "the blank is turned by " + f.Turn.String() + "°, known to " + f.Limit.String() + "°"
		if !f.Taken.Equal(f.Turn) {
			text += ", taken as " + f.Taken.String() + "°"
		}
		return text + "; counter-clockwise is positive"
	case registration.LiesTurned:
		return "turned by " + f.Turn.String() + "°: run only a back program that was mirrored with these touches"
	case registration.EndForEnd:
		return "turned end for end: the back program is turned by 180°"
	case registration.SizeImplied:
		return "the edges make " + f.Of + " " + f.Implied.String() + " " + u + ", taken as " + f.Taken.String() + ": measure the blank"
	case registration.EdgesAlone:
		return "only edges were touched: right if the face zero was taken from these same edges"
	case registration.TouchFirst:
		return "touch the " + strconv.Itoa(f.Places) + " planned places, add their readings behind an @, run again"
	case registration.TouchBlind:
		what := map[string]string{"side": "which side is up", "end": "which end is which"}
		var parts []string
		for _, k := range f.To {
			parts = append(parts, what[k])
		}
		return "touches don't show " + strings.Join(parts, " or ") + ": check the lettering"
	case registration.TouchOffEdge:
		from := f.From.String()
		if f.From == registration.FenceStop {
			from = "fence and stop"
		}
		return "take the zeros from the " + from + ", never from the blank's own edge"
	}
	return ""
}

// fenceAt says where a fence touches: its side, coordinate and frame.
func fenceAt(side registration.Side, at decimal.Decimal, frame string) string {
	return " " + side.String() + " at " + side.Axis() + at.String() + " (" + frameOf(frame) + ")"
}

// flags spells keys as the command line does.
func flags(keys []string) []string {
	spelt := make([]string, len(keys))
	for i, key := range keys {
		spelt[i] = "--" + key
	}
	return spelt
}

// frameOf turns a frame value into words.
func frameOf(s string) string { return Frame(s == "machine") }

// pressedOn says what an interference does to a blank that has to come off again.
const pressedOn = "below 0 is interference: the blank needs pressing on, and can bow"

// Cure says how a pin pattern is made foolproof.
func Cure(code string) string {
	code, pin := registration.ParseCure(code)
	switch code {
	case registration.CureDiameters:
		return "make dowel " + pin + " and its hole another diameter"
	case registration.CureThirdPin:
		if pin != "" {
			return "add a dowel as thick as the first at " + pin + " from near-left, face up"
		}
		return "add a dowel on the flip line, clear of the cuts (verb pins places it)"
	case registration.CureNone:
		return "choose other places, or a fence and stop"
	case registration.CureFlat:
		return "put the flat across the flip line"
	case registration.CureClockPin:
		return "put the index pin on the flip line through the bore"
	}
	return strings.ReplaceAll(code, "-", " ")
}
