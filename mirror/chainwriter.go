package mirror

import (
	"bytes"

	"flipcalc/mirror/block"
	"flipcalc/mirror/motion"
)

// backwards gives the code of a cut that is run backwards.
func backwards(code int) int {
	if code > 10 {
		return 50 - code
	}
	return code
}

// hinders says what keeps a chain of plain cuts from being reversed.
func (r *reverser) hinders() (why string) {
	if why := r.compensation(); why != "" || r.closed() {
		return why
	}
	switch {
	case r.lines[r.first].counts:
		return "G91, and its ends are two places"
	case r.lead():
		return "a lead on one end only"
	case r.aside < 0:
		return "no rapid leads to it"
	case r.phase != wayOut:
		return "no way up at its end"
	}
	// The rapid to the other end must run as high all the way as the way out reaches,
	// where the tool has left that end in the input.
	aside, out := &r.lines[r.aside], &r.lines[r.out].to[2]
	for _, z := range [2]*coordinate{&aside.from[2], &aside.to[2]} {
		switch {
		case !z.ok || !out.ok:
			return "the height of the rapid to it isn't known"
		case z.v.LessThan(out.v):
			return "the rapid to it runs lower than its way out"
		}
	}
	if !r.high(aside) {
		return "the rapid to it doesn't surely run above the work"
	}
	return r.wayDown()
}

// reverse writes the held chain anew, or says what keeps it from that.
func (r *reverser) reverse() (why string) {
	if why := r.hinders(); why != "" {
		return why
	}
	if r.m.o.passes.leaves(r.lines[r.first].line) {
		return "another pass over its path can't be reversed, so all stay alike: nothing to do"
	}
	w := &chainWriter{r: r, from: r.aside}
	if r.closed() {
		w.from = r.begin()
	}
	for i := r.last; i >= r.first; i-- {
		if r.lines[i].kind == lineCut {
			w.cuts = append(w.cuts, &r.lines[i])
		}
	}
	for i := r.first; i <= r.last; i++ {
		w.speeds = w.speeds || r.lines[i].says&block.Bit('S') != 0
	}
	if w.speeds && !r.lines[r.first].before.speed.ok {
		return "its first spindle speed isn't known"
	}
	w.now = r.lines[w.from].before
	to := r.last // the last line of the reversed chain
	if r.phase == wayOut {
		to = r.out
	}
	text := append([]byte(nil), r.text[:r.lines[w.from].start]...)
	for i := w.from; i < len(r.lines); i++ {
		l := &r.lines[i]
		line, ok := r.text[l.start:l.end], true
		if i <= to {
			line, ok = w.line(i, line)
		}
		if !ok {
			return "a comment between its words"
		}
		text = append(text, line...)
	}
	if end := &r.lines[len(r.lines)-1].after; r.phase != wayOut && (end.motion != w.now.motion || !end.feed.same(w.now.feed) || w.speeds && !end.speed.same(w.now.speed)) {
		return "what follows needs its last feed, speed or code"
	}
	r.text = append(r.text[:0], text...)
	r.m.turned = append(r.m.turned, Chain{First: r.lines[w.from].line, Last: r.lines[to].line})
	r.m.report.Reversed++
	if !r.closed() {
		if r.m.report.Opened++; r.m.report.Opened == 1 {
			r.m.report.FirstOpened = r.lines[w.from].line
		}
	}
	return ""
}

// chainWriter writes the lines of a reversed chain.
type chainWriter struct {
	r      *reverser
	from   int          // index of the first line that is written
	cuts   []*chainText // still to be written
	speeds bool         // the spindle's speed changes between the cuts
	now    modal        // in force after what is written
}

// line gives line i of the chain as it reads in the reversed one. ok is false where a
// comment stands between its words.
func (w *chainWriter) line(i int, old []byte) (line []byte, ok bool) {
	r := w.r
	l := &r.lines[i]
	switch {
	case l.kind == lineCut:
		c := w.cuts[0]
		w.cuts = w.cuts[1:]
		return w.replace(old, append(l.compensation(), w.cut(c)...))
	case i == r.aside:
		w.follow(l)
		to := &w.cuts[0].to
		return w.change(old, "", map[byte]string{'X': to[0].text, 'Y': to[1].text}, "X"+to[0].text, "Y"+to[1].text)
	case l.kind == lineSetting && w.beforeCut(i):
		set := map[byte]string{}
		if l.says&block.Bit('F') != 0 {
			w.now.feed = w.cuts[0].after.feed
			set['F'] = w.now.feed.text
		}
		if l.says&block.Bit('S') != 0 {
			w.now.speed = w.cuts[0].after.speed
			set['S'] = w.now.speed.text
		}
		return w.change(old, "", set)
	case l.kind == lineComp && l.comp > 400:
		return w.replace(old, l.compensation())
	case i == r.out && r.phase == wayOut:
		return w.wayOut(l, old)
	}
	w.follow(l)
	return old, true
}

// follow notes what a line that is written as it was leaves in force.
func (w *chainWriter) follow(l *chainText) {
	if l.says&gWord != 0 {
		w.now.motion = l.after.motion
	}
	if l.says&block.Bit('F') != 0 {
		w.now.feed = l.after.feed
	}
	if l.says&block.Bit('S') != 0 {
		w.now.speed = l.after.speed
	}
}

// beforeCut reports whether the next line after i that moves is a cut.
func (w *chainWriter) beforeCut(i int) bool {
	for _, l := range w.r.lines[i+1:] {
		switch l.kind {
		case lineCut:
			return true
		case lineLevel, lineAside:
			return false
		}
	}
	return false
}

// cut gives the words of a cut run backwards.
func (w *chainWriter) cut(c *chainText) (words []string) {
	code := backwards(c.after.motion)
	if code != w.now.motion {
		words = append(words, motion.CodeName('G', code))
		w.now.motion = code
	}
	for a, letter := range "XY" {
		number := c.from[a].text
		if c.counts {
			d := c.from[a].v.Sub(c.to[a].v)
			number = d.StringFixed(max(0, -d.Exponent()))
		}
		words = append(words, string(letter)+number)
	}
	switch {
	case c.radius != "":
		words = append(words, "R"+c.radius)
	case code > 10:
		for a, letter := range "IJ" {
			d := c.centre[a].Sub(c.to[a].v)
			words = append(words, string(letter)+d.StringFixed(max(0, -d.Exponent())))
		}
	}
	if !w.now.feed.same(c.after.feed) {
		words = append(words, "F"+c.after.feed.text)
		w.now.feed = c.after.feed
	}
	if w.speeds && !w.now.speed.same(c.after.speed) {
		words = append(words, "S"+c.after.speed.text)
		w.now.speed = c.after.speed
	}
	return words
}

// wayOut gives the first line of the way out, with the code, the feed and the speed that it and
// the rest of the program need.
func (w *chainWriter) wayOut(l *chainText, old []byte) (line []byte, ok bool) {
	var first string
	var more []string
	if l.says&gWord == 0 && w.now.motion != l.before.motion {
		first = motion.CodeName('G', l.before.motion)
	}
	if l.says&block.Bit('F') == 0 && !w.now.feed.same(l.before.feed) {
		more = append(more, "F"+l.before.feed.text)
	}
	if w.speeds && l.says&block.Bit('S') == 0 && !w.now.speed.same(l.before.speed) {
		more = append(more, "S"+l.before.speed.text)
	}
	if first == "" && more == nil {
		return old, true
	}
	return w.change(old, first, nil, more...)
}

// replace gives a line with other words.
func (w *chainWriter) replace(old []byte, words []string) (line []byte, ok bool) {
	p, ok := parts(old, w.r.gap)
	if !ok {
		return nil, false
	}
	return p.join(words), true
}

// change gives a line with a word in front of its own, other numbers where set has
// its letters, and more words where it has none of their letter.
func (w *chainWriter) change(old []byte, first string, set map[byte]string, more ...string) (line []byte, ok bool) {
	p, ok := parts(old, w.r.gap)
	if !ok {
		return nil, false
	}
	var words []string
	if first != "" {
		words = append(words, first)
	}
	for i := range p.block.W[:p.block.N] {
		word := &p.block.W[i]
		number, ok := set[word.Letter]
		if !ok {
			number = string(p.text[word.Num:word.End])
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

// lineParts is a line taken apart: what stands before its words, the words, the rest.
type lineParts struct {
	text         []byte
	block        block.Block
	before, rest []byte
	gap          string
	lower        bool
}

// parts takes a line apart; gap goes between words where the line itself has none. ok
// is false where a comment stands between its words.
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
