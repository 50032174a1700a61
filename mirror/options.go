package mirror

import (
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
	// Rates are the machine's, for the times in Before and After; nil for defaults.
	Rates *motion.Rates

	// Progress, when not nil, is called now and then with the bytes read so far.
	Progress func(done int64)

	longest int64   // program, in bytes, that is summarised; 0 means longestSummarised, less than 0 none
	passes  *passes // for ReverseCuts
}

// Report says what was done to a program.
type Report struct {
	Blocks int64 // blocks with words, comments and blank lines left out
	Moves  int64 // blocks with axis words that move an axis
	Notes  []Note

	// Before and After say what the program and its mirror image do. Only Mirror
	// fills them, and only up to longestSummarised, where Summarised is true.
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
