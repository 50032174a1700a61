package plain

import (
	"fmt"
	"math"
	"slices"

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
	stop                  []byte   // M0, M1, M2, M30 or M60, behind all its moves (NISTIR 6556, table 8)
	back                  bool     // a block with G91, after which G90 is written
}

// code gives a G word's number times ten.
func code(w *motion.Word) int64 {
	v, _ := w.Value.Nano()
	return v / 100_000_000
}

// dissolved reports the codes that aren't written as they stand: motion, G90 and G91, and
// what shifts or turns coordinates.
func dissolved(code int64) bool {
	switch code {
	case 0, 10, 20, 30, 730, 810, 820, 830, 840, 850, 860, 870, 880, 890,
		900, 910, 520, 920, 921, 922, 923, 680, 690, 150, 160, 500, 510:
		return true
	}
	return false
}

// planes are the codes of the three planes, times ten.
var planes = map[int64]transform.Plane{170: transform.XY, 180: transform.ZX, 190: transform.YZ}

// words writes the words that stay.
func (l *lineOf) words() error {
	n := len(l.moves)
	circular := n > 0 && l.moves[n-1].Circular() && l.moves[n-1].Cycle == 0 // a pocket keeps its R
	curved := n > 0 && l.moves[n-1].Kind == motion.Spline
	for i := range l.b.Words {
		w := &l.b.Words[i]
		switch {
		case w.Letter == 'G':
			c := code(w)
			switch {
			case dissolved(c), c == 50 && curved, c == 51 && curved:
				continue
			case (c == 50 || c == 51) && n > 0:
				return refuse(l.b, 'G', "look-ahead beside a move", "two blocks", "")
			case (c == 901 || c == 911) && l.centre == (c == 901):
				continue // as it is already
			case c == 901 || c == 911:
				l.writer.centre = c == 901
			}
			if plane, other := l.turn.plane(planes[c]); other && planes[c] != transform.XY {
				l.before = append(append(l.before, plane.String()...), ' ')
				continue
			}
			l.before = l.copy(l.before, w)
		case w.Letter == 'P' && i > 0 && l.b.Words[i-1].Letter == 'G' && code(&l.b.Words[i-1])/10 == 54 && l.m.State().Offset > transform.MoreOffsets:
			l.before = l.copy(l.before, w) // right behind its G54.1
		case w.Letter >= 'A' && w.Letter <= 'C':
			if l.e.Preset != 0 || l.gives(690, 690) {
				return refuse(l.b, w.Letter, fmt.Sprintf("%c beside G92, G52, G51, G68 or G69", w.Letter), "X, Y and Z", "")
			}
			if !l.m.Absolute && !w.Value.IsZero() {
				return refuse(l.b, w.Letter, fmt.Sprintf("%c under G91", w.Letter), "G90", "")
			}
			l.after = l.copy(l.after, w)
		case (l.e.Call != 0 || l.e.Return) && (w.Letter == 'P' || w.Letter == 'L' || w.Letter == 'M' && code(w) >= 980 && code(w) <= 990):
		case l.e.Coordinates&(1<<(w.Letter-'A')) != 0, w.Letter == 'R' && circular:
		case l.e.Cycle && w.Letter == 'K':
			l.note(l.b, "K of a cycle taken as a number of repeats")
		case l.e.Cycle && (w.Letter == 'L' || w.Letter == 'P' || w.Letter == 'Q'):
			if w.Letter == 'P' {
				l.dwell = string(l.copy(nil, w))
			}
		case w.Letter == 'M' && slices.Contains([]int64{0, 10, 20, 300, 600}, code(w)):
			l.stop = l.copy(l.stop, w)
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

// motion writes the moves. A cycle that ends in a block without any, as by G0 alone, is
// cancelled: the next one doesn't take its R.
func (l *lineOf) motion() error {
	if !l.e.Cycle && l.m.Motion() != l.cycle {
		l.writer.cycle, l.dwell = -1, ""
	}
	if err := l.blockMoves(); err != nil {
		return err
	}
	// G0 or G1 alone ends a cycle, an arc or a spline: what stands behind G80 moves by it. G2
	// or G3 alone ends a cycle and moves nothing until an arc says where.
	switch running := l.proof.m.Motion(); {
	case len(l.moves) > 0:
	case running > 10 && l.gives(0, 10):
		l.moving = fmt.Appendf(l.moving, "G%d ", l.m.Motion()/10)
	case running >= 730 && l.gives(20, 30) && !l.gives(800, 800):
		l.moving = append(l.moving, "G80 "...)
	}
	return nil
}

// gives reports whether the block gives a G word from one to another, numbers times ten.
func (l *lineOf) gives(from, to int64) bool {
	return slices.ContainsFunc(l.b.Words, func(w motion.Word) bool {
		return w.Letter == 'G' && from <= code(&w) && code(&w) <= to
	})
}

// blockMoves writes the moves of the block.
func (l *lineOf) blockMoves() error {
	if len(l.moves) == 0 {
		return nil
	}
	mv := &l.moves[len(l.moves)-1]
	l.end = mv.To
	switch {
	case mv.Cycle == 120 || mv.Cycle == 130:
		return l.pocket(mv)
	case l.e.Cycle:
		return l.holes()
	case mv.Home:
		return l.home()
	case mv.Machine:
		if mode := l.m.Motion(); mode >= 0 && mode != 800 { // else none is set afterwards either
			l.moving = append(l.moving, map[motion.Kind]string{motion.Rapid: "G0 ", motion.Feed: "G1 "}[mv.Kind]...)
		}
		for i := range l.known {
			l.known[i] = l.known[i] && !mv.ToOK[i]
		}
		l.report.Moves++
		return nil
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
		l.known[i] = l.known[i] && mv.FromOK[i] // lost in this very block, as by G55
		if l.at[i] != to[i] && !l.named(i) && mv.From[i].Equal(mv.To[i]) && l.near(i, mv.To[i]) {
			to[i] = l.at[i] // it stays, at a place of other units
		}
	}
	var circle []byte
	name := [...]string{motion.Rapid: "G0 ", motion.Feed: "G1 ", motion.CW: "G2 ", motion.CCW: "G3 ", motion.Spline: "G5.1 "}[mv.Kind]
	if mv.Either { // no motion word was written either
		name = ""
	}
	first, second, normal := mv.State.Plane.Axes()
	closed := mv.Circular() && l.closed(mv, to)
	if closed { // its end isn't written
		to[first], to[second] = l.at[first], l.at[second]
	}
	switch {
	case mv.Circular():
		if circle, err = l.arc(mv, to); err != nil {
			return err
		}
		if circle == nil {
			name = "G1 "
		}
	case mv.Kind == motion.Spline:
		if mv.Cubic {
			name = "G5 "
		}
		if circle, err = l.curve(mv); err != nil {
			return err
		}
	}
	moved := circle != nil || mv.Rotary || mv.FromOK == mv.ToOK && mv.From.Equal(mv.To) // given again as it stands
	round, counts := mv.Circular() && circle != nil, false
	for i := range 3 {
		moved = moved || l.at[i] != to[i] || l.named(i) && mv.ToOK[i] && !l.known[i]
		counts = counts || !mv.ToOK[i] && (l.at[i] != to[i] || round && i != normal || mv.Kind == motion.Spline && l.named(i))
	}
	if !moved {
		l.report.Dropped++
		return nil
	}
	for i := range 3 {
		if counts && mv.ToOK[i] && !mv.FromOK[i] {
			return refuse(l.b, axisLetters[i], fmt.Sprintf("%c to a place, beside an axis that counts from a place that isn't known", axisLetters[i]), "axes that were given in G90 before", "")
		}
	}
	if counts { // from a place that isn't known: by G91, of rounded places, so that nothing adds up
		l.before, l.back = append([]byte("G91 "), l.before...), true
	}
	words := l.axes[:0]
	for i := range 3 {
		if !(l.named(i) || l.at[i] != to[i] || round && i != normal) || !counts && (!mv.ToOK[i] || closed && i != normal) {
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

// closed reports a full circle that ends where the written program stands, beside the steps
// of coordinates, as after a change of units.
func (l *lineOf) closed(mv *motion.Move, to [3]int64) bool {
	first, second, _ := mv.State.Plane.Axes()
	beside := false
	for _, i := range [2]int{first, second} {
		if !mv.From[i].Equal(mv.To[i]) {
			return false
		}
		beside = beside || !motion.FromNano(to[i]).Equal(l.proof.stands(i, mv.State.Unit))
	}
	return beside
}

// near reports that the written program stands within half a step of a place.
func (l *lineOf) near(axis int, place motion.Num) bool {
	n, _ := rounded(place, 1)
	d := l.at[axis] - n
	return 2*max(d, -d) <= step(l.report.Places[l.m.Unit()])
}

// curve gives the control points of a spline, with one digit more than coordinates have.
func (l *lineOf) curve(mv *motion.Move) ([]byte, error) {
	fine := max(step(l.report.Places[mv.State.Unit])/10, 1)
	words := l.circle[:0]
	for k, letter := range []byte("IJPQ") {
		if k > 1 && !mv.Cubic {
			break
		}
		v, ok := rounded(mv.Control[k/2][k%2], fine)
		if !ok {
			return nil, refuse(l.b, letter, "a control point that is too far away", "a number that a machine can use", "")
		}
		words = append(number(append(words, letter), v), ' ')
	}
	l.circle = words
	return words, nil
}

// pocket writes the depth of G12 or G13, whose other words stay.
func (l *lineOf) pocket(mv *motion.Move) error {
	to, err := l.place(mv)
	if err != nil {
		return err
	}
	if l.named(2) {
		if !mv.ToOK[2] {
			return refuse(l.b, 'Z', "a pocket whose depth isn't known", "Z in G90 first", "")
		}
		l.moving = append(number(append(l.moving, 'Z'), to[2]), ' ')
		l.at[2], l.known[2] = to[2], true
	}
	l.report.Moves++
	return nil
}

// zeros writes G92 where it names an axis whose place isn't known, and what ends that.
func (l *lineOf) zeros() error {
	frame := l.m.Frame()
	var values motion.Point
	if l.e.Renamed != [3]bool{} {
		l.before = append(l.before, "G92 "...)
		values = l.e.Values
		for i := range values {
			if frame != nil { // else M2 stands beside it
				values[i] = values[i].Add(frame.Shift[i])
			}
		}
		for i, renamed := range l.e.Renamed {
			if _, place := l.proof.m.Place(i); renamed && place == motion.Known && !l.zero[i] { // as after G69
				return refuse(l.b, axisLetters[i], "G92 where the tool stands at a place that was turned", "X and Y in G90 after G69", "")
			}
		}
		if l.turn.on && l.e.Renamed[0] != l.e.Renamed[1] {
			return l.turn.refuse(l.b, "G92 with one of X and Y where the place isn't known", "both X and Y")
		}
		if l.turn.on {
			values[0], values[1] = l.turn.place(values[0], values[1])
		}
	}
	for i, renamed := range l.e.Renamed {
		if !renamed {
			continue
		}
		v := values[i]
		if l.zero[i] && l.known[i] { // by as much as the written program stands beside the place
			v = v.Add(motion.FromNano(l.at[i])).Sub(l.end[i])
		}
		nano, ok := rounded(v, 1)
		if !ok {
			return refuse(l.b, axisLetters[i], "a zero that is too far away", "a number that a machine can use", "")
		}
		l.before = append(number(append(l.before, axisLetters[i]), nano), ' ')
		l.at[i], l.known[i], l.end[i], l.zero[i] = nano, true, v, true
	}
	var unknown [3]bool
	for i := range unknown {
		unknown[i] = frame != nil && !frame.ShiftOK[i]
	}
	if l.e.Unset == 923 && (l.zero != [3]bool{} || unknown != [3]bool{}) {
		return refuse(l.b, 'G', "G92.3, with a zero that was set where the place wasn't known", "G92 with that zero again", "")
	}
	if l.e.Unset != 0 && (l.zero != unknown || unknown != [3]bool{}) {
		l.before = fmt.Appendf(l.before, "G92.%d ", l.e.Unset%10)
		l.zero = unknown
	}
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
		if _, place := l.proof.m.Place(i); place != motion.Known && mv.FromOK[i] {
			return nil, refuse(l.b, 'G', "an arc from a place that isn't known after other work offsets", "its start in G90 first", "")
		}
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
	first := &l.moves[0]
	to, err := l.place(first)
	if err != nil {
		return err
	}
	for i := range 3 {
		l.back = l.back || l.named(i) && !first.ToOK[i] // by counts, from a place that isn't known
	}
	if l.back {
		l.before = append([]byte("G91 "), l.before...)
	}
	for i := range 3 {
		if !l.named(i) {
			continue
		}
		if l.back && first.FromOK[i] != first.ToOK[i] {
			return refuse(l.b, axisLetters[i], fmt.Sprintf("%c to a place, beside an axis that counts from a place that isn't known", axisLetters[i]), "axes that were given in G90 before", "")
		}
		if l.back {
			to[i] -= l.at[i]
		}
		l.moving = append(number(append(l.moving, axisLetters[i]), to[i]), ' ')
	}
	return nil
}
