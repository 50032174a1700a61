package proof

import (
	"fmt"
	"slices"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Chain is a cutting chain of the input, by its first and last line, that the
// output runs the other way round in as many lines: the way in, cuts at one depth,
// the way out. Whoever announces chains as the program goes must announce an empty one
// before the first line, so that the feeds are followed from there on: a reversed chain
// may state a feed that the input gave long before.
type Chain struct{ First, Last int }

// maxChain is the most lines that one reversed chain may have: its moves are held.
const maxChain = 200_000

// nextChain gives the input's line, line or later, where the next reversed chain
// begins; 0 if none. Where chains may come the short way, which leaves feeds alone, is
// closed.
func (p *pair) nextChain(line int) int {
	p.slow = p.slow || line == 1 && len(p.chains) > 0
	for len(p.chains) > 0 && p.chains[0].First < line {
		p.chains = p.chains[1:]
	}
	if len(p.chains) == 0 {
		return 0
	}
	return p.chains[0].First
}

// half is one program's part of a chain.
type half struct {
	before, cuts, after []motion.Move
	comments            []string
	numbers             []motion.Num // N words
	others              []placed     // D and M words, and P of a dwell
}

// placed is a word that stays where it stands, with how many moves come before it.
type placed struct {
	letter byte
	value  motion.Num
	moves  int
}

func (a placed) equal(b placed) bool {
	return a.letter == b.letter && a.value.Equal(b.value) && a.moves == b.moves
}

// chain runs one reversed chain in both programs and compares its cuts, the last
// first. a and b are its first lines.
func (p *pair) chain(a, b []byte) error {
	c := p.chains[0]
	p.chains = p.chains[1:]
	l := p.lanes[0]
	if !p.slow || len(p.lanes) > 1 || c.Last-c.First >= maxChain || l.in.Ended() || p.tape.Ended() {
		return p.no(p.out.line, 1, "a reversed chain", "no reversed chain here")
	}
	start := p.out.line
	state, unit, absolute := l.in.State(), l.in.State().Unit, l.in.Absolute
	var in, out half
	var broken error // what is wrong with the output, told if all is well with the input
	for {
		if err := p.a.Read(a, p.in.line); err != nil {
			return err
		}
		if err := p.b.Read(b, p.out.line); err != nil {
			return p.broken(err)
		}
		if err := in.run(l.in, &p.a); err != nil {
			return err
		}
		if broken == nil {
			broken = out.run(l.out, &p.b)
		}
		if err := p.chainWords(); err != nil {
			return err
		}
		if len(p.a.Words) > 0 {
			p.result.Blocks++
		}
		if p.in.line >= c.Last {
			break
		}
		var ok, okOut bool
		var err error
		if a, ok, b, okOut, err = p.next(); err != nil {
			return err
		}
		if !ok || !okOut {
			return p.no(p.out.line+1, 1, "the end inside a reversed chain", fmt.Sprintf("lines up to %d", c.Last))
		}
	}
	if broken != nil {
		return p.broken(broken)
	}
	p.result.Reversed++
	p.result.Moves += int64(len(in.before) + len(in.cuts) + len(in.after))
	if now := l.in.State().Unit; now != unit || l.out.State().Unit != unit || l.in.Absolute != absolute || l.out.Absolute != absolute {
		return p.no(start, 1, "a reversed chain that changes G90 or units", "the same all through")
	}
	if err := l.checkOffset(start, l.in.State().Offset, l.out.State().Offset); err != nil {
		return err
	}
	if !absolute && !in.cuts[0].From.Equal(in.cuts[len(in.cuts)-1].To) {
		return p.no(start, 1, "a reversed chain in G91 that doesn't come back to its start", "a chain as mirrored")
	}
	if err := l.compareChain(&in, &out, start); err != nil {
		return err
	}
	s, t := l.in.State(), l.out.State()
	if p.o.Map.OneAxis() {
		s.Comp = otherSide(s.Comp)
	}
	s.Offset = state.Offset
	t.Offset = state.Offset
	if !s.Agrees(&t) {
		found, expected := stateDiffers(&s, &t)
		return p.no(p.out.line, 1, found+" after a reversed chain", fmt.Sprintf("%s as after line %d of the input", expected, c.Last))
	}
	// An open chain ends where it began in the input: until they are given anew,
	// X and Y of the two programs don't correspond.
	for i := range 3 {
		off := l.maps[unit][i].offset
		l.rel[i] = off
		x, _ := l.in.Place(i)
		y, _ := l.out.Place(i)
		l.torn[i] = !y.Equal(x.Signed(l.sign[i]).Add(off))
	}
	p.settle()
	return nil
}

// run runs a block and files its moves.
func (h *half) run(m *motion.Machine, b *motion.Block) error {
	moves, err := m.Do(b)
	if err != nil {
		return err
	}
	if !b.Number.IsZero() {
		h.numbers = append(h.numbers, b.Number)
	}
	h.comments = append(h.comments, motion.Comments(b.Text)...)
	aside := false // a word across the drilling axis, even if it leads nowhere
	for i := range moves {
		_, _, normal := moves[i].State.Plane.Axes()
		for k := range 3 {
			aside = aside || k != normal && m.Effect().Coordinates&(1<<('X'+k-'A')) != 0
		}
	}
	for _, w := range b.Words {
		if w.Letter == 'D' || w.Letter == 'M' || w.Letter == 'P' {
			h.others = append(h.others, placed{w.Letter, w.Value, len(h.before) + len(h.cuts) + len(h.after)})
		}
	}
	for i := range moves {
		v := &moves[i]
		_, _, normal := v.State.Plane.Axes()
		cut := v.Kind != motion.Rapid && (v.Kind != motion.Feed || !level(v, normal) || aside && v.From.Equal(v.To) && v.FromOK == v.ToOK)
		switch {
		case cut && len(h.after) > 0:
			return refuse(b, 0, "a cut after the way out of a reversed chain", "mirror it with no ‹reverse-cuts›")
		case cut:
			h.cuts = append(h.cuts, *v)
		case len(h.cuts) == 0:
			h.before = append(h.before, *v)
		default:
			h.after = append(h.after, *v)
		}
	}
	return nil
}

// level reports whether only the axis across the plane moves.
func level(m *motion.Move, normal int) bool {
	for i := range 3 {
		if i != normal && (m.FromOK[i] != m.ToOK[i] || !m.From[i].Equal(m.To[i])) {
			return false
		}
	}
	return true
}

// chainWords sees that the lines of a chain hold nothing but moves, feeds, speeds,
// compensation, dwells and coolant.
func (p *pair) chainWords() error {
	for _, b := range [2]*motion.Block{&p.a, &p.b} {
		if b.Deleted || b.Tape {
			return p.no(b.Line, 1, "more than plain moves in a reversed chain", "moves, feeds, speeds, dwells and coolant")
		}
		for _, w := range b.Words {
			ok := true
			switch w.Letter {
			case 'X', 'Y', 'Z', 'I', 'J', 'K', 'R', 'F', 'S', 'D':
			case 'P':
				ok = dwells(b)
			case 'G':
				c, whole := w.Value.Int()
				ok = whole && (c >= 0 && c <= 3 || c == 4 && dwells(b) || c >= 40 && c <= 42 || c == 90)
			case 'M':
				c, whole := w.Value.Int()
				ok = whole && c >= 7 && c <= 9
			default:
				ok = false
			}
			if !ok {
				return p.no(b.Line, w.Start+1, fmt.Sprintf("%s in a reversed chain", b.Text[w.Start:w.End]), "moves, feeds, speeds, dwells and coolant")
			}
		}
	}
	return nil
}

// dwells reports a block of G4 P and nothing else.
func dwells(b *motion.Block) bool {
	if len(b.Words) != 2 {
		return false
	}
	c, whole := b.Words[0].Value.Int()
	return b.Words[0].Letter == 'G' && whole && c == 4 && b.Words[1].Letter == 'P'
}

// compareChain compares the cuts of a chain in reverse and the ways in and out.
func (l *lane) compareChain(in, out *half, line int) error {
	p := l.p
	if len(in.cuts) != len(out.cuts) || len(in.before) != len(out.before) || len(in.after) != len(out.after) {
		return p.no(line, 1, fmt.Sprintf("a reversed chain of %d cuts", len(out.cuts)), fmt.Sprintf("%d cuts, and as many moves to and from them as in the input", len(in.cuts)))
	}
	n := len(in.cuts)
	if n == 0 {
		return p.no(line, 1, "a reversed chain without cuts", "cuts")
	}
	slices.Sort(in.comments)
	slices.Sort(out.comments)
	if !slices.Equal(in.comments, out.comments) || !slices.EqualFunc(in.numbers, out.numbers, motion.Num.Equal) ||
		!slices.EqualFunc(in.others, out.others, placed.equal) {
		return p.no(line, 1, "other comments, block numbers, D, M or P words in a reversed chain", "those of the input")
	}
	if found := in.compensated(in.cuts[0].State.Unit); found != "" {
		return p.no(line, 1, found, "a chain as mirrored")
	}
	for k := range n {
		if m, w := &in.cuts[k], &out.cuts[k]; w.State.Comp != l.sameSide(m.State.Comp) {
			return p.no(w.Line, 1, fmt.Sprintf("a cut under G%d", w.State.Comp), fmt.Sprintf("G%d as on cut %d of a reversed chain", l.sameSide(m.State.Comp), k+1))
		}
		m, w := &in.cuts[n-1-k], &out.cuts[k]
		if !l.opposite(m, w) {
			return p.no(w.Line, 1, describeMove(w), fmt.Sprintf("the mirror of line %d of the input, run backwards: %s, through %s", m.Line, describeMove(m), p.o.mapFor(m)))
		}
		// All at one depth, known, and one after the other.
		first := &in.cuts[0]
		_, _, normal := m.State.Plane.Axes()
		if !m.From[normal].Equal(m.To[normal]) || !m.From[normal].Equal(first.From[normal]) || m.State.Plane != first.State.Plane {
			return p.no(w.Line, 1, "a reversed chain that changes depth", "one depth")
		}
		if k > 0 && (!w.From.Equal(out.cuts[k-1].To) || !m.To.Equal(in.cuts[n-k].From)) {
			return p.no(w.Line, 1, "a gap between the cuts of a reversed chain", "one cut after the other")
		}
	}
	return l.compareWays(in, out)
}

// sameSide gives the code of cutter compensation that a chain has that is mirrored and
// run backwards: one reversed axis and the other direction keep it.
func (l *lane) sameSide(comp int) int {
	if l.p.o.Map.OneAxis() {
		return comp
	}
	return otherSide(comp)
}

// opposite reports whether w is the mirror of m run backwards.
func (l *lane) opposite(m, w *motion.Move) bool {
	first, second, _ := m.State.Plane.Axes()
	swap := (l.sign[first] < 0) != (l.sign[second] < 0)
	kind := m.Kind
	if m.Circular() && !swap { // a mirror turns an arc, running it backwards turns it again
		kind = motion.CW + motion.CCW - kind
	}
	s, t := m.State, w.State
	// Compensation is looked at apart; M7, M8 and M9 stand before the same move in both.
	s.Comp, s.Offset, s.Coolant = t.Comp, t.Offset, t.Coolant
	if w.Kind != kind || !s.Agrees(&t) || m.Machine || m.Home || m.Cycle != 0 || m.Rotary || w.Rotary || m.Rotated != w.Rotated ||
		m.Kind == motion.Spline || m.ByRadius != w.ByRadius || m.Turns != w.Turns || !m.Radius.Equal(w.Radius) {
		return false
	}
	maps := &l.maps[m.State.Unit]
	for i := range 3 {
		if !m.FromOK[i] || !m.ToOK[i] || !w.FromOK[i] || !w.ToOK[i] ||
			!w.From[i].Equal(maps[i].apply(m.To[i])) || !w.To[i].Equal(maps[i].apply(m.From[i])) {
			return false
		}
	}
	if m.Circular() && !m.ByRadius {
		for k, i := range [2]int{first, second} {
			if !m.CentreOK[k] || !w.CentreOK[k] || !w.Centre[k].Equal(maps[i].apply(m.Centre[k])) {
				return false
			}
		}
	}
	return true
}

// compareWays compares the moves before and after a chain's cuts: as mirrored, but
// for the last of those before that leads sideways, which ends at the other end of
// the chain, and those that follow it up or down there.
func (l *lane) compareWays(in, out *half) error {
	open := !in.cuts[0].From.Equal(in.cuts[len(in.cuts)-1].To)
	aside := -1
	for k := range in.before {
		_, _, normal := in.before[k].State.Plane.Axes()
		// Where the input leads nowhere, the output may lead to the other end.
		if !level(&in.before[k], normal) || open && !level(&out.before[k], normal) {
			aside = k
		}
	}
	for k := range in.before {
		m, w := &in.before[k], &out.before[k]
		if !l.way(m, w, k > aside, k >= aside) || l.torn != [3]bool{} && k <= aside && !l.fromOtherEnd(m, w, k == aside) {
			return l.wayDiffers(m, w)
		}
	}
	if open {
		if err := l.wayDown(in, out, aside); err != nil {
			return err
		}
	}
	if open && aside >= 0 {
		// The other end is reached by a rapid that the input hasn't run: it must be
		// as high as the way out of this chain, which the input crosses at.
		m := &in.before[aside]
		_, _, normal := m.State.Plane.Axes()
		if len(in.after) == 0 || !m.FromOK[normal] || !m.ToOK[normal] ||
			m.From[normal].Cmp(in.after[0].To[normal]) < 0 || m.To[normal].Cmp(in.after[0].To[normal]) < 0 {
			return l.p.no(out.before[aside].Line, 1, "a reversed chain whose other end is reached at a low height", "a rapid at the height of the way out")
		}
		if l.low(m, m.From[normal]) || l.low(m, m.To[normal]) {
			return l.p.no(out.before[aside].Line, 1, "a reversed chain whose other end is reached through the work", "a rapid above it")
		}
	}
	for k := range in.after {
		if !l.way(&in.after[k], &out.after[k], true, true) {
			return l.wayDiffers(&in.after[k], &out.after[k])
		}
	}
	return nil
}

// tops gives the top of the work in both units.
func (l *lane) tops() {
	if l.p.o.Top == nil {
		return
	}
	l.top = [2]motion.Num{*l.p.o.Top, *l.p.o.Top}
	if l.p.o.Map.Unit == transform.MM {
		l.top[transform.Inch] = l.p.o.Top.Quo(motion.Inch)
	} else {
		l.top[transform.MM] = l.p.o.Top.Mul(motion.Inch)
	}
}

// above reports whether a height of the input surely lies above the work.
func (l *lane) above(m *motion.Move, z motion.Num) bool {
	return l.p.o.Top != nil && m.State.Plane == transform.XY && z.Cmp(l.top[m.State.Unit]) > 0
}

// low reports a height of the input that may lie in the work, as far as its top is known.
func (l *lane) low(m *motion.Move, z motion.Num) bool { return l.p.o.Top != nil && !l.above(m, z) }

// wayDown sees that an open chain's way down may be taken at its other end, where the
// input only comes out: in the work no rapid and no feed faster than any of the cuts.
func (l *lane) wayDown(in, out *half, aside int) error {
	slowest := in.cuts[0].State.Feed
	for i := range in.cuts {
		if f := in.cuts[i].State.Feed; f.Cmp(slowest) < 0 {
			slowest = f
		}
	}
	for k := aside + 1; k < len(in.before); k++ {
		m := &in.before[k]
		_, _, normal := m.State.Plane.Axes()
		switch {
		case m.FromOK[normal] && m.To[normal].Cmp(m.From[normal]) >= 0 || l.above(m, m.To[normal]):
		case m.Kind != motion.Feed:
			return l.p.no(out.before[k].Line, 1, "a rapid down at the other end of a reversed chain", "a feed, or a chain as mirrored")
		case m.State.Feed.Cmp(slowest) > 0:
			return l.p.no(out.before[k].Line, 1, fmt.Sprintf("a feed of %s down at the other end of a reversed chain", m.State.Feed), fmt.Sprintf("at most that of its cuts, %s", slowest))
		}
	}
	return nil
}

// way compares one move of the way in or out. fromElsewhere and toElsewhere say that
// its start or end stands at the other end of the chain, so that only its height is
// compared; that both programs then stand where the cuts begin and end is seen from
// the cuts, which follow one another without a gap.
func (l *lane) way(m, w *motion.Move, fromElsewhere, toElsewhere bool) bool {
	s, t := m.State, w.State
	s.Offset = t.Offset
	if m.Kind != w.Kind || m.Circular() || !s.Agrees(&t) || m.Machine || w.Machine || m.Home || w.Home ||
		m.FromOK != w.FromOK || m.ToOK != w.ToOK {
		return false
	}
	_, _, normal := m.State.Plane.Axes()
	maps := &l.maps[m.State.Unit]
	for i := range 3 {
		if (i == normal || !toElsewhere) && !w.To[i].Equal(maps[i].apply(m.To[i])) {
			return false
		}
		if i == normal && m.FromOK[i] && !w.From[i].Equal(maps[i].apply(m.From[i])) {
			return false
		}
	}
	// What goes straight up or down in one must do so in the other.
	return !fromElsewhere || level(m, normal) && level(w, normal)
}

// tornGiven reports whether the block gives all axes in G90 that don't correspond.
func (l *lane) tornGiven() bool {
	for i := range 3 {
		if l.torn[i] && (!l.in.Absolute || l.in.Effect().Coordinates&(1<<('X'+i-'A')) == 0) {
			return false
		}
	}
	return true
}

// fromOtherEnd reports whether a move may run in two programs that stand at different
// ends of a chain: straight up, home, or a rapid that doesn't come down, doesn't run in
// the work and whose block gives the axes that don't correspond.
func (l *lane) fromOtherEnd(m, w *motion.Move, given bool) bool {
	_, _, normal := m.State.Plane.Axes()
	rapid := m.Kind == motion.Rapid
	switch {
	case m.Home:
		return rapid
	case m.Circular() || m.Kind == motion.Spline || !m.FromOK[normal] || !m.ToOK[normal] || m.To[normal].Cmp(m.From[normal]) < 0:
		return false
	}
	return rapid && given && !l.low(m, m.From[normal]) || level(m, normal) && level(w, normal)
}

func (l *lane) wayDiffers(m, w *motion.Move) error {
	return l.p.no(w.Line, 1, describeMove(w)+" on the way to or from a reversed chain",
		fmt.Sprintf("heights and feed as in line %d of the input, %s", m.Line, describeMove(m)))
}
