package cycle

import (
	"bytes"
	"fmt"

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
	Turned       bool // turned by 90 degrees: it needs a program of its own
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

// Program is one of the three programs.
type Program struct {
	Text    []byte
	Tools   []int // in the order in which they are called; -1 where none is named
	Changes int   // how often the tool in the spindle changes, the first one counted
	Summary *motion.Summary
	// Restarts are the places from which the program may be run again in the middle:
	// where a tool is called and nothing before is relied on. The first is its start.
	Restarts []Restart
	// Ends is the offset of the station that was cut last.
	Ends string
	// Seconds is what the machine takes without tool changes: Summary.Seconds and
	// the moves up, across and down between stations. An estimate.
	Seconds float64
}

// Restart is a place from which a program may be run.
type Restart struct {
	Line int // from 1
	Tool int // -1 where none is named
}

// Note is one thing that the maker should know; report finds the words.
type Note struct {
	Code   string // see the Note constants
	Line   int    // of the source, 0 for none
	Values []string
}

// Codes of notes. The first value is the program's name.
const (
	Dropped      = "piece without a cut left out" // values: tool
	AssumedState = "state assumed"                // values: the code written for it
	SameTools    = "same number, same tool"       // values: tool numbers that both sides use
	HomeInPiece  = "G28 or G30 kept"
	NumbersGone  = "block numbers taken out"
	OffsetChange = "runs in another offset" // values: the one it names, those that it runs in
	CompClosed   = "G40 written at the end"
)

// Result is the three programs.
type Result struct {
	// Steady cuts faces and backs, First faces only, Last backs only.
	First, Steady, Last Program
	// FaceSeconds and BackSeconds are what each side's own programs take at one
	// station, without tool changes.
	FaceSeconds, BackSeconds float64
	Ways                     []Way // across the bed, of all three programs
	Notes                    []Note
}

// Merge writes the three programs and proves them. Errors are *fault.Error; No is
// set where what was written could not be proved.
func Merge(o Options) (*Result, error) {
	if err := o.validate(); err != nil {
		return nil, err
	}
	m := &merger{o: o}
	for s, src := range []Source{o.Face, o.Back} {
		var parts, off []*program
		for _, src := range src.all() {
			p, err := cutProgram(src, o.ArcTolerance, false)
			if err != nil {
				return nil, err
			}
			q := p
			if p.deleted {
				if q, err = cutProgram(src, o.ArcTolerance, true); err != nil {
					return nil, err
				}
				if err := p.sameBlocks(q); err != nil {
					return nil, err
				}
			}
			parts, off = append(parts, p), append(off, q)
		}
		m.sides[s] = joined(parts)
		if m.sides[s].deleted {
			m.off[s] = joined(off)
		}
	}
	if err := m.agree(); err != nil {
		return nil, err
	}
	return m.merge()
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
			case s.Turned:
				return &fault.Error{Found: where + "a station turned by 90 degrees", Expected: "stations that lie as the programs were written",
					Hint: "a turned station needs its own program: place the pairs without turning"}
			case !o.G53 && s.ZeroZ == nil:
				return &fault.Error{Found: where + "no machine Z for " + s.Offset, Expected: "the Z of its zero, since without G53 the clear height is written from it"}
			}
			seen[s.Offset] = true
		}
	}
	return nil
}

// Names of the sides, for marks and messages.
var sideNames = [2]string{"face", "back"}

// merger is one merge under way.
type merger struct {
	o     Options
	sides [2]*program
	off   [2]*program // read with the block delete switch on, where that matters
	named groups      // what either program names
	notes []Note
}

// agree checks the two programs against each other.
func (m *merger) agree() error {
	parts := append(m.sides[0].each(), m.sides[1].each()...)
	turns := false
	for _, p := range parts {
		m.named |= p.named
		turns = turns || p.turns
	}
	refuse := func(p *program, line int, found, expected, hint string) error {
		return &fault.Error{File: p.name, Line: line, Col: b2i(line > 0), Found: found, Expected: expected, Hint: hint}
	}
	for _, p := range parts {
		if len(p.pieces) == 0 {
			return refuse(p, 0, "no cut", "a program that cuts", "")
		}
	}
	tools := map[int]bool{}
	for _, p := range parts {
		for _, other := range parts {
			if !p.turns && other.turns {
				return refuse(p, p.pieces[0].line, "a cut without M3 or M4 anywhere in the program", "a started spindle, as in "+other.name,
					"if the spindle is switched by hand for one side, it must be for the other")
			}
			if p.pieces[0].tool < 0 && other.pieces[0].tool >= 0 {
				return refuse(p, p.pieces[0].line, "a cut without a tool number", "T and M6, as in "+other.name, "")
			}
		}
		for _, pc := range p.pieces {
			tools[pc.tool] = true
			if pc.stopped > 0 && turns {
				return refuse(p, pc.stopped, "a cut with the spindle stopped", "M3 or M4 before it", "for a tool that cuts without turning, run the programs one after the other")
			}
			if pc.noSpeed > 0 && m.named&speedWord != 0 {
				return refuse(p, pc.noSpeed, "a started spindle without S", "S with M3 or M4, since S is used elsewhere", "it would turn at the speed of the piece before it")
			}
		}
	}
	for _, p := range parts {
		for _, pc := range p.pieces {
			if len(tools) > 1 && pc.noLength > 0 {
				return refuse(p, pc.noLength, fmt.Sprintf("tool %d cuts without G43, and so does or may another on the same touch-off", pc.tool),
					"G43 H for every tool, since all stations are touched off with one",
					"store the tool lengths and call G43 H after each M6, or keep to one tool")
			}
		}
	}
	for s, off := range m.off {
		if off == nil || m.named&lengthWord == 0 {
			continue
		}
		for i, pc := range m.sides[s].pieces {
			if pc.lengthLine != off.pieces[i].lengthLine {
				return refuse(m.sides[s], pc.line, "a first move in Z that may be deleted, without its tool length", "G43 H in it", "")
			}
		}
	}
	if !m.o.G53 && m.named&lengthWord != 0 {
		return refuse(parts[0], 0, "G43 on a machine without G53", "moves in machine coordinates (g53 = true)",
			"with tool lengths active the clear height can't be written in work coordinates")
	}
	for _, p := range parts {
		if m.named&centreWord == 0 && p.absoluteCentres != parts[0].absoluteCentres {
			m.named |= centreWord
		}
	}
	m.noteTools()
	m.noteOffsets()
	for _, p := range m.sides {
		m.notes = append(m.notes, p.notes...)
	}
	return nil
}

// noteTools says which tool numbers both sides use.
func (m *merger) noteTools() {
	n := Note{Code: SameTools}
	seen := map[int]bool{}
	for _, pc := range m.sides[0].pieces {
		seen[pc.tool] = true
	}
	for _, pc := range m.sides[1].pieces {
		if seen[pc.tool] && pc.tool >= 0 {
			n.Values = append(n.Values, fmt.Sprint(pc.tool))
			seen[pc.tool] = false
		}
	}
	if len(n.Values) > 0 {
		m.notes = append(m.notes, n)
	}
}

// noteOffsets says which programs name an offset in which none of their side's stations
// is cut.
func (m *merger) noteOffsets() {
	for side, p := range m.sides {
		for _, q := range p.each() {
			var at []string
			own := q.offset == 0
			for _, pair := range m.o.Pairs {
				s := []Station{pair.Face, pair.Back}[side]
				at = append(at, s.Offset)
				own = own || transform.OffsetCode(s.Offset) == q.offset
			}
			if !own {
				m.notes = append(m.notes, Note{Code: OffsetChange, Line: q.offsetLine, Values: append([]string{q.name, transform.OffsetName(q.offset)}, at...)})
			}
		}
	}
}

// Offset gives the work offset that a program names, with its line; "" for none, or for
// one that can't be merged.
func (s Source) Offset(tolerance motion.Num) (name string, line int) {
	p, err := cutProgram(s, tolerance, false)
	if err != nil || p.offset == 0 {
		return "", 0
	}
	return transform.OffsetName(p.offset), p.offsetLine
}

// step is one call of a tool: the pieces of each side that are cut with it.
type step struct {
	tool   int
	pieces [2][]*piece
}

// merge orders the pieces, writes the programs and proves them.
func (m *merger) merge() (*Result, error) {
	runs := [2][]step{m.sides[0].runs(0), m.sides[1].runs(1)}
	steady := append(append([]step{}, runs[0]...), runs[1]...)
	if m.o.Order == ByTools {
		steady = mergeRuns(runs[0], runs[1])
	}
	steady = joinEqual(steady)
	r := &Result{}
	var programs [3]*written
	for i, w := range []struct {
		to    *Program
		steps []step
	}{{&r.First, runs[0]}, {&r.Steady, steady}, {&r.Last, runs[1]}} {
		comment := m.o.Comments[i]
		if comment == "" {
			comment = m.o.Comment
		}
		p, err := m.write(w.steps, comment)
		if err != nil {
			return nil, err
		}
		if w.to.Summary, err = m.prove(p.text.Bytes(), w.steps); err != nil {
			return nil, err
		}
		programs[i] = p
		between, err := m.between(p.text.Bytes())
		if err != nil {
			return nil, err
		}
		w.to.Seconds = w.to.Summary.Seconds + between
		w.to.Text, w.to.Changes, w.to.Restarts = p.text.Bytes(), len(w.steps), p.restarts
		w.to.Ends = p.sections[len(p.sections)-1].station.Offset
		for _, s := range w.steps {
			w.to.Tools = append(w.to.Tools, s.tool)
		}
	}
	var err error
	if m.o.Ways {
		if r.Ways, err = m.ways(programs); err != nil {
			return nil, err
		}
	}
	for i, src := range []Source{m.o.Face, m.o.Back} {
		s, err := src.seconds(&m.o)
		if err != nil {
			return nil, err
		}
		*[]*float64{&r.FaceSeconds, &r.BackSeconds}[i] = s
	}
	r.Notes = m.notes
	return r, nil
}

// crlf reports whether the face's lines end in CR LF.
func (o *Options) crlf() bool { return bytes.Contains(o.Face.Text, []byte("\r\n")) }

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
