package words

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report/letters"
)

// patternFact: dowels and their holes.
func patternFact(is any, u string) string {
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
	}
	return ""
}

// Verdict says whether a wrong lay-up goes on.
func Verdict(layUps []registration.LayUp, foolproof bool) string {
	if foolproof {
		if slices.ContainsFunc(layUps, func(l registration.LayUp) bool { return l.Name == registration.LayAsIs && (l.Fits || l.Near) }) {
			return "turned wrong it does not go on; unturned it does"
		}
		return "fits one way only"
	}
	var wrong []string
	for _, l := range layUps {
		if l.Fits && !l.Wanted && l.Name != registration.LayAsIs {
			wrong = append(wrong, l.Name)
		}
	}
	if len(wrong) == 0 {
		return "fits wrong with a push: see the warning"
	}
	return "also fits wrong: " + letters.List(wrong)
}

// Clearance gives a clearance with what it feels like.
func Clearance(least, most decimal.Decimal) string {
	s := least.String() + " to " + most.String()
	if least.Equal(most) {
		s = least.String()
	}
	switch {
	case !most.IsPositive():
		return s + ", tight"
	case least.IsNegative():
		return s + ", tight or loose"
	}
	return s
}

// Limits writes the least and the greatest of a size.
func Limits(l fit.Limits) string {
	if l.Lower.Equal(l.Upper) {
		return l.Lower.String()
	}
	return l.Lower.String() + " to " + l.Upper.String()
}
