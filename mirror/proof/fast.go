package proof

import (
	"math"

	"flipcalc/mirror/motion"
)

// fast is the short way: blocks of G0 to G3 with X Y Z I J K R F S words and
// comments, the same in both programs but for the numbers of reversed or shifted
// axes and the sense of arcs. While it runs both controls stand still; what such
// blocks change is kept here and given back before the next other block.
//
// Because every word of the two lines is compared through the map, the relation
//
//	out's position = sign * in's position + rel
//
// of the lane goes on holding, and only in's position is kept. Whatever the short
// way doesn't understand, or finds different, is left to the long way, which alone
// decides and explains.
type fast struct {
	ready bool
	arcs  bool // arcs may go the short way
	abs   bool
	swap  bool // arcs of this plane change sense

	first, second, normal int

	motionIn, motionOut int // 0 to 3
	at                  [3]int64
	known               uint8 // axes whose place is known, bit 0 for X
	given               uint8 // axes given in G90 on the short way
	tied                uint8 // axes whose first G91 move the long way must see: noted there

	// By letter, X Y Z I J K R F S: how the number changes, in the unit in force.
	sign    [9]int64
	off     [9]int64
	changes [9]bool
	warn    float64 // radii that differ by more go the long way, in steps
}

// settle decides after a block of the long way whether the short way may go on.
func (p *pair) settle() {
	f := &p.fast
	f.ready = false
	if p.slow || len(p.lanes) != 1 || p.tape.Ended() {
		return
	}
	l := p.lanes[0]
	if l.torn != [3]bool{} {
		return
	}
	lines, arcs := l.in.Plain()
	outLines, _ := l.out.Plain()
	if !lines || !outLines || l.checkOffset(0, l.in.State().Offset, l.out.State().Offset) != nil {
		return
	}
	s := l.in.State()
	f.arcs, f.abs = arcs, l.in.Absolute
	f.first, f.second, f.normal = s.Plane.Axes()
	f.swap = (l.sign[f.first] < 0) != (l.sign[f.second] < 0)
	f.motionIn, f.motionOut = l.in.Motion()/10, l.out.Motion()/10
	f.known, f.given, f.tied = 0, 0, 0
	for i := range 3 {
		n, place := l.in.Place(i)
		at, ok := n.Nano()
		off, offOK := l.maps[s.Unit][i].offset.Nano()
		if !ok || !offOK || at > maxFast || at < -maxFast || off > maxFast || off < -maxFast {
			return
		}
		f.at[i], f.off[i], f.sign[i] = at, off, int64(l.sign[i])
		f.sign[3+i] = int64(l.sign[i])
		f.changes[i], f.changes[3+i] = l.sign[i] < 0 || off != 0 && f.abs, l.sign[i] < 0
		if l.sign[i] < 0 && (place == motion.Lost || place == motion.Free && !l.in.Begun(i) && p.result.Starts[i] == 0) {
			return // the first cut there is refused or noted
		}
		if place == motion.Known {
			f.known |= 1 << i
		}
		if l.in.Watched(i) {
			f.tied |= 1 << i
		}
		if !f.abs {
			f.off[i] = 0
		}
	}
	// Below the warning limit of NISTIR 6556, 3.5.3.2, by a millionth.
	f.warn = 2_000_000 * (1 - 1e-6)
	if s.Unit == inchUnit {
		f.warn /= 10
	}
	f.ready = true
}

// giveBack brings both controls to where the short way is.
func (p *pair) giveBack() {
	f, l := &p.fast, p.lanes[0]
	unit := l.in.State().Unit
	for i := range 3 {
		if f.given&(1<<i) != 0 {
			l.rel[i] = l.maps[unit][i].offset
		}
		n, known := motion.FromNano(f.at[i]), f.known&(1<<i) != 0
		given := f.given&(1<<i) != 0
		l.in.SetPosition(i, n, known, given)
		l.out.SetPosition(i, n.Signed(l.sign[i]).Add(l.rel[i]), known, given)
	}
	l.in.SetMotion(f.motionIn * 10)
	l.out.SetMotion(f.motionOut * 10)
}

// runFast goes on until a block that it leaves to the long way, or an end.
func (p *pair) runFast() error {
	for {
		p.proved = p.out.gone + p.out.pos
		if ok, err := p.in.more(); !ok {
			p.giveBack()
			return err
		}
		if ok, err := p.out.more(); !ok {
			p.giveBack()
			return err
		}
		if !p.plainBlocks() || p.in.ragged() || p.out.ragged() {
			p.giveBack()
			return nil
		}
	}
}

// Kinds of byte at the beginning of a word.
const (
	kOther = iota
	kBlank
	kEnd // line feed
	kReturn
	kX
	kY
	kZ
	kI
	kJ
	kK
	kR
	kF
	kS
	kG
	kN
	kComment
	kRest // semicolon
)

var kinds = func() (k [256]uint8) {
	k[' '], k['\t'] = kBlank, kBlank
	k['\n'], k['\r'] = kEnd, kReturn
	k['('], k[';'] = kComment, kRest
	for i, c := range []byte("XYZIJKRFSGN") {
		k[c], k[c+32] = kX+uint8(i), kX+uint8(i)
	}
	return k
}()

// Words seen in a block, bits 0 to 8 for X Y Z I J K R F S.
const (
	sawR = 1 << 6
	sawG = 1 << 9
	sawN = 1 << 10

	sawIJK  = 8 | 16 | 32
	sawMove = 7 | sawIJK | sawR
)

// scale is how many steps make one unit.
const scale = 1_000_000_000

// plainBlocks goes through the blocks at hand. It gives false at a block for the
// long way, true where one program needs more text.
func (p *pair) plainBlocks() bool {
	f := &p.fast
	a, b := p.in.data[:p.in.whole], p.out.data[:p.out.whole]
	i, j := p.in.pos, p.out.pos
	lines, blocks, moves := 0, int64(0), int64(0)
	stop := math.MaxInt // lines before a reversed chain
	if next := p.nextChain(p.in.line + 1); next > 0 {
		stop = next - p.in.line - 1
	}
	plain := true
	// The numbers of the block's words; what isn't seen is stale.
	var words [9]int64

	for i < len(a) && j < len(b) {
		if lines == stop {
			plain = false
			break
		}
		startA, startB := i, j
		seen := uint32(0)
		codeIn, codeOut := f.motionIn, f.motionOut
	line:
		for {
			c := a[i]
			if c != b[j] {
				goto leave
			}
			if c == ' ' { // in front of most words
				i++
				j++
				if c = a[i]; c != b[j] {
					goto leave
				}
			}
			switch kinds[c] {
			case kBlank:
				i++
				j++
			case kEnd:
				i++
				j++
				break line
			case kReturn:
				if a[i+1] != '\n' || b[j+1] != '\n' {
					goto leave
				}
				i += 2
				j += 2
				break line
			case kX, kY, kZ, kI, kJ, kK, kR, kF, kS:
				letter := kinds[c] - kX
				bit := uint32(1) << letter
				if seen&bit != 0 {
					goto leave
				}
				seen |= bit
				i++
				j++
				v, na, had := signed(a, i)
				if na == 0 || v < 0 && bit > sawR {
					goto leave
				}
				if f.changes[letter] {
					w, nb, has := signed(b, j)
					if nb == 0 || w != f.sign[letter]*v+f.off[letter] || had != has && (had || w%scale == 0) {
						goto leave
					}
					j += nb
				} else {
					if !sameText(a, b, i, j, na) {
						goto leave
					}
					j += na
				}
				i += na
				words[letter] = v
			case kG:
				i++
				j++
				if a[i] == '0' && b[j] == '0' && a[i+1]-'0' <= 9 {
					i++
					j++
				}
				d, e := a[i]-'0', b[j]-'0'
				if d > 3 || e > 3 || d != e && (d < 2 || e < 2) || seen&sawG != 0 ||
					a[i+1]-'0' <= 9 || a[i+1] == '.' || b[j+1]-'0' <= 9 || b[j+1] == '.' {
					goto leave
				}
				codeIn, codeOut = int(d), int(e)
				seen |= sawG
				i++
				j++
			case kN:
				if seen != 0 {
					goto leave
				}
				seen = sawN
				i++
				j++
				k := i
				for a[i]-'0' <= 9 {
					if a[i] != b[j] {
						goto leave
					}
					i++
					j++
				}
				if k == i || i-k > 15 || a[i] == '.' {
					goto leave
				}
			case kComment:
				for i++; a[i] != ')'; i++ {
					j++
					if a[i] != b[j] || a[i] == '(' || a[i] < ' ' && a[i] != '\t' {
						goto leave
					}
				}
				if b[j+1] != ')' {
					goto leave
				}
				i++
				j += 2
			case kRest:
				for a[i] != '\n' && a[i] != '\r' {
					if a[i] != b[j] || a[i] < ' ' && a[i] != '\t' {
						goto leave
					}
					i++
					j++
				}
			default:
				goto leave
			}
		}
		if seen&^sawN != 0 {
			to, ok := f.end(seen, &words)
			if !ok || !f.same(seen, codeIn, codeOut, &to, &words) {
				goto leave
			}
			f.at = to
			if f.abs {
				f.give(seen)
			}
			f.motionIn, f.motionOut = codeIn, codeOut
			blocks++
			if seen&sawMove != 0 {
				moves++
			}
		}
		lines++
		continue
	leave:
		i, j = startA, startB
		plain = false
		break
	}
	p.in.pos, p.out.pos = i, j
	p.in.line += lines
	p.out.line += lines
	p.result.Blocks += blocks
	p.result.Plain += blocks
	p.result.Moves += moves
	return plain
}

// give notes that the block's axes were given in G90.
func (f *fast) give(seen uint32) {
	f.known |= uint8(seen) & 7
	f.given |= uint8(seen) & 7
	f.tied &^= uint8(seen) & 7
}

// end gives where the block's words lead; ok is false where the long way must see
// them.
func (f *fast) end(seen uint32, words *[9]int64) (to [3]int64, ok bool) {
	to = f.at
	for axis := range 3 {
		switch {
		case seen&(1<<axis) == 0:
		case f.abs:
			to[axis] = words[axis]
		default:
			to[axis] += words[axis]
			if words[axis] != 0 && f.tied&(1<<axis) != 0 || to[axis] > maxFast || to[axis] < -maxFast {
				return to, false
			}
		}
	}
	return to, true
}

// same reports whether the block's move, where it makes one, is the same in both programs and
// needs no further word.
func (f *fast) same(seen uint32, codeIn, codeOut int, to *[3]int64, words *[9]int64) bool {
	switch {
	case codeIn < 2:
		return codeIn == codeOut && seen&(sawIJK|sawR) == 0
	case seen&sawMove == 0:
		return true
	}
	in := uint8(1<<f.first | 1<<f.second)
	if !f.arcs || (codeIn != codeOut) != f.swap || f.known&in != in || f.tied&in != 0 {
		return false
	}
	x, y := float64(to[f.first]-f.at[f.first]), float64(to[f.second]-f.at[f.second])
	if seen&sawR != 0 {
		// The chord must be shorter than 2R by more than rounding: coordinates
		// below 2^60 are good to 2^-53 of themselves.
		r := 2 * math.Abs(float64(words[6]))
		d := x*x + y*y
		return seen&sawIJK == 0 && seen&(1<<f.first|1<<f.second) != 0 && d > 0 && d < r*r*(1-1e-9)
	}
	if seen&(8<<f.normal) != 0 || seen&sawIJK == 0 {
		return false
	}
	var ci, cj float64
	if seen&(8<<f.first) != 0 {
		ci = float64(words[3+f.first])
	}
	if seen&(8<<f.second) != 0 {
		cj = float64(words[3+f.second])
	}
	r1 := math.Sqrt(ci*ci + cj*cj)
	r2 := math.Sqrt((x-ci)*(x-ci) + (y-cj)*(y-cj))
	return r1 > 0 && math.Abs(r1-r2) < f.warn-r1*1e-12
}

// sameText reports whether n bytes are the same in both.
func sameText(a, b []byte, i, j, n int) bool {
	return j+n <= len(b) && string(a[i:i+n]) == string(b[j:j+n])
}
