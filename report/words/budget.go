package words

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report/letters"
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

// Term names a term of the budget.
func Term(name string, q registration.Question) string {
	on := "the dowels"
	if q.Register == registration.Plug {
		on = "the plug"
	}
	switch name {
	case budget.Clearance:
		return "clearance on " + on
	case budget.Hole:
		return "hole drilled off size"
	case budget.Locator:
		return "locator off its place"
	case budget.PinLine:
		return "dowel off the line of the others"
	case budget.FenceLine:
		return "fence out of parallel with its axis"
	case budget.Square:
		return "Y axis out of square with X"
	case budget.Seating:
		return "gap at fence or stop"
	case budget.Size:
		return "size of the blank"
	case budget.Corner:
		return "blank out of square"
	case budget.Repeatability:
		return "machine repeatability"
	case budget.Clocking:
		return "clearance of the clocking"
	case budget.Thickness:
		return "thickness of the blank"
	case budget.TouchOff:
		return "Z zero off its surface"
	case budget.Touch:
		return "touch of the turned blank"
	case budget.Feature:
		return "touched edge or old hole off its place"
	case budget.Turn:
		return "turn within its limit, not corrected"
	case budget.Rounding:
		return "rounding of a program written out"
	case budget.Wood:
		return "movement of the wood"
	}
	return name
}

// TermAxis says what a term is about: the contact, or the axis along which it
// moves the back.
func TermAxis(t budget.Term) string {
	switch {
	case t.Axis == "":
		return ""
	case t.Axis == "fence" || t.Axis == "stop":
		return ", the " + t.Axis
	case t.Name != budget.Wood:
		return ", along " + letters.Capital(t.Axis)
	case t.Axis == "x": // the grain's axis: wood moves across it
		return " across the grain, along Y"
	}
	return " across the grain, along X"
}

// WebError says what an error of the thickness does to web and depths.
func WebError(w budget.Web, unit transform.Unit) string {
	u := unit.String()
	share := func(what string, factor int) string {
		switch {
		case factor == 0:
			return what + " unchanged"
		case factor < 0:
			return what + " less by as much"
		}
		return what + " more by as much"
	}
	return "a blank thicker by " + w.Error.String() + " " + u + " (" + string(w.From) + "): " + share("the web", w.WebFactor) + ", " +
		share("the face's depth", w.FaceFactor) + ", " + share("the back's depth", w.BackFactor)
}
