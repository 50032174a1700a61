package registration

import "github.com/shopspring/decimal"

// Turn is how far a blank on its plug can still shift and turn, in the
// question's unit, rounded up to the fourth decimal.
type Turn struct {
	Free bool            // nothing stops it from turning
	Rim  decimal.Decimal // from the bore's centre to the blank's farthest corner
	// PerDegree is how far a point at the rim moves for each degree of turn.
	PerDegree decimal.Decimal
	// Shift is half the plug's clearance: how far the centre can move, any way.
	// It is nil if the plug's diameter isn't given.
	Shift *decimal.Decimal
	// AtRim is how far the turn that the clocking allows moves the rim; nil if
	// Free, or if the clearances aren't known.
	AtRim *decimal.Decimal
}
