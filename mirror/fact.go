package mirror

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Note is one thing that the maker should know of a program, with its weight; report finds
// the words.
type Note struct {
	Level string // one of package fact
	Line  int    // 0 means the program as a whole
	Is    any    // one of the structs below
}

// What the program relies on and doesn't say.
type (
	// AssumedUnit: the first length comes before any G20 or G21.
	AssumedUnit struct{ Unit transform.Unit }
	// AssumedDistance: the first move comes before any G90 or G91.
	AssumedDistance struct{ Code string }
	// AssumedPlane: the first arc or cycle comes before any G17, G18 or G19.
	AssumedPlane struct{ Code string }
	// AssumedCentres: the first centre comes before any G90.1 or G91.1.
	AssumedCentres struct{ Code string }
	// AssumedFeed: the first feed move comes before any G93, G94 or G95.
	AssumedFeed struct{ Code string }
	// AssumedStraight: an axis moves before any motion word or after G80, at rapid or at
	// feed as the control has it.
	AssumedStraight struct{}
	// WholeNumbers: numbers without a point are read as whole units.
	WholeNumbers struct{ Unit transform.Unit }
	// NoEnd: the program has neither M2, M30 nor a closing %.
	NoEnd struct{}
	// DeletedState: a block with a slash changes modal state; the program is right
	// with the switch on and off.
	DeletedState struct{}
)

// Where a program starts from, and what it leaves behind.
type (
	// IncrementalStart: the program moves by G91 from wherever the tool stands.
	IncrementalStart struct{ Axis string }
	// CutAtStart: a reversed axis isn't given before the first cut, which starts
	// wherever the tool stands.
	CutAtStart struct{ Axis string }
	// AfterChange: a move counts from where the tool change left the axis.
	AfterChange struct{ Axis string }
	// ZeroHere: G92 says what the place is called where the tool stands at the start, in
	// the face program and in the back program.
	ZeroHere struct {
		Axis       string
		Face, Back string // the numbers, as they are written
		Unit       transform.Unit
	}
	// ZeroLeft: G52, G92 or G68 isn't cancelled before the end.
	ZeroLeft struct{ Code string }
)

// What the mirrored program keeps, drops or rounds.
type (
	// InchRounded: an offset in mm is no finite number of inches.
	InchRounded struct {
		Axis  string
		Used  decimal.Decimal // in
		Exact decimal.Decimal // mm
	}
	// MachineMove: a G53 move in machine coordinates was left as it is.
	MachineMove struct{ Axes string }
	// MachineCounts: a G53 block stands in G91.
	MachineCounts struct{}
	// Home: G28 or G30 goes home, which isn't mirrored.
	Home struct{ Code string }
	// Rotary: a rotary axis, A, B or C, was left as it is.
	Rotary struct{ Axis string }
	// MarkDropped: the text began with a byte-order mark.
	MarkDropped struct{}
	// TextKept: a line or a comment that controls read in several ways holds no word.
	TextKept struct{}
	// PassedOn: an M code that moves no axis is passed on.
	PassedOn struct{ Code string }
	// LookAhead: a code that switches look-ahead is passed on.
	LookAhead struct{ Code string }
	// TextAfterEnd: text behind M2, M30, the closing % or ^Z, which moves nothing, is left as
	// it is.
	TextAfterEnd struct{}
	// AlreadyMirrored: the program carries the comment of an earlier pass, so that it
	// lies as on the face again.
	AlreadyMirrored struct{}
	// WrittenTurned: the moves were turned about the zero and written out.
	WrittenTurned struct {
		Degrees  decimal.Decimal
		Decimals int
		Unit     transform.Unit
	}
)

// What a cut does that looks doubtful, or changes on the back.
type (
	// Helix: a milled thread changes hand.
	Helix struct{}
	// ArcMismatch: the radii of arcs at start and end differ by more than NISTIR 6556,
	// 3.5.3.2, allows.
	ArcMismatch struct {
		Arcs int
		Most string // the largest difference in mm, to three digits
	}
	// CycleKept: L0 keeps a cycle's words and drills nothing.
	CycleKept struct{ Cycle string }
	// CycleLevel: a cycle runs without an R word since it began.
	CycleLevel struct{ Cycle string }
	// CycleCarried: a cycle keeps its R or depth over a change of G90 and G91.
	CycleCarried struct {
		Depth byte   // its letter
		Given string // the mode in which they were given
		Now   string // the one in force
	}
	// CycleBare: a cycle's code stands without axis words.
	CycleBare struct{ Cycle string }
	// StoppedTap: G84 runs with the spindle stopped.
	StoppedTap struct{}
	// BackBoring: G87's tool stop angle isn't mirrored.
	BackBoring struct{}
	// SpindleStopped: a program that starts the spindle cuts with it stopped.
	SpindleStopped struct{ Moves int64 }
	// LowRapids: rapid moves below the surface.
	LowRapids struct{ Moves int64 }
	// NotSummarised: the program is longer than longestSummarised, so that nothing is
	// known of where it moves.
	NotSummarised struct{ MiB int64 }
	// OffBlank: the cuts don't lie on the blank; the likely causes are another zero, or
	// a program that is mirrored already.
	OffBlank struct {
		Axis            string
		Least, Greatest decimal.Decimal
		Left, Right     decimal.Decimal // of the blank
		Unit            transform.Unit
	}
)

// Work offsets.
type (
	// OtherOffset: the program calls another offset than the face's, which becomes the back's.
	OtherOffset struct {
		Offset, Face, Back string
		Own                *Own // set for the face's own program, where a job knows it
	}
	// Own is what an offset is taken for, as the machine file says; "" where it doesn't.
	Own struct{ For string }
	// NoOffset: the program calls no offset and none was inserted.
	NoOffset struct{}
	// OffsetsKept: an offset was left alone although the zeros differ.
	OffsetsKept struct{ Offset string }
	// OffsetMapped: an offset of the face became one of the back.
	OffsetMapped struct{ Face, Back string }
	// OffsetInserted: the back's was put in.
	OffsetInserted struct{ Back string }
)

// Chains between climb and conventional.
type (
	// OtherSide: chains turn from climb to conventional.
	OtherSide struct{ Chains int64 }
	// CutsReversed: what came of the wish to reverse cuts, in chains.
	CutsReversed struct {
		Reversed int64
		Left     int // as mirrored
	}
	// OtherEnd: open chains were reversed, so that the tool goes down where it came out.
	OtherEnd struct{ Chains int64 }
	// LeftAsMirrored: chains that weren't reversed, for one reason.
	LeftAsMirrored struct {
		Why   string
		Lines []string // of each: 12-17, 20 or, to the end of the program, 31 on
	}
)
