package mirror

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// What a program has said, so that it needn't be assumed.
const (
	saidUnit uint32 = 1 << iota
	saidDistance
	saidPlane
	saidCentres
	saidFeed
)

// rewriter mirrors a program block by block.
type rewriter struct {
	o       *Options
	report  *Report
	maps    [2]transform.Map // by unit
	axes    [2][3]axis       // by unit and axis
	oneAxis bool
	swaps   [3]bool           // by plane
	tables  [2][2]*quickTable // by unit, in G90 and G91
	offsets offsets
	insert  int // the offset to insert, or none
	eol     string

	lexer  block.Lexer
	chunk  []byte
	out    []byte
	copied int   // chunk[:copied] is in out already
	done   int64 // bytes rewritten

	// s is the state if every block runs; off, where split, the state if the
	// blocks with a slash are skipped.
	s, off    state
	split     bool
	splitLine int
	splitBy   byte // the switch of the block that split them
	quick     bool // the quick way may be tried
	slow      bool // it never may, for tests
	said      uint32
	last      value // the last Z in G90, for helices
	inChain   bool
	heading   heading
	opened    bool  // % at the start
	closed    bool  // % at the end
	called    bool  // a subprogram was called
	early     error // the first word that an opening % mustn't follow
	number    bool  // a program number was met
	words     bool  // some other block had words
	lastLine  int
	over      bool    // closed by ^Z
	left      [3]bool // G52, G92, G68 on at the end
	noted     map[any]bool

	held     []byte // text from the first call of a subprogram on, nil before
	heldFrom int    // lines before it

	reverser *reverser // nil unless cuts are to be reversed
	turned   []Chain   // reversed since the proof was told last
	cuts     bool      // the last block cuts in the plane of the part
	line     []byte    // one mirrored line, for it
	lineAt   int       // where the line begins in out

	faulty  bool     // a block was refused, where again says
	again   again    // where to read on from behind it
	reasons *reasons // all that is wrong, for the one who gathers it

	reading reading
	plans   [2]plan
}

// next reads and rewrites the next piece of the program. It gives what it read and
// what came of it, also before an error, in the memory of buf where that is enough;
// io.EOF with the last.
func (m *rewriter) next(r *block.Reader, buf []byte) (in, out []byte, err error) {
	m.out = buf[:0]
	chunk, err := r.Next()
	if err == io.EOF {
		err := m.atEnd(r.Added())
		return nil, m.out, cmp.Or(err, io.EOF)
	}
	if err != nil {
		return nil, nil, m.readError(err)
	}
	if r.Marked() {
		m.note(fact.Note, 1, MarkDropped{})
	}
	n := len(chunk)
	if r.Added() {
		n--
	}
	if m.held != nil {
		err = m.hold(chunk)
	} else {
		err = m.rewrite(chunk, r.Added())
	}
	if err != nil {
		n = m.copied
	} else if m.done += int64(n); m.o.Progress != nil {
		m.o.Progress(m.done)
	}
	return chunk[:n], m.out, err
}

// atEnd does what is left to do at the end of the program.
func (m *rewriter) atEnd(added bool) error {
	if m.held != nil {
		if err := m.planHeld(added); err != nil {
			return err
		}
	}
	if m.reverser != nil {
		m.reverser.finish()
	}
	return m.finish()
}

// reversed gives the chains that were reversed since it was asked last.
func (m *rewriter) reversed() (c []Chain) {
	c, m.turned = m.turned, nil
	m.report.Turned = append(m.report.Turned, c...)
	return c
}

func newRewriter(r *block.Reader, o *Options) (*rewriter, error) {
	m := &rewriter{o: o, report: &Report{}, noted: map[any]bool{}}
	var err error
	if m.offsets, err = newOffsets(o); err != nil {
		return nil, err
	}
	for _, a := range []transform.Axis{o.Map.X, o.Map.Y, o.Map.Z} {
		if a.Sign != 1 && a.Sign != -1 {
			return nil, &fault.Error{File: o.Name, Found: fmt.Sprintf("a transform with sign %d", a.Sign), Expected: "1 or -1"}
		}
	}
	m.insert = m.offsets.inserted()
	m.maps = inBothUnits(o.Map, o.Unit, r)
	for u := range m.maps {
		for a := range m.axes[u] {
			m.axes[u][a] = newAxis(m.maps[u].Axis(a))
		}
	}
	for u := range m.tables {
		m.tables[u] = [2]*quickTable{newQuickTable(&m.axes[u], false), newQuickTable(&m.axes[u], true)}
	}
	m.report.Map, m.report.InchMap = m.maps[transform.MM], m.maps[transform.Inch]
	m.oneAxis = o.Map.OneAxis()
	for p := range m.swaps {
		m.swaps[p] = o.Map.SwapsArcs(transform.Plane(p))
	}
	m.s = startState(o)
	m.eol = "\n"
	r.Peek(func(lines []byte) bool {
		if n := bytes.IndexByte(lines, '\n'); n > 0 && lines[n-1] == '\r' {
			m.eol = "\r\n"
		}
		return len(lines) > 0
	})
	m.findHeading(r)
	if o.ReverseCuts && m.oneAxis {
		m.reverser = newReverser(m)
	}
	return m, nil
}

// Resolution of the one rounding of an offset that is no finite number of inches.
const (
	leastInchPlaces  = 4
	mostInchPlaces   = 9
	resolutionBlocks = 500
)

// inBothUnits gives the transform in mm and in inches. An offset in mm that is no
// finite number of inches is rounded once, to the program's own resolution: the most
// decimals of any axis word in its first 500 blocks with axis words, at least 4 and at
// most 9. That number of decimals is the same in the mirrored program, so that
// mirroring it again undoes the first time. A program that starts in mm isn't looked
// at: should it turn to inches later, 4 decimals must do.
func inBothUnits(t transform.Map, unit transform.Unit, r *block.Reader) [2]transform.Map {
	mm, _ := t.In(transform.MM, 0)
	inch, exact := t.In(transform.Inch, leastInchPlaces)
	if !exact {
		places := int32(leastInchPlaces)
		r.Peek(func(lines []byte) bool {
			var enough bool
			places, enough = resolution(lines, unit)
			return enough
		})
		inch, _ = t.In(transform.Inch, places)
	}
	return [2]transform.Map{transform.MM: mm, transform.Inch: inch}
}

// resolution gives the decimals of the first blocks of a program in inches, as far as
// lines hold them; enough says that more lines would change nothing.
func resolution(lines []byte, unit transform.Unit) (places int32, enough bool) {
	places = leastInchPlaces
	var l block.Lexer
	var b block.Block
	l.Reset(lines)
	for blocks := 0; blocks < resolutionBlocks; {
		err := l.Next(&b)
		if err == io.EOF {
			return places, false
		}
		if err != nil {
			continue
		}
		for _, w := range b.Words() {
			switch {
			case w.Letter == 'G' && w.Code() == 200:
				unit = transform.Inch
			case w.Letter == 'G' && w.Code() == 210:
				unit = transform.MM
			case block.Bit(w.Letter)&axisWords != 0:
				places = max(places, min(int32(w.Places), mostInchPlaces))
			}
		}
		if b.Letters&axisWords == 0 {
			continue
		}
		if unit == transform.MM {
			return places, true
		}
		blocks++
	}
	return places, true
}

// rewrite mirrors one chunk of whole lines. added says that the chunk's last line
// end isn't in the program.
func (m *rewriter) rewrite(chunk []byte, added bool) error {
	m.chunk, m.copied = chunk, 0
	if need := len(chunk) + len(chunk)/4; cap(m.out)-len(m.out) < need {
		m.out = append(make([]byte, 0, len(m.out)+need), m.out...)
	}
	m.lexer.Reset(chunk)
	var b block.Block
	for {
		m.lineAt = len(m.out)
		if m.quick {
			at, lines := m.quickly(m.lexer.Pos())
			m.lexer.Seek(at, m.lexer.Line()+lines)
		}
		err := m.lexer.Next(&b)
		if err == io.EOF {
			break
		}
		if err = m.whole(&b, err); err == errHeld {
			return nil
		} else if err != nil {
			m.proper(&b)
			m.faulty, m.again = true, again{b.Start, b.Line - 1}
			return err
		}
		if m.reverser != nil {
			end := b.Next
			if added && end == len(chunk) {
				end--
			}
			m.copyTo(end)
			m.line = append(m.line[:0], m.out[m.lineAt:]...)
			m.out = m.out[:m.lineAt]
			m.reverser.line(b.Line, m.line, m.cuts)
		}
	}
	m.lastLine = m.lexer.Line()
	end := len(chunk)
	if added {
		end--
	}
	m.out = append(m.out, chunk[min(m.copied, end):end]...)
	return nil
}

// proper leaves in out what stands before the faulty block b, so that the proof can
// find an earlier fault first.
func (m *rewriter) proper(b *block.Block) {
	if m.reverser != nil {
		m.reverser.release()
	}
	if b.Start > m.copied {
		m.copyTo(b.Start)
	}
	m.copied = b.Start
}

// whole takes a line of which the lexer says err.
func (m *rewriter) whole(b *block.Block, err error) error {
	switch {
	case m.behindEnd():
		if m.reverser != nil { // which reads blocks only
			m.reverser.finish()
			m.reverser = nil
		}
		return m.idle(b, err != nil || b.N > 0)
	case err != nil:
		return m.lexError(b, err)
	}
	return m.slowly(b)
}

// slowly mirrors a block of any kind or refuses it; with ^Z the program ends.
func (m *rewriter) slowly(b *block.Block) error {
	err := m.anyKind(b)
	if b.Last && err == nil {
		m.closed, m.over, m.quick = true, m.over || !m.closed, false
		err = m.motionless(b, b.Start+bytes.IndexByte(m.chunk[b.Start:b.End], 0x1a))
	}
	return err
}

func (m *rewriter) anyKind(b *block.Block) error {
	m.cuts = false
	if err := m.frame(b); err != nil {
		return err
	}
	m.headerLine(b)
	if b.Text {
		m.note(fact.Note, b.Line, TextKept{})
	}
	if b.N == 0 || b.Percent {
		return nil
	}
	if isNumber(b) && !m.words && !m.number {
		m.number = true
		return nil
	}
	m.words = true
	if !m.opened && m.report.Moves == 0 && m.early == nil {
		m.early = m.unlikeStart(b)
	}
	if holdsCall(b) {
		m.called = true

		m.held, m.heldFrom = append([]byte(nil), m.chunk[b.Start:]...), b.Line-1
		if m.reverser != nil {
			m.reverser.finish()
			m.report.Left = append(m.report.Left, Chain{First: b.Line, Why: "subprograms are called from here on"})
			m.reverser = nil
		}
		m.copyTo(b.Start)
		return errHeld
	}
	m.report.Blocks++
	p, err := m.planBlock(b)
	if err != nil {
		return err
	}
	m.cuts = p.cuts
	sortEdits(p.edits)
	m.apply(b, p)
	m.quick = m.ready()
	return nil
}

// errHeld says that the text from the block on is held.
var errHeld = errors.New("mirror: held")

// ready reports whether the quick way may be tried for the next block.
func (m *rewriter) ready() bool {
	const said = saidUnit | saidDistance | saidFeed
	return !m.slow && m.reverser == nil && !m.split && m.s.moved && !m.s.ended && !m.closed &&
		m.said&said == said && m.s.feed != 930 && m.s.plane == transform.XY
}

func (m *rewriter) lexError(b *block.Block, err error) error {
	f, ok := err.(*fault.Error)
	if !ok {
		return err
	}
	if !m.words && !m.number {
		if end := m.numberEnd(b); b.Fault == block.PercentText || end > 0 && b.Start+f.Col-1 >= end && b.Fault != block.ControlFlow {
			return m.nameBehind(b, end)
		}
	}
	f.File = m.o.Name
	return f
}

// readError gives a line that is too long its place; other errors stay as they are.
func (m *rewriter) readError(err error) error {
	if f, ok := err.(*fault.Error); ok {
		f.File, f.Line, f.Col = m.o.Name, m.lexer.Line()+1, 1
	}
	return err
}

// finish looks at the program's end.
func (m *rewriter) finish() error {
	line := m.lastLine
	switch {
	case m.report.Moves == 0:
		return &fault.Error{File: m.o.Name, Found: "no motion found", Expected: "a part program", Hint: "is this the right file?"}
	case m.opened && (!m.closed || m.over) && !m.s.ended:
		return &fault.Error{File: m.o.Name, Line: line + 1, Col: 1, Found: "the end of the file", Expected: "M2, M30 or a closing %",
			Hint: "the program opens with %: was the file cut off?"}
	case (!m.closed || m.over) && !m.s.ended:
		m.note(fact.Warning, line, NoEnd{})
	}
	m.zeroLeft(&m.s)
	if m.split {
		m.zeroLeft(&m.off)
	}
	m.zeroNotes(line)
	if m.offsets.differ && m.s.offset == none && m.s.moved {
		m.note(fact.Warning, 0, NoOffset{})
	}
	switch {
	case !m.oneAxis:
		m.report.Chains = 0
	case m.o.ReverseCuts:
		m.reversals()
	case m.report.Chains > 0:
		m.note(fact.Note, 0, OtherSide{Chains: m.report.Chains})
	}
	m.roundings()
	m.report.Notes = sortedNotes(m.report.Notes)
	return nil
}
