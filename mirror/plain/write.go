// Package plain writes a program out: motion's control runs it, and every move becomes a
// plain block in G90, rounded once and turned where the blank lies turned; each block is read
// back by a second control and compared before it is handed over (prove.go).
package plain

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Options say how a program is read and written.
type Options struct {
	Read motion.Options
	// Turn turns every move about X0 Y0 of its work offset, in degrees, counter-clockwise;
	// turn.go says what that asks of a program. Quarter turns round nothing.
	Turn decimal.Decimal
	// mutate changes a line before it is proved, for tests.
	mutate func([]byte) []byte
}

// Report says what was written.
type Report struct {
	Moves   int64   // plain blocks that move
	Dropped int64   // moves that round to nothing
	Ran     int64   // blocks that the control ran
	Lines   []int32 // the program's line for each line written
	Places  [2]int  // decimals of coordinates in mm and in inches
	Rounded [2]bool // whether the writing changed a place, in mm and in inches
	Notes   []Note  // in the order in which the lines ran

	switches [10]int // the first line that ran behind a slash of each switch, 0 for none
}

// Note is what the maker should know of a line: what couldn't be written and moves nothing,
// and what controls differ on.
type Note struct {
	Line int
	Text string
}

// Step gives the coarsest step to which coordinates were rounded, in unit u; 0 where
// nothing was written out, or all of it as it was.
func (r *Report) Step(u transform.Unit) (most decimal.Decimal) {
	if r == nil {
		return most
	}
	for unit, rounded := range r.Rounded {
		if rounded {
			q, _ := transform.Convert(decimal.New(1, -int32(r.Places[unit])), transform.Unit(unit), u, 12)
			most = decimal.Max(most, q)
		}
	}
	return most
}

// maxBytes is the most text that is written.
const maxBytes = 1 << 30

// Write writes text, a whole program, out to w. A program with blocks behind a slash is run
// once more for each way in which the block delete switches may be set (slash.go). Coordinates are rounded once, to the
// program's own resolution; what is rounded away is bounded in prove.go. An error is a
// *fault.Error, or w's; what was written by then is to be discarded.
func Write(text []byte, w io.Writer, o Options) (*Report, error) {
	if slashed.Match(text) {
		return writeSlashed(text, w, o)
	}
	return write(text, w, o)
}

// write writes text out as it runs with the switches that are set.
func write(text []byte, w io.Writer, o Options) (*Report, error) {
	t := &writer{o: o, w: w, seen: map[int]bool{}, noted: map[Note]bool{}, cycle: -1, track: motion.Track{Renamed: true}}
	t.report.Places = places(text)
	t.turn = newTurn(o.Turn)
	t.proof = newProver(o.Read, t.report.Places, o.Turn)
	if err := motion.Run(text, o.Read, t.block); err != nil {
		return nil, err
	}
	if t.taped {
		if err := t.line([]byte("%")); err != nil {
			return nil, err
		}
		if err := t.flush(); err != nil {
			return nil, err
		}
	}
	if err := t.deliver(); err != nil {
		return nil, err
	}
	t.report.Rounded = t.proof.rounded
	return &t.report, nil
}

// writer is one Write.
type writer struct {
	o      Options
	w      io.Writer
	report Report
	proof  *prover
	seen   map[int]bool // lines whose comment was written
	noted  map[Note]bool
	track  motion.Track
	turn   turn
	moves  []motion.Move // of the block, in coordinates of its work offset, turned
	turned []motion.Move // its memory, under a turn

	out    []byte // proved, not yet handed over
	size   int
	buffer []byte // lines of the block
	begun  bool   // the first block with words was written
	taped  bool
	centre bool // G90.1 is in force in what was written

	at    [3]int64 // where the written program stands, in steps of 1e-9: a place or a count
	known [3]bool  // places that were written since the last change of tools
	unit  transform.Unit
	// Where places aren't known: where the program's own count stands, and by how much it
	// differs from that of the written program; the unit of both.
	count, base [3]motion.Num
	counted     transform.Unit
	end         [3]motion.Num // where the program itself stands, where known
	zero        [3]bool       // G92 set the axis' zero where its place wasn't known: it is written as well

	now    lineOf // reused
	joined []byte // reused

	drilled transform.Unit // of the last hole

	cycle int // code of the cycle that runs; -1 for none
	dwell string
}

// decimals are those of a coordinate, outside comments.
var decimals = regexp.MustCompile(`\([^)\n]*|(?i:[XYZIJKR])[-+0-9 ]*\.([0-9 ]*)`)

// places finds how many decimals a program's coordinates have, in mm and in inches: at
// least 3 and 4, at most 6.
func places(text []byte) [2]int {
	most := 0
	for line := range bytes.Lines(text) {
		for _, m := range decimals.FindAllSubmatch(line, -1) {
			most = max(most, len(m[1])-bytes.Count(m[1], []byte(" ")))
		}
	}
	return [2]int{min(max(most, 3), 6), min(max(most, 4), 6)}
}

// step gives the resolution in steps of 1e-9.
func step(places int) int64 {
	s := int64(1_000_000_000)
	for range places {
		s /= 10
	}
	return s
}

// rounded gives n to the nearest step, half away from 0.
func rounded(n motion.Num, step int64) (int64, bool) {
	v, ok := n.Nano()
	if !ok {
		f := n.Float() * 1e9
		if math.Abs(f) > 1<<61 {
			return 0, false
		}
		v = int64(math.Round(f))
	}
	if v > 1<<61 || v < -1<<61 {
		return 0, false
	}
	if v < 0 {
		return -((-v + step/2) / step * step), true
	}
	return (v + step/2) / step * step, true
}

// refuse makes an error about a whole block, at its first word of a letter.
func refuse(b *motion.Block, letter byte, found, expected, hint string) error {
	return &fault.Error{File: b.File, Line: b.Line, Col: b.Column(letter), Found: found, Expected: expected, Hint: hint}
}

// block writes what one block did.
func (t *writer) block(m *motion.Machine, b *motion.Block, moves []motion.Move) error {
	t.report.Ran++
	if at := &t.report.switches[b.Switch]; b.Deleted && *at == 0 {
		*at = b.Line
	}
	t.buffer = t.buffer[:0]
	t.turned = t.turned[:0]
	for i := range moves {
		mv, ok := t.track.In(&moves[i])
		if f := mv.Frame; !ok || f != nil && f.Turn.On && !(mv.ToOK[0] && mv.ToOK[1]) {
			return refuse(b, 0, "a move whose place isn't known (G68 from an unknown place)", "axes that were given in G90 before", "")
		}
		if mv != &moves[i] {
			moves[i] = *mv
			mv = &moves[i]
		}
		if err := t.rebase(b, mv, i == 0); err != nil {
			return err
		}
		for axis := range 3 {
			if mv.ToOK[axis] || mv.Home || mv.Machine || !m.Loose(axis) {
				continue
			}
			if _, place := t.proof.m.Place(axis); place == motion.Known {
				return refuse(b, axisLetters[axis], fmt.Sprintf("a move while %c isn't known since G68 or G69", axisLetters[axis]), fmt.Sprintf("%c in G90 first", axisLetters[axis]), "")
			}
		}
		if !t.turn.on {
			continue
		}
		moved, err := t.turn.move(b, mv)
		if err != nil {
			return err
		}
		t.turned = append(t.turned, moved)
	}
	t.moves = moves
	if t.turn.on {
		t.moves = t.turned
	}
	if u := m.Unit(); u != t.unit {
		for i := range t.end {
			t.end[i] = t.end[i].In(t.unit, u)
		}
		t.unit = u
	}
	for i := range t.at {
		at := t.proof.stands(i, t.unit)
		t.at[i], _ = rounded(at, 1)
	}
	if err := t.write(m, b); err != nil {
		return err
	}
	if err := t.proof.check(m, b, moves, t.buffer); err != nil {
		return err
	}
	t.track.After(m)
	t.forget(b, m)
	return t.flush()
}

// rebase lets a move's counts from an unknown place begin where the written program's do.
// They go on from one move to the next; a turn or a shift that ends meanwhile counts anew.
func (t *writer) rebase(b *motion.Block, mv *motion.Move, first bool) error {
	u := mv.State.Unit
	if t.counted != u {
		for i := range t.count {
			t.count[i], t.base[i] = t.count[i].In(t.counted, u), t.base[i].In(t.counted, u)
		}
		t.counted = u
	}
	x, y, _ := mv.State.Plane.Axes()
	for i := range 3 {
		goesOn := mv.From[i].Equal(t.count[i])
		if t.count[i] = mv.To[i]; mv.Home || mv.Machine {
			t.count[i] = mv.From[i]
		}
		switch {
		case mv.FromOK[i]:
			t.base[i] = motion.Num{}
			continue
		case first && !goesOn && t.turn.on:
			return t.turn.refuse(b, "a move from a place that isn't known since a shift or a turn ended", "X and Y in G90 first")
		case first && !goesOn:
			t.base[i] = mv.From[i].Sub(t.proof.stands(i, u))
		}
		if t.base[i].IsZero() {
			continue
		}
		mv.From[i] = mv.From[i].Sub(t.base[i])
		if !mv.ToOK[i] {
			mv.To[i] = mv.To[i].Sub(t.base[i])
		}
		for k, axis := range [2]int{x, y} {
			if axis == i && !mv.CentreOK[k] {
				mv.Centre[k] = mv.Centre[k].Sub(t.base[i])
			}
		}
	}
	return nil
}

// forget drops what isn't known any more of where the written program stands.
func (t *writer) forget(b *motion.Block, m *motion.Machine) {
	for i := range 3 {
		if _, place := m.Place(i); place != motion.Known {
			t.known[i] = false
		}
	}
	if t.turn.on && !(t.known[0] && t.known[1]) {
		t.known[0], t.known[1] = false, false
	}
	for i := range b.Words {
		// A change may leave the tool anywhere.
		if c := b.Words[i].Letter; c == 'T' || c == 'M' && b.Words[i].Value.Equal(motion.FromInt(6)) {
			t.known = [3]bool{}
			break
		}
	}
}

// flush keeps the block's lines, which are proved.
func (t *writer) flush() error {
	if len(t.buffer) == 0 {
		return nil
	}
	t.out = append(t.out, t.buffer...)
	t.buffer = t.buffer[:0]
	if len(t.out) > 1<<16 {
		return t.deliver()
	}
	return nil
}

func (t *writer) deliver() error {
	t.size += len(t.out)
	if t.size > maxBytes {
		return &fault.Error{File: t.o.Read.Name, Found: "more than 1 GiB of plain blocks", Expected: "a shorter program"}
	}
	_, err := t.w.Write(t.out)
	t.out = t.out[:0]
	return err
}

// line adds one line.
func (t *writer) line(text []byte) error {
	if t.o.mutate != nil {
		text = t.o.mutate(text)
	}
	t.buffer = append(append(t.buffer, text...), '\n')
	return nil
}

// write adds the lines for one block.
func (t *writer) write(m *motion.Machine, b *motion.Block) error {
	comment := comments(b)
	if onlyNumber(b) && !b.Words[0].Plain {
		return refuse(b, 'O', "O with a parameter or an expression", "a plain number", "")
	}
	if b.Tape || onlyNumber(b) {
		t.taped = t.taped || b.Tape
		t.from(b)
		text := bytes.TrimSpace(b.Text)
		if !b.Tape && bytes.IndexByte(text, '#') >= 0 { // beside a setting
			w := &b.Words[0]
			text = fmt.Appendf(nil, "%s %s", b.Text[w.Start:w.End], comment)
		}
		return t.line(bytes.TrimSpace(text))
	}
	t.notes(b)
	if len(b.Words) == 0 {
		return t.wordless(b, comment)
	}
	if b.Deleted {
		if err := t.deleted(b); err != nil {
			return err
		}
	}
	if err := t.head(b); err != nil {
		return err
	}
	l := &t.now
	l.writer, l.m, l.b, l.e = t, m, b, m.Effect()
	l.before, l.moving, l.after, l.more, l.stop, l.back = l.before[:0], l.moving[:0], l.after[:0], l.more[:0], l.stop[:0], false
	if err := l.words(); err != nil {
		return err
	}
	if err := l.zeros(); err != nil {
		return err
	}
	if err := l.motion(); err != nil {
		return err
	}
	return t.lines(l, comment)
}

// notes keeps what is to be said of a block that doesn't show in its moves.
func (t *writer) notes(b *motion.Block) {
	if b.Foreign != 0 {
		t.note(b, fmt.Sprintf("not written out: #%d, on many controls a setting of its own", b.Foreign))
	}
	if b.Vacant != "" {
		t.note(b, b.Vacant+" has no value here: left out, as controls with G65 do")
	}
	if b.Differs != "" {
		t.note(b, b.Differs+": worked out as NISTIR 6556 does, controls differ")
	}
}

// wordless writes a line without words: a comment, once, or what is printed.
func (t *writer) wordless(b *motion.Block, comment string) error {
	switch {
	case b.Unread:
		return t.unread(b)
	case !b.Comment() || comment == "" || t.seen[b.Line]:
		return nil
	}
	t.seen[b.Line] = true
	t.from(b)
	return t.line(append(slash(t.joined[:0], b), comment...))
}

// head writes the distance and centre modes in front of the first block with words.
func (t *writer) head(b *motion.Block) error {
	if t.begun {
		return nil
	}
	t.begun = true
	t.from(b)
	head := "G90 G91.1"
	if t.centre = t.o.Read.AbsoluteCentres; t.centre {
		head = "G90 G90.1"
	}
	return t.line([]byte(head))
}

// lines adds the lines that were put together for a block.
func (t *writer) lines(l *lineOf, comment string) error {
	b := l.b
	if n := len(l.more); n > 0 {
		l.more[n-1] = append(l.more[n-1], l.stop...)
	} else {
		l.after = append(l.after, l.stop...)
	}
	if len(l.before)+len(l.moving)+len(l.after) == 0 {
		return nil
	}
	t.from(b)
	t.joined = slash(t.joined[:0], b)
	line := bytes.TrimSpace(append(append(append(t.joined, l.before...), l.moving...), l.after...))
	t.joined = line[:0]
	if comment != "" {
		line = append(append(line, ' '), comment...)
	}
	if err := t.line(line); err != nil {
		return err
	}
	for _, hole := range l.more {
		t.from(b)
		if err := t.line(bytes.TrimSpace(append(slash(t.joined[:0], b), hole...))); err != nil {
			return err
		}
	}
	if l.back {
		t.from(b)
		return t.line(append(slash(t.joined[:0], b), "G90"...))
	}
	return nil
}

// unread writes a line that holds no word, such as what is printed to a port. What that
// prints of parameters is left out: the plain program has none.
func (t *writer) unread(b *motion.Block) error {
	if bytes.IndexByte(b.Text, '#') >= 0 && bytes.IndexByte(b.Text, '[') >= 0 {
		t.note(b, "not written out: DPRNT with parameters")
		return nil
	}
	t.from(b)
	return t.line(bytes.TrimSpace(b.Text))
}

// note keeps a note of a block, once for each line.
func (t *writer) note(b *motion.Block, text string) {
	n := Note{b.Line, text}
	if !t.noted[n] && len(t.noted) < 1<<16 {
		t.noted[n] = true
		t.report.Notes = append(t.report.Notes, n)
	}
}

// from notes which line of the program a written line comes from.
func (t *writer) from(b *motion.Block) {
	if len(t.report.Lines) < 1<<24 {
		t.report.Lines = append(t.report.Lines, int32(b.Line))
	}
}

// onlyNumber reports a block with nothing but an O word.
func onlyNumber(b *motion.Block) bool { return len(b.Words) == 1 && b.Words[0].Letter == 'O' }

// comments gives the comments of a line, one behind the other.
func comments(b *motion.Block) string {
	if bytes.IndexByte(b.Text, '(') < 0 && bytes.IndexByte(b.Text, ';') < 0 {
		return ""
	}
	if bytes.ContainsFunc(b.Text, func(r rune) bool { return r < ' ' && r != '\t' }) {
		return "" // of a line that is no block
	}
	return strings.Join(motion.Comments(b.Text), "")
}

// number writes a count of 1e-9 as a decimal with at least one place.
func number(s []byte, v int64) []byte {
	if v < 0 {
		s = append(s, '-')
		v = -v
	}
	s = strconv.AppendInt(s, v/1_000_000_000, 10)
	s = append(s, '.')
	v %= 1_000_000_000
	for first := true; first || v > 0; first = false {
		s = append(s, byte('0'+v/100_000_000))
		v = v % 100_000_000 * 10
	}
	return s
}
