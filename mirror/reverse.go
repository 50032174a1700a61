package mirror

import (
	"fmt"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
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

	at  [3]coordinate
	now modal
	on  bool   // cutter compensation is
	gap string // between words, as last seen

	broken bool // what follows is the rest of the chain that was left last

	surface surface
	offset  int  // code of the work offset, 0 until one is called
	shifted bool // it isn't known where the blank lies
}

// newReverser makes a reverser and tells the proof with an empty chain that others may
// follow.
func newReverser(m *rewriter) *reverser {
	m.turned = append(m.turned, Chain{})
	return &reverser{m: m, now: modal{motion: none}, aside: -1, gap: " ", surface: newSurface(m)}
}

// line takes the mirrored text of one line of the program. It hands back in m.out what
// is clear. cuts says that it cuts in the plane of the part.
func (r *reverser) line(number int, text []byte, cuts bool) {
	c := chainText{line: number, before: r.now, from: r.at}
	r.lexer.Reset(wholeLine(text))
	if err := r.lexer.Next(&r.b); err != nil {
		panic("mirror: a mirrored line can't be read: " + err.Error())
	}
	var why string
	c.kind, why = r.read(&c)
	if len(r.lines) >= maxChain {
		r.why = "too long"
		r.release()
	}
	switch c.kind {
	case lineAside:
		r.takeAside(c, text)
	case lineCut:
		r.takeCut(c, text, why)
	case lineLevel:
		r.takeLevel(c, text)
	case lineOther:
		r.takeOther(&c, text, cuts, why)
	case lineStill:
		r.takeStill(c, text)
	case lineComp:
		if r.phase == noChain && c.comp > 400 {
			r.phase = wayIn
		}
		r.hold(c, text)
	default:
		r.hold(c, text)
	}
}

// takeAside begins a chain.
func (r *reverser) takeAside(c chainText, text []byte) {
	r.nextMove(&c)
	r.release()
	r.broken = false
	r.m.o.passes.rapid(&c)
	r.phase, r.aside = wayIn, 0
	r.hold(c, text)
}

// takeCut adds a cut, and begins a chain that no rapid leads to.
func (r *reverser) takeCut(c chainText, text []byte, why string) {
	if r.phase == wayOut {
		r.why = "a feed leads on from its end"
		r.release()
	}
	if r.phase < cutting {
		r.phase, r.first = cutting, len(r.lines)
	}
	r.last = len(r.lines)
	if r.why == "" {
		r.why = why
	}
	r.hold(c, text)
}

// takeLevel adds a step of the way in or out. What goes deeper ends a chain and lets
// the next one begin.
func (r *reverser) takeLevel(c chainText, text []byte) {
	if r.phase == noChain {
		r.broken = false
	}
	if r.phase == wayOut && !c.rises() && r.why == "" {
		r.why = "it goes down again at its end"
		r.resolve()
	}
	if r.phase != cutting {
		r.hold(c, text)
		return
	}
	r.phase, r.out = wayOut, len(r.lines)
	r.hold(c, text)
	switch {
	case r.closed() || r.why != "":
		r.resolve()
	case !c.rises():
		r.why = "it goes deeper without coming out"
		r.resolve()
	}
}

// takeOther ends a chain.
func (r *reverser) takeOther(c *chainText, text []byte, cuts bool, why string) {
	if r.phase >= cutting && r.why == "" && !r.closed() && (r.phase == cutting || !r.m.s.ended) {
		r.why = "what follows needs its end"
		if cuts && r.phase == cutting {
			r.why = why // the same chain goes on
		}
	}
	r.resolve()
	if cuts = cuts && !r.inAir(c); cuts {
		r.m.o.passes.take([]chainText{*c}, true, r.broken)
		r.leave(Chain{First: c.line, Last: c.line, Why: why})
	}
	r.broken = cuts
	r.m.out = append(r.m.out, text...)
}

// takeStill adds a line behind a chain; before it and within it hinders.
func (r *reverser) takeStill(c chainText, text []byte) {
	if r.phase == noChain || r.phase == wayOut {
		r.hold(c, text)
		return
	}
	broken := r.phase == cutting && !r.chainInAir()
	switch {
	case broken && r.closed(): // a loop, whatever follows
		r.resolve()
		broken = false
	case r.m.s.ended:
		r.finish()
		broken = false
	case broken && r.why == "":
		r.why = "other words between its cuts or before its way out"
	}
	r.release()
	r.broken = r.broken || broken
	r.m.out = append(r.m.out, text...)
}

// hold keeps a line of a chain; without a chain it goes on at once.
func (r *reverser) hold(c chainText, text []byte) {
	if r.phase == noChain {
		r.m.out = append(r.m.out, text...)
		return
	}
	c.start = len(r.text)
	r.text = append(r.text, text...)
	c.end = len(r.text)
	r.lines = append(r.lines, c)
}

// begin gives the index of the line after the last rapid or step down before the cuts.
func (r *reverser) begin() int {
	i := r.first
	for i > 0 && r.lines[i-1].kind != lineAside && r.lines[i-1].kind != lineLevel {
		i--
	}
	return i
}

// closed reports whether the chain ends where it starts.
func (r *reverser) closed() bool {
	a, z := &r.lines[r.first], &r.lines[r.last]
	return same(&a.from, &z.to)
}

// same reports whether two places are known and the same in X and Y.
func same(a, b *[3]coordinate) bool {
	for i := range 2 {
		if !a[i].same(b[i]) {
			return false
		}
	}
	return true
}

// nextMove ends a chain before a rapid aside. An open chain leaves the tool at its other
// end, so that the rapid must give both axes and mustn't come down on its new way.
func (r *reverser) nextMove(c *chainText) {
	if r.phase < cutting {
		return
	}
	if r.why == "" && !r.closed() {
		a, z := &r.lines[r.first], &r.lines[r.last]
		switch {
		case r.phase == cutting:
			r.why = "no way up at its end"
		case c.says&block.Bit('X') == 0 && !a.from[0].same(z.to[0]), c.says&block.Bit('Y') == 0 && !a.from[1].same(z.to[1]):
			r.why = "the rapid after it doesn't give both X and Y"
		case !c.rises():
			r.why = "the rapid after it comes down as it goes"
		case !r.high(c):
			r.why = "the rapid after it doesn't surely run above the work"
		}
	}
	r.resolve()
}

// lead reports whether the chain has a lead on one end only: it comes back to a point
// of its own that isn't its other end.
func (r *reverser) lead() bool {
	a, z := &r.lines[r.first], &r.lines[r.last]
	var cuts []*chainText // that lead somewhere
	for i := r.first; i <= r.last; i++ {
		if l := &r.lines[i]; l.kind == lineCut && (l.after.motion > 10 || !same(&l.from, &l.to)) {
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
	if r.phase >= cutting && r.why == "" && !r.chainInAir() {
		r.why = r.reverse()
	}
	r.release()
}

// release lets the held lines go and notes a chain that was left.
func (r *reverser) release() {
	m := r.m
	switch {
	case r.phase < cutting:
	case r.chainInAir():
		r.broken = false
	default:
		if s := m.o.passes; s != nil && !s.done {
			s.take(r.cutsOf(), r.why != "", r.broken)
		}
		if r.why == "" {
			break
		}
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
		level := fact.Note
		if len(left) > 0 {
			level = fact.Warning
		}
		m.note(level, 0, CutsReversed{Reversed: m.report.Reversed, Left: len(left)})
	}
	if n := m.report.Opened; n > 0 {
		m.note(fact.Warning, m.report.FirstOpened, OtherEnd{Chains: n})
	}
	lines := map[string][]string{} // for each reason
	for _, c := range left {
		lines[c.Why] = append(lines[c.Why], c.lines())
	}
	for _, c := range left {
		if all := lines[c.Why]; all != nil {
			m.report.Notes = append(m.report.Notes, Note{Level: fact.Warning, Line: c.First, Is: LeftAsMirrored{Why: c.Why, Lines: all}})
			delete(lines, c.Why)
		}
	}
}

// lines are a chain's first and last line in words.
func (c Chain) lines() string {
	switch {
	case c.Last == 0:
		return fmt.Sprint(c.First, " on")
	case c.Last > c.First:
		return fmt.Sprintf("%d-%d", c.First, c.Last)
	}
	return fmt.Sprint(c.First)
}

// finish lets go what is held at the end of the program.
func (r *reverser) finish() {
	if r.phase == cutting && r.why == "" && !r.closed() {
		r.why = "no way up at its end"
	}
	r.resolve()
}
