// Package report says what the other rooms found out in words that a person at
// the machine can follow: tables for a terminal, JSON, one HTML page
// with drawings, and pictures. It computes nothing about blanks or programs; it
// only finds words and draws.
//
// Lengths are exact decimals in Setup.Unit and are written in full. Drawings
// are rounded, the numbers written beside them are not.
package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/draw"
)

// Setup is everything that a set-up sheet can say. Every part is optional: a
// part that is empty takes no room in any output.
type Setup struct {
	Title    string // what is made, for example "Row marker"
	Job      string // name of the job file
	Correct  string // the command that corrects the second zero, up to what was measured
	Material string // for example "beech"
	Unit     transform.Unit
	Version  string // of the tool that wrote the sheet

	undrawn bool // read without its drawings

	// BedUnit is the unit of Machine, Stations, Lines and ClearZ; nil is Unit.
	BedUnit *transform.Unit

	Answer *registration.Answer
	// Reading is the machine Z that is read when the tool that Z is touched off with
	// stands on the zero of the face and of the back; nil where that isn't known.
	Reading [2]*decimal.Decimal
	// Pairs are the answers at the stations of each pair, the first of them Answer:
	// where each one's locators stand. It is nil without stations on a bed.
	Pairs     []*registration.Answer
	Machine   *Machine
	Stations  []Station
	Lines     []string // the offsets program, one block an element
	LinesFile string   // the file it is in
	// TouchOffs and OffsetChecks are how the offsets are set by hand and looked at;
	// TouchTool is the tool that touches beside something, 0 where none is known.
	TouchOffs    []TouchOff
	OffsetChecks []OffsetCheck
	TouchTool    int
	// Offsets are those of each pair, face and back, where pair merges programs
	// without stations on a bed.
	Offsets  [][2]string
	ClearZ   *decimal.Decimal
	Programs []Program
	Tools    []Tool
	Feeler   *decimal.Decimal // thickness of the touch-off feeler
	Level    *Level           // what the stations' Z was reckoned from
	Fixture  *decimal.Decimal // how far a fixture plate goes beyond the blank, all round

	Budget  *Budget
	Plan    *Plan
	Check   *Check
	Pins    *PinFit
	Landed  *Landed
	Mirrors []Mirrored

	Notes []Note // whatever else must be said

	// Checklist asks for the steps at the machine and for the cautions. A quick
	// answer leaves it off.
	Checklist bool
	Guarded   bool // stations are loaded behind a guard rather than with the machine held
	TabsFree  bool // parts are cut free, so tabs are called for

	Drawings *Drawings
}

// Machine is the bed that drawings show and that findings speak of, in machine
// coordinates.
type Machine struct {
	Name     string
	Least    [3]decimal.Decimal // of the travel, X Y Z
	Greatest [3]decimal.Decimal
	Bed      *Area // nil: the travel in X and Y
	NoGo     []Area
	Taken    []Taken // offsets that belong to something else
}

// travels says that the machine's travel in X and Y is known.
func (m *Machine) travels() bool {
	return m.Least[0].LessThan(m.Greatest[0]) && m.Least[1].LessThan(m.Greatest[1])
}

// Area is a rectangle of the bed, its near-left corner and size.
type Area struct {
	At     registration.Point
	W, H   decimal.Decimal
	Height *decimal.Decimal // over the bed; nil is up to the spindle, or nothing that stands there
	Name   string
}

// Taken is an offset in use; Area is nil if it covers no known part of the bed.
type Taken struct {
	Offset string
	Area   *Area
}

// Station is one place where a blank is held.
type Station struct {
	Pair    int // from 1
	Back    bool
	Offset  string // for example "G55"
	P       int    // the P number of G10 L2; 0 when there is none
	Zero    registration.Position
	Corner  registration.Point // near-left corner of the blank as it lies
	W, H    decimal.Decimal    // the blank as it lies, so exchanged if Turned
	Turned  bool               // by a quarter turn
	Quarter int                // quarter turns counter-clockwise, 0 to 3
	Pins    []registration.Pin // machine places
}

// Level is what a face station's Z zero was reckoned from without touching off, in the
// bed's unit.
type Level struct {
	Table    decimal.Decimal // machine Z at which the bare spindle nose would meet the table
	StickOut decimal.Decimal // from the nose to the tip of the tool that is touched off
	Seat     decimal.Decimal // height of the seating plane over the table
	BackSeat decimal.Decimal
	SeatSaid bool             // the maker said it; else it was taken as 0
	Thick    *decimal.Decimal // of the blank as it lies there, nil where Z0 is the seating plane
}

// Program is one file that the machine runs, or that such a file came from.
type Program struct {
	Name    string
	Role    string // "face", "back", "mirrored", "as written", "offsets", "drilling", "cycle", "first cycle", "last cycle"
	From    string // the file it was made from
	Offset  string
	Bytes   int64
	SHA256  string // lower-case hexadecimal
	Blocks  int64
	Moves   int64
	Seconds float64          // estimated; 0 is unknown
	Lowest  *decimal.Decimal // least Z that it goes to, in the setup's unit; nil is unknown
	Tools   []int
	Changes int            // tool changes, of a program that was merged
	Stints  []motion.Stint // what each tool cuts, of a program that isn't merged; nil is unknown
}

// Tool is one cutter.
type Tool struct {
	Number int
	Shape  string // flat, ball, vee, bull or drill
	Dia    decimal.Decimal
	X      *decimal.Decimal // vee: included angle in degrees; bull: corner radius
	Flute  *decimal.Decimal
	Used   string // where, for example "face and back"
}

// Budget is how far off the back can be at one point, in the setup's unit.
type Budget struct {
	At       registration.Point // in the face's as-laid frame
	Terms    []BudgetTerm       // the greatest first
	Worst    float64            // the sum of the limits
	Likely   float64            // expanded uncertainty, k = 2, at most Worst
	Dominant string
	Halve    string // what halving the dominant term's value would give
	Web      []string
	Notes    []Note
}

// BudgetTerm is one contribution, as a limit to both sides at the budget's point.
type BudgetTerm struct {
	Code   string
	Name   string
	X, Y   float64
	Worst  float64
	Sides  string // "face", "back", "both" for one error on both sides, or ""
	Reason string
}

// Place is a point in the part, found on a grid and so only as exact as it.
type Place struct{ X, Y float64 }

// Check is what cutting both sides in memory found. Lengths are in the setup's
// unit, areas in its square. Places are in the face program's coordinates, X and
// Y from the face zero.
type Check struct {
	Cell     float64
	HasWeb   bool
	WebMin   float64
	WebAt    Place
	Least    *decimal.Decimal // the least web asked for
	WebLess  *float64         // the least web with the budget taken off
	Islands  []Island         // where the two sides meet and shouldn't
	Tabs     *Tabs            // nil where there are none
	Through  []Through        // cuts that are meant to go through
	Loose    []Loose          // parts that come loose
	Findings []Finding        // what hurts most first
	Travel   []Travel         // empty where it isn't known
	Notes    []Note           // what it rests on and what was left out
	Standing []Standing       // the locators as they were taken
}

// Island is a hole that nothing asked for.
type Island struct {
	Area, Overlap      float64
	X, Y               float64
	FaceLine, BackLine int
	FaceFile, BackFile string
}

// Through is one cut that goes through on purpose.
type Through struct {
	Kind               string
	Both               bool // cut from both sides
	X, Y               float64
	Overlap, Step      float64
	FaceLine, BackLine int
	FaceFile, BackFile string
}

// Tabs are the bridges that hold parts in cuts that are meant to go through.
type Tabs struct {
	Count int
	Least float64 // height of the lowest
	At    Place   // on it
}

// Loose is a part of the blank that comes loose.
type Loose struct {
	Area float64
	X, Y float64
	Side string
	Line int
	File string
}

// Finding is one thing that check found.
type Finding struct {
	Code     string
	Level    string // "finding" makes the answer no; "note" does not
	Hit      bool   // the cutter or its shank runs into something it shouldn't touch
	Side     string // "face", "back" or "both"
	X, Y     float64
	Back     *Place // where the back's cut lies, if that is another place
	Depth    float64
	HasPlace bool
	HasDepth bool
	FaceLine int // 0 is none
	BackLine int
	FaceFile string // the programs that the lines are in
	BackFile string
	Text     string
	Do       string
}

// Travel is what is left of the travel on one axis at one station, in the
// setup's unit; below 0 it is exceeded.
type Travel struct {
	Station string // for example "G55", or "face"
	Axis    string // X, Y or Z
	Low     float64
	High    float64
	OK      bool
	Room    float64 // left above the moves that go with the offset, by which it can be raised
}

// PinFit is the verdict on a dowel or plug layout.
type PinFit struct {
	Fit       string // for example "H7/m6"
	Pin       decimal.Decimal
	Least     decimal.Decimal // diametral clearance; negative is interference
	Most      decimal.Decimal
	Foolproof bool
	Cure      string
	Program   string // file that drills the holes

	Layout   *Layout // dowels: the whole pattern
	Stud     *Stud   // plug: its measures
	Index    *Dowel  // plug: its index pin, where its hole in the bed is asked for
	Drilling []Drilling
	Notes    []Note
}

// Landed is a correction after a measured mismatch.
type Landed struct {
	Measured []Measured
	From     string             // how the zero that the piece was cut with is known
	Shift    registration.Point // the mean mismatch
	Before   *registration.SecondZero
	After    *registration.SecondZero
	Line     string // the block that stores it; "" where none can
	// Turn is the rotation that two or more measurements show, in degrees,
	// counter-clockwise; nil where it can't be told or isn't clear.
	Turn *float64
	// Ways are the ways to correct, of which one is chosen: the zero alone first.
	Ways  []Way
	Notes []Note
}

// Way is one way to correct, with the zero that goes with it and with no other.
type Way struct {
	Do      string // "" is nothing but the zero
	Zero    *registration.SecondZero
	Keep    string               // the line of the job that keeps it, "" where nothing changes in it
	Remains []registration.Point // what it leaves at each measurement
	Most    float64              // the greatest of them
}

// Measured is where the back lay minus where it should.
type Measured struct {
	DX, DY decimal.Decimal
	At     *registration.Point
}

// Mirrored is what the mirror did to one program.
type Mirrored struct {
	In, Out    string
	Blocks     int64
	Moves      int64
	Map        transform.Map
	WrittenOut bool   // run and written as plain blocks: its moves are proved, not the reading of its macros
	Inserted   string // offset word that was added, "" if none
	Before     Motion
	After      Motion
	Notes      []Note
}

// Motion is the summary of what a program does, lengths in the setup's unit.
type Motion struct {
	Known           bool
	Least, Greatest [3]float64 // of the cutting moves
	CutLength       float64
	RapidLength     float64
	Seconds         float64
	Tools           []int
	Offsets         []string
	Spindles        []string   // senses while cutting: M3, M4 or M5
	From, To        [3]float64 // of all moves, rapids too
	FromOK          [3]bool    // whether they are known
	Deepest         float64    // cut, below the surface
	RapidsBelow     int        // rapid moves below the surface
	FirstRapidLine  int
}

// Note is one thing to tell; Code and Values are kept for machines, Text is for
// people.
type Note struct {
	Code   string
	Level  string // "assumed", "note", "warning" or "caution"
	File   string
	Line   int
	Values []string
	Text   string
}

// Drawings holds what the drawings need beyond the setup's own numbers.
type Drawings struct {
	Face, Back *draw.Path // tool paths, in program coordinates and in the setup's unit
	Web        *draw.Grid // what is left, seen from the face

	// FaceTop and BackTop are the heights over the seating plane of the surface
	// that is being cut, as the blank then lies.
	FaceTop, BackTop *draw.Grid
}
