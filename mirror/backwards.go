package mirror

import (
	"bytes"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
)

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
