package words

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration/budget"
)

// budgetFact: how far off the back can be.
func budgetFact(is any, u string) string {
	switch f := is.(type) {
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
	}
	return ""
}

// contactsAt says where a fence and a stop are assumed to touch.
func contactsAt(first, second, stop decimal.Decimal, u string) string {
	return "contacts assumed " + first.String() + " and " + second.String() + " " + u + " along the fence, the stop's " + stop.String() + " " + u + " from it: give contacts"
}
