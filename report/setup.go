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
	"flipcalc/registration/bed"
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
	Stations  []bed.Station
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
	Name     string             `json:"name,omitempty"`
	Least    [3]decimal.Decimal `json:"least"` // of the travel, X Y Z
	Greatest [3]decimal.Decimal `json:"greatest"`
	Bed      *draw.Area         `json:"bed"` // nil: the travel in X and Y
	NoGo     List[draw.Area]    `json:"no_go"`
	Taken    List[draw.Taken]   `json:"taken"` // offsets that belong to something else
}

// travels says that the machine's travel in X and Y is known.
func (m *Machine) travels() bool {
	return m.Least[0].LessThan(m.Greatest[0]) && m.Least[1].LessThan(m.Greatest[1])
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
	Name    string           `json:"name"`
	Role    string           `json:"role"`           // "face", "back", "mirrored", "as written", "offsets", "drilling", "cycle", "first cycle", "last cycle"
	From    string           `json:"from,omitempty"` // the file it was made from
	Offset  string           `json:"offset,omitempty"`
	Bytes   int64            `json:"bytes"`
	SHA256  string           `json:"sha256,omitempty"` // lower-case hexadecimal
	Blocks  int64            `json:"blocks,omitempty"`
	Moves   int64            `json:"moves,omitempty"`
	Seconds Estimate         `json:"seconds,omitempty"` // 0 is unknown
	Lowest  *decimal.Decimal `json:"-"`                 // least Z that it goes to, in the setup's unit; nil is unknown
	Tools   []int            `json:"tools,omitempty"`
	Changes int              `json:"tool_changes,omitempty"` // of a program that was merged
	Stints  []motion.Stint   `json:"-"`                      // what each tool cuts, of a program that isn't merged; nil is unknown
}

// Tool is one cutter.
type Tool struct {
	Number int              `json:"number"`
	Shape  string           `json:"shape"` // flat, ball, vee, bull or drill
	Dia    decimal.Decimal  `json:"dia"`
	X      *decimal.Decimal `json:"x,omitempty"` // vee: included angle in degrees; bull: corner radius
	Flute  *decimal.Decimal `json:"flute,omitempty"`
	Used   string           `json:"used,omitempty"` // where, for example "face and back"
}

// Budget is how far off the back can be at one point, in the setup's unit.
type Budget struct {
	At       registration.Point `json:"at"`     // in the face's as-laid frame
	Worst    Estimate           `json:"worst"`  // the sum of the limits
	Likely   Estimate           `json:"likely"` // expanded uncertainty, k = 2, at most Worst
	Terms    List[BudgetTerm]   `json:"terms"`  // the greatest first
	Dominant string             `json:"dominant,omitempty"`
	Halve    string             `json:"halve,omitempty"` // what halving the dominant term's value would give
	Web      []string           `json:"web,omitempty"`
	Notes    []Note             `json:"-"`
}

// BudgetTerm is one contribution, as a limit to both sides at the budget's point.
type BudgetTerm struct {
	Code   string   `json:"code"`
	Name   string   `json:"name"`
	X      Estimate `json:"x"`
	Y      Estimate `json:"y"`
	Worst  Estimate `json:"worst"`
	Sides  string   `json:"sides,omitempty"` // "face", "back", "both" for one error on both sides, or ""
	Reason string   `json:"reason,omitempty"`
}

// Place is a point in the part, found on a grid and so only as exact as it.
type Place struct {
	X Estimate `json:"x"`
	Y Estimate `json:"y"`
}

// Check is what cutting both sides in memory found. Lengths are in the setup's
// unit, areas in its square. Places are in the face program's coordinates, X and
// Y from the face zero.
type Check struct {
	Cell     Estimate         `json:"cell"`
	HasWeb   bool             `json:"-"`
	WebMin   Estimate         `json:"-"`
	WebAt    Place            `json:"-"`
	Least    *decimal.Decimal `json:"-"`       // the least web asked for
	WebLess  *Estimate        `json:"-"`       // the least web with the budget taken off
	Islands  List[Island]     `json:"islands"` // where the two sides meet and shouldn't
	Tabs     *Tabs            `json:"tabs"`    // nil where there are none
	Through  List[Through]    `json:"through"` // cuts that are meant to go through
	Loose    List[Loose]      `json:"loose"`   // parts that come loose
	Findings []Finding        `json:"-"`       // what hurts most first
	Travel   []Travel         `json:"-"`       // empty where it isn't known
	Notes    []Note           `json:"-"`       // what it rests on and what was left out
	Standing []Standing       `json:"-"`       // the locators as they were taken
}

// Island is a hole that nothing asked for.
type Island struct {
	X       Estimate `json:"x"`
	Y       Estimate `json:"y"`
	Area    Estimate `json:"area"`
	Overlap Estimate `json:"overlap"`
	Cuts
}

// Cuts are the lines of the two programs that meet, 0 for none, and their files.
type Cuts struct {
	FaceFile string `json:"face_file,omitempty"`
	FaceLine int    `json:"face_line,omitempty"`
	BackFile string `json:"back_file,omitempty"`
	BackLine int    `json:"back_line,omitempty"`
}

// Through is one cut that goes through on purpose.
type Through struct {
	Kind    string   `json:"kind"`
	Both    bool     `json:"both"` // cut from both sides
	X       Estimate `json:"x"`
	Y       Estimate `json:"y"`
	Overlap Estimate `json:"overlap"`
	Step    Estimate `json:"step"`
	Cuts
}

// Tabs are the bridges that hold parts in cuts that are meant to go through.
type Tabs struct {
	Count int      `json:"count"`
	Least Estimate `json:"least"` // height of the lowest
	Place          // on it
}

// Loose is a part of the blank that comes loose.
type Loose struct {
	X    Estimate `json:"x"`
	Y    Estimate `json:"y"`
	Area Estimate `json:"area"`
	Side string   `json:"side"`
	File string   `json:"file,omitempty"`
	Line int      `json:"line"`
}

// Finding is one thing that check found.
type Finding struct {
	Number int       `json:"number"` // from 1, in the answer
	Code   string    `json:"code"`
	Level  string    `json:"level"`          // "finding" makes the answer no; "note" does not
	Hit    bool      `json:"-"`              // the cutter or its shank runs into something it shouldn't touch
	Side   string    `json:"side,omitempty"` // "face", "back" or "both"
	*Place           // nil where it has none
	Back   *Place    `json:"back,omitempty"` // where the back's cut lies, if that is another place
	Depth  *Estimate `json:"depth,omitempty"`
	Cuts
	Text string `json:"text"`
	Do   string `json:"do,omitempty"`
}

// Travel is what is left of the travel on one axis at one station, in the
// setup's unit; below 0 it is exceeded.
type Travel struct {
	Station string   `json:"station"` // for example "G55", or "face"
	Axis    string   `json:"axis"`    // X, Y or Z
	Low     Estimate `json:"low"`
	High    Estimate `json:"high"`
	OK      bool     `json:"ok"`
	Room    Estimate `json:"-"` // left above the moves that go with the offset, by which it can be raised
}

// PinFit is the verdict on a dowel or plug layout.
type PinFit struct {
	Fit       string          `json:"fit,omitempty"` // for example "H7/m6"
	Pin       decimal.Decimal `json:"pin"`
	Least     decimal.Decimal `json:"least_clearance"` // diametral; negative is interference
	Most      decimal.Decimal `json:"most_clearance"`
	Foolproof bool            `json:"foolproof"`
	Cure      string          `json:"cure,omitempty"`
	Program   string          `json:"program,omitempty"` // file that drills the holes

	Layout   *Layout        `json:"layout,omitempty"`    // dowels: the whole pattern
	Stud     *Stud          `json:"plug,omitempty"`      // plug: its measures
	Index    *Dowel         `json:"index_pin,omitempty"` // plug: its index pin, where its hole in the bed is asked for
	Drilling List[Drilling] `json:"drilling"`
	Notes    []Note         `json:"-"`
}

// Landed is a correction after a measured mismatch.
type Landed struct {
	Measured List[Measured]           `json:"measured"`
	Shift    registration.Point       `json:"shift"` // the mean mismatch
	From     string                   `json:"from"`  // how the zero that the piece was cut with is known
	Before   *registration.SecondZero `json:"before"`
	After    *registration.SecondZero `json:"second_zero"`
	Line     string                   `json:"line,omitempty"` // the block that stores it; "" where none can
	// Turn is the rotation that two or more measurements show, in degrees,
	// counter-clockwise; nil where it can't be told or isn't clear.
	Turn *Estimate `json:"turn_degrees"`
	// Ways are the ways to correct, of which one is chosen: the zero alone first.
	Ways  List[Way] `json:"ways"`
	Notes []Note    `json:"-"`
}

// Way is one way to correct, with the zero that goes with it and with no other.
type Way struct {
	Do      string                   `json:"do"` // "" is nothing but the zero
	Zero    *registration.SecondZero `json:"second_zero"`
	Keep    string                   `json:"corrections,omitempty"` // the line of the job that keeps it, "" where nothing changes in it
	Remains List[registration.Point] `json:"remains"`               // what it leaves at each measurement
	Most    Estimate                 `json:"most"`                  // the greatest of them
}

// Measured is where the back lay minus where it should.
type Measured struct {
	DX decimal.Decimal     `json:"dx"`
	DY decimal.Decimal     `json:"dy"`
	At *registration.Point `json:"at"`
}

// Mirrored is what the mirror did to one program.
type Mirrored struct {
	In         string        `json:"in"`
	Out        string        `json:"out"`
	Map        transform.Map `json:"transform"`
	WrittenOut bool          `json:"-"` // run and written as plain blocks: its moves are proved, not the reading of its macros
	Blocks     int64         `json:"blocks"`
	Moves      int64         `json:"moves"`
	Inserted   string        `json:"inserted_offset,omitempty"` // offset word that was added, "" if none
	Before     Motion        `json:"before"`
	After      Motion        `json:"after"`
	Notes      []Note        `json:"-"`
}

// Motion is the summary of what a program does, lengths in the setup's unit.
type Motion struct {
	Known          bool         `json:"-"`
	Least          [3]Estimate  `json:"least"` // of the cutting moves
	Greatest       [3]Estimate  `json:"greatest"`
	CutLength      Estimate     `json:"cut_length"`
	RapidLength    Estimate     `json:"rapid_length"`
	Seconds        Estimate     `json:"seconds"`
	Tools          List[int]    `json:"tools"`
	Offsets        List[string] `json:"offsets"`
	Spindles       List[string] `json:"spindles"` // senses while cutting: M3, M4 or M5
	From           [3]Estimate  `json:"-"`        // of all moves, rapids too
	To             [3]Estimate  `json:"-"`
	FromOK         [3]bool      `json:"-"`                          // whether they are known
	Deepest        Estimate     `json:"deepest"`                    // cut, below the surface
	RapidsBelow    int          `json:"rapids_below_surface"`       // rapid moves below the surface
	FirstRapidLine int          `json:"first_rapid_line,omitempty"` // the first of them
}

// Note is one thing to tell; Code and Values are kept for machines, Text is for
// people.
type Note struct {
	Code   string   `json:"code,omitempty"`
	Level  string   `json:"level"` // "assumed", "note", "warning" or "caution"
	File   string   `json:"file,omitempty"`
	Line   int      `json:"line,omitempty"`
	Text   string   `json:"text"`
	Values []string `json:"values,omitempty"`
}

// Drawings holds what the drawings need beyond the setup's own numbers.
type Drawings struct {
	Face, Back *draw.Path // tool paths, in program coordinates and in the setup's unit
	Web        *draw.Grid // what is left, seen from the face

	// FaceTop and BackTop are the heights over the seating plane of the surface
	// that is being cut, as the blank then lies.
	FaceTop, BackTop *draw.Grid
}
