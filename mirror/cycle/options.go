package cycle

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Place is a place in machine X and Y.
type Place struct {
	X, Y decimal.Decimal
	Unit transform.Unit
}

// Order is the order in which a steady cycle cuts.
type Order uint8

// ByTools changes tools as seldom as can be, so both stations are busy to the end of the
// cycle. ByStations cuts every face, then every back, so that the side that isn't cut can
// be reloaded.
const (
	ByTools Order = iota
	ByStations
)

// Source is one side's program.
type Source struct {
	Name            string // in messages
	Text            []byte
	Unit            transform.Unit // until G20 or G21
	AbsoluteCentres bool           // until G90.1 or G91.1
	Inert           []int          // M codes that move no axis
	// Then are programs that follow on the same side, each from its own beginning:
	// what it relies on is written again, so nothing leaks from one into the next.
	Then []Source
	// Turned is Text turned about its zero by so many quarter turns, counter-clockwise, for
	// stations that are; it has the same pieces.
	Turned [4][]byte
	// From is the file that messages and notes name where Text was written from another
	// one, and Lines the line there of a line of Text, nil where they are the same.
	From  string
	Lines func(int) int
}

// all lists a side's programs in order.
func (s *Source) all() []Source { return append([]Source{*s}, s.Then...) }

// Station is where a side is cut.
type Station struct {
	Offset string           // "G54" ... "G59", "G59.1" ... "G59.3"
	ZeroZ  *decimal.Decimal // machine Z of its zero; needed without G53
	// ZeroX and ZeroY are the other machine coordinates of its zero, where known.
	// Only the times rest on them.
	ZeroX, ZeroY *decimal.Decimal
	Turn         int // quarter turns by which it is turned: that Source.Turned is cut there
}

// Pair is a face station and a back station.
type Pair struct{ Face, Back Station }

// Options says what is merged and how.
type Options struct {
	Face, Back Source
	Pairs      []Pair
	Order      Order

	// Unit is that of Clear and of every ZeroZ.
	Unit transform.Unit
	// Clear is the machine Z at which every tool passes over everything on the bed.
	Clear *decimal.Decimal
	// G53 says that the control takes moves in machine coordinates. Without it the
	// clear height is written in each offset, as Clear less that zero's Z.
	G53 bool
	// Park is where the tool stands while hands are at the stations: at a pause and at
	// the end. It needs G53; nil leaves the tool over the station that was cut last.
	Park *Place
	// Change is where the control changes tools, nil for where the tool stands; Home is
	// where G28 and G30 lead, nil for unknown. Only the ways rest on them.
	Change, Home *Place
	Ways         bool // whether Result.Ways is wanted

	Pause   string // "M0" or "M1" where the maker is to act, between faces and backs; "" for none
	Comment string // text of the one comment line at the top; "" for none
	// Comments are used instead of Comment where they are set: for the first, the
	// steady and the last program.
	Comments [3]string
	Marks    bool // a comment before each piece says which it is

	ArcTolerance motion.Num    // as in motion.Options
	Rates        *motion.Rates // for the times; nil means the defaults
}

// validate checks everything but the programs.
func (o *Options) validate() error {
	if len(o.Pairs) == 0 {
		return &fault.Error{Found: "no pairs of stations", Expected: "at least one"}
	}
	if o.Clear == nil {
		return &fault.Error{Found: "no clear height", Expected: "one machine Z above everything on the bed with the longest tool",
			Hint: "give the table's height in the machine file and the tools' stick-outs, or the clear height itself"}
	}
	if o.Park != nil && !o.G53 {
		return &fault.Error{Found: "a place to park on a machine without G53", Expected: "moves in machine coordinates (g53 = true)", Hint: "leave the place out, and move the tool aside by hand"}
	}
	if o.Pause != "" && o.Pause != "M0" && o.Pause != "M1" {
		return &fault.Error{Found: fmt.Sprintf("pause %q", o.Pause), Expected: "M0 or M1"}
	}
	for _, c := range append(o.Comments[:], o.Comment) {
		if _, err := comment(c); err != nil {
			return err
		}
	}
	seen := map[string]bool{}
	for i, p := range o.Pairs {
		for _, s := range []Station{p.Face, p.Back} {
			where := fmt.Sprintf("pair %d: ", i+1)
			switch {
			case transform.OffsetCode(s.Offset) == 0:
				return &fault.Error{Found: where + fmt.Sprintf("offset %q", s.Offset), Expected: "G54 to G59, G59.1 to G59.3"}
			case seen[s.Offset]:
				return &fault.Error{Found: where + s.Offset + " a second time", Expected: "an offset of its own for each station"}
			case s.Turn != 0 && o.turnedMissing(s.Turn):
				return &fault.Error{Found: where + fmt.Sprintf("a station turned by %d degrees", 90*s.Turn), Expected: "the programs turned for it as well"}
			case !o.G53 && s.ZeroZ == nil:
				return &fault.Error{Found: where + "no machine Z for " + s.Offset, Expected: "the Z of its zero, since without G53 the clear height is written from it"}
			}
			seen[s.Offset] = true
		}
	}
	return nil
}

// crlf reports whether the face's lines end in CR LF.
func (o *Options) crlf() bool { return bytes.Contains(o.Face.Text, []byte("\r\n")) }

// from is the line that a line of the text was written from; 0 is none.
func (s *Source) from(line int) int {
	if line == 0 || s.Lines == nil {
		return line
	}
	return s.Lines(line)
}

// seconds is what a side's own programs take, without tool changes.
func (s *Source) seconds(o *Options) (total float64, err error) {
	for _, src := range s.all() {
		sum, err := motion.Walk(bytes.NewReader(src.Text), motion.Options{Name: src.Name, Unit: src.Unit, AbsoluteCentres: src.AbsoluteCentres, Inert: src.Inert,
			ArcTolerance: o.ArcTolerance, Rates: o.Rates}, nil)
		if err != nil {
			return 0, err
		}
		total += sum.Seconds
	}
	return total, nil
}

// turnedMissing reports a program that isn't there turned so.
func (o *Options) turnedMissing(turn int) bool {
	return slices.ContainsFunc(append(o.Face.all(), o.Back.all()...), func(src Source) bool { return src.Turned[turn] == nil })
}
