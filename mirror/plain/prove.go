package plain

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
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

// prover is the second control.
type prover struct {
	m     *motion.Machine
	b     motion.Block
	track motion.Track
	got   []motion.Move
	end   [3]motion.Num // where the written program stands
	known [3]bool
	half  [2]motion.Num // q/2 in mm and in inches
	fine  [2]motion.Num // q/20 and 1e-9 for the floating point in an arc by R
	curve [2]float64    // 0.849 q
	line  int
	words [2][]motion.Word
}

func newProver(o motion.Options, places [2]int) *prover {
	o.Name += " (written out)"
	p := &prover{m: motion.NewMachine(o)}
	p.b.File = o.Name
	for u, n := range places {
		q := step(n)
		p.half[u] = motion.FromNano(q / 2)
		p.fine[u] = motion.FromNano(max(q/20, 1) + 1)
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
func (p *prover) check(b *motion.Block, want []motion.Move, s *motion.State, text []byte) error {
	p.got = p.got[:0]
	p.words[0], p.words[1] = p.words[0][:0], p.words[1][:0]
	for i := range 3 {
		at, place := p.m.Place(i)
		p.end[i], p.known[i] = at, place == motion.Known
	}
	for len(text) > 0 {
		end := bytes.IndexByte(text, '\n')
		p.line++
		if err := p.b.Read(text[:end], p.line, nil); err != nil {
			return p.broken(err)
		}
		moves, err := p.m.Do(&p.b)
		if err != nil {
			return p.broken(err)
		}
		for i := range moves {
			mv, ok := p.track.In(&moves[i])
			if !ok {
				return p.no(b, "a move from an unknown place", "its own")
			}
			p.got = append(p.got, *mv)
		}
		if !p.b.Tape {
			p.words[1] = switches(p.words[1], p.b.Words)
		}
		text = text[end+1:]
	}
	if !b.Tape {
		p.words[0] = switches(p.words[0], b.Words)
	}
	if err := p.sameWords(b); err != nil {
		return err
	}
	if err := p.sameMoves(b, want); err != nil {
		return err
	}
	if t := p.m.State(); !s.Agrees(&t) {
		return p.no(b, "another state of the control", "its own")
	}
	return nil
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
	dwell := false
	for i := range words {
		w := &words[i]
		n, ok := w.Value.Times(10).Int()
		switch {
		case w.Letter == 'M' && !(ok && n >= 970 && n <= 990), w.Letter == 'O':
			out = append(out, *w)
		case w.Letter == 'G' && ok:
			switch n {
			case 40, 90, 280, 300, 530, 610, 611, 640, 400, 410, 420, 411, 421, 430, 440, 490:
				out = append(out, *w)
				dwell = dwell || n == 40
			}
		}
	}
	for i := range words {
		if w := &words[i]; dwell && (w.Letter == 'P' || w.Letter == 'X' || w.Letter == 'U' || w.Letter == 'S') {
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
		if k < len(p.got) && len(p.got)-k >= len(want)-i && p.same(w, &p.got[k]) {
			p.stand(&p.got[k])
			k++
			continue
		}
		if k < len(p.got) && p.same(w, &p.got[k]) && !p.still(w) {
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
	if w.Home || w.Machine || w.Rotary || w.Kind == motion.Spline {
		return false
	}
	u := w.State.Unit
	for i := range 3 {
		switch {
		case w.ToOK[i] && (!w.FromOK[i] || !p.known[i] || !within(w.To[i], p.end[i], p.half[u])):
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

// within reports |a - b| <= most, exactly.
func within(a, b, most motion.Num) bool {
	d := a.Sub(b)
	return d.Cmp(most) <= 0 && d.Neg().Cmp(most) <= 0
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
			to, end = w.To[i], g.To[i]
		}
		if !within(to, end, p.half[u]) {
			return false
		}
	}
	switch {
	case w.Kind == g.Kind && !w.Circular():
		return w.Kind != motion.Spline
	case w.Circular() && g.Kind == motion.Feed:
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
		if !within(c, g.Centre[k], p.fine[u]) {
			return false
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
