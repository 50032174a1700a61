package proof

import (
	"fmt"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// axisMap is one axis of the map in exact numbers.
type axisMap struct {
	sign   int
	offset motion.Num
}

// apply maps a coordinate.
func (a axisMap) apply(n motion.Num) motion.Num { return n.Signed(a.sign).Add(a.offset) }

// lane is both programs under one position of the block delete switch.
//
// Before and after each block, for each axis,
//
//	out's position = sign * in's position + rel
//
// holds exactly, where rel is the map's offset once the axis was given in G90, and
// the difference of the two counts before that.
type lane struct {
	p                      *pair
	in, out                *motion.Machine
	maps                   [2][3]axisMap // per unit
	rel                    [3]motion.Num
	sign                   [3]int
	checkedFrom, checkedTo int           // work offsets that were compared last
	top                    [2]motion.Num // of the work, per unit, where Options give it
	torn                   [3]bool       // after an open chain that runs backwards, until given anew
}

func newLane(p *pair, in, out *motion.Machine) *lane {
	l := &lane{p: p, in: in, out: out}
	l.tops()
	for u, m := range [2]transform.Map{p.o.Map, p.o.InchMap} {
		for i := range 3 {
			l.maps[u][i] = axisMap{m.Axis(i).Sign, motion.FromDecimal(m.Axis(i).Offset)}
		}
	}
	for i := range 3 {
		l.sign[i] = p.o.Map.Axis(i).Sign
	}
	return l
}

// skipping gives the lane in which deleted blocks are skipped.
func (l *lane) skipping() *lane {
	c := *l
	c.in, c.out = l.in.Clone(), l.out.Clone()
	c.in.Skip(true)
	c.out.Skip(true)
	return &c
}

// agrees reports whether the two lanes go on alike.
func (l *lane) agrees(m *lane) bool {
	for i := range 3 {
		if !l.rel[i].Equal(m.rel[i]) || l.torn[i] != m.torn[i] {
			return false
		}
	}
	return l.in.Agrees(m.in) && l.out.Agrees(m.out)
}

const inchUnit = transform.Inch

// step runs one block in both programs and compares what they do.
func (l *lane) step(a, b *motion.Block) error {
	unit := l.in.State().Unit
	moves, err := l.in.Do(a)
	if err != nil {
		return err
	}
	written, err := l.out.Do(b)
	if err != nil {
		return l.p.broken(err)
	}
	if now := l.in.State().Unit; now != unit {
		for i := range 3 {
			if now == transform.MM {
				l.rel[i] = l.rel[i].Mul(motion.Inch)
			} else {
				l.rel[i] = l.rel[i].Quo(motion.Inch)
			}
		}
	}
	if err := l.compareWords(a, b); err != nil {
		return err
	}
	if err := l.compareState(a, b); err != nil {
		return err
	}
	if len(moves) != len(written) {
		return l.p.no(b.Line, 1, fmt.Sprintf("a block of %d moves: %s", len(written), quote(b.Text)),
			fmt.Sprintf("%d moves as in line %d of the input", len(moves), a.Line))
	}
	if err := l.comparePreset(a, b); err != nil {
		return err
	}
	if err := l.checkRotary(a); err != nil {
		return err
	}
	if err := l.compareLevel(a, b); err != nil {
		return err
	}
	l.p.result.Moves += int64(len(moves))
	for i := range moves {
		if !moves[i].Machine && !moves[i].Home { // those are in no offset
			if err := l.checkOffset(b.Line, moves[i].State.Offset, written[i].State.Offset); err != nil {
				return err
			}
		}
		if err := l.compareMove(&moves[i], &written[i], a, b); err != nil {
			return err
		}
	}
	l.align(a, b)
	for i := range 3 {
		if _, at := l.in.Place(i); at == motion.Lost {
			l.torn[i] = false
		}
	}
	return nil
}

// checkOffset looks at the work offsets that motion of the input and of the output
// runs in: those of the moves, since M2 and M30 go back to G54 behind them.
func (l *lane) checkOffset(line, from, to int) error {
	if from == 0 {
		from = 540
	}
	if to == 0 {
		to = 540
	}
	if from == l.checkedFrom && to == l.checkedTo {
		return nil
	}
	if want := l.p.want(from); to != want {
		return l.p.no(line, 1, "motion in "+transform.OffsetName(to), transform.OffsetName(want))
	}
	if first, ok := l.p.offsets[to]; ok && first != from {
		return l.p.no(line, 1, fmt.Sprintf("%s standing for both %s and %s", transform.OffsetName(to), transform.OffsetName(first), transform.OffsetName(from)),
			"one offset of the back for each of the face's")
	}
	l.p.offsets[to] = from
	l.checkedFrom, l.checkedTo = from, to
	return nil
}

// compareState compares all that is set after the block.
func (l *lane) compareState(a, b *motion.Block) error {
	s, t := l.in.State(), l.out.State()
	if l.p.o.Map.OneAxis() {
		s.Comp = otherSide(s.Comp)
	}
	s.Offset = t.Offset // see checkOffset
	if !s.Agrees(&t) || l.in.Absolute != l.out.Absolute || l.in.AbsoluteCentres != l.out.AbsoluteCentres {
		found, expected := stateDiffers(&s, &t)
		return l.p.no(b.Line, 1, found, fmt.Sprintf("%s after line %d of the input", expected, a.Line))
	}
	return nil
}

// otherSide swaps cutter compensation left and right.
func otherSide(comp int) int {
	switch comp {
	case 41:
		return 42
	case 42:
		return 41
	}
	return comp
}

// comparePreset compares G92 and G52.
func (l *lane) comparePreset(a, b *motion.Block) error {
	e, f := l.in.Effect(), l.out.Effect()
	if e.Preset != f.Preset || e.Named != f.Named {
		return l.p.no(b.Line, 1, "another preset: "+quote(b.Text), "the same axes as in "+quote(a.Text))
	}
	if e.Preset == 0 {
		return nil
	}
	if l.torn != [3]bool{} && e.Preset != 520 {
		return l.p.no(b.Line, 1, "a preset or rotation right after a reversed chain", "X and Y given first")
	}
	unit := l.in.State().Unit
	for i := range 3 {
		if !e.Named[i] {
			continue
		}
		want := e.Values[i].Signed(l.sign[i])
		if e.Preset == 680 {
			want = l.maps[unit][i].apply(e.Values[i])
		}
		if e.Preset == 920 {
			if e.Was[i] == motion.Lost && l.sign[i] < 0 {
				return refuse(a, 'X'+byte(i), fmt.Sprintf("G92 %c where the axis stands at a place of the machine", 'X'+i),
					"the machine's own places don't turn over with the blank: give the place in G90 first")
			}
			want = l.maps[unit][i].apply(e.Values[i])
		}
		if !f.Values[i].Equal(want) {
			return l.p.no(b.Line, b.Column('X'+byte(i)), fmt.Sprintf("%c%s", 'X'+i, f.Values[i]),
				fmt.Sprintf("%c%s, the mirror of %c%s in line %d of the input", 'X'+i, want, 'X'+i, e.Values[i], a.Line))
		}
		if e.Preset == 920 {
			l.rel[i] = l.maps[unit][i].offset
		}
	}
	if e.Preset == 680 {
		return l.compareTurn(a, b)
	}
	return nil
}

// compareTurn compares G68's angle, and its centre where that is the tool's place.
func (l *lane) compareTurn(a, b *motion.Block) error {
	e, f := l.in.Effect(), l.out.Effect()
	first, second, _ := l.in.State().Plane.Axes()
	angle := e.Angle
	if (l.sign[first] < 0) != (l.sign[second] < 0) {
		angle = angle.Neg()
	}
	if !f.Angle.Equal(angle) {
		return l.p.no(b.Line, b.Column('R'), fmt.Sprintf("R%s", f.Angle),
			fmt.Sprintf("R%s, the mirror of R%s in line %d of the input", angle, e.Angle, a.Line))
	}
	for _, i := range [2]int{first, second} {
		if !e.Named[i] && l.sign[i] < 0 && e.Was[i] == motion.Lost {
			return refuse(a, 'R', "G68 round a place of the machine", "home doesn't turn over with the blank: name the centre with X and Y")
		}
	}
	return nil
}

// compareLevel compares the R level of a canned cycle, which not every cycle's moves
// show.
func (l *lane) compareLevel(a, b *motion.Block) error {
	e, f := l.in.Effect(), l.out.Effect()
	if !e.Cycle || !f.Cycle {
		return nil // else the moves differ
	}
	if e.NoLevel != f.NoLevel {
		return l.p.no(b.Line, 1, "another R level: "+quote(b.Text), "that of "+quote(a.Text))
	}
	s := l.in.State()
	_, _, normal := s.Plane.Axes()
	if e.NoLevel {
		if z := l.maps[s.Unit][normal]; z.sign < 0 || !z.offset.IsZero() {
			return refuse(a, 'G', "a cycle without R, whose level would have to change", "write R into the block")
		}
		return nil
	}
	want := e.Level.Signed(l.sign[normal])
	if l.in.Absolute {
		want = l.maps[s.Unit][normal].apply(e.Level)
	}
	if !f.Level.Equal(want) {
		return l.p.no(b.Line, b.Column('R'), fmt.Sprintf("a cycle with R%s", f.Level),
			fmt.Sprintf("R%s, the mirror of R%s in line %d of the input", want, e.Level, a.Line))
	}
	return nil
}

// checkRotary sees that a rotary axis that moves turns the same way in the mirror:
// A turns about X, in the plane of G19; B about Y, G18; C about Z, G17.
func (l *lane) checkRotary(a *motion.Block) error {
	letter := l.in.Effect().Rotary
	if letter == 0 {
		return nil
	}
	for _, c := range [3]byte{'A', 'B', 'C'} {
		for _, w := range a.Words {
			plane := [...]transform.Plane{transform.YZ, transform.ZX, transform.XY}[c-'A']
			if w.Letter == c && !w.Value.IsZero() && l.p.o.Map.SwapsArcs(plane) {
				return refuse(a, c, fmt.Sprintf("%c (a rotary axis), which turns the other way on the back", c), "cut each face as a program of its own")
			}
		}
	}
	return nil
}

// align brings rel up to date after G92.1, G92.2 and G92.3, whose shifts were
// compared when they were set.
func (l *lane) align(a, b *motion.Block) {
	for _, w := range a.Words {
		if w.Letter != 'G' {
			continue
		}
		if c, _ := w.Value.Times(10).Int(); c >= 921 && c <= 923 {
			for i := range 3 {
				p, _ := l.in.Place(i)
				q, _ := l.out.Place(i)
				l.rel[i] = q.Sub(p.Signed(l.sign[i]))
			}
		}
	}
}

// compareMove compares one move of each program.
func (l *lane) compareMove(m, w *motion.Move, a, b *motion.Block) error {
	if !l.sameKind(m, w) {
		return l.differ(m, w, a, b)
	}
	if m.Machine {
		for i := range 3 {
			if m.ToOK[i] && !m.To[i].Equal(w.To[i]) {
				return l.differ(m, w, a, b)
			}
		}
		return nil
	}
	if err := l.checkCurve(m, a); err != nil {
		return err
	}
	if m.Kind != motion.Rapid {
		if err := l.checkStart(m, a); err != nil {
			return err
		}
	}
	switch {
	case l.torn != [3]bool{} && !l.fromOtherEnd(m, w, l.tornGiven()),
		m.Circular() && !l.sameArc(m, w),
		m.Kind == motion.Spline && !l.sameSpline(m, w):
		return l.differ(m, w, a, b)
	}
	for i := range 3 {
		if l.sign[i] < 0 && !m.FromOK[i] && !m.ToOK[i] && !m.From[i].Equal(m.To[i]) && l.in.Effect().Was[i] == motion.Lost {
			return l.lost(m, a, i)
		}
		if !l.sameEnd(m, w, i) {
			return l.differ(m, w, a, b)
		}
	}
	return nil
}

// sameKind says whether w is what m is on the back: an arc, and a cycle that goes round a hole, of
// the other sense where one axis of its plane is reversed, and all that isn't a length as it was.
func (l *lane) sameKind(m, w *motion.Move) bool {
	kind, cycle := m.Kind, w.Cycle
	first, second, _ := m.State.Plane.Axes()
	if (l.sign[first] < 0) != (l.sign[second] < 0) {
		if m.Circular() {
			kind = motion.CW + motion.CCW - kind
		}
		if cycle == 120 || cycle == 130 {
			cycle = 250 - cycle
		}
	}
	return w.Kind == kind && m.Machine == w.Machine && m.Home == w.Home && m.Cycle == cycle &&
		m.FromOK == w.FromOK && m.ToOK == w.ToOK && m.Rotary == w.Rotary && m.Rotated == w.Rotated && m.Cubic == w.Cubic
}

// sameEnd says whether both moves end at the same place along axis i, and notes by what the ends
// lie apart from then on.
func (l *lane) sameEnd(m, w *motion.Move, i int) bool {
	to := l.maps[m.State.Unit][i]
	given := l.in.Absolute && l.in.Effect().Coordinates&(1<<('X'+i-'A')) != 0
	mapped := w.To[i].Equal(to.apply(m.To[i]))
	if l.torn[i] {
		_, _, normal := m.State.Plane.Axes()
		switch {
		case given && mapped:
			l.torn[i], l.rel[i] = false, to.offset
		case given && (m.Cycle == 0 || !level(m, normal) || !level(w, normal)):
			return false // a cycle may go up to its R level first
		}
		return true
	}
	switch {
	case given && m.Cycle == 0:
		l.rel[i] = to.offset
		return mapped
	case w.To[i].Equal(m.To[i].Signed(l.sign[i]).Add(l.rel[i])):
		return true
	case l.in.Absolute && m.Cycle != 0 && mapped:
		l.rel[i] = to.offset
		return true
	}
	return false
}

// checkCurve looks at an arc or a spline that starts at a place of the machine along a reversed
// axis: its shape can't be mirrored.
func (l *lane) checkCurve(m *motion.Move, a *motion.Block) error {
	if m.Kind != motion.Spline && (!m.Circular() || m.Cycle != 0) {
		return nil
	}
	first, second, _ := m.State.Plane.Axes()
	for _, i := range [2]int{first, second} {
		if l.sign[i] < 0 && !m.FromOK[i] && l.in.Effect().Was[i] == motion.Lost {
			return l.lost(m, a, i)
		}
	}
	return nil
}

// checkStart looks at a cut that starts where a reversed axis isn't known. At a place
// of the machine it can't be mirrored. Where the tool stands at the start it can, if
// the tool then stands at the mirror image, which is noted; but an arc or a spline
// that leads from there to given places has another shape wherever it stands.
func (l *lane) checkStart(m *motion.Move, a *motion.Block) error {
	e := l.in.Effect()
	first, second, _ := m.State.Plane.Axes()
	for i := range 3 {
		if l.sign[i] > 0 || m.FromOK[i] {
			continue
		}
		if m.Kind == motion.Feed && m.Cycle == 0 && m.ToOK[i] && i != 2 && !m.FromOK[2] {
			continue // the height isn't given yet: the tool is led to its first place at feed
		}
		if e.Was[i] == motion.Lost {
			return refuse(a, 'X'+byte(i), fmt.Sprintf("a cut where %c stands at a place of the machine (after G28, G30, G53 or another work offset)", 'X'+i),
				fmt.Sprintf("the machine's places don't turn over with the blank: give %c in G90 before it", 'X'+i))
		}
		if e.Begun[i] {
			continue
		}
		given := m.ToOK[i]
		switch i {
		case first:
			given = given || m.CentreOK[0]
		case second:
			given = given || m.CentreOK[1]
		}
		if given && (i == first || i == second) && m.Kind != motion.Feed {
			return refuse(a, 'X'+byte(i), fmt.Sprintf("an arc or a spline from where %c stands at the start, which the program doesn't say", 'X'+i),
				fmt.Sprintf("give %c in G90 before it", 'X'+i))
		}
		if l.p.result.Starts[i] == 0 {
			l.p.result.Starts[i] = a.Line
		}
	}
	return nil
}

// sameArc says whether what makes both arcs is the same; their ends are compared with the moves'.
func (l *lane) sameArc(m, w *motion.Move) bool {
	first, second, _ := m.State.Plane.Axes()
	if m.ByRadius != w.ByRadius || m.Turns != w.Turns || m.CentreOK != w.CentreOK {
		return false
	}
	if m.ByRadius {
		return m.Radius.Equal(w.Radius)
	}
	for k, i := range [2]int{first, second} {
		off := l.rel[i]
		if l.in.AbsoluteCentres {
			off = l.maps[m.State.Unit][i].offset
		}
		if !w.Centre[k].Equal(m.Centre[k].Signed(l.sign[i]).Add(off)) {
			return false
		}
	}
	return true
}

// sameSpline says the same of splines.
func (l *lane) sameSpline(m, w *motion.Move) bool {
	for k := range 2 {
		for i := range 2 {
			if !w.Control[k][i].Equal(m.Control[k][i].Signed(l.sign[i])) {
				return false
			}
		}
	}
	return true
}
