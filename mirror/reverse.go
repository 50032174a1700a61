package mirror

import (
	"bytes"
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
	"flipcalc/mirror/transform"
)

// A mirror turns climb into conventional. Run backwards, a cut has the cutter on its
// old side again. A cutting chain is what lies between two rapids: the way in (a rapid
// aside, down), cuts at one depth, the way out. Reversed, a closed chain keeps its
// entry; an open one is entered at its other end.
//
// The reverser works on the mirrored text, line by line: it holds the lines of a chain
// until it is clear whether the chain can be reversed, and then either lets them go as
// they are or writes the cuts the other way round, in as many lines, each with its own
// block number and comment.

// maxChain is the most lines of a chain that are held.
const maxChain = 200_000

// lineKind is what a line is to a chain.
type lineKind uint8

const (
	lineBlank lineKind = iota // no words
	lineAside                 // a rapid in X and Y alone
	lineLevel                 // a rapid or feed in Z alone
	lineCut                   // a feed in X and Y
	lineStill                 // words that move no axis
	lineOther                 // all else
)

// coordinate is a number of the mirrored text.
type coordinate struct {
	ok   bool
	v    decimal.Decimal
	text string
}

// chainText is one held line.
type chainText struct {
	line       int // in the program
	start, end int // in reverser.text
	kind       lineKind
	from, to   [2]coordinate // of a cut, X and Y
	centre     [2]decimal.Decimal
	radius     string // of an arc by radius
	motion     int    // code of a cut
	feed       coordinate
	motionWas  int  // before the line
	rises      bool // Z doesn't fall
}

// phase is how far a chain has come.
type phase uint8

const (
	noChain phase = iota
	wayIn
	cutting
	wayOut
)

// reverser reverses chains in the text that the rewriter makes.
type reverser struct {
	m     *rewriter
	lexer block.Lexer
	b     block.Block

	text  []byte
	lines []chainText
	phase phase
	aside int // index of the rapid that leads to the chain, -1 for none
	first int // index of the first cut
	last  int // index of the last cut
	out   int // index of the first line of the way out
	why   string
	high  coordinate // Z during the rapid aside

	at     [3]coordinate
	feed   coordinate
	motion int

	gap string // between words, as last seen

	broken bool // what follows is the rest of the chain that was left last
}

func newReverser(m *rewriter) *reverser {
	return &reverser{m: m, motion: none, aside: -1, gap: " "}
}

// line takes the mirrored text of one line of the program. It hands back in m.out what
// is clear. cuts says that it cuts in the plane of the part.
func (r *reverser) line(number int, text []byte, cuts bool) {
	m := r.m
	c := chainText{line: number, motionWas: r.motion}
	r.lexer.Reset(wholeLine(text))
	if err := r.lexer.Next(&r.b); err != nil {
		panic("mirror: a mirrored line can't be read: " + err.Error())
	}
	kind, why := r.read(&c)
	c.kind = kind
	switch {
	case len(r.lines) >= maxChain:
		r.why = "too long"
		r.release()
	case c.kind == lineAside:
		r.nextMove(&c)
	case c.kind == lineCut && r.phase == wayOut:
		r.why = "the next cut starts where it ends"
		r.release()
	case c.kind == lineOther:
		if r.phase >= cutting && r.why == "" && !r.closed() && (r.phase == cutting || !m.s.ended) {
			r.why = "what follows needs its end"
			if cuts && r.phase == cutting {
				r.why = why // the same chain goes on
			}
		}
		r.resolve()
		if cuts {
			r.leave(Chain{First: number, Last: number, Why: why})
		}
		r.broken = cuts
	}
	switch {
	case c.kind == lineAside:
		r.release()
		r.broken = false
		r.phase, r.aside, r.why, r.high = wayIn, 0, "", r.at[2]
		r.hold(c, text)
	case c.kind == lineCut:
		if r.phase < cutting {
			if r.phase == noChain {
				r.aside, r.why = -1, ""
			}
			r.phase, r.first = cutting, len(r.lines)
		}
		r.last = len(r.lines)
		if r.why == "" {
			r.why = why
		}
		r.hold(c, text)
	case r.phase == noChain, c.kind == lineOther:
		r.broken = r.broken && c.kind != lineLevel
		m.out = append(m.out, text...)
	case c.kind == lineLevel && r.phase == cutting:
		r.phase, r.out = wayOut, len(r.lines)
		r.hold(c, text)
		switch {
		case r.closed() || r.why != "":
			r.resolve()
		case !c.rises:
			r.why = "it goes deeper without coming out"
			r.resolve()
		}
	case c.kind == lineStill && r.phase < wayOut:
		if r.phase == cutting && r.why == "" {
			r.why = "other words between its cuts"
		}
		broken := r.phase == cutting
		r.release()
		r.broken = r.broken || broken
		m.out = append(m.out, text...)
	default:
		r.hold(c, text)
	}
}

func (r *reverser) hold(c chainText, text []byte) {
	c.start = len(r.text)
	r.text = append(r.text, text...)
	c.end = len(r.text)
	r.lines = append(r.lines, c)
}

// wholeLine gives a line its line end where it has none.
func wholeLine(text []byte) []byte {
	if n := len(text); n > 0 && text[n-1] == '\n' {
		return text
	}
	return append(append(make([]byte, 0, len(text)+1), text...), '\n')
}

// odd says what keeps a cut in a line of other kind from being reversed.
func (r *reverser) odd() string {
	b, s := &r.b, &r.m.s
	pocket := false
	for i := range b.W[:b.N] {
		c := b.W[i].Code()
		pocket = pocket || b.W[i].Letter == 'G' && (c == 120 || c == 130)
	}
	switch {
	case b.Deleted:
		return "a block with a slash before it"
	case b.Values || b.Settings > 0:
		return "a parameter or an expression"
	case pocket:
		return "a circular pocket"
	case r.motion == 50 || r.motion == 51:
		return "a spline"
	case s.comp:
		return "cutter compensation"
	case s.inc:
		return "G91"
	}
	return "other words in its block"
}

// read finds out what a line is and follows the state of the mirrored program. why
// says what keeps a cut from being reversed.
func (r *reverser) read(c *chainText) (kind lineKind, why string) {
	b, s := &r.b, &r.m.s
	if b.Last {
		return lineOther, r.odd()
	}
	if b.Empty() {
		return lineBlank, ""
	}
	if b.N > 1 {
		r.gap = ""
		if end := b.W[0].End; b.W[1].Start > end {
			r.gap = " "
		}
	}
	const plain = gWord | axisWords | centreWords | radiusWord | 1<<('F'&31)
	odd := b.Letters&^plain != 0 || b.Twice != 0 || b.Deleted || b.Percent || b.Values || b.Settings > 0
	from, lose := r.at, b.Values || b.Deleted || s.inc
	for i := range b.W[:b.N] {
		if b.W[i].Letter != 'G' {
			continue
		}
		code := b.W[i].Code()
		switch g := gGroups[code]; {
		case g == gMotion && code <= 30:
			r.motion = code
		case g == gPlane || g == gDistance || g == gFeed || g == gComp || g == gLength || g == gReturn || g == gPath || g == gExact:
			odd = true
		case g == gMotion:
			r.motion, odd, lose = code, true, true
		default: // G28, G53, G54, G92 and the like: wherever the axes stand then
			odd, lose = true, true
		}
	}
	if lose || r.motion > 30 {
		r.at = [3]coordinate{}
	}
	var moved [3]bool
	for a := range moved {
		moved[a] = r.given('X'+byte(a), &r.at[a], lose)
	}
	r.given('F', &r.feed, false)
	turns := b.Letters&(centreWords|radiusWord) != 0
	switch aside := moved[0] || moved[1]; {
	case lose || r.motion > 30 || b.Percent:
		if !odd && s.inc && r.motion >= 10 && r.motion <= 30 && (aside || turns) {
			return lineCut, "G91"
		}
		return lineOther, r.odd()
	case !aside && !moved[2] && !turns:
		return lineStill, ""
	case odd:
		return lineOther, r.odd()
	case r.motion == 0 && aside && !moved[2]:
		return lineAside, ""
	case (r.motion == 0 || r.motion == 10) && !aside:
		c.rises = from[2].ok && r.at[2].v.GreaterThanOrEqual(from[2].v)
		return lineLevel, ""
	case r.motion < 10:
		return lineOther, r.odd()
	}
	return lineCut, r.cut(c, &from)
}

// given reads the number of a letter's word into known, where the line has one; lost
// says that it isn't where the axis then stands.
func (r *reverser) given(letter byte, known *coordinate, lost bool) bool {
	w := r.b.Find(letter)
	if w == nil {
		return false
	}
	*known = coordinate{}
	if !lost && w.Flags&(block.Value|block.Big) == 0 {
		*known = coordinate{true, exact(r.lexer.Chunk(), w), string(plainNumber(r.lexer.Chunk(), w))}
	}
	return true
}

// cut fills in a cut; why says what keeps it from being reversed.
func (r *reverser) cut(c *chainText, from *[3]coordinate) (why string) {
	b, s := &r.b, &r.m.s
	c.motion, c.feed = r.motion, r.feed
	c.from, c.to = [2]coordinate{from[0], from[1]}, [2]coordinate{r.at[0], r.at[1]}
	switch {
	case s.comp:
		return "cutter compensation"
	case s.rotated:
		return "G68"
	case r.m.split:
		return "a block with a slash before it"
	case s.plane != transform.XY:
		return "another plane than G17"
	case s.feed != 940:
		return "G93 or G95"
	case !from[2].ok || !from[0].ok || !from[1].ok || !c.to[0].ok || !c.to[1].ok:
		return "its start isn't known"
	case !c.feed.ok:
		return "its feed isn't known"
	case !from[2].v.Equal(r.at[2].v) && c.motion == 10:
		return "a ramp"
	case !from[2].v.Equal(r.at[2].v):
		return "a helix"
	case c.motion == 10:
		return ""
	}
	if w := b.Find('R'); w != nil {
		c.radius = string(plainNumber(r.lexer.Chunk(), w))
		return ""
	}
	if s.absCentres {
		return "absolute centres"
	}
	c.centre = [2]decimal.Decimal{c.from[0].v, c.from[1].v}
	for a, letter := range []byte("IJ") {
		if w := b.Find(letter); w != nil {
			if w.Flags&(block.Value|block.Big) != 0 {
				return "an expression"
			}
			c.centre[a] = c.centre[a].Add(exact(r.lexer.Chunk(), w))
		}
	}
	return ""
}

// closed reports whether the chain ends where it starts.
func (r *reverser) closed() bool {
	a, z := &r.lines[r.first], &r.lines[r.last]
	return same(&a.from, &z.to)
}

func same(a, b *[2]coordinate) bool {
	for i := range 2 {
		if !a[i].ok || !b[i].ok || !a[i].v.Equal(b[i].v) {
			return false
		}
	}
	return true
}

// nextMove looks whether a rapid aside gives both axes of which an open chain on its
// way out leaves the tool elsewhere.
func (r *reverser) nextMove(c *chainText) {
	switch r.phase {
	case cutting:
		if r.why == "" {
			r.why = "no way up at its end"
		}
		r.release()
	case wayOut:
		a, z := &r.lines[r.first], &r.lines[r.last]
		for i, letter := range []byte("XY") {
			if r.b.Letters&block.Bit(letter) == 0 && !a.from[i].v.Equal(z.to[i].v) && r.why == "" {
				r.why = "the rapid after it doesn't give both X and Y"
			}
		}
		r.resolve()
	}
}

// lead reports whether the chain has a lead on one end only: it comes back to a point
// of its own that isn't its other end.
func (r *reverser) lead() bool {
	a, z := &r.lines[r.first], &r.lines[r.last]
	var cuts []*chainText // that lead somewhere
	for i := r.first; i <= r.last; i++ {
		if l := &r.lines[i]; l.kind == lineCut && (l.motion > 10 || !same(&l.from, &l.to)) {
			cuts = append(cuts, l)
		}
	}
	for i, l := range cuts {
		if i < len(cuts)-1 && same(&l.to, &z.to) || i > 0 && same(&l.from, &a.from) {
			return true
		}
	}
	return false
}

// resolve reverses the held chain if that can be done, and lets its lines go.
func (r *reverser) resolve() {
	if r.phase < cutting || r.why != "" {
		r.release()
		return
	}
	open := !r.closed()
	if open && r.lead() {
		r.why = "a lead on one end only"
	}
	if r.why == "" {
		r.reverse(open)
	}
	r.release()
}

// release lets the held lines go and notes a chain that was left.
func (r *reverser) release() {
	m := r.m
	if r.phase >= cutting && r.why != "" {
		r.leave(Chain{First: r.lines[r.first].line, Last: r.lines[r.last].line, Why: r.why})
	}
	if r.phase == wayOut {
		r.broken = false
	}
	m.out = append(m.out, r.text...)
	r.text, r.lines, r.phase, r.aside, r.why = r.text[:0], r.lines[:0], noChain, -1, ""
}

// leave notes a chain that stays as mirrored, or the rest of one.
func (r *reverser) leave(c Chain) {
	left := r.m.report.Left
	if n := len(left); n > 0 && (r.broken || left[n-1].Why == c.Why && left[n-1].Last+1 == c.First) {
		left[n-1].Last = c.Last
		return
	}
	r.m.report.Left = append(left, c)
}

// reversals notes what was reversed and what was left, with the lines for each reason.
func (m *rewriter) reversals() {
	left := m.report.Left
	m.report.Chains = m.report.Reversed + int64(len(left))
	if m.report.Chains > 0 {
		level := Info
		if len(left) > 0 {
			level = Warning
		}
		m.note(Note{Code: CutsReversed, Level: level, Values: []string{fmt.Sprint(m.report.Reversed), fmt.Sprint(len(left))}})
	}
	by := map[string]int{} // reason to its note
	for _, c := range left {
		at, ok := by[c.Why]
		if !ok {
			at = len(m.report.Notes)
			by[c.Why] = at
			m.report.Notes = append(m.report.Notes, Note{Code: LeftAsMirrored, Level: Warning, Line: c.First, Values: []string{c.Why}})
		}
		lines := fmt.Sprint(c.First)
		switch {
		case c.Last == 0:
			lines += " on"
		case c.Last > c.First:
			lines += fmt.Sprintf("-%d", c.Last)
		}
		n := &m.report.Notes[at]
		n.Values = append(n.Values, lines)
	}
}

// backwards gives the code of a cut that is run backwards.
func backwards(motion int) int {
	if motion > 10 {
		return 50 - motion
	}
	return motion
}

// reverse writes the held chain anew, or says in why what keeps it from that.
func (r *reverser) reverse(open bool) {
	var cuts []int
	for i := r.first; i <= r.last; i++ {
		if r.lines[i].kind == lineCut {
			cuts = append(cuts, i)
		}
	}
	n := len(cuts)
	head, tail := &r.lines[cuts[0]], &r.lines[cuts[n-1]]
	end := r.last // the last line of the reversed chain
	if r.phase == wayOut {
		end = r.out
	}
	switch {
	case open && r.aside < 0:
		r.why = "no rapid leads to it"
	case open && r.phase != wayOut:
		r.why = "no way up at its end"
	case open && (!r.high.ok || r.high.v.LessThan(r.levelOut())):
		r.why = "the rapid to it runs lower than its way out"
	case end == r.last && (!head.feed.v.Equal(tail.feed.v) || backwards(head.motion) != tail.motion):
		r.why = "what follows needs its last feed or code"
	}
	if r.why != "" {
		return
	}
	start := cuts[0]
	if open {
		start = r.aside
	}
	w := &chainWriter{r: r, motion: head.motionWas, feed: r.feedBefore(cuts[0])}
	var text []byte
	for i := range r.lines {
		l := &r.lines[i]
		old := r.text[l.start:l.end]
		switch {
		case l.kind == lineCut && i >= start:
			k := n - 1 - w.written
			c := &r.lines[cuts[k]]
			words := w.cut(c)
			line, ok := w.line(old, words)
			if !ok {
				r.why = "a comment between its words"
				return
			}
			text = append(text, line...)
		case open && i == r.aside:
			line, ok := w.aside(old, &tail.to)
			if !ok {
				r.why = "a comment between its words"
				return
			}
			text = append(text, line...)
		case i == r.out && r.phase == wayOut:
			line, ok := w.wayOut(old, tail)
			if !ok {
				r.why = "a comment between its words"
				return
			}
			text = append(text, line...)
		default:
			text = append(text, old...)
		}
	}
	r.text = append(r.text[:0], text...)
	chain := Chain{First: r.lines[start].line, Last: r.lines[end].line}
	r.m.turned = append(r.m.turned, chain)
	r.m.report.Reversed++
}

// levelOut gives Z after the first line of the way out.
func (r *reverser) levelOut() decimal.Decimal {
	var l block.Lexer
	var b block.Block
	c := &r.lines[r.out]
	l.Reset(wholeLine(r.text[c.start:c.end]))
	if l.Next(&b) != nil {
		return r.at[2].v
	}
	return exact(l.Chunk(), b.Find('Z'))
}

// feedBefore gives the feed in force before line i.
func (r *reverser) feedBefore(i int) coordinate {
	c := &r.lines[i]
	var l block.Lexer
	var b block.Block
	l.Reset(wholeLine(r.text[c.start:c.end]))
	if l.Next(&b) == nil && b.Letters&block.Bit('F') != 0 {
		return coordinate{} // given in this line: to be given again
	}
	return c.feed
}

// chainWriter writes the lines of a reversed chain.
type chainWriter struct {
	r       *reverser
	written int
	motion  int // in force in what is written
	feed    coordinate
}

// cut gives the words of a cut run backwards.
func (w *chainWriter) cut(c *chainText) (words []string) {
	w.written++
	motion := backwards(c.motion)
	if motion != w.motion {
		words = append(words, codeName('G', motion))
		w.motion = motion
	}
	words = append(words, "X"+c.from[0].text, "Y"+c.from[1].text)
	switch {
	case c.radius != "":
		words = append(words, "R"+c.radius)
	case motion > 10:
		for a, letter := range "IJ" {
			d := c.centre[a].Sub(c.to[a].v)
			words = append(words, string(letter)+d.StringFixed(max(0, -d.Exponent())))
		}
	}
	if !w.feed.ok || !w.feed.v.Equal(c.feed.v) {
		words = append(words, "F"+c.feed.text)
		w.feed = c.feed
	}
	return words
}

// aside gives the line of the rapid that leads to the chain's other end.
func (w *chainWriter) aside(old []byte, to *[2]coordinate) ([]byte, bool) {
	return w.change(old, func(letter byte) (string, bool) {
		switch letter {
		case 'X':
			return to[0].text, true
		case 'Y':
			return to[1].text, true
		}
		return "", false
	}, "X"+to[0].text, "Y"+to[1].text)
}

// wayOut gives the first line of the way out, with the code and the feed that the rest
// of the program needs.
func (w *chainWriter) wayOut(old []byte, tail *chainText) ([]byte, bool) {
	var more []string
	if w.feed.ok && !w.feed.v.Equal(tail.feed.v) {
		more = append(more, "F"+tail.feed.text)
	}
	return w.change(old, nil, more...)
}

// change gives a line in which set replaces numbers and the words in more are added
// where the line has none of their letter. ok is false where a comment stands between
// the words.
func (w *chainWriter) change(old []byte, set func(letter byte) (string, bool), more ...string) (line []byte, ok bool) {
	p, ok := parts(old, w.r.gap)
	if !ok {
		return nil, false
	}
	var words []string
	if p.block.Letters&gWord == 0 && w.motion != w.r.lines[w.r.out].motionWas && set == nil {
		words = append(words, codeName('G', w.r.lines[w.r.out].motionWas))
	}
	for i := range p.block.W[:p.block.N] {
		word := &p.block.W[i]
		number := string(p.text[word.Num:word.End])
		if set != nil {
			if text, ok := set(word.Letter); ok {
				number = text
			}
		}
		words = append(words, string(word.Letter)+number)
	}
	for _, m := range more {
		if p.block.Letters&block.Bit(m[0]) == 0 {
			words = append(words, m)
		}
	}
	return p.join(words), true
}

// line gives the line old with other words.
func (w *chainWriter) line(old []byte, words []string) ([]byte, bool) {
	p, ok := parts(old, w.r.gap)
	if !ok {
		return nil, false
	}
	return p.join(words), true
}

// lineParts is a line taken apart: what stands before its words, the words, the rest.
type lineParts struct {
	text         []byte
	block        block.Block
	before, rest []byte
	gap          string
	lower        bool
}

// parts takes a line apart; gap goes between words where the line itself has none. ok is false where a comment stands between its words.
func parts(old []byte, gap string) (*lineParts, bool) {
	p := &lineParts{text: wholeLine(old)}
	var l block.Lexer
	l.Reset(p.text)
	if l.Next(&p.block) != nil || p.block.N == 0 {
		return nil, false
	}
	from, to := p.block.W[0].Start, p.block.W[p.block.N-1].End
	p.before, p.rest = p.text[:from], old[to:]
	span := p.text[from:to]
	if bytes.IndexByte(span, '(') >= 0 {
		return nil, false
	}
	if p.gap = gap; bytes.IndexByte(span, ' ') >= 0 {
		p.gap = " "
	}
	p.lower = span[0] >= 'a'
	return p, true
}

func (p *lineParts) join(words []string) []byte {
	line := append([]byte(nil), p.before...)
	for i, word := range words {
		if i > 0 {
			line = append(line, p.gap...)
		}
		if p.lower {
			word = string(word[0]|0x20) + word[1:]
		}
		line = append(line, word...)
	}
	return append(line, p.rest...)
}

// finish lets go what is held at the end of the program.
func (r *reverser) finish() {
	if r.phase == cutting && r.why == "" && !r.closed() {
		r.why = "no way up at its end"
	}
	r.resolve()
}
