package cut

import (
	"fmt"
	"io"
	"math"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Request is everything that a check looks at. Lengths are in millimetres; places
// on the blank are from its near-left corner as it lay face up, unless said
// otherwise.
type Request struct {
	W, H, T float64 // the blank: along X, along Y, thick
	Skimmed float64 // what the face program takes off the whole top
	Nominal float64 // T of the nominal blank, where this one was measured; 0 for the same

	Map                  transform.Map // face to back
	FaceZero             [2]float64    // X0 Y0 of the face program
	FaceTurn             float64       // by which the face program is turned about it, degrees counter-clockwise; Map has the back's
	FaceLevel, BackLevel Level         // Z0 of each program

	Tools      []Tool // a program that names none uses the first
	Face, Back Program

	Pins []Pin
	Bore *Circle // for a plug
	// FreeTurn is the plug's centre where nothing keeps a round part from turning on it.
	FreeTurn *[2]float64
	NoGo     []Rect     // on the bed, in machine coordinates
	Clamps   int        // how many of them, the last ones, are clamps and hold the blank
	Seats    [2]float64 // heights of the seating planes of face and back over the bed
	Zeros    [2]*Zero
	// OtherZeros gives the zero of further work offsets (540 for G54 and so on), for
	// moves that a program makes under another offset than its station's.
	OtherZeros map[int]Zero
	Travel     *Travel

	Web          float64  // least web asked; 0 for none
	Misalignment float64  // how far the back may lie off, mm in plan
	ThicknessTol float64  // how much thinner the web may be for thickness alone
	Breakthrough *float64 // by how much cuts of both sides must pass each other; nil takes DefaultBreakthrough
	BedDepth     *float64
	Cell         float64 // 0 picks one (see DefaultCell)

	Through  [][2]float64 // places that are declared to be cut through
	Count    *Count       // how many places are declared to be
	Neck     *float64     // how wide what tabs hang on must be; nil takes DefaultNeck
	Held     [][2]float64 // places that are held down to the end on both sides (tape, screws)
	HeldAll  bool         // everything is held (vacuum, tape): nothing comes loose
	Locators [2][]Locator // fence and stop at each side's station
}

// Defaults.
const (
	DefaultStep         = 0.05 // mm: a step in a wall that is told
	DefaultBudget       = 0.1  // mm: how far apart the walls of the two sides may stand without a register
	DefaultBreakthrough = 0.5  // mm
	DefaultNeck         = 3.0  // mm
	DefaultBedDepth     = 0.5  // mm: what through cuts may go into a spoil board
)

// Program is one side's program: either Read, or Segments where Read is nil.
type Program struct {
	Name     string
	Read     io.Reader
	Options  motion.Options
	Segments []Segment
	Offset   int   // the station's work offset, 540 for G54; 0 for no matter
	Also     []int // further offsets whose zero is the same place
	// Source gives the line to be told for a line of Read, where that was made from
	// the file called Name; nil where they are the same.
	Source func(line int) int
	// Then are the programs that run on the side after this one. Each finds the
	// control as it starts up and the material as the one before left it.
	Then []Program
}

// Pin is a dowel that stands in a hole of the blank.
type Pin struct {
	X, Y, Dia float64
	Height    float64 // over the seat; 0 is as high as the blank
	// Drilled says that the face program drills its hole, through the blank and
	// into the bed.
	Drilled bool
}

// Circle is a hole.
type Circle struct{ X, Y, Dia float64 }

// Rect is a rectangle of the bed with its near-left corner at X, Y. Nothing may
// enter it; where Height isn't 0 only what comes lower than that over the bed counts.
type Rect struct{ X, Y, W, H, Height float64 }

// Zero is the place of a station's X0 Y0 Z0 in machine coordinates.
type Zero struct {
	X, Y, Z float64
	ZKnown  bool
	Moved   [2]float64 // by how far corrections moved it in X and Y
}

// Travel is how far the machine goes on each axis, in machine coordinates.
type Travel struct{ Least, Greatest [3]float64 }

// Edge names an edge of the blank as it lay face up.
type Edge uint8

// The four edges.
const (
	NearEdge Edge = iota
	FarEdge
	LeftEdge
	RightEdge
)

// String gives the edge's name.
func (e Edge) String() string { return [...]string{"near", "far", "left", "right"}[e] }

// validate says what can't be: a *fault.Error about the key that says it, or nil.
func (q *Request) validate() error {
	for _, c := range []struct {
		about, name string
		v           float64
		ok          bool
		want        string
	}{
		{"stock", "blank width", q.W, q.W > 0 && q.W <= 1e5, "over 0 and at most 100000 mm"},
		{"stock", "blank height", q.H, q.H > 0 && q.H <= 1e5, "over 0 and at most 100000 mm"},
		{"stock", "blank thickness", q.T, q.T > 0 && q.T <= 1e4, "over 0 and at most 10000 mm"},
		{"skimmed", "skim", q.Skimmed, q.Skimmed >= 0 && q.Skimmed < q.T, "from 0 to less than the thickness"},
		{"zero", "face zero X", q.FaceZero[0], finite(q.FaceZero[0]), "a number"},
		{"zero", "face zero Y", q.FaceZero[1], finite(q.FaceZero[1]), "a number"},
		{"web", "least web", q.Web, q.Web >= 0 && finite(q.Web), "0 or more"},
		{"tolerance", "misalignment", q.Misalignment, q.Misalignment >= 0 && q.Misalignment <= 1000, "from 0 to 1000 mm"},
		{"tolerance", "thickness tolerance", q.ThicknessTol, q.ThicknessTol >= 0 && finite(q.ThicknessTol), "0 or more"},
		{"stock", "nominal thickness", q.Nominal, q.Nominal >= 0 && finite(q.Nominal), "0 or more"},
		{"cell", "cell", q.Cell, q.Cell == 0 || q.Cell >= 1e-3 && finite(q.Cell), "at least 0.001 mm, or 0"},
	} {
		if !c.ok {
			return cant(c.about, c.name, c.v, c.want)
		}
	}
	if q.BedDepth != nil && !(*q.BedDepth >= 0) {
		return cant("bed-depth", "depth into the bed", *q.BedDepth, "0 or more")
	}
	if q.FaceLevel > Bed || q.BackLevel > Bed {
		return &fault.Error{About: "z-zero", Found: "an unknown Z zero", Expected: "top or bed"}
	}
	if err := q.validateTools(); err != nil {
		return err
	}
	return q.validateBed()
}

// cant is a number that can't be.
func cant(about, name string, v float64, expected string) error {
	return &fault.Error{About: about, Found: name + " " + fault.Number(v), Expected: expected}
}

func (q *Request) validateTools() error {
	if len(q.Tools) == 0 {
		return &fault.Error{About: "tool", Found: "no tool", Expected: "at least one", Hint: "give each tool of the programs, for example 1=flat,6"}
	}
	seen := map[int]bool{}
	for _, t := range q.Tools {
		if err := t.Validate(); err != nil {
			return fault.About(err, "tool")
		}
		if seen[t.Number] {
			return &fault.Error{About: "tool", Found: fmt.Sprintf("tool %d twice", t.Number), Expected: "each number once"}
		}
		seen[t.Number] = true
	}
	return nil
}

// validateBed looks at what stands on the bed and in the blank.
func (q *Request) validateBed() error {
	for i, p := range q.Pins {
		if !(finite(p.X) && finite(p.Y) && p.Dia > 0 && finite(p.Dia) && p.Height >= 0) {
			return &fault.Error{About: "pin", Found: fmt.Sprintf("pin %d at X%s Y%s, %s wide and %s high", i+1, fault.Number(p.X), fault.Number(p.Y), fault.Number(p.Dia), fault.Number(p.Height)),
				Expected: "a place, a diameter over 0 and a height of 0 or more"}
		}
	}
	for i, r := range q.NoGo {
		if !(finite(r.X) && finite(r.Y) && r.W > 0 && r.H > 0 && r.Height >= 0 && finite(r.W) && finite(r.H)) {
			return &fault.Error{About: "no-go", Found: fmt.Sprintf("area %d at X%s Y%s, %s by %s", i+1, fault.Number(r.X), fault.Number(r.Y), fault.Number(r.W), fault.Number(r.H)),
				Expected: "a place and a size over 0"}
		}
	}
	if b := q.Bore; b != nil && !(finite(b.X) && finite(b.Y) && b.Dia > 0) {
		return &fault.Error{About: "bore", Found: fmt.Sprintf("a bore at X%s Y%s, %s wide", fault.Number(b.X), fault.Number(b.Y), fault.Number(b.Dia)), Expected: "a place and a diameter over 0"}
	}
	for _, l := range slices.Concat(q.Locators[:]...) {
		if l.Edge > RightEdge {
			return &fault.Error{About: "fence", Found: "an unknown edge", Expected: "near, far, left or right"}
		}
		if !(l.Height >= 0 && finite(l.Height)) {
			return cant("fence-height", "fence height", l.Height, "0 or more")
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
