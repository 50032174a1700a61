// Package motion is the control: it reads and runs a program as the machine would (words,
// parameters, expressions, IF, WHILE, O words and calls), keeps what is in force (units,
// plane, offsets, length and compensation codes) and hands over one exact programmed Move
// after the other, with its length and time. Where the cutter's edge goes beside that path
// is the affair of package cut. It has its own reader of blocks and shares nothing with the
// code that rewrites programs, so that what it says of a rewritten program is a second
// opinion.
package motion

import "flipcalc/mirror/transform"

// Kind is the kind of a move.
type Kind uint8

// The kinds of move. Canned cycles, G28 and G30 are handed over as the rapid and
// feed moves they consist of.
const (
	Rapid  Kind = iota // G0 and the rapid parts of cycles
	Feed               // G1 and the feed parts of cycles
	CW                 // G2
	CCW                // G3
	Spline             // G5 and G5.1
	Store              // G10 L2, which moves nothing: To is stored in the offset Stored; see Options.Stores
)

// Point is a place in X, Y and Z.
type Point [3]Num

// Equal reports whether p and q are the same place.
func (p Point) Equal(q Point) bool {
	return p[0].Equal(q[0]) && p[1].Equal(q[1]) && p[2].Equal(q[2])
}

// State is what the control has set while a move runs.
type State struct {
	Unit     transform.Unit
	Plane    transform.Plane
	Offset   int    // 540 for G54 ... 590 for G59, 591..593 for G59.1..G59.3; 0 when none was selected yet
	Tool     int    // -1 when no tool was named yet
	Length   int    // H of G43; -1 under G49 or when none was named
	Spindle  int    // +1 for M3, -1 for M4, 0 for M5
	Speed    Num    // S
	Feed     Num    // F, as programmed
	FeedMode int    // 93, 94 or 95
	Comp     int    // 40, 41 or 42
	D        Num    // the last D word, where CompBy says so
	CompBy   CompBy // what says how far compensation moves the tool aside
	Coolant  uint8  // bit 0 for M7, bit 1 for M8
	Path     uint16 // 610, 611 or 640; 0 when none was selected
}

// CompBy is what says how far cutter compensation moves the tool aside.
type CompBy uint8

// What says how far.
const (
	CompByTool     CompBy = iota // no D: the tool in the spindle (NISTIR 6556, 3.5.10)
	CompByNumber                 // D is the number under which the control keeps it
	CompByDiameter               // D of G41.1 or G42.1 is the diameter itself
	CompByNothing                // G41.1 or G42.1 without D
)

// Move is one straight or circular motion, in the coordinates that the program counts in
// and in the unit of State.Unit. Track gives it in coordinates of the work offset.
type Move struct {
	Line    int // line of the block in the file, from 1
	Kind    Kind
	State   State
	From    Point
	To      Point
	FromOK  [3]bool // whether each coordinate of From is known
	ToOK    [3]bool
	Machine bool    // a G53 move: To is in machine coordinates
	Home    bool    // the part of G28 or G30 that goes home: To is not known
	Sent    [3]bool // of Home: the axes that its block names, all where it names none
	Cycle   int     // 730, 810 ... 890 for a move of a canned cycle, 120 or 130 for a circular pocket, else 0
	Either  bool    // at rapid or at feed, as the control has it: an axis word without G0 to G3 (common practice)
	NoLevel bool    // of a canned cycle whose R isn't known: it is taken to start where the tool stands
	Carried bool    // of a canned cycle whose R or depth was given in the other distance mode: see Machine.carried
	Rotary  bool    // A, B or C move too
	Rotated bool    // under G68: coordinates count in the rotated system
	Frame   *Frame  // where G52, G68 or G92 is on; nil where coordinates count in the work offset itself

	// Arcs. Centre holds the coordinates along the plane's first and second axis
	// (State.Plane.Axes) where the arc was written with I, J, K. Radius is the R
	// word where ByRadius, negative for the long way round. Turns is the number
	// of whole or part turns, usually 1.
	Centre   [2]Num
	CentreOK [2]bool // where not, Centre counts from the same unknown place as From
	ByRadius bool
	Radius   Num
	Turns    int
	Stored   int // of a Store: the offset, as State.Offset counts them

	// Splines. Control[0] counts from the start to the first control point,
	// Control[1] from the end to the second; both are the same point in a G5.1
	// block, which has one.
	Control [2][2]Num
	Cubic   bool // G5
}
