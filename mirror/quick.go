package mirror

import "flipcalc/mirror/transform"

// The quick way mirrors the commonest lines in one go over their bytes, without
// cutting them into words first: in G17 a block number, G0 to G3, X Y Z, I J of an
// arc, F and comments, written without spaces inside numbers. Edits are made while
// the line is read; a line that turns out to be of another kind is taken back and
// left to the slow way, which knows every word. Both ways mirror alike.

// What the quick way does at a byte.
const (
	qLeave  uint8 = iota // leave the line to the slow way
	qSpace               // go on
	qLF                  // the end
	qCR                  // the end, if LF follows
	qOpen                // a comment in parentheses
	qSemi                // a comment to the end
	qNumber              // N: digits
	qCode                // G: 0 to 3
	qFeed                // F: a number without a sign
	qKeep                // a word that stays: a number
	qHeight              // Z that stays
	qEdit                // from here on: a word that changes, by axis
)

// Words that change: qEdit + 2*axis for a place, one more for the sign alone.

// quickTable says what to do at each byte, in one unit and distance mode.
type quickTable [256]uint8

func newQuickTable(axes *[3]axis, inc bool) *quickTable {
	t := &quickTable{' ': qSpace, '\t': qSpace, '\n': qLF, '\r': qCR, '(': qOpen, ';': qSemi}
	set := func(letter byte, what uint8) { t[letter], t[letter|0x20] = what, what }
	set('N', qNumber)
	set('G', qCode)
	set('F', qFeed)
	for a := range axes {
		x := &axes[a]
		turn, place := qEdit+uint8(2*a+1), qEdit+uint8(2*a)
		what := uint8(qKeep)
		switch {
		case inc && x.neg:
			what = turn
		case !inc && !x.same:
			what = place
		case a == 2:
			what = qHeight
		}
		set('X'+byte(a), what)
		if what = qKeep; x.neg {
			what = turn
		}
		if a < 2 {
			set('I'+byte(a), what)
		}
	}
	return t
}

// Letters of quick lines.
const (
	gWord   = 1 << ('G' & 31)
	nWord   = 1 << ('N' & 31)
	xWord   = 1 << ('X' & 31)
	yWord   = 1 << ('Y' & 31)
	zWord   = 1 << ('Z' & 31)
	ijWords = 1<<('I'&31) | 1<<('J'&31)
)

// quickRun is a row of lines being mirrored the quick way.
type quickRun struct {
	m     *rewriter
	buf   []byte
	table *quickTable
	axes  *[3]axis
	swap  bool // arcs change sense
	inc   bool // G91
	arcs  bool // their plane and centre mode are said
	whole bool // so are numbers without a point

	p      int // in buf
	out    []byte
	copied int // buf[:copied] is in out
	motion int
	height value

	lines                 int
	blocks, moves, chains int64
	inChain               bool
	given                 uint32 // letters of moves
}

// quickly mirrors lines from offset p of the chunk until one that it leaves to the
// slow way, or the end. It returns where it stopped and how many lines it took.
func (m *rewriter) quickly(p int) (stop, lines int) {
	s := &m.s
	for a, at := range s.at {
		if at != known && (s.inc || m.axes[s.unit][a].neg) {
			return p, 0
		}
	}
	q := quickRun{m: m, buf: m.chunk, table: m.tables[s.unit][0], axes: &m.axes[s.unit], p: p, out: m.out, copied: m.copied,
		motion: s.motion, height: m.last, inChain: m.inChain, whole: m.said&saidWhole != 0,
		swap: m.swaps[transform.XY], inc: s.inc, arcs: !s.absCentres && m.said&(saidPlane|saidCentres) == saidPlane|saidCentres}
	if s.inc {
		q.table = m.tables[s.unit][1]
	}
	for q.p < len(q.buf) && q.line() {
		q.lines++
	}
	m.quickPlaces(q.given)
	m.report.Blocks += q.blocks
	m.report.Moves += q.moves
	m.report.Chains += q.chains
	m.inChain = q.inChain
	if s.unit == transform.Inch && q.moves > 0 {
		m.said |= usedInch
	}
	s.motion, m.last = q.motion, q.height
	m.out, m.copied = q.out, q.copied
	return q.p, q.lines
}

// line takes one line, or takes it back and gives false.
func (q *quickRun) line() bool {
	start, out, copied, motion, height := q.p, q.out, q.copied, q.motion, q.height
	letters, ok := q.words()
	if !ok || letters&(axisWords|ijWords) != 0 && !q.follows(letters) {
		q.p, q.out, q.copied, q.motion, q.height = start, out, copied, motion, height
		return false
	}
	if letters &^= nWord; letters != 0 {
		q.take(letters)
	}
	return true
}

// follows reports whether the quick way knows what a move with these letters does.
func (q *quickRun) follows(letters uint32) bool {
	switch q.motion {
	case 0, 10:
		return letters&ijWords == 0
	case 20, 30:
		s := &q.m.s
		return q.arcs && letters&ijWords != 0 && letters&zWord == 0 &&
			(s.at[0] < lost || !s.inc && q.given&xWord != 0) && (s.at[1] < lost || !s.inc && q.given&yWord != 0) &&
			(letters&gWord != 0 || s.swapped == q.swap)
	}
	return false
}

// take counts a block and follows what it sets.
func (q *quickRun) take(letters uint32) {
	if letters&gWord != 0 {
		s := &q.m.s
		s.r, s.depth, s.under, s.bare = value{}, value{}, q.motion, 0 // no cycle takes these up again
		if q.motion >= 20 {
			s.swapped = q.swap
		}
	}
	q.blocks++
	if letters&(axisWords|ijWords) == 0 {
		return
	}
	q.moves++
	q.given |= letters
	if q.motion == 0 {
		q.inChain = false
	} else if !q.inChain && letters&(xWord|yWord|ijWords) != 0 {
		q.inChain = true
		q.chains++
	}
}

// words goes over a line; ok is false where it is one for the slow way.
func (q *quickRun) words() (letters uint32, ok bool) {
	buf, table, p, out, copied := q.buf, q.table, q.p, q.out, q.copied
	for {
		c := buf[p]
		if c == ' ' { // before most words
			p++
			c = buf[p]
		}
		what := table[c]
		if what < qNumber {
			switch what {
			case qSpace:
				p++
			case qLF, qCR:
				if p++; what == qCR {
					if buf[p] != '\n' {
						return letters, false
					}
					p++
				}
				q.p, q.out, q.copied = p, out, copied
				return letters, true
			case qOpen, qSemi:
				if p = quickComment(buf, p); p == 0 {
					return letters, false
				}
			default:
				return letters, false
			}
			continue
		}
		bit := uint32(1) << (c & 31)
		if letters&bit != 0 {
			return letters, false
		}
		letters |= bit
		p++
		d := buf[p] - '0'
		if what == qCode {
			if d == 0 && buf[p+1]-'0' <= 9 {
				p++
				d = buf[p] - '0'
			}
			p++
			if d > 3 || buf[p]-'0' <= 9 || buf[p] == '.' {
				return letters, false
			}
			q.motion = int(d) * 10
			if d >= 2 && q.swap {
				out = append(out, buf[copied:p-1]...)
				out = append(out, '0'+5-d)
				copied = p
			}
			continue
		}
		number := p
		neg := d == quickMinus
		if neg {
			p++
			d = buf[p] - '0'
		}
		digits := p
		var v int64
		for d <= 9 {
			v = v*10 + int64(d)
			p++
			d = buf[p] - '0'
		}
		whole, places := p-digits, 0
		point := d == quickPoint
		if point {
			p++
			for d = buf[p] - '0'; d <= 9; d = buf[p] - '0' {
				v = v*10 + int64(d)
				places++
				p++
			}
		}
		if uint(whole+places-1) >= 18 || point && d == quickPoint ||
			what == qNumber && (letters != bit || point) || neg && what < qKeep {
			return letters, false
		}
		if neg {
			v = -v
		}
		if bit == zWord {
			q.height = value{true, !q.inc, v, uint8(places)}
		}
		if what < qEdit {
			continue
		}
		now, nowPlaces := -v, places
		if what&1 == qEdit&1 {
			x := &q.axes[(what-qEdit)>>1]
			if !point && !q.whole {
				return letters, false
			}
			var ok bool
			if now, nowPlaces, ok = x.place(v, places); !ok {
				return letters, false
			}
		}
		if now == v && nowPlaces == places {
			continue
		}
		out = append(out, buf[copied:number]...)
		out = appendScaled(out, now, nowPlaces, buf[number:p], point)
		copied = p
	}
}

// quickComment gives the offset behind a comment, or of the line end where it runs to that;
// 0 where the slow way must read it.
func quickComment(buf []byte, p int) int {
	if buf[p] == '(' {
		for p++; commentByte[buf[p]]; p++ {
		}
		if buf[p] != ')' {
			return 0
		}
		return p + 1
	}
	for p++; buf[p] >= ' ' || buf[p] == '\t'; p++ {
	}
	if buf[p] != '\n' && buf[p] != '\r' {
		return 0
	}
	return p
}

// quickPlaces marks the axes that a line in G90 gives.
func (m *rewriter) quickPlaces(letters uint32) {
	s := &m.s
	if s.inc {
		return
	}
	for a := range s.at {
		if letters&(xWord<<a) != 0 {
			s.at[a] = known
		}
	}
}

// A byte less '0', so that one comparison tells digits from the rest.
const (
	quickMinus = 0x100 + '-' - '0'
	quickPoint = 0x100 + '.' - '0'
)

// commentByte tells the bytes inside a comment in parentheses.
var commentByte = func() (t [256]bool) {
	for c := range t {
		t[c] = c >= ' ' && c != '(' && c != ')' || c == '\t'
	}
	return t
}()
