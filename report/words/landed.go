package words

import (
	"strconv"
	"strings"

	"flipcalc/registration/landed"
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
