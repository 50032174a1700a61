package words

import (
	"math"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/landed"
	"flipcalc/report/letters"
)

// landedFact: what a measured piece shows.
func landedFact(is any, u string) string {
	switch f := is.(type) {
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

// lookFirst is what to look at before a great mismatch is corrected.
func lookFirst(flip string) string {
	return "before correcting, look for a chip under the blank; check that it was turned as flip " + flip + " and seated on the right edges; check unit and sign of DX and DY: the back's place minus the wanted one"
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
		return "the measurements disagree by " + amount + " " + u
	}
	return strings.ReplaceAll(cause, "-", " ")
}

// Cures says what is done with the hands to turn the blank back.
func Cures(k landed.Cure, back string, unit transform.Unit) string {
	sides := back
	if k.Both {
		sides = " for both sides"
	}
	switch {
	case k.Shim != nil:
		text := Fine(k.Shim.Thick.Abs(), unit).String() + " " + unit.String()
		at := " the " + k.Shim.Fence.String() + " fence at its " + k.Shim.End.String() + " contact, X" + k.Shim.At.X.String() + " Y" + k.Shim.At.Y.String() + " of the blank,"
		if k.Shim.Thick.IsNegative() {
			return "move" + at + " away from it by " + text + sides
		}
		stays := ""
		if k.Both {
			stays = ", and leave it in"
		}
		return "put a shim of " + text + " between the blank and" + at + sides + stays + ", or move the fence there by as much"
	case k.Program != nil:
		return "turn the back programs by " + k.Program.String() + " degrees about the second zero: correct -o writes them"
	case k.Pin != nil:
		pin := "the index pin"
		if k.Pin.Pin > 0 {
			pin = "dowel " + strconv.Itoa(k.Pin.Pin)
		}
		return "move " + pin + sides + " by " + letters.XY(FinePoint(k.Pin.Move, unit))
	}
	way := "counter-clockwise"
	if k.Angle < 0 {
		way = "clockwise"
	}
	what := k.Part
	if what == "plug" {
		what = "plug with its flat"
	}
	return "turn the " + what + sides + " by " + letters.Rounded(math.Abs(k.Angle)*180/math.Pi, 4) + " degrees " + way
}

func Counts(f int) string {
	if f == 2 {
		return " (it places both sides, so it counts twice)"
	}
	return ""
}

// Fine rounds a length that came of measurements for people: to 0.001 mm or
// 0.0001 in, the least that controls commonly show (common practice).
func Fine(d decimal.Decimal, unit transform.Unit) decimal.Decimal {
	if unit == transform.Inch {
		return d.Round(4)
	}
	return d.Round(3)
}

// FinePoint is a place or a move with rounded lengths.
func FinePoint(p registration.Point, unit transform.Unit) registration.Point {
	return registration.Point{X: Fine(p.X, unit), Y: Fine(p.Y, unit)}
}
