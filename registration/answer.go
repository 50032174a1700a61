package registration

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Error says that a question has no answer. About names the flag or job key.
type Error struct {
	About    string // for example "--stop"
	Found    string
	Expected string
	Hint     string
	No       bool // the answer is no (exit 1), not a bad question (exit 2)
}

// Error writes "about: found, expected ...; hint: ...".
func (e *Error) Error() string {
	s := e.Found
	if e.About != "" {
		s = e.About + ": " + s
	}
	if e.Expected != "" {
		s += ", expected " + e.Expected
	}
	if e.Hint != "" {
		s += "; hint: " + e.Hint
	}
	return s
}

// SecondZero is where the back program's zero goes.
type SecondZero struct {
	Offset string          // the offset to store it in, for example "G55"
	X, Y   decimal.Decimal // in machine coordinates, or from the face zero
	Z      *decimal.Decimal
	// Machine says that X, Y and Z are machine coordinates; otherwise they are
	// measured from the face zero.
	Machine bool
}

// Touch says which physical edge of the blank meets one locator on the two sides.
// Edges are named as the blank lay face up.
type Touch struct {
	Locator    string // "fence" or "stop"
	Side       Side   // where the locator stands at the face station
	BackSide   Side   // where it stands at the back station
	FaceEdge   Side   // the physical edge that touches with the face up
	BackEdge   Side   // the physical edge that touches with the back up
	SameEdge   bool
	Across     bool            // the locator places the blank across the flip line
	KeepSide   Side            // the back-station side that would touch the same edge
	KeepFlip   Flip            // the other flip, where it would keep the edge with the locator where it is
	FaceCoord  decimal.Decimal // machine coordinate, or from the face zero
	BackCoord  decimal.Decimal
	CoordKnown bool // the coordinates are machine coordinates
}

// LayUp is one of the four ways in which the blank can be put on its pins.
type LayUp struct {
	Name    string // "as is", "flip x", "flip y", "turned 180"
	Fits    bool
	Wanted  bool  // the lay-up the job asks for
	Shift   Point // how far the blank lands from the wanted place where it fits
	Reason  string
	Pairing []int // Pairing[i] is the pin that hole i goes onto
}

// Fact is one thing that the answer rests on or warns of; report finds the words.
type Fact struct {
	Code   string // see the Fact constants
	Level  string // "assumed", "note", "warning" or "caution"
	Values []string
}

// Answer is the second zero with everything that it rests on.
type Answer struct {
	Question  Question // as used, with the defaults filled in
	Used      Blank    // nominal or measured size, thickness as it stands at the turn
	Transform transform.Map
	FaceZero  Point // a: the face zero in the face's as-laid frame
	BackZero  Point // b: the back zero in the back's as-laid frame

	// FaceCorner is L1 and BackCorner L2: where the blank's near-left corner
	// lies at the face and at the back station. In machine coordinates if
	// Machine, else from the face zero. BackCorner is nil without a register.
	Machine    bool
	FaceCorner Point
	BackCorner *Point
	Second     *SecondZero // nil without a register

	Touches  []Touch // fence and stop
	LayUps   []LayUp // dowels
	BackPins []Pin   // dowels at a second station: machine places of all pins
	PlugAt   *Point  // plug: its centre at the back station
	Facts    []Fact
}
