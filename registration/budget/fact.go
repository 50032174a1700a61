package budget

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// The facts that a budget states; report finds the words.
type (
	// FitTight: a pair can turn out tight.
	FitTight struct {
		Of          string // fit, or the hole's diameter
		Least, Most decimal.Decimal
	}
	// FitMemory: a fit's limits are values from memory.
	FitMemory struct{ Fit string }
	// GrainAssumed: the grain is taken to run along the longer side.
	GrainAssumed struct{ Along string } // "x" or "y"
	// MoistureTwo: the change of moisture, in percent, is common practice.
	MoistureTwo struct{ Percent decimal.Decimal }
	// MoistureRange: a change of more than 8 %, so beyond 6 to 14 %.
	MoistureRange struct{ Percent decimal.Decimal }
	// WoodMemory: the coefficient is a value from memory.
	WoodMemory struct{ Species string }
	// ContactsTaken: where a fence's contacts, along it, and the stop's, from it, are taken to
	// be.
	ContactsTaken struct{ First, Second, Stop decimal.Decimal }
	// ClockingLever: how far from the plug a flat or fence is taken to hold the turn.
	ClockingLever struct{ Length decimal.Decimal }
	// PinsMove: pins across the grain, whose spacing changes in the wood.
	PinsMove struct{ By decimal.Decimal }
)

// fact appends one fact, the first of its kind.
func (w *work) fact(level string, is any) {
	f := registration.Fact{Level: level, Is: is}
	if !slices.ContainsFunc(w.facts, func(o registration.Fact) bool { return o.Code() == f.Code() }) {
		w.facts = append(w.facts, f)
	}
}
