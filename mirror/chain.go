package mirror

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
	"flipcalc/mirror/transform"
)

// lineKind is what a line is to a chain.
type lineKind uint8

const (
	lineBlank   lineKind = iota // no words
	lineAside                   // a rapid in X and Y, in Z too or not
	lineLevel                   // a rapid or feed in Z alone
	lineCut                     // a feed in X and Y
	lineSetting                 // F, S or both, and nothing else
	lineCoolant                 // M7, M8, M9 alone
	lineComp                    // G40, or G41 or G42 with or without D, alone
	lineDwell                   // G4 P alone
	lineStill                   // other words that move no axis
	lineOther                   // all else
)

// coordinate is a number of the mirrored text.
type coordinate struct {
	ok   bool
	v    decimal.Decimal
	text string
}

// same reports whether both are known and equal.
func (c coordinate) same(d coordinate) bool { return c.ok && d.ok && c.v.Equal(d.v) }

// modal is what a line leaves in force for the lines after it.
type modal struct {
	motion int // code
	feed   coordinate
	speed  coordinate // of the spindle
}

// settingWords say how fast a cut is fed and the spindle turns.
const settingWords = 1<<('F'&31) | 1<<('S'&31)

// settled reports whether what the letters set is known.
func (m *modal) settled(letters uint32) bool {
	return (m.feed.ok || letters&block.Bit('F') == 0) && (m.speed.ok || letters&block.Bit('S') == 0)
}

// chainText is one held line.
type chainText struct {
	line          int // in the program
	start, end    int // in reverser.text
	kind          lineKind
	before, after modal
	says          uint32             // letters of its words; G only for a motion code
	from, to      [3]coordinate      // before and after the line
	arc           bool               // with a centre
	centre        [2]decimal.Decimal // of an arc
	radius        string             // of an arc by radius
	comp          int                // code of G40, G41 or G42 in the line, else 0
	offset        string             // the number of D beside it
	on            bool               // a cut under cutter compensation
	wasOn         bool               // it was on before the line
	unit          transform.Unit
	counts        bool // G91
	coolant       bool // M7, M8 or M9 in the line
}

// rises reports whether Z surely doesn't fall.
func (c *chainText) rises() bool {
	return c.from[2].ok && c.to[2].ok && !c.to[2].v.LessThan(c.from[2].v)
}

// known3 reports whether a place is known in X, Y and Z.
func known3(p *[3]coordinate) bool { return p[0].ok && p[1].ok && p[2].ok }

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
	switch {
	case b.Deleted:
		return "a block with a slash before it"
	case names(b, 'G', 120, 130):
		return "a circular pocket"
	case r.now.motion == 50 || r.now.motion == 51:
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
	c.unit, c.counts = s.unit, s.inc
	c.wasOn, r.on = r.on, s.comp
	if b.Last {
		return lineOther, r.odd()
	}
	if b.Empty() {
		c.after, c.to = r.now, r.at
		return lineBlank, ""
	}
	if b.N > 1 {
		r.gap = ""
		if end := b.W[0].End; b.W[1].Start > end {
			r.gap = " "
		}
	}
	odd, lose := r.codes(c)
	if lose || r.now.motion > 30 {
		r.at = [3]coordinate{}
	}
	var moved [3]bool
	for a := range moved {
		moved[a] = r.given('X'+byte(a), &r.at[a], lose)
	}
	r.given('F', &r.now.feed, false)
	r.given('S', &r.now.speed, false)
	c.after, c.to = r.now, r.at
	turns := b.Letters&(centreWords|radiusWord) != 0
	motion := r.now.motion
	switch aside := moved[0] || moved[1]; {
	case lose || motion > 30 || b.Percent:
		return lineOther, r.odd()
	case b.Letters&rotaryWords != 0: // they turn what lies under the tool's place
		return lineOther, r.odd()
	case !aside && !moved[2] && !turns:
		return r.still(c), ""
	case odd || c.comp != 0 && !aside && !turns || c.comp != 0 && motion < 10:
		return lineOther, r.odd()
	case motion == 0 && aside:
		return lineAside, ""
	case (motion == 0 || motion == 10) && !aside:
		return lineLevel, ""
	case motion < 10 || c.coolant:
		return lineOther, r.odd()
	}
	return lineCut, r.cut(c)
}

// codes goes through a line's words. odd says that it isn't one of a chain, lose that it
// isn't known where the axes then stand.
func (r *reverser) codes(c *chainText) (odd, lose bool) {
	const plain = gWord | axisWords | centreWords | radiusWord | 1<<('F'&31)
	b := &r.b
	others := b.Letters &^ plain
	lose = b.Deleted
	c.says = b.Letters &^ gWord
	for i := range b.W[:b.N] {
		if b.W[i].Letter != 'G' {
			continue
		}
		code := b.W[i].Code()
		r.zeroMoves(code)
		switch g := gGroups[code]; {
		case g == gMotion && code <= 30:
			r.now.motion = code
			c.says |= gWord
		case code == 40 && r.dwells(): // nothing moves
		case g == gComp && code <= 420 && code%10 == 0:
			if c.comp = code; code != 400 {
				others &^= block.Bit('D')
			}
		case g == gPlane || g == gDistance || g == gFeed || g == gComp || g == gLength || g == gReturn || g == gPath || g == gExact:
			odd = true
			if g == gLength {
				r.at[2] = coordinate{} // the tool stays where it is, its height has another number
			}
		case g == gMotion:
			r.now.motion, odd, lose = code, true, true
		case g == gEnd && !names(b, 'G', 0, 10, 20, 30, 50, 51):
			r.now.motion, odd, lose = code, true, true // what follows is at rapid or at feed
		case code == 920: // the place has another number
			odd = true
		default: // G28, G53, G54 and the like: wherever the axes stand then
			odd, lose = true, true
		}
	}
	if b.Letters&block.Bit('H') != 0 {
		r.at[2] = coordinate{} // another length, with or without G43
	}
	if w := b.Find('D'); w != nil {
		c.offset = string(plainNumber(r.lexer.Chunk(), w))
	}
	if c.coolant = r.coolant(); c.coolant {
		others &^= block.Bit('M')
	}
	return odd || others != 0 || b.Twice&^(gWord|block.Bit('M')) != 0 || r.marks(), lose
}

// dwells reports a line with G4 P and nothing else.
func (r *reverser) dwells() bool {
	b := &r.b
	return b.N == 2 && b.Letters == gWord|block.Bit('P') && b.W[0].Code() == 40 && !r.marks()
}

// coolant reports a line with M words of which all are M7, M8 or M9.
func (r *reverser) coolant() bool {
	for _, w := range r.b.Words() {
		if c := w.Code(); w.Letter == 'M' && (c < 0 || c >= maxCode || mGroups[c] != mCoolant) {
			return false
		}
	}
	return r.b.Letters&block.Bit('M') != 0
}

// marks reports what never stands in a chain: a slash and %.
func (r *reverser) marks() bool {
	b := &r.b
	return b.Deleted || b.Percent
}

// still finds out what a line is that moves no axis.
func (r *reverser) still(c *chainText) lineKind {
	b := &r.b
	switch {
	case r.marks():
		return lineStill
	case b.Letters&^settingWords == 0 && b.Twice == 0 && r.now.settled(b.Letters):
		return lineSetting
	case r.dwells():
		return lineDwell
	case c.comp != 0 && b.N == 1 || c.comp > 400 && b.N == 2 && b.Letters == gWord|block.Bit('D'):
		return lineComp
	case b.Letters == block.Bit('M') && c.coolant:
		return lineCoolant
	}
	return lineStill
}

// given reads the number of a letter's word into known, where the line has one; lost
// says that it isn't where the axis then stands. Under G91 an axis goes on from there.
func (r *reverser) given(letter byte, known *coordinate, lost bool) bool {
	w := r.b.Find(letter)
	if w == nil {
		return false
	}
	was := *known
	*known = coordinate{}
	if lost || w.Flags&block.Big != 0 {
		return true
	}
	v := exact(r.lexer.Chunk(), w)
	switch {
	case !r.m.s.inc || letter < 'X' || names(&r.b, 'G', 920):
		*known = coordinate{true, v, string(plainNumber(r.lexer.Chunk(), w))}
	case was.ok:
		v = v.Add(was.v)
		*known = coordinate{true, v, v.StringFixed(max(0, -v.Exponent()))}
	}
	return true
}

// cut fills in a cut; why says what keeps it from being reversed.
func (r *reverser) cut(c *chainText) (why string) {
	b, s := &r.b, &r.m.s
	from, to := &c.from, &c.to
	c.on = s.comp
	switch {
	case s.rotated:
		return "G68"
	case r.m.split:
		return "a block with a slash before it"
	case s.plane != transform.XY:
		return "another plane than G17"
	case s.feed != 940:
		return "G93 or G95"
	case !known3(from) || !known3(to):
		return "its start isn't known"
	case !c.after.feed.ok:
		return "its feed isn't known"
	case !from[2].v.Equal(to[2].v) && c.after.motion == 10:
		return "a ramp"
	case !from[2].v.Equal(to[2].v):
		return "a helix"
	case c.after.motion == 10:
		return ""
	}
	if w := b.Find('R'); w != nil {
		c.radius = string(plainNumber(r.lexer.Chunk(), w))
		return ""
	}
	if s.absCentres {
		return "absolute centres"
	}
	c.centre = [2]decimal.Decimal{from[0].v, from[1].v}
	for a, letter := range []byte("IJ") {
		if w := b.Find(letter); w != nil {
			if w.Flags&block.Big != 0 {
				return "a number of more than 18 digits"
			}
			c.centre[a] = c.centre[a].Add(exact(r.lexer.Chunk(), w))
		}
	}
	c.arc = true
	return ""
}
