package plain

import (
	"fmt"
	"math"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

var (
	axisLetters   = [3]byte{'X', 'Y', 'Z'}
	centreLetters = [3]byte{'I', 'J', 'K'}
)

// lineOf is the line for one block: preparatory words, the motion, all others.
type lineOf struct {
	*writer
	m                     *motion.Machine
	b                     *motion.Block
	e                     *motion.Effect
	before, moving, after []byte
	axes, circle          []byte   // parts of moving
	more                  [][]byte // further holes of the same block
	back                  bool     // a block with G91, after which G90 is written
}

// code gives a G word's number times ten.
func code(w *motion.Word) int64 {
	n, _ := w.Value.Times(10).Int()
	return n
}

// dissolved reports the codes that aren't written as they stand: motion, G90 and G91, and
// what shifts or turns coordinates.
func dissolved(code int64) bool {
	switch code {
	case 0, 10, 20, 30, 730, 810, 820, 830, 840, 850, 860, 870, 880, 890,
		900, 910, 520, 920, 921, 922, 923, 680, 690:
		return true
	}
	return false
}

// planes are the codes of the three planes, times ten.
var planes = map[int64]transform.Plane{170: transform.XY, 180: transform.ZX, 190: transform.YZ}

// words writes the words that stay.
func (l *lineOf) words() error {
	n := len(l.moves)
	circular := n > 0 && l.moves[n-1].Circular()
	for i := range l.b.Words {
		w := &l.b.Words[i]
		switch {
		case w.Letter == 'G':
			c := code(w)
			switch {
			case dissolved(c):
				continue
			case (c == 901 || c == 911) && l.centre == (c == 901):
				continue // as it is already
			case c == 901 || c == 911:
				l.writer.centre = c == 901
			case c == 120 || c == 130:
				return refuse(l.b, 'G', fmt.Sprintf("G%d (a circular pocket)", c/10), "", "write it as arcs")
			}
			if plane, other := l.turn.plane(planes[c]); other && planes[c] != transform.XY {
				l.before = append(append(l.before, plane.String()...), ' ')
				continue
			}
			l.before = l.copy(l.before, w)
		case w.Letter >= 'A' && w.Letter <= 'C':
			if !l.m.Absolute && !w.Value.IsZero() {
				return refuse(l.b, w.Letter, fmt.Sprintf("%c under G91", w.Letter), "G90", "")
			}
			l.after = l.copy(l.after, w)
		case l.e.Coordinates&(1<<(w.Letter-'A')) != 0, w.Letter == 'R' && circular:
		case l.e.Cycle && (w.Letter == 'L' || w.Letter == 'P' || w.Letter == 'Q'):
			if w.Letter == 'P' {
				l.dwell = string(l.copy(nil, w))
			}
		default:
			l.after = l.copy(l.after, w)
		}
	}
	return nil
}

// copy writes a word as it stands, or its value where it was an expression.
func (l *lineOf) copy(s []byte, w *motion.Word) []byte {
	if w.Plain {
		return append(append(s, l.b.Text[w.Start:w.End]...), ' ')
	}
	s = append(s, w.Letter)
	if n, ok := w.Value.Int(); ok {
		return append(fmt.Appendf(s, "%d", n), ' ')
	}
	v, _ := w.Value.Nano()
	return append(number(s, v), ' ')
}

// given reports whether the block gives an axis.
func (l *lineOf) given(axis int) bool { return l.e.Coordinates&(1<<(axisLetters[axis]-'A')) != 0 }

// named reports whether the line for the block gives an axis: under a turn X and Y together.
func (l *lineOf) named(axis int) bool {
	return l.given(axis) || l.turn.on && axis < 2 && l.given(1-axis)
}

// motion writes the moves.
func (l *lineOf) motion() error {
	if !l.e.Cycle && l.m.Motion() != l.cycle {
		l.cycle, l.dwell = -1, ""
	}
	if len(l.moves) == 0 {
		return nil
	}
	mv := &l.moves[len(l.moves)-1]
	switch {
	case l.e.Cycle:
		return l.holes()
	case mv.Home:
		return l.home()
	case mv.Machine:
		l.moving = append(l.moving, map[motion.Kind]string{motion.Rapid: "G0 ", motion.Feed: "G1 "}[mv.Kind]...)
		for i := range l.known {
			l.known[i] = l.known[i] && !mv.ToOK[i]
		}
		l.report.Moves++
		return nil
	case mv.Kind == motion.Spline:
		return refuse(l.b, 'G', "a spline", "", "write the curve as arcs and lines")
	}
	return l.move(mv)
}

// place gives where a move ends, rounded.
func (l *lineOf) place(mv *motion.Move) (to [3]int64, err error) {
	q := step(l.report.Places[mv.State.Unit])
	for i := range 3 {
		var ok bool
		if to[i], ok = rounded(mv.To[i], q); !ok {
			return to, refuse(l.b, axisLetters[i], fmt.Sprintf("%c with a number that is too large", axisLetters[i]), "a number that a machine can use", "")
		}
	}
	return to, nil
}

// move writes a straight move or an arc.
func (l *lineOf) move(mv *motion.Move) error {
	to, err := l.place(mv)
	if err != nil {
		return err
	}
	for i := range 3 {
		if l.known[i] = l.known[i] && mv.FromOK[i]; !l.known[i] { // lost in this very block, as by G55
			l.at[i], _ = rounded(mv.From[i], step(l.report.Places[mv.State.Unit]))
		}
	}
	var circle []byte
	name := [...]string{motion.Rapid: "G0 ", motion.Feed: "G1 ", motion.CW: "G2 ", motion.CCW: "G3 "}[mv.Kind]
	if mv.Either { // no motion word was written either
		name = ""
	}
	_, _, normal := mv.State.Plane.Axes()
	if mv.Circular() {
		if circle, err = l.arc(mv, to); err != nil {
			return err
		}
		if circle == nil {
			name = "G1 "
		}
	}
	moved := circle != nil || mv.Rotary || mv.FromOK == mv.ToOK && mv.From.Equal(mv.To) // given again as it stands
	counts := false
	for i := range 3 {
		moved = moved || l.at[i] != to[i] || l.named(i) && mv.ToOK[i] && !l.known[i]
		counts = counts || !mv.ToOK[i] && (l.at[i] != to[i] || circle != nil && i != normal)
	}
	if !moved {
		l.report.Dropped++
		return nil
	}
	if counts { // from a place that isn't known: by G91, of rounded places, so that nothing adds up
		l.before, l.back = append([]byte("G91 "), l.before...), true
	}
	words := l.axes[:0]
	for i := range 3 {
		if !(l.named(i) || l.at[i] != to[i] || circle != nil && i != normal) || !counts && !mv.ToOK[i] {
			continue
		}
		v := to[i]
		if counts {
			v -= l.at[i]
		}
		words = append(number(append(words, axisLetters[i]), v), ' ')
		l.at[i], l.known[i] = to[i], mv.ToOK[i]
	}
	l.report.Moves++
	l.axes = words
	l.moving = append(append(append(l.moving, name...), words...), circle...)
	return nil
}

// arc gives the centre words of an arc; nil where it is so short that it is written as a
// straight move.
func (l *lineOf) arc(mv *motion.Move, to [3]int64) ([]byte, error) {
	first, second, _ := mv.State.Plane.Axes()
	centre, _, sweep, ok := mv.Arc()
	if !ok {
		return nil, refuse(l.b, 'G', "an arc from a place that isn't known", "its start in G90 first", "")
	}
	q := step(l.report.Places[mv.State.Unit])
	fine := max(q/10, 1)
	written := *mv
	written.ByRadius, written.CentreOK = false, [2]bool{mv.FromOK[first], mv.FromOK[second]}
	words := l.circle[:0]
	short := true
	for k, i := range [2]int{first, second} {
		c := mv.Centre[k]
		if mv.ByRadius {
			c = motion.FromNano(int64(math.Round(centre[k] * 1e9)))
		}
		v, ok := rounded(c.Sub(motion.FromNano(l.at[i])), fine)
		if l.centre {
			v, ok = rounded(c, fine)
		}
		if !ok {
			return nil, refuse(l.b, centreLetters[i], "an arc whose centre is too far away", "a number that a machine can use", "")
		}
		words = append(number(append(words, centreLetters[i]), v), ' ')
		if l.centre {
			v -= l.at[i]
		}
		short = short && v == 0
		written.From[i], written.To[i] = motion.FromNano(l.at[i]), motion.FromNano(to[i])
		written.Centre[k] = motion.FromNano(l.at[i] + v)
	}
	if !short {
		if _, _, turn, ok := written.Arc(); ok && math.Abs(turn-sweep) < math.Pi {
			l.circle = words
			return words, nil
		}
	}
	if math.Abs(sweep) < math.Pi {
		return nil, nil
	}
	return nil, refuse(l.b, 'G', "an arc smaller than the program's resolution", "a larger arc, or more decimals", "")
}

// holes writes a canned cycle, one block a hole.
func (l *lineOf) holes() error {
	of := &l.moves[len(l.moves)-1] // the control may be back at its start, after M2
	if of.State.Plane != transform.XY || of.Cycle == 870 {
		return refuse(l.b, 'G', fmt.Sprintf("G%d in this plane or way", of.Cycle/10), "a cycle in G17, G87 aside", "write its moves out in G0 and G1")
	}
	if !l.e.Levelled {
		return refuse(l.b, 'G', "a cycle whose R or depth isn't known", "R, and Z given in G90 first", "")
	}
	if len(l.e.Holes) == 0 { // L0 goes there and drills nothing
		return l.move(&l.moves[0])
	}
	if l.cycle == of.Cycle && l.drilled != of.State.Unit {
		return refuse(l.b, 'G', "other units while a cycle runs", "G80 first", "")
	}
	l.writer.cycle, l.writer.drilled = of.Cycle, of.State.Unit
	q := step(l.report.Places[of.State.Unit])
	for k, i := range l.e.Holes {
		end := len(l.moves)
		if k+1 < len(l.e.Holes) {
			end = l.e.Holes[k+1]
		}
		mv := &l.moves[end-1]
		to, err := l.place(mv)
		if err != nil {
			return err
		}
		if !mv.ToOK[0] || !mv.ToOK[1] || !mv.ToOK[2] {
			return refuse(l.b, 'G', "a hole at a place that isn't known", "X, Y and Z in G90 first", "")
		}
		var shift motion.Num
		if mv.Frame != nil {
			shift = mv.Frame.Shift[2]
		}
		line := fmt.Appendf(nil, "G%d ", l.cycle/10)
		for a := range 2 {
			line = append(number(append(line, axisLetters[a]), to[a]), ' ')
		}
		for _, w := range []struct {
			letter byte
			v      motion.Num
		}{{'Z', l.e.Depth.Add(shift)}, {'R', l.e.Reached.Add(shift)}} {
			v, ok := rounded(w.v, q)
			if !ok {
				return refuse(l.b, w.letter, "a depth that is too large", "a number that a machine can use", "")
			}
			line = append(number(append(line, w.letter), v), ' ')
		}
		if v, ok := l.e.Peck.Nano(); ok && v > 0 {
			line = append(number(append(line, 'Q'), v), ' ')
		}
		if l.dwell != "" {
			line = append(line, l.dwell...)
		}
		l.at, l.known = to, [3]bool{true, true, true}
		l.report.Moves++
		if i == l.e.Holes[0] {
			l.moving = line
			continue
		}
		l.more = append(l.more, line)
	}
	return nil
}

// home writes G28 or G30.
func (l *lineOf) home() error {
	if l.turn.on && l.given(0) != l.given(1) {
		return l.turn.refuse(l.b, "a move home in one of X and Y", "both X and Y, or Z alone")
	}
	l.known = [3]bool{}
	l.report.Moves++
	if l.e.Coordinates == 0 {
		return nil
	}
	if len(l.moves) == 1 { // by counts of 0: from where it stands
		l.before = append([]byte("G91 "), l.before...)
		for i := range 3 {
			if l.named(i) {
				l.moving = append(l.moving, axisLetters[i], '0', ' ')
			}
		}
		l.back = true
		return nil
	}
	to, err := l.place(&l.moves[0])
	if err != nil {
		return err
	}
	for i := range 3 {
		if l.named(i) {
			l.moving = append(number(append(l.moving, axisLetters[i]), to[i]), ' ')
		}
	}
	return nil
}
