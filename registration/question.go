// Package registration says, before anything is cut, where a blank lies once it is turned over,
// by dowels, plug, fence and stop, or by where its holes and edges were touched and how far
// touches can be off, and so where the second side's zero goes.
//
// How far off the back can be for all reasons together is budget's; what to do about a piece
// that came out wrong is landed's.
//
// Frames. As laid: the blank's near-left corner is (0,0), X to the right, Y away
// from the operator, all as the blank lies on the bed at that moment, so the
// face and the back have each their own as-laid frame. Machine: the machine's
// own coordinates. Every length is an exact decimal in the question's Unit.
package registration

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Flip says how the blank is turned over.
type Flip uint8

// The two flips. FlipY turns about a line parallel to Y, like a page: the left
// edge goes right and X is reversed. FlipX turns about a line parallel to X: the
// near edge goes far and Y is reversed.
const (
	FlipUnset Flip = iota
	FlipX
	FlipY
)

// Side names an edge of the blank, as it lies.
type Side uint8

// The four edges seen by the operator.
const (
	NoSide Side = iota
	Near
	Far
	Left
	Right
)

// ZZero names the level that a program calls Z0.
type ZZero uint8

// Top is the surface that is being cut; Bed is the seating plane under the
// blank. ZZeroUnset means Top for the face and the face's for the back.
const (
	ZZeroUnset ZZero = iota
	Top
	Bed
)

// Register is the way in which the blank is found again.
type Register uint8

// The ways to register. NoRegister gives the transform only.
const (
	NoRegister Register = iota
	Dowels
	Plug
	FenceStop
	Touched // no locator: features of the turned blank were touched where it lies
)

// TouchOff says when Z zero is set: on each blank, or once for the run.
type TouchOff uint8

// The two ways to touch off.
const (
	TouchOffEach TouchOff = iota
	TouchOffOnce
)

// Lengths says what a Z that is stored in a work offset is measured with.
type Lengths uint8

// LengthsTool: a Z holds for the tool that was touched off, whose programs call no
// length. LengthsCalled: the programs call lengths (G43 H), and nothing says how Z was
// stored, so none is given. LengthsWhole: H holds whole lengths, from the spindle nose
// to the tip, and Z was stored with them in use.
const (
	LengthsTool Lengths = iota
	LengthsCalled
	LengthsWhole
)

// Blank is the size of the piece: W along X, H along Y, T thick, 0 where that isn't known.
type Blank struct {
	W decimal.Decimal `json:"w"`
	H decimal.Decimal `json:"h"`
	T decimal.Decimal `json:"t,omitzero"`
}

// Zero is where a program's X0 Y0 lies on the blank, in its as-laid frame: one
// of the named places, or At. Neither is "not said".
type Zero struct {
	Name string // near-left, near-right, far-left, far-right, center, or ""
	At   *Point
}

// Position is a place in machine coordinates; Z may be unknown.
type Position struct {
	X decimal.Decimal  `json:"x"`
	Y decimal.Decimal  `json:"y"`
	Z *decimal.Decimal `json:"z"`
}

// Pin is one dowel in the face's as-laid frame. A zero Dia means that the
// diameter wasn't given.
type Pin struct {
	At  Point
	Dia decimal.Decimal
}

// Contact is a fence or a stop: the side on which it stands, and its machine
// coordinate across that side where it is known (X for left and right, Y for
// near and far).
type Contact struct {
	Side  Side
	Coord *decimal.Decimal
}

// The kinds of clocking.
const (
	ClockPin   = "pin"
	ClockFlat  = "flat"
	ClockFence = "fence"
	ClockNone  = "none"
)

// Clocking keeps a blank on a plug from turning.
type Clocking struct {
	Kind string // ClockPin, ClockFlat, ClockFence, ClockNone, or "" if not said
	Pin  Point  // kind pin: its place in the face's as-laid frame
	Side Side   // kind flat: the side of the bore that its flat lies on, face up
	// Dia and Hole are the index pin's diameter and its hole's in the blank,
	// zero where not said; they tell how far the blank can still turn.
	Dia, Hole decimal.Decimal
}

// Question is everything that a maker can say about one blank, its flip and its
// locators. Fields keep the names of the flags and job-file keys.
type Question struct {
	Unit     transform.Unit
	Stock    *Blank // nominal size; nil is missing
	Measured *Blank // the piece in hand, used instead of Stock where given
	Flip     Flip

	Zero, BackZero   Zero // BackZero: not said takes the face's named zero
	ZZero, BackZZero ZZero
	At               *Position // the face zero in machine coordinates
	Offset           string    // "" means G54
	BackOffset       string    // "" means the first free one
	Seat, BackSeat   decimal.Decimal
	TouchOff         TouchOff
	Lengths          Lengths
	Tool             string // the tool that Z zero is touched off with, for example "T1"
	// Skimmed is how much the face program takes off the whole top, so that the
	// blank is thinner when it is turned over.
	Skimmed decimal.Decimal
	// Extended says that the controller also has G59.1 to G59.3.
	Extended bool
	Taken    []string // offsets that belong to something else

	Register Register

	// Dowels.
	Pins []Pin
	Hole []decimal.Decimal // hole diameters in the blank: one for all pins, or one a pin in the order of Pins
	Fit  string            // such as "H7/m6"
	// Clearance is the greatest diametral clearance of all holes over their pins, or
	// of bore over plug, where it is stated; it goes before sizes and fit.
	Clearance   *decimal.Decimal
	BackPin     *Point // machine place of the first pin at a second station
	DrilledFace bool   // holes drilled through blank and bed in the face set-up
	// Clear reports whether a hole at a place on the blank, face up, of that radius is
	// clear of the cuts of both sides; nil where they aren't known.
	Clear func(at Point, radius decimal.Decimal) bool

	// Plug.
	Bore   *Pin // the bore in the face's as-laid frame
	PlugD  *decimal.Decimal
	PlugAt *Point // machine place of the plug's centre at the back station
	Clock  Clocking
	Round  bool // a round part: its turn doesn't matter

	// Fence and stop. Fence also serves a plug that is clocked by a fence.
	Fence, Stop         Contact
	BackFence, BackStop Contact // Side NoSide takes the face's
	// Contacts are where fence and stop touch the blank; nil is not said.
	Contacts *Contacts

	// Touched blank. Slack nil takes every touch as exact; TurnLimit, in degrees, is how
	// far the turn may be unknown, nil for any.
	Touched   []Spot
	Finder    *decimal.Decimal
	Slack     *Slack
	TurnLimit *decimal.Decimal
}

// HoleOf gives the diameter of the hole of a pin, by its place in Pins; nil where none
// was given.
func (q *Question) HoleOf(pin int) *decimal.Decimal {
	switch {
	case len(q.Hole) == 1:
		return &q.Hole[0]
	case pin < len(q.Hole):
		return &q.Hole[pin]
	}
	return nil
}

// FaceOffset is the offset that holds the face zero.
func (q *Question) FaceOffset() string {
	if q.Offset == "" {
		return "G54"
	}
	return q.Offset
}
