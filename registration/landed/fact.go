package landed

import (
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Figure is an estimated length, said to the fourth decimal.
type Figure float64

func (f Figure) String() string { return strconv.FormatFloat(float64(f), 'f', 4, 64) }

// The facts of a correction; report finds the words.
type (
	// TurnUnknown: all was measured at one place.
	TurnUnknown struct{}
	// TurnSmall: a turn within the measuring.
	TurnSmall struct{ Way Figure } // over the measured places
	// PlaceDisagrees: one measurement doesn't fit the others; a warning.
	PlaceDisagrees struct {
		Number int    // from 1
		Off    Figure // how far it lies off the others
		Rest   Figure // what remains at these without it
	}
	// Contacts: where a fence's contacts, along it, and the stop's, from it, are taken to be.
	Contacts struct{ First, Second, Stop decimal.Decimal }
	// NotRigid: no shift and turn explains what was measured.
	NotRigid struct {
		Rest   Figure // the greatest, after shift and turn
		Cause  string // a Cause code
		Amount Figure // over the blank
	}
	// Measuring: how good each measured value is taken to be.
	Measuring struct{ Limit decimal.Decimal }
	// NoLocatorMove: no move of a locator corrects a mismatch along an axis.
	NoLocatorMove struct {
		Locator string
		Axis    string // "x" or "y"
		Off     decimal.Decimal
	}
	// NoSecondZero: no register, so no zero to correct: its move only.
	NoSecondZero struct{}
	// MismatchLarge: more than locators do; a warning.
	MismatchLarge struct {
		Limit decimal.Decimal
		Flip  registration.Flip
	}
	// MismatchBeyond: more than twice the budget's worst case; a warning.
	MismatchBeyond struct {
		Limit, Worst decimal.Decimal
		Flip         registration.Flip
	}
)

func (c *Correction) fact(level string, is any) {
	c.Facts = append(c.Facts, registration.Fact{Level: level, Is: is})
}
