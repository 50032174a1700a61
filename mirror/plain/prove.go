package plain

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// The proof: what is written is read by a second control and its moves are compared, one
// by one, with those that the program made. It covers the writing, not the evaluation,
// since one control reads both.
//
// With q the resolution of coordinates:
//
// An end is off by at most q/2 in each axis, by rounding; so is the start of the next
// move, which is the same point. A straight move between them is off by no more, at most
// q/sqrt 2 in the plane.
//
// A centre is written as a count from the written start, or by itself, with one digit
// more: it is off by at most q/20 in each axis, (q/10)/sqrt 2 in the plane.
//
// An arc's radius is that at its start: written start less written centre. Opposite the
// start the arc lies at 2 x centre - start, so that the centre's error counts twice there
// and the start's once: at most q/sqrt 2 + 2q/(10 sqrt 2) = 0.849 q.
//
// The radii at both ends then differ by at most sqrt 2 (q + q/10) besides the program's
// own mismatch, 0.00156 mm at q = 0.001 mm; the control refuses more than the tolerance.
//
// An arc that is written as a straight move stays within 0.849 q of its chord.
//
// Under a turn the program's moves are turned before they are compared. A turn moves no
// point further from another, so that the bounds are the same in the turned axes; the two
// hands that turn differ by the rounding of each to 1e-9, 2e-9 with that of the floats.

// prover is the second control.
type prover struct {
	m     *motion.Machine
	b     motion.Block
	track motion.Track
	got   []motion.Move // of the written lines
	kept  []motion.Move // they, where one line runs after another
	end   [3]motion.Num // where the written program stands
	known [3]bool
	half  [2]motion.Num // q/2 in mm and in inches, after a change of units that of the coarser
	unit  transform.Unit
	fine  [2]motion.Num // q/20 and 1e-9 for the floating point in an arc by R
	curve [2]float64    // 0.849 q
	line  int
	words [2][]motion.Word
	turn  *[2][2]float64 // the map's rows in X and Y, nil where nothing is turned
	want  []motion.Move

	rounded [2]bool // whether the writing changed a place, in mm and in inches
}

func newProver(o motion.Options, places [2]int, turn decimal.Decimal) *prover {
	o.Name += " (written out)"
	p := &prover{m: motion.NewMachine(o), track: motion.Track{Renamed: true}, unit: o.Unit}
	p.b.File = o.Name
	for u, n := range places {
		q := step(n)
		p.half[u] = motion.FromNano(q / 2)
		p.fine[u] = motion.FromNano(max(q/20, 1) + 1)
		if p.turned(turn); p.turn != nil {
			p.half[u], p.fine[u] = motion.FromNano(q/2+2), motion.FromNano(max(q/20, 1)+3)
		}
		p.curve[u] = float64(q) / 1e9 * (1.2 / math.Sqrt2)
	}
	return p
}

// no says that what was written isn't what the program does.
func (p *prover) no(b *motion.Block, found, expected string) error {
	return &fault.Error{File: p.b.File, Line: p.line, Col: 1, Found: found, Expected: fmt.Sprintf("what line %d of the program does: %s", b.Line, expected),
		Hint: "nothing was handed over: this is a fault of the writing, please report it", No: true}
}

// check reads the lines that were written for block b, and compares.
func (p *prover) check(m *motion.Machine, b *motion.Block, want []motion.Move, text []byte) error {
	if u := m.Unit(); u != p.unit { // what stands keeps the rounding of the other unit
		of := p.half[1-u].In(1-u, u)
		if p.half[u].Cmp(of) < 0 {
			p.half[u] = of
		}
		p.unit = u
	}
	for i := range 3 {
		at, place := p.m.Place(i)
		p.end[i], p.known[i] = at, place == motion.Known
	}
	if err := p.read(b, text); err != nil {
		return err
	}
	p.words[0] = p.words[0][:0]
	if !b.Tape {
		p.words[0] = switches(p.words[0], b.Words)
	}
	if err := p.sameWords(b); err != nil {
		return err
	}
	state := m.State()
	if p.turn != nil {
		p.want = p.want[:0]
		for i := range want {
			p.want = append(p.want, p.mapped(want[i]))
		}
		want = p.want
		state.Plane, _ = p.planeOf(state.Plane)
	}
	if err := p.sameMoves(b, want); err != nil {
		return err
	}
	if t := p.m.State(); !state.Agrees(&t) {
		return p.no(b, "another state of the control", "its own")
	}
	return p.sameZeros(b, m)
}

// stands gives where the written program stands along an axis, in a unit: a place, or a count
// from an unknown one.
func (p *prover) stands(axis int, u transform.Unit) motion.Num {
	at, _ := p.m.Place(axis)
	if of := p.m.Unit(); of != u {
		at = at.In(of, u)
	}
	return at
}

// read runs the written lines of block b and keeps their moves and switches.
func (p *prover) read(b *motion.Block, text []byte) error {
	p.got, p.kept, p.words[1] = nil, p.kept[:0], p.words[1][:0]
	for len(text) > 0 {
		end := bytes.IndexByte(text, '\n')
		p.line++
		if err := p.b.Read(text[:end], p.line); err != nil {
			return p.broken(err)
		}
		ended := p.m.Ended()
		moves, err := p.m.Do(&p.b)
		switch {
		case err != nil:
			return p.broken(err)
		case ended && len(moves) > 0:
			return p.no(b, "a move behind the end", "its own moves, then the end")
		}
		for i := range moves {
			mv, ok := p.track.In(&moves[i])
			if !ok {
				return p.no(b, "a move from an unknown place", "its own")
			}
			if mv != &moves[i] {
				moves[i] = *mv
			}
		}
		p.track.After(p.m)
		if text = text[end+1:]; len(text) == 0 && len(p.kept) == 0 {
			p.got = moves // which the control holds until the next block
		} else {
			p.kept = append(p.kept, moves...)
			p.got = p.kept
		}
		if !p.b.Tape {
			p.words[1] = switches(p.words[1], p.b.Words)
		}
	}
	return nil
}

// sameZeros compares where both controls stand after a block that set or ended zeros at
// places that aren't known.
func (p *prover) sameZeros(b *motion.Block, m *motion.Machine) error {
	e, f := m.Effect(), p.m.Effect()
	if e.Preset != 920 && f.Preset != 920 && e.Unset == 0 && f.Unset == 0 {
		return nil
	}
	var at [3]motion.Num
	var place [3]motion.Place
	for i := range 3 {
		at[i], place[i] = shifted(m, i)
	}
	if p.turn != nil {
		at[0], at[1] = p.row(0, at[0], at[1]), p.row(1, at[0], at[1])
		place[0] = max(place[0], place[1])
		place[1] = place[0]
	}
	for i := range 3 {
		stands, found := shifted(p.m, i)
		if place[i] != motion.Known && !e.Renamed[i] {
			continue // what was turned isn't known in the program's own coordinates
		}
		if place[i] != found || found == motion.Known && !p.within(at[i], stands, &p.half, m.Unit()) {
			return p.no(b, fmt.Sprintf("another zero of %c", axisLetters[i]), "its own")
		}
	}
	return nil
}

// shifted gives an axis' place in its work offset, or from a zero that G92 set where the
// place wasn't known.
func shifted(m *motion.Machine, axis int) (motion.Num, motion.Place) {
	at, place := m.Place(axis)
	if f := m.Frame(); f != nil {
		at = at.Add(f.Shift[axis])
	}
	return at, place
}

// broken turns an error of the second control into a no.
func (p *prover) broken(err error) error {
	if f, ok := err.(*fault.Error); ok {
		g := *f
		g.No = true
		return &g
	}
	return err
}

// switches adds the words that do something besides motion and state: M words other than
// calls, and the codes that stand by themselves, with what a dwell takes.
func switches(out []motion.Word, words []motion.Word) []motion.Word {
	beside := "" // letters of words that such a code takes
	for i := range words {
		w := &words[i]
		switch w.Letter {
		case 'O':
			out = append(out, *w)
		case 'M':
			if n := code(w); n < 970 || n > 990 {
				out = append(out, *w)
			}
		case 'G':
			switch code(w) {
			case 40:
				out, beside = append(out, *w), "PXUS"
			case 120, 130:
				out, beside = append(out, *w), "IKQLRP"
			case 90, 280, 300, 530, 610, 611, 640, 400, 410, 420, 411, 421, 430, 440, 490:
				out = append(out, *w)
			}
		}
	}
	for i := range words {
		if beside == "" {
			break
		}
		if w := &words[i]; strings.IndexByte(beside, w.Letter) >= 0 {
			out = append(out, *w)
		}
	}
	return out
}

// sameWords compares the words that don't move, in any order.
func (p *prover) sameWords(b *motion.Block) error {
	a, c := p.words[0], p.words[1]
	for _, words := range p.words {
		if len(words) < 2 {
			continue
		}
		slices.SortFunc(words, func(v, w motion.Word) int {
			return cmp.Or(cmp.Compare(v.Letter, w.Letter), v.Value.Cmp(w.Value))
		})
	}
	for i := range max(len(a), len(c)) {
		if i >= len(a) || i >= len(c) || a[i].Letter != c[i].Letter || !a[i].Value.Equal(c[i].Value) {
			return p.no(b, "other codes", "its own")
		}
	}
	return nil
}

// sameMoves compares moves one by one. One that ends where the written program stands may
// be missing.
func (p *prover) sameMoves(b *motion.Block, want []motion.Move) error {
	k := 0
	for i := range want {
		w := &want[i]
		if k < len(p.got) && p.same(w, &p.got[k]) && (len(p.got)-k >= len(want)-i || !p.still(w)) {
			p.stand(&p.got[k])
			k++
			continue
		}
		if p.still(w) {
			continue
		}
		found := "no move"
		if k < len(p.got) {
			found = describe(&p.got[k])
		}
		return p.no(b, found, describe(w))
	}
	if k < len(p.got) {
		return p.no(b, "a further move: "+describe(&p.got[k]), "no more")
	}
	return nil
}

// stand notes where the written program is after a move.
func (p *prover) stand(g *motion.Move) { p.end, p.known = [3]motion.Num(g.To), g.ToOK }

// still reports a move that rounds to nothing.
func (p *prover) still(w *motion.Move) bool {
	if w.Home || w.Machine || w.Rotary || w.Kind == motion.Spline || w.Cycle == 120 || w.Cycle == 130 {
		return false
	}
	u := w.State.Unit
	for i := range 3 {
		switch {
		case w.ToOK[i] && (!w.FromOK[i] || !p.known[i] || !p.within(w.To[i], p.end[i], &p.half, u)):
			return false
		case !w.ToOK[i] && !w.To[i].Equal(w.From[i]):
			return false
		}
	}
	return !w.Circular() || p.flat(w)
}

// flat reports an arc under half a turn that stays close to its chord.
func (p *prover) flat(w *motion.Move) bool {
	_, radius, sweep, ok := w.Arc()
	return ok && math.Abs(sweep) < math.Pi && radius*(1-math.Cos(sweep/2)) <= p.curve[w.State.Unit]
}

// within reports that b lies no further from a than most says in a unit, exactly, and notes
// where the two differ.
func (p *prover) within(a, b motion.Num, most *[2]motion.Num, u transform.Unit) bool {
	if a.Equal(b) {
		return true
	}
	d := a.Sub(b)
	p.rounded[u] = true
	return d.Cmp(most[u]) <= 0 && d.Neg().Cmp(most[u]) <= 0
}

// same compares a move with the one that was written for it.
func (p *prover) same(w, g *motion.Move) bool {
	u := w.State.Unit
	if w.Home != g.Home || w.Machine != g.Machine || w.Cycle != g.Cycle || w.Rotary != g.Rotary || w.Either != g.Either || w.ToOK != g.ToOK || !w.State.Agrees(&g.State) {
		return false
	}
	for i := range 3 {
		to, end := w.To[i], g.To[i]
		if !w.ToOK[i] { // by the count
			to, end = to.Sub(w.From[i]), end.Sub(g.From[i])
			if w.Home || to.IsZero() && end.IsZero() {
				continue
			}
			// Both ends of a count are rounded; where it begins is the writer's own (rebase).
			if d, most := to.Sub(end), p.half[u].Times(2); d.Cmp(most) > 0 || d.Neg().Cmp(most) > 0 {
				return false
			}
			to, end = w.To[i], g.To[i]
		}
		if !p.within(to, end, &p.half, u) {
			return false
		}
	}
	switch {
	case w.Cycle == 120 || w.Cycle == 130:
		return w.Kind == g.Kind && w.Radius.Equal(g.Radius)
	case w.Kind == motion.Spline:
		return g.Kind == w.Kind && p.sameCurve(w, g)
	case w.Kind == g.Kind && !w.Circular():
		return true
	case w.Circular() && g.Kind == motion.Feed:
		p.rounded[u] = true
		return p.flat(w)
	case w.Kind != g.Kind || w.Turns != g.Turns || !w.ByRadius && w.CentreOK != g.CentreOK:
		return false
	}
	centre, _, sweep, ok := w.Arc()
	_, _, turn, fine := g.Arc()
	if !ok || !fine || math.Abs(sweep-turn) >= math.Pi {
		return false
	}
	for k := range 2 {
		c := w.Centre[k]
		if w.ByRadius {
			c = motion.FromNano(int64(math.Round(centre[k] * 1e9)))
		}
		if !p.within(c, g.Centre[k], &p.fine, u) {
			return false
		}
	}
	return true
}

// turned sets the rows of a turn in degrees: exact for a quarter.
func (p *prover) turned(degrees decimal.Decimal) {
	if degrees.IsZero() {
		return
	}
	angle := degrees.InexactFloat64() / 180 * math.Pi
	cos, sin := math.Cos(angle), math.Sin(angle)
	if degrees.Mod(decimal.New(90, 0)).IsZero() {
		cos, sin = math.Round(cos), math.Round(sin)
	}
	p.turn = &[2][2]float64{{cos, -sin}, {sin, cos}}
}

// row gives X (0) or Y (1) of a turned place, to 1e-9.
func (p *prover) row(i int, x, y motion.Num) motion.Num {
	return motion.FromNano(int64(math.Round(1e9 * (p.turn[i][0]*x.Float() + p.turn[i][1]*y.Float()))))
}

// planeOf gives the plane that a plane becomes, and whether arcs change sense in it: a
// quarter turn carries X to Y, so that G18 becomes G19. Their axes are Z, X and Y, Z.
func (p *prover) planeOf(from transform.Plane) (to transform.Plane, swapped bool) {
	sin := p.turn[1][0]
	switch {
	case from == transform.XY || math.Abs(sin) != 1:
		return from, false
	case from == transform.ZX:
		return transform.YZ, sin > 0
	}
	return transform.ZX, sin < 0
}

// mapped gives a move of the program as it must be after the turn.
func (p *prover) mapped(m motion.Move) motion.Move {
	w := m
	if m.Machine || m.Home {
		w.State.Plane, _ = p.planeOf(m.State.Plane)
		return w
	}
	for i := range 2 {
		w.From[i], w.FromOK[i] = p.row(i, m.From[0], m.From[1]), m.FromOK[0] && m.FromOK[1]
		w.To[i], w.ToOK[i] = p.row(i, m.To[0], m.To[1]), m.ToOK[0] && m.ToOK[1]
	}
	for k, c := range m.Control {
		w.Control[k] = [2]motion.Num{p.row(0, c[0], c[1]), p.row(1, c[0], c[1])}
	}
	var swapped bool
	if w.State.Plane, swapped = p.planeOf(m.State.Plane); !m.Circular() {
		return w
	}
	if swapped {
		w.Kind = motion.CW + motion.CCW - m.Kind
	}
	var centre motion.Point
	var known [3]bool
	first, second, normal := m.State.Plane.Axes()
	centre[first], centre[second], known[first], known[second] = m.Centre[0], m.Centre[1], m.CentreOK[0], m.CentreOK[1]
	centre[normal], known[normal] = m.From[normal], m.FromOK[normal]
	x, y := p.row(0, centre[0], centre[1]), p.row(1, centre[0], centre[1])
	centre[0], centre[1] = x, y
	known[0], known[1] = known[0] && known[1], known[0] && known[1]
	first, second, _ = w.State.Plane.Axes()
	w.Centre, w.CentreOK = [2]motion.Num{centre[first], centre[second]}, [2]bool{known[first], known[second]}
	return w
}

// sameCurve compares the control points of splines, which count from their ends. Of a
// spline with one control point that is the first.
func (p *prover) sameCurve(w, g *motion.Move) bool {
	if w.Cubic != g.Cubic {
		return false
	}
	for k := range w.Control {
		if k == 1 && !w.Cubic {
			break
		}
		for i := range 2 {
			if !p.within(w.Control[k][i], g.Control[k][i], &p.fine, w.State.Unit) {
				return false
			}
		}
	}
	return true
}

// describe writes a move in words.
func describe(m *motion.Move) string {
	s := [...]string{"a rapid", "a feed", "a clockwise arc", "a counter-clockwise arc", "a spline"}[m.Kind]
	if m.Home {
		return s + " home"
	}
	for i := range 3 {
		if m.ToOK[i] {
			s += fmt.Sprintf(" %c%s", axisLetters[i], m.To[i])
		}
	}
	return s
}
