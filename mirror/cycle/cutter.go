package cycle

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// cutter cuts a program into pieces.
type cutter struct {
	src     Source
	p       *program
	lexer   block.Lexer
	text    []byte
	b       block.Block
	mb      motion.Block
	m       *motion.Machine
	now     *piece
	ended   bool // M2 or M30
	stated  bool // the piece has named its motion mode
	returns int
	path    string
	pathIn  transform.Unit  // in which the path mode was given
	fed     motion.State    // when F was given last
	sticky  map[byte]string // words of the running cycle as they were written
	tool    int             // named by T so far, without M6
	next    [][]byte        // comments that name another tool than the piece's
	words   bool            // a block with words was read
	last    motion.State    // after the last block of the piece
}

// cutProgram cuts a program, interpreting it with the block delete switch off or on.
// All that is said of it names the file that it was written from.
func cutProgram(src Source, tol motion.Num, skip bool) (*program, error) {
	if src.From == "" {
		return readProgram(src, tol, skip)
	}
	src.Name = src.From
	p, err := readProgram(src, tol, skip)
	var f *fault.Error
	if errors.As(err, &f) {
		said := *f
		said.Line, said.Col = src.from(f.Line), 0 // columns of the other file aren't known
		return nil, &said
	}
	if err != nil {
		return nil, err
	}
	for _, pc := range p.pieces {
		for _, line := range []*int{&pc.line, &pc.noLength, &pc.stopped, &pc.noSpeed} {
			*line = src.from(*line)
		}
	}
	for i := range p.notes {
		p.notes[i].Line = src.from(p.notes[i].Line)
	}
	p.offsetLine = src.from(p.offsetLine)
	return p, nil
}

// readProgram cuts a program as it stands.
func readProgram(src Source, tol motion.Num, skip bool) (*program, error) {
	text := src.Text
	if len(text) == 0 || text[len(text)-1] != '\n' {
		text = append(text[:len(text):len(text)], '\n')
	}
	c := &cutter{src: src, text: text, p: &program{name: src.Name, end: "M2", absoluteCentres: src.AbsoluteCentres}, tool: -1, sticky: map[byte]string{}}
	c.mb.File = src.Name
	c.m = motion.NewMachine(motion.Options{Name: src.Name, Unit: src.Unit, AbsoluteCentres: src.AbsoluteCentres, Inert: src.Inert, ArcTolerance: tol, SkipDeleted: skip})
	c.begin(-1, 1)
	c.lexer.Reset(text)
	var tape motion.Tape
	for {
		err := c.lexer.Next(&c.b)
		if errors.Is(err, io.EOF) {
			break
		}
		if tape.Ended() || c.m.Ended() {
			if err := motion.Idle(text[c.b.Start:c.b.End], c.b.Line, src.Name); err != nil {
				return nil, err
			}
			continue
		}
		if err != nil {
			return nil, c.lexError(err)
		}
		if err := c.mb.Read(text[c.b.Start:c.b.End], c.b.Line); err != nil {
			return nil, err
		}
		if c.b.Percent {
			c.p.tape = true
			if err := tape.Mark(c.m); err != nil {
				return nil, err
			}
			continue
		}
		if err := c.block(); err != nil {
			return nil, err
		}
		if err := tape.Block(&c.mb, c.m); err != nil {
			return nil, err
		}
	}
	if err := tape.Check(src.Name, c.m); err != nil {
		return nil, err
	}
	if err := c.close(); err != nil {
		return nil, err
	}
	if c.p.number {
		c.p.notes = append(c.p.notes, Note{Level: fact.Note, Is: NumbersGone{}})
	}
	return c.p, nil
}

// lexError gives a fault of the text its place.
func (c *cutter) lexError(err error) error {
	if f, ok := err.(*fault.Error); ok {
		f.File = c.src.Name
	}
	return err
}

// refuse makes an error at a word, or at the block's beginning.
func (c *cutter) refuse(w *block.Word, found, expected, hint string) error {
	col := 1
	if w != nil {
		col = int(w.Start) - c.b.Start + 1
	}
	return &fault.Error{File: c.src.Name, Line: c.b.Line, Col: col, Found: found, Expected: expected, Hint: hint}
}

// begin opens a piece.
func (c *cutter) begin(tool, line int) {
	c.now = &piece{tool: tool, file: c.src.Name, line: line, length: notYet, lengthLine: -1}
	c.stated = false
}

// close ends a piece: it is kept if it cuts.
func (c *cutter) close() error {
	pc := c.now
	if c.m.State().Comp != 40 {
		return c.refuse(nil, "cutter compensation still on at a tool change or the end", "G40 before", "")
	}
	if !pc.cuts {
		// It may take the first tool back, or go home: nothing is lost but its stops, which
		// the next piece makes (change).
		if pc.tool >= 0 {
			c.p.notes = append(c.p.notes, Note{Level: fact.Note, File: c.src.Name, Line: pc.line, Is: Dropped{Tool: pc.tool, Line: pc.line}})
		}
		return nil
	}
	pc.last = c.last
	if pc.offset = c.last.Comp != 40; pc.offset {
		c.p.notes = append(c.p.notes, Note{Level: fact.Warning, File: c.src.Name, Line: c.b.Line, Is: CompClosed{}})
	}
	for _, i := range slices.Backward(pc.stops) {
		pc.lines = slices.Delete(pc.lines, i, i+1)
	}
	c.p.pieces = append(c.p.pieces, pc)
	if len(c.p.pieces) > maxPieces {
		return c.refuse(nil, fmt.Sprintf("more than %d tool changes", maxPieces), "fewer", "")
	}
	return nil
}

// maxPieces keeps the table of the merge at 2000 x 2000 numbers.
const maxPieces = 2000

// block takes one block into the running piece.
func (c *cutter) block() error {
	b := &c.b
	if b.Number {
		c.p.number = true
	}
	if b.Empty() {
		// The comment line of an earlier pass is replaced, not added to.
		if c.b.Comments && !bytes.HasPrefix(bytes.TrimSpace(c.text[c.b.Start:c.b.End]), []byte(block.CommentPrefix)) {
			if line := bytes.TrimSpace(c.text[c.b.Start:c.b.End]); c.otherTool(line) {
				c.next = append(c.next, slices.Clone(line))
				return nil
			}
			before, remarks := len(c.now.lines), c.now.remarks
			c.keep(nil, "")
			c.now.remarks = remarks + len(c.now.lines) - before
		}
		return nil
	}
	c.p.deleted = c.p.deleted || b.Deleted
	change, drop, err := c.codes()
	if err != nil {
		return err
	}
	if change != nil {
		if err := c.change(change); err != nil {
			return err
		}
	}
	c.words = true
	before := c.m.Motion()
	moves, err := c.m.Do(&c.mb)
	if err != nil {
		return err
	}
	if change != nil {
		c.now.tool = c.m.State().Tool
		if c.now.tool < 0 {
			return c.refuse(change, "M6 without a tool", "a T word with it or before it", "")
		}
		c.now.lines = slices.DeleteFunc(c.now.lines, c.otherTool)
	} else if c.p.named&changeWord == 0 {
		if err := c.bareTool(); err != nil {
			return err
		}
	}
	if len(c.m.Needs()) > 0 {
		n := c.m.Needs()[0]
		return c.refuse(nil, fmt.Sprintf("a program that relies on where the tool stands in %c at the start", "XYZ"[n.Axis]),
			"X, Y and Z given in G90 first", "at a station the tool comes from somewhere else in each cycle")
	}
	c.endState()
	halt := c.halt()
	if halt != nil && c.now.cuts && (c.otherTool(halt) || len(c.next) > 0) {
		return c.refuse(nil, "a stop beside a comment that names another tool", "such a stop behind that tool's M6",
			"merged, the next cut may be with this piece's tool: write the stop and its comment behind M6")
	}
	if halt != nil && !c.now.cuts {
		c.now.halts = append(c.now.halts, halt)
		if state := c.m.State(); !c.now.begun && c.now.halt == nil {
			c.now.halt = &state
		}
	}
	if c.b.Find('F') != nil {
		c.fed = c.m.State()
	}
	if c.gives(610, 611, 640) {
		c.pathIn = c.m.State().Unit
	}
	prefix := c.prefix(before)
	stops, switches := c.switching(drop)
	for i := range moves {
		if err := c.move(&moves[i]); err != nil {
			return err
		}
	}
	pc := c.now
	switch {
	case stops:
		pc.stops = append(pc.stops, len(pc.lines))
	case len(moves) > 0 || switches || b.Deleted:
		pc.stops, pc.spindle, pc.speed, pc.coolant = nil, c.last.Spindle, c.last.Speed, c.last.Coolant
	}
	c.keep(drop, prefix)
	return nil
}

// endState notes what is set after the block. A block with M2 or M30 leaves only its
// other words behind.
func (c *cutter) endState() {
	if !c.ended {
		c.last = c.m.State()
		return
	}
	for i := range c.b.Words() {
		w := &c.b.W[i]
		if w.Letter != 'M' {
			continue
		}
		switch w.Code() {
		case 30, 40, 50:
			c.last.Spindle = map[int]int{30: 1, 40: -1, 50: 0}[w.Code()]
		case 70:
			c.last.Coolant |= 1
		case 80:
			c.last.Coolant |= 2
		case 90:
			c.last.Coolant = 0
		}
	}
}

// bareTool handles T words in a program without M6, where T only names the tool.
func (c *cutter) bareTool() error {
	t := c.m.State().Tool
	if t == c.now.tool {
		return nil
	}
	if c.now.tool >= 0 || c.now.cuts {
		return c.refuse(c.b.Find('T'), "another tool without M6", "M6 at every tool change",
			"some controls change at T alone: write M6 beside it")
	}
	c.now.tool = t
	return nil
}

// change closes the running piece at a block with M6.
func (c *cutter) change(w *block.Word) error {
	b := &c.b
	if b.Letters&(block.Bit('X')|block.Bit('Y')|block.Bit('Z')) != 0 {
		return c.refuse(w, "M6 in a block with moves", "M6 in a block of its own", "controls differ on which comes first")
	}
	first := c.p.named&changeWord == 0
	c.p.named |= changeWord
	if first && c.now.cuts {
		return c.refuse(w, "the first M6 after cuts", "M6 before the first cut", "say which tool cuts first")
	}
	// Comments just before a tool change speak of what comes after it.
	at := len(c.now.lines) - c.now.remarks
	remarks := c.now.lines[at:]
	c.now.lines = c.now.lines[:at:at]
	if err := c.close(); err != nil {
		return err
	}
	before := c.now
	c.begin(-1, b.Line)
	if len(before.halts) > 0 && !before.cuts {
		c.now.halts, c.now.halt = before.halts, &motion.State{}
	}
	c.now.lines, c.next = slices.Concat(c.next, c.now.halts, remarks), nil
	return nil
}

// notYet is a tool length that nothing rests on yet.
const notYet = 1 << 62

// idle reports whether a move moves nothing, or only brings X or Y to their first
// place, as a rapid or, at a height that isn't known yet, as a feed: the merged piece
// starts over that place. namesZ tells whether the block has a Z word.
func idle(m *motion.Move, namesZ bool) bool {
	if m.Circular() || m.Machine || m.Home || namesZ && m.Cycle == 0 || !m.From[2].Equal(m.To[2]) {
		return false
	}
	for a := range 2 {
		first := m.ToOK[a] && !m.FromOK[a] && (m.Kind == motion.Rapid || !m.ToOK[2])
		if !first && !m.From[a].Equal(m.To[a]) {
			return false
		}
	}
	return true
}

// move takes a move into the running piece.
func (c *cutter) move(m *motion.Move) error {
	pc := c.now
	namesZ := c.b.Find('Z') != nil
	if !pc.begun {
		pc.begun = true
		if strings.Contains(c.path, "P") && c.pathIn != m.State.Unit {
			return c.refuse(nil, "a tolerance of the path that was given under "+c.pathIn.Code(), c.path[:3]+" with P again", "")
		}
		pc.open = opening{state: m.State, absolute: c.m.Absolute, centres: c.m.AbsoluteCentres, returns: c.returns, path: c.path,
			from: m.From, fromOK: m.FromOK}
		if s := &pc.open.state; pc.halt != nil {
			s.Spindle, s.Speed, s.Coolant = pc.halt.Spindle, pc.halt.Speed, pc.halt.Coolant
		}
		if m.Machine || m.Home && m.Cycle == 0 {
			// Nothing that a place in this offset could serve.
			pc.open.fromOK = [3]bool{m.FromOK[0], m.FromOK[1], false}
		}
		for a := range 3 {
			if pc.open.fromOK[a] {
				pc.located[a] = true
				pc.open.entry[a] = m.From[a]
			}
		}
	}
	for a := range 3 {
		if !pc.located[a] && m.ToOK[a] && !m.Machine {
			pc.located[a] = true
			pc.open.entry[a] = m.To[a]
			if c.m.State().Unit != pc.open.state.Unit {
				return c.refuse(nil, "another unit before the first place is known", "G20 or G21 before the first move", "")
			}
		}
	}
	if m.Kind != motion.Rapid && !idle(m, namesZ) {
		for a := range 3 {
			if !m.ToOK[a] || a < 2 && !m.FromOK[a] {
				return c.refuse(nil, fmt.Sprintf("a cut while %c isn't known", "XYZ"[a]), "X, Y and Z given in G90 after a tool change, home or a tool length",
					"at a station the tool comes down from the clear height")
			}
		}
		if m.State.Feed.IsZero() {
			return c.refuse(nil, "a cut without a feed", "F before the first cut", "it would run at the feed of the piece before it")
		}
		if f := &c.fed; f.Unit != m.State.Unit || f.FeedMode != m.State.FeedMode {
			return c.refuse(nil, fmt.Sprintf("a cut at an F that was given under %s and G%d", f.Unit.Code(), f.FeedMode), fmt.Sprintf("F again under %s and G%d", m.State.Unit.Code(), m.State.FeedMode),
				"controls differ on what it means there")
		}
		pc.cuts = true
		if m.State.Length < 0 && pc.noLength == 0 {
			pc.noLength = m.Line
		}
		down := m.FromOK[2] && m.To[2].Cmp(m.From[2]) < 0
		aside := !m.From[0].Equal(m.To[0]) || !m.From[1].Equal(m.To[1])
		if m.State.Spindle == 0 && pc.stopped == 0 && (down || aside || m.Circular()) {
			pc.stopped = m.Line
		}
		if m.Circular() && !m.ByRadius {
			pc.arcs = true
		}
	}
	if pc.length == notYet && m.ToOK[2] && !m.Machine {
		pc.length = m.State.Length
		if !pc.lengthNamed && !pc.open.fromOK[2] {
			pc.lengthLine = len(pc.lines)
		}
	}
	if m.State.Spindle != 0 && m.State.Speed.IsZero() && pc.noSpeed == 0 {
		pc.noSpeed = m.Line
	}
	pc.cycles = pc.cycles || m.Cycle != 0
	c.p.turns = c.p.turns || m.State.Spindle != 0
	pc.want(m)
	return nil
}
