// Package report puts what the other rooms found out in the order in which a person at
// the machine reads it: tables for a terminal, JSON, one HTML page with its numbered
// steps and drawings, and pictures. It computes nothing about blanks or programs.
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
	Picture   string   // the file of both sides as they lie, "" where none is written
	// TouchOffs and OffsetChecks are how the offsets are set by hand and looked at;
	// StickOut: it is known how far the tool that Z is touched off with sticks out.
	StickOut bool
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
	// Held are the places, from the blank's near-left corner, face up, that check took for
	// held to the end beside clamps; HeldAll is all of the blank.
	Held    []registration.Point
	HeldAll bool

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

	Drawings *Drawings
}

// Program is one file that the machine runs, or that such a file came from.
type Program struct {
	Name        string           `json:"name"`
	Role        string           `json:"role"`           // "face", "back", "mirrored", "as written", "offsets", "drilling", "cycle", "first cycle", "last cycle"
	From        string           `json:"from,omitempty"` // the file it was made from
	Offset      string           `json:"offset,omitempty"`
	Bytes       int64            `json:"bytes"`
	SHA256      string           `json:"sha256,omitempty"` // lower-case hexadecimal
	Blocks      int64            `json:"blocks,omitempty"`
	Moves       int64            `json:"moves,omitempty"`
	Seconds     Estimate         `json:"seconds,omitempty"` // 0 is unknown
	Lowest      *decimal.Decimal `json:"-"`                 // least Z that it goes to, in the setup's unit; nil is unknown
	Crossing    *decimal.Decimal `json:"-"`                 // least Z at which rapid moves go beyond its cuts; nil is none known
	Cuts        transform.Box    `json:"-"`                 // of its cutting moves, in program coordinates; empty is unknown
	Tools       []int            `json:"tools,omitempty"`
	Changes     int              `json:"tool_changes,omitempty"` // of a program that was merged
	Compensated bool             `json:"-"`                      // by the cutter's radius, beside Cuts
	Stints      []motion.Stint   `json:"-"`                      // what each tool cuts, of a program that isn't merged; nil is unknown
}

// Drawings holds what the drawings need beyond the setup's own numbers.
type Drawings struct {
	Face, Back *draw.Path // tool paths, in program coordinates and in the setup's unit
	Web        *draw.Grid // what is left, seen from the face

	// FaceTop and BackTop are the heights over the seating plane of the surface
	// that is being cut, as the blank then lies.
	FaceTop, BackTop *draw.Grid
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

// Tool is one cutter.
type Tool struct {
	Number int              `json:"number"`
	Shape  string           `json:"shape"` // flat, ball, vee, bull or drill
	Dia    decimal.Decimal  `json:"dia"`
	X      *decimal.Decimal `json:"x,omitempty"` // vee: included angle in degrees; bull: corner radius
	Flute  *decimal.Decimal `json:"flute,omitempty"`
}

// TouchOff is one reading when an offset is set by hand: jog until the tool touches,
// then enter what the axis must read in that offset.
type TouchOff struct {
	Pair    int              `json:"pair"`
	Side    string           `json:"side"`
	Offset  string           `json:"offset"`
	What    string           `json:"touch"` // what is touched, for example "left stop"
	Centred bool             `json:"-"`     // the spindle is centred on it instead of standing beside it
	Axis    string           `json:"axis"`
	Reads   *decimal.Decimal `json:"reads"`   // without half the tool where that is to be added
	Half    int              `json:"-"`       // +1 or -1: half the tool, not known, is to be added or taken off
	Machine *decimal.Decimal `json:"machine"` // where the axis then stands in machine coordinates, if known
}

// OffsetCheck is how the maker looks whether an offset points at the right place.
type OffsetCheck struct {
	Offset string   `json:"offset"`
	Lines  []string `json:"lines"`
}

// Caution is one thing that can hurt a person, a cutter or the part.
type Caution struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// bedUnit is the unit of everything on the bed.
func (s *Setup) bedUnit() transform.Unit {
	if s.BedUnit != nil {
		return *s.BedUnit
	}
	return s.Unit
}

// Name is what the sheet is headed with.
func (s *Setup) Name() string {
	if s.Title != "" {
		return s.Title
	}
	if s.Job != "" {
		return s.Job
	}
	return "Second side"
}
