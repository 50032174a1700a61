package cycle

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
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
	offset  int  // the one work offset named, 0 for none
	ended   bool // M2 or M30
	stated  bool // the piece has named its motion mode
	returns int
	path    string
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
		said.Line, said.Col = src.from(f.Line), b2i(f.Line > 0) // columns of the other file aren't known
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

// from is the line that a line of the text was written from; 0 is none.
func (s *Source) from(line int) int {
	if line == 0 || s.Lines == nil {
		return line
	}
	return s.Lines(line)
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
		c.p.notes = append(c.p.notes, Note{Code: NumbersGone, Values: []string{src.Name}})
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
		// It may take the first tool back, or go home: nothing is lost.
		if pc.tool >= 0 {
			c.p.notes = append(c.p.notes, Note{Code: Dropped, Line: pc.line, Values: []string{c.src.Name, fmt.Sprint(pc.tool)}})
		}
		return nil
	}
	pc.last = c.last
	if pc.offset = c.last.Comp != 40; pc.offset {
		c.p.notes = append(c.p.notes, Note{Code: CompClosed, Line: c.b.Line, Values: []string{c.src.Name}})
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

// switching looks at the words that switch spindle, coolant and tool length: whether
// the block, less what is dropped of it, does nothing but switch off, and whether it
// switches at all.
func (c *cutter) switching(drop []*block.Word) (stops, switches bool) {
	stops = !c.b.Deleted && !c.b.Comments
	for i := range c.b.Words() {
		w := &c.b.W[i]
		code := w.Code()
		off := w.Letter == 'M' && (code == 50 || code == 90)
		switches = switches || off || w.Letter == 'S' || w.Letter == 'M' && slices.Contains([]int{30, 40, 70, 80}, code)
		stops = stops && (off || slices.Contains(drop, w))
		if w.Letter == 'G' && (code == 430 || code == 490) && !c.b.Deleted {
			c.now.lengthNamed = true
		}
	}
	return stops && switches, switches
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

// toolNamed is a tool number in a comment.
var toolNamed = regexp.MustCompile(`(?i)\bT(?:OOL)?[ #:]*0*([0-9]+)\b`)

// otherTool says that a line of comments names tools, and the piece's is none of them:
// merged, another tool may follow than the one it announces.
func (c *cutter) otherTool(line []byte) bool {
	named := toolNamed.FindAllSubmatch(line, -1)
	return c.now.tool >= 0 && len(named) > 0 && !slices.ContainsFunc(named, func(n [][]byte) bool { return string(n[1]) == fmt.Sprint(c.now.tool) })
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
	c.begin(-1, b.Line)
	c.now.lines, c.next = append(c.next, remarks...), nil
	return nil
}

// codes looks at the block's G, M, T and O words: which call a tool, which belong
// to the program as a whole and are dropped, and which can't be merged.
func (c *cutter) codes() (change *block.Word, drop []*block.Word, err error) {
	b := &c.b
	for i := range b.Words() {
		w := &b.W[i]
		code := w.Code()
		whole := false
		if err := c.known(w, code); err != nil {
			return nil, nil, err
		}
		switch w.Letter {
		case 'O':
			if c.words {
				return nil, nil, c.refuse(w, c.string(w)+" (a subprogram)", "one program", "write the subprogram's moves out")
			}
			whole = true
		case 'T':
			whole = true
		case 'H':
			c.p.named |= lengthWord
		case 'S':
			c.p.named |= speedWord
		case 'M':
			switch code {
			case 60:
				whole, change = true, w
			case 20, 300:
				whole, c.ended = true, true
				c.p.end = "M" + fmt.Sprint(code/10)
			case 30, 40, 50:
				c.p.named |= spindleWord
			case 70, 80, 90:
				c.p.named |= coolantWord
			}
		case 'G':
			switch code {
			case 540, 550, 560, 570, 580, 590, 591, 592, 593:
				whole = true
				if c.offset != 0 && c.offset != code {
					return nil, nil, c.refuse(w, "a second work offset", "one offset in each program", "a station has one offset")
				}
				if c.offset == 0 {
					c.p.offset, c.p.offsetLine = code, b.Line
				}
				c.offset = code
			case 920, 921, 922, 923, 520:
				name := "G" + strings.TrimSuffix(fmt.Sprintf("%d.%d", code/10, code%10), ".0")
				return nil, nil, c.refuse(w, name+", which shifts the zero of every offset", "a zero that is stored in its offset",
					"put the shift into the work offset and take "+name+" out")
			case 901, 911:
				c.p.named |= centreWord
			case 980, 990:
				c.p.named |= returnWord
				c.returns = code / 10
				if b.Deleted {
					return nil, nil, c.refuse(w, "G98 or G99 in a block that may be deleted", "it in a block of its own", "")
				}
			case 440:
				return nil, nil, c.refuse(w, "G44 (a tool length counted the other way)", "G43", "store the length with its other sign")
			case 430, 490:
				c.p.named |= lengthWord
			case 610, 611, 640:
				c.p.named |= pathWord
				c.path = strings.ToUpper(c.string(w))
				for _, l := range []byte{'P', 'Q'} {
					if v := b.Find(l); v != nil {
						c.path += " " + strings.ToUpper(c.string(v))
					}
				}
				if b.Deleted {
					return nil, nil, c.refuse(w, "a path mode in a block that may be deleted", "it in a block of its own", "")
				}
			case 280, 300:
				c.p.notes = append(c.p.notes, Note{Code: HomeInPiece, Line: b.Line, Values: []string{c.src.Name}})
			}
		}
		if whole {
			if b.Deleted {
				return nil, nil, c.refuse(w, c.string(w)+" in a block that may be deleted", "it in a block that always runs", "take the slash away, or the block")
			}
			drop = append(drop, w)
		}
	}
	return change, drop, nil
}

// known refuses words that set something which the opening of a piece doesn't.
func (c *cutter) known(w *block.Word, code int) error {
	ok := true
	switch w.Letter {
	case 'A', 'B', 'C', 'U', 'V', 'W', 'E':
		ok = false
	case 'G':
		ok = slices.Contains([]int{0, 10, 20, 30, 40, 90, 170, 180, 190, 200, 210, 280, 300, 400, 410, 420, 411, 421, 430, 440, 490,
			520, 530, 540, 550, 560, 570, 580, 590, 591, 592, 593, 610, 611, 640, 730, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890,
			900, 910, 901, 911, 920, 921, 922, 923, 930, 940, 950, 970, 980, 990}, code)
	case 'M':
		ok = slices.Contains([]int{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 300, 600}, code)
	}
	if ok {
		return nil
	}
	return c.refuse(w, strings.ToUpper(c.string(w))+", which can't be merged", "G and M words of plain milling in X, Y and Z",
		"what it sets would reach into the other program's pieces: write its effect out in plain moves, or run the programs one after the other")
}

// string gives a word as it was written.
func (c *cutter) string(w *block.Word) string { return string(c.text[w.Start:w.End]) }

// Codes of canned cycles run from 730 to 890.
func isCycle(code int) bool { return code == 730 || code >= 810 && code <= 890 }

// prefix gives the motion words that a block relies on from before its piece, for
// the first block that does. before is the motion mode ahead of the block.
func (c *cutter) prefix(before int) string {
	b := &c.b
	mode, other := -1, false
	for i := range b.Words() {
		w := &b.W[i]
		if w.Letter != 'G' {
			continue
		}
		switch code := w.Code(); {
		case code >= 0 && code <= 30, code == 800, isCycle(code):
			mode = code
		case code == 40, code == 280, code == 300:
			other = true
		}
	}
	now := c.m.Motion()
	if isCycle(now) {
		if mode == now && before != now {
			clear(c.sticky)
		}
		for _, l := range []byte("RZXYQPIJK") {
			if w := b.Find(l); w != nil && c.keeps(l) {
				c.sticky[l] = strings.ToUpper(c.string(w))
			}
		}
	}
	if c.stated || other {
		return ""
	}
	if mode >= 0 {
		c.stated = !b.Deleted
		return ""
	}
	if b.Letters&(block.Bit('X')|block.Bit('Y')|block.Bit('Z')|block.Bit('I')|block.Bit('J')|block.Bit('K')|block.Bit('R')) == 0 {
		return ""
	}
	c.stated = !b.Deleted
	if before == 0 {
		return "" // the opening ends in G0
	}
	words := []string{"G" + strings.TrimSuffix(fmt.Sprintf("%d.%d", before/10, before%10), ".0")}
	if isCycle(before) {
		for _, l := range []byte("RZXYQPIJK") {
			if s, ok := c.sticky[l]; ok && b.Find(l) == nil {
				words = append(words, s)
			}
		}
	}
	return strings.Join(words, " ") + " "
}

// keeps tells whether a cycle keeps a letter's word for its next holes: R, the
// depth along the drilling axis, the peck, the dwell and the words of G87
// (NISTIR 6556, 3.5.16).
func (c *cutter) keeps(letter byte) bool {
	_, _, normal := c.m.State().Plane.Axes()
	switch letter {
	case 'X', 'Y', 'Z':
		return letter == "XYZ"[normal]
	case 'I', 'J', 'K':
		return c.m.Motion() == 870
	}
	return true
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
		pc.open = opening{state: m.State, absolute: c.m.Absolute, centres: c.m.AbsoluteCentres, returns: c.returns, path: c.path,
			from: m.From, fromOK: m.FromOK}
		if m.Machine || m.Home && m.Cycle == 0 {
			// Nothing that a place in this offset could serve.
			pc.open.fromOK = [3]bool{m.FromOK[0], m.FromOK[1], false}
		}
		for a := range 3 {
			if pc.open.fromOK[a] {
				pc.placed[a] = true
				pc.open.entry[a] = m.From[a]
			}
		}
	}
	for a := range 3 {
		if !pc.placed[a] && m.ToOK[a] && !m.Machine {
			pc.placed[a] = true
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

// keep writes the block into the piece, without the dropped words and N, and with
// a prefix before its first word.
func (c *cutter) keep(drop []*block.Word, prefix string) {
	line := c.text[c.b.Start:c.b.End]
	type span struct{ from, to int }
	var gone []span
	for _, w := range drop {
		gone = append(gone, span{int(w.Start) - c.b.Start, int(w.End) - c.b.Start})
	}
	if n, ok := numberSpan(line); c.b.Number && ok {
		gone = append(gone, n)
	}
	slices.SortFunc(gone, func(a, b span) int { return a.from - b.from })
	var out []byte
	at := 0
	for _, g := range gone {
		out = append(out, line[at:g.from]...)
		at = g.to
		for len(out) == 0 && at < len(line) && (line[at] == ' ' || line[at] == '\t') {
			at++
		}
	}
	out = append(out, line[at:]...)
	out = bytes.TrimRight(out, " \t")
	if prefix != "" {
		out = ahead(out, prefix)
	}
	if s := bytes.TrimSpace(out); len(s) == 0 || c.b.Deleted && len(s) <= 2 {
		return
	}
	c.now.lines = append(c.now.lines, out)
	c.now.remarks = 0
}

// ahead writes words before a line's first word, behind its slash.
func ahead(line []byte, words string) []byte {
	first := 0
	if t := bytes.TrimLeft(line, " \t"); len(t) > 0 && t[0] == '/' {
		first = len(line) - len(t) + 1
		for first < len(line) && line[first] >= '0' && line[first] <= '9' {
			first++
		}
	}
	return slices.Insert(slices.Clone(line), first, []byte(words)...)
}

// numberSpan finds the N word of a line, with blanks after it.
func numberSpan(line []byte) (s struct{ from, to int }, ok bool) {
	depth := 0
	for i, ch := range line {
		switch {
		case ch == '(':
			depth++
		case ch == ')':
			depth--
		case ch == ';' && depth == 0:
			return s, false
		case (ch == 'N' || ch == 'n') && depth == 0:
			s.from, s.to = i, i+1
			for s.to < len(line) && (line[s.to] >= '0' && line[s.to] <= '9' || line[s.to] == ' ' || line[s.to] == '\t') {
				s.to++
			}
			return s, true
		}
	}
	return s, false
}
