package mirror

import (
	"context"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/plain"
	"flipcalc/mirror/transform"
)

// Options says how a program is mirrored.
type Options struct {
	// Name is the program's name in messages.
	Name string
	// Map carries the face's program coordinates to the back's.
	Map transform.Map
	// Unit is assumed until the program says G20 or G21.
	Unit transform.Unit
	// AbsoluteCentres assumes G90.1 until the program says G90.1 or G91.1.
	AbsoluteCentres bool
	// BackOffset is the code of the back's work offset, such as "G55" or "G54.1 P2"; "" leaves
	// the program's offsets alone.
	BackOffset string
	// FaceOffset is the code of the work offset that the face's zero was reckoned in,
	// such as "G54"; a program that calls another gets a warning. "" where it isn't known.
	FaceOffset string
	// OffsetMap says which offset of the face becomes which of the back, for
	// programs with more than one, such as "G54": "G56".
	OffsetMap map[string]string
	// KeepOffset leaves every offset alone, whatever else is said.
	KeepOffset bool
	// ZerosDiffer says that the back's zero isn't the face's, so that a program
	// which still calls the face's offset would cut in the wrong place.
	ZerosDiffer bool
	// ArcTolerance is the largest difference in mm between an arc's radii at start
	// and end; 0 means 0.05.
	ArcTolerance decimal.Decimal
	// Inert are M codes that move no axis, as the maker says.
	Inert []int
	// Comment is the text of the one comment line that is added; "" adds none. Where it
	// begins with "back of ", the next pass knows by it that the program was mirrored.
	Comment string
	// ReverseCuts reverses every cutting chain, so that the cutter keeps its side. The
	// program is read twice: from a reader that can't seek it is copied first.
	ReverseCuts bool
	// Stream hands proved blocks on at once instead of waiting for the last.
	Stream bool
	// Direct says that the caller discards what was written to out when Mirror
	// fails, such as a temporary file beside the target, so that nothing needs to
	// wait for the proof.
	Direct bool
	// Blank is the near-left and far-right corner of the blank in the program's
	// coordinates, in Map.Unit; nil when it isn't known.
	Blank *[2][2]decimal.Decimal
	// Top is the height of the blank's upper surface in the program's coordinates, in
	// Map.Unit; nil when it isn't known. Only ReverseCuts asks for it.
	Top *decimal.Decimal
	// SummaryLimit is the longest program, in bytes, for which Before and After are
	// made, and with them the warning of a program that doesn't lie on the blank: for
	// long programs they'd take longer than all the rest. 0 means 8 MiB, less than 0
	// none.
	SummaryLimit int64
	// Rates are the machine's, for the times in Before and After; nil for defaults.
	Rates *motion.Rates
	// Progress, when not nil, is called now and then with the bytes read so far.
	Progress func(done int64)
	// Context, when not nil, ends the work early.
	Context context.Context

	survey *survey // for ReverseCuts
}

// Report says what was done to a program.
type Report struct {
	Blocks int64 // blocks with words, comments and blank lines left out
	Moves  int64 // blocks with axis words that move an axis
	Notes  []Note

	// Before and After say what the program and its mirror image do. Only Mirror
	// fills them, and only up to Options.SummaryLimit, where Summarised is true.
	Before, After motion.Summary
	Summarised    bool

	// Map and InchMap are the transforms used in G21 and in G20.
	Map, InchMap transform.Map

	// InsertedOffset is the offset that was put before the first motion, such as
	// "G55"; "" when none was.
	InsertedOffset string

	// Called are the offsets that the program calls, in the order of its lines.
	Called []string

	// Chains counts the cutting chains (from one rapid to the next) that turn from
	// climb to conventional or back; 0 when the transform reverses no single axis. With
	// ReverseCuts it is Reversed and Left together, each depth a chain.
	Chains int64
	// Reversed counts the chains that ReverseCuts reversed, Left names the others, which
	// stay as mirrored.
	Reversed int64
	Left     []Chain
	// Opened counts those of the reversed chains that are open, so that the tool goes
	// down at their other end; FirstOpened is the line where the first begins.
	Opened      int64
	FirstOpened int
	Turned      []Chain // the reversed ones; each has as many lines in the mirrored program

	// Added are the lines of the mirrored program that were put in: a comment, an offset.
	Added []int
	// Written says how a program was written out that the map turns; nil where it doesn't.
	Written *plain.Report
}

// Chain is a cutting chain, by its first and last line in the program.
type Chain struct {
	First, Last int
	Why         string
}

// Level says how much a note matters.
type Level string

// The levels of notes, in rising order.
const (
	Assumed Level = "assumed" // state that the program relies on and doesn't say
	Info    Level = "note"
	Warning Level = "warning"
)

// Note is one thing that the maker should know. The words for each code live in
// the report package; Values fill them.
type Note struct {
	Code   string
	Level  Level
	Line   int // 0 means the program as a whole
	Values []string
}

// The codes of notes, with their values.
const (
	// AssumedUnit: the first length comes before any G20 or G21. Values: mm or in.
	AssumedUnit = "assumed-unit"
	// AssumedDistance: the first move comes before any G90 or G91. Values: G90.
	AssumedDistance = "assumed-distance"
	// AssumedPlane: the first arc or cycle comes before any G17, G18 or G19. Values: G17.
	AssumedPlane = "assumed-plane"
	// AssumedCentres: the first centre comes before any G90.1 or G91.1. Values: G90.1 or G91.1.
	AssumedCentres = "assumed-centres"
	// AssumedFeed: the first feed move comes before any G93, G94 or G95. Values: G94.
	AssumedFeed = "assumed-feed"
	// AssumedStraight: an axis moves before any motion word or after G80, at rapid or at
	// feed as the control has it.
	AssumedStraight = "assumed-straight"
	// WholeNumbers: numbers without a point are read as whole units. Values: mm or in.
	WholeNumbers = "whole-numbers"
	// InchRounded: an offset in mm is no finite number of inches. Values: axis, used
	// offset in inches, exact offset in mm.
	InchRounded = "inch-rounded"
	// IncrementalStart: the program moves by G91 from wherever the tool stands.
	// Values: axis.
	IncrementalStart = "incremental-start"
	// CutAtStart: a reversed axis isn't given before the first cut, which starts
	// wherever the tool stands. Values: axis.
	CutAtStart = "cut-at-start"
	// AfterChange: a move counts from where the tool change left the axis. Values: axis.
	AfterChange = "after-change"
	// ZeroHere: G92 says what the place is called where the tool stands at the start.
	// Values: axis, number in the face program, number in the back program, unit.
	ZeroHere = "zero-here"
	// ZeroLeft: G92 or G52 isn't cancelled before the end. Values: code.
	ZeroLeft = "zero-left"
	// Machine: a G53 move in machine coordinates was left as it is. Values: axes.
	Machine = "machine-move"
	// Home: G28 or G30 goes home, which isn't mirrored. Values: code.
	Home = "home"
	// Rotary: a rotary axis was left as it is. Values: A, B or C.
	Rotary = "rotary"
	// Helix: a milled thread changes hand.
	Helix = "helix"
	// ArcMismatch: the radii of arcs at start and end differ by more than NISTIR 6556,
	// 3.5.3.2, allows. Values: how many arcs, the largest difference in mm.
	ArcMismatch = "arc-mismatch"
	// CycleKept: L0 keeps a cycle's words and drills nothing. Values: the cycle.
	CycleKept = "cycle-kept"
	// CycleLevel: a cycle runs without an R word since it began. Values: the cycle.
	CycleLevel = "cycle-level"
	// CycleBare: a cycle's code stands without axis words. Values: the cycle.
	CycleBare = "cycle-bare"
	// StoppedTap: G84 runs with the spindle stopped.
	StoppedTap = "stopped-tap"
	// MachineCounts: a G53 block stands in G91.
	MachineCounts = "machine-counts"
	// MarkDropped: the text began with a byte-order mark.
	MarkDropped = "mark-dropped"
	// TextKept: a line or a comment that controls read in several ways holds no word.
	TextKept = "text-kept"
	// PassedOn: an M code that moves no axis is passed on. Values: code.
	PassedOn = "passed-on"
	// LookAhead: a code that switches look-ahead is passed on. Values: code.
	LookAhead = "look-ahead"
	// TextAfterEnd: text behind M2, M30, the closing % or ^Z, which moves nothing, is left as
	// it is.
	TextAfterEnd = "text-after-end"
	// BackBoring: G87's tool stop angle isn't mirrored.
	BackBoring = "back-boring"
	// AlreadyMirrored: the program carries the comment of an earlier pass, so that it
	// lies as on the face again.
	AlreadyMirrored = "already-mirrored"
	// OtherOffset: the program calls another offset than the face's. Values: its offset,
	// the face's, the back's.
	OtherOffset = "other-offset"
	// NoOffset: the program calls no offset and none was inserted.
	NoOffset = "no-offset"
	// OffsetsKept: offsets were left alone although the zeros differ. Values: codes.
	OffsetsKept = "offsets-kept"
	// OffsetMapped: Values: offset of the face, offset of the back.
	OffsetMapped = "offset-mapped"
	// OffsetInserted: Values: offset of the back.
	OffsetInserted = "offset-inserted"
	// DeletedState: a block with a slash changes modal state; the program is right
	// with the switch on and off.
	DeletedState = "deleted-state"
	// NoEnd: the program has neither M2, M30 nor a closing %.
	NoEnd = "no-end"
	// OtherSide: chains turn from climb to conventional. Values: how many.
	OtherSide = "other-side"
	// WrittenTurned: the moves were turned about the zero and written out. Values: degrees,
	// decimals, unit.
	WrittenTurned = "written-turned"
	// CutsReversed: what came of the wish to reverse cuts. Values: how many chains were
	// reversed, how many were left as mirrored.
	CutsReversed = "cuts-reversed"
	// OtherEnd: open chains were reversed, so that the tool goes down where it came out.
	// Values: how many.
	OtherEnd = "other-end"
	// LeftAsMirrored: chains that weren't reversed. Values: the reason, then the lines of
	// each, such as 12-17, 20 or, to the end of the program, 31 on.
	LeftAsMirrored = "left-as-mirrored"
	// NotSummarised: the program is longer than Options.SummaryLimit, so that nothing is
	// known of where it moves. Values: the limit in MiB.
	NotSummarised = "not-summarised"
	// SpindleStopped: a program that starts the spindle cuts with it stopped. Values: moves.
	SpindleStopped = "spindle-stopped"
	// LowRapids: rapid moves below the surface. Values: how many.
	LowRapids = "low-rapids"
	// OffBlank: the cuts don't lie on the blank; the likely causes are another zero, or
	// a program that is mirrored already. Values: axis, least, greatest, blank's least,
	// blank's greatest, all in the unit that follows.
	OffBlank = "off-blank"
)
