package pattern

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/registration"
)

// The facts of a pattern; report finds the words.
type (
	// MarginAssumed: the strip is what the pins need.
	MarginAssumed struct{ Width decimal.Decimal }
	// OutsideMargin: a given pin's hole lies outside the waste.
	OutsideMargin struct {
		Pin int // from 1
		By  decimal.Decimal
	}
	// PinUnderCut: a given pin's hole lies under a cut.
	PinUnderCut struct{ Pin int }
	// PinLengthsMemory: the lengths made are values from memory.
	PinLengthsMemory struct{ Standard string }
	// PinSizeMemory: a pin's tolerance or fit is a value from memory.
	PinSizeMemory struct{ Of string } // standard or fit
	// PinTight: a given hole is less than its pin can be.
	PinTight struct{ Hole, Least, Most decimal.Decimal }
	// BedUnsaid: how deep pins may go into the bed isn't said, so that they have no lengths.
	BedUnsaid struct{}
	// PinPlain: a pin of no standard.
	PinPlain struct {
		Pin      int
		Dia      decimal.Decimal
		Standard string
		Wanted   *FitPin // nil without a fit
	}
	// FitAsDrilled: a drill doesn't make the fit's hole.
	FitAsDrilled struct {
		Hole      string
		Wider     decimal.Decimal // that it drills
		Clearance decimal.Decimal // the greatest with that
	}
	// PinClass: the pins of the standard aren't those that the fit asks for.
	PinClass struct {
		Standard, Fit string
		Gives         []Given // the clearance that they really give
	}
	// IndexUnderShoulder: the index pin's hole lies under the least shoulder that suits the
	// plug.
	IndexUnderShoulder struct{ Shoulder decimal.Decimal } // its diameter
)

// FitPin is the least and the greatest diameter of a fit's pin.
type FitPin struct {
	Fit         string
	Least, Most decimal.Decimal
}

// Given is the clearance that a pin gives in a fit's hole.
type Given struct {
	Pin         string // its size
	Least, Most decimal.Decimal
}

// fact appends one fact that isn't there yet.
func (p *Pattern) fact(level string, is any) {
	if !slices.ContainsFunc(p.Facts, func(o registration.Fact) bool { return fact.Same(o.Is, is) }) {
		p.Facts = append(p.Facts, registration.Fact{Level: level, Is: is})
	}
}
