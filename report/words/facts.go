package words

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/registration/landed"
	"flipcalc/registration/pattern"
	"flipcalc/report/letters"
)

// Fact finds the words for each kind of fact; its lengths are in unit.
func Fact(is any, unit transform.Unit) string {
	u := unit.String()
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
		return f.Locator + " assumed at " + SideAxis(f.Side.String()) + f.At.String() + ", the nominal edge (" + frameOf(f.Frame) + "): give " + f.Side.String() + "@" + SideAxis(f.Side.String())
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
		turned := ""
		if !f.Turn.IsZero() {
			turned = "; the back programs are turned by " + f.Turn.String() + "°"
		}
		return "the second zero includes " + letters.Plural(f.Rounds, "correction", "corrections") + " of the job, X" + f.X.String() + " Y" + f.Y.String() + " " + u + turned
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
		return "another edge locates the zero: here it is X" + f.X.String() + " Y" + f.Y.String() + " " + u + " off its named place"
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
		return "the blank is turned by " + f.Turn.String() + "°, known to " + f.Limit.String() + "°; counter-clockwise is positive"
	case registration.LiesTurned:
		return "turned by " + f.Turn.String() + "°: run only a back program that was mirrored with these touches"
	case registration.EndForEnd:
		return "turned end for end: the back program is turned by 180°"
	case registration.TouchDisagrees:
		return "touch " + strconv.Itoa(f.Number) + ", " + f.Of + ", is " + f.Off.String() + " " + u + " off the others: touch it again"
	case registration.TouchesDisagree:
		return "the touches disagree: touch again, or give the measured size"
	case registration.SizeImplied:
		return "the edges make " + f.Of + " " + f.Implied.String() + " " + u + ", taken as " + f.Taken.String() + ": measure the blank"
	case registration.EdgesAlone:
		return "right only where the face was set by these edges too"
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
	return moreFactWords(is, u)
}

// moreFactWords are the words for the facts of patterns, budgets and corrections.
func moreFactWords(is any, u string) string {
	switch f := is.(type) {
	case pattern.MarginAssumed:
		return "holes assumed in a strip of " + f.Width.String() + " " + u + " round the blank, which must be waste"
	case pattern.OutsideMargin:
		return "dowel " + strconv.Itoa(f.Pin) + ": its hole goes " + f.By.String() + " " + u + " farther into the blank than the margin"
	case pattern.PinUnderCut:
		return "dowel " + strconv.Itoa(f.Pin) + " stands under a cut: move it into the waste, or give over"
	case pattern.PinLengthsMemory:
		return "stock lengths of " + f.Standard + " are from memory: look them up before ordering"
	case pattern.PinSizeMemory:
		return "limits of " + f.Of + " are from memory: check against the standard"
	case pattern.PinTight:
		return "hole " + f.Hole.String() + ": clearance " + f.Least.String() + " to " + f.Most.String() + " " + u + "; " + pressedOn
	case pattern.PinPlain:
		s := "dowel " + strconv.Itoa(f.Pin) + ", " + f.Dia.String() + " " + u + ", is not of " + f.Standard + "; measure it, and cut it to length"
		if w := f.Wanted; w != nil {
			s += "; for " + w.Fit + " expect " + w.Least.String() + " to " + w.Most.String() + " " + u
		}
		return s
	case pattern.FitAsDrilled:
		return f.Hole + " needs a reamer or a boring pass; as drilled or plunged: --tolerance clearance=" + f.Clearance.String() + ", " + f.Wider.String() + " " + u +
			" more (common practice)"
	case pattern.IndexUnderShoulder:
		return "the index pin's hole may be under the plug's shoulder, " + f.Shoulder.String() + " " + u + " wide; put it farther out, or bore the shoulder too"
	case pattern.BedUnsaid:
		return "give spoilboard: without it the dowels have no length yet"
	case pattern.PinClass:
		var gives []string
		for _, g := range f.Gives {
			gives = append(gives, g.Least.String()+" to "+g.Most.String()+" "+u+" at "+g.Pin)
		}
		hole, shaft, _ := strings.Cut(f.Fit, "/")
		return f.Fit + " takes dowels ground to " + shaft + ", not of " + f.Standard + "; in an " + hole + " hole clearance is " +
			letters.List(gives) + "; order " + shaft + " dowels, or bore larger (--hole)"
	case budget.FitTight:
		what := f.Of
		if !strings.Contains(what, "/") { // a size, not a fit
			what = "a hole of " + what + " " + u
		}
		return what + " can be tight: clearance " + f.Least.String() + " to " + f.Most.String() + " " + u
	case budget.FitMemory:
		return "limits of " + f.Fit + " are from memory: check against the standard"
	case budget.GrainAssumed:
		return "grain assumed along " + strings.ToUpper(f.Along) + ", the longer side"
	case budget.MoistureTwo:
		return "moisture assumed to change by " + f.Percent.String() + " % between the sides (common practice)"
	case budget.MoistureRange:
		return "moisture change of " + f.Percent.String() + " %: the coefficients are for 6 to 14 % moisture"
	case budget.WoodMemory:
		return "coefficient of " + f.Species + " is from memory: check against the handbook"
	case budget.ClockingLever:
		return "clocking flat or fence assumed to touch " + f.Length.String() + " " + u + " from the plug"
	case budget.ContactsTaken:
		return contactsAt(f.First, f.Second, f.Stop, u)
	case budget.PinsMove:
		return "dowels across the grain: their holes move by " + f.By.String() + " " + u + " with the wood"
	case landed.TurnUnknown:
		return "measured at one place, which can't show a turn: measure at two places far apart"
	case landed.TurnSmall:
		return "a turn of " + f.Way.String() + " " + u + " over the measured places is within the measuring error"
	case landed.PlaceDisagrees:
		return "measurement " + strconv.Itoa(f.Number) + " is " + f.Off.String() + " " + u + " off the others, which agree to " + f.Rest.String() + " " + u + "; measure it again, or leave it out"
	case landed.Contacts:
		return contactsAt(f.First, f.Second, f.Stop, u)
	case landed.NotRigid:
		return "no shift and turn explains the measurements: " + f.Rest.String() + " " + u + " remains; " + causeWords(f.Cause, f.Amount.String(), u)
	case landed.Measuring:
		return "measuring error assumed " + f.Limit.String() + " " + u + " either way"
	case landed.NoLocatorMove:
		return "moving the " + f.Locator + " along " + strings.ToUpper(f.Axis) + " doesn't correct " + f.Off.String() + ": it places both sides alike"
	case landed.MismatchLarge:
		return "a mismatch over " + f.Limit.String() + " " + u + " is more than locators do; " + lookFirst(f.Flip.String())
	case landed.MismatchBeyond:
		return "a mismatch over " + f.Limit.String() + " " + u + " is more than twice the budget's worst case, " + f.Worst.String() + " " + u + "; " + lookFirst(f.Flip.String())
	case landed.NoSecondZero:
		return "no register given: move the back zero by the opposite of the mismatch"
	}
	return ""
}

// contactsAt says where a fence and a stop are assumed to touch.
func contactsAt(first, second, stop decimal.Decimal, u string) string {
	return "contacts assumed " + first.String() + " and " + second.String() + " " + u + " along the fence, the stop's " + stop.String() + " " + u + " from it: give contacts"
}

// fenceAt says where a fence touches: its side, coordinate and frame.
func fenceAt(side registration.Side, at decimal.Decimal, frame string) string {
	return " " + side.String() + " at " + SideAxis(side.String()) + at.String() + " (" + frameOf(frame) + ")"
}

// flags spells keys as the command line does.
func flags(keys []string) []string {
	spelt := make([]string, len(keys))
	for i, key := range keys {
		spelt[i] = "--" + key
	}
	return spelt
}
