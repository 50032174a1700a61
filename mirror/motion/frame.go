package motion

import (
	"math"

	"flipcalc/mirror/transform"
)

// Frame says how a move's coordinates lie in its work offset, in the move's unit: first
// the turn of G68, then the shifts of G52 and G92.
type Frame struct {
	Shift   Point   // added to a coordinate it gives that in the work offset
	ShiftOK [3]bool // not where G92 named the axis while its place wasn't known
	Zeros   int     // another number for each set of such zeros, 0 where there is none
	Turn    Turn
}

// Turn is the turn of G68.
type Turn struct {
	On       bool
	Angle    Num // degrees, counter-clockwise from X to Y
	Centre   [2]Num
	CentreOK bool // its X and Y were given, in G17; elsewhere controls differ on it
}

// Frame gives how coordinates lie in the work offset now; nil where they count in it.
func (m *Machine) Frame() *Frame { return m.frame }

// reframe sets the frame anew after a change of what it is made of. A move keeps the one
// that it was made in.
func (m *Machine) reframe() {
	if m.frame = nil; !m.turn.On && !m.PresetLeft() && m.local == (Point{}) {
		return
	}
	m.frame = &Frame{Turn: m.turn}
	if m.shiftAt != [3]Place{} {
		m.frame.Zeros = m.zeros
	}
	for i := range 3 {
		m.frame.Shift[i] = m.shift[i].Add(m.local[i])
		m.frame.ShiftOK[i] = m.shiftAt[i] == Known
	}
}

// turned gives a vector in X and Y after the turn, to 1e-9 of the unit.
func (t *Turn) turned(v [2]Num) ([2]Num, bool) {
	x, y := v[0].Float(), v[1].Float()
	sin, cos := math.Sincos(t.Angle.Float() * math.Pi / 180)
	x, y = x*cos-y*sin, x*sin+y*cos
	const most = math.MaxInt64 / scale
	if !(math.Abs(x) < most && math.Abs(y) < most) {
		return v, false
	}
	return [2]Num{FromNano(int64(math.Round(x * scale))), FromNano(int64(math.Round(y * scale)))}, true
}

// Track carries moves into the coordinates of their work offset, which is where the
// control makes them. It keeps where the tool stands in X and Y: that doesn't change
// with G68, G69 and G92.1, after which coordinates count anew. Its zero value is ready.
type Track struct {
	Renamed bool // a zero that G92 set where the place wasn't known counts as that of the work offset

	at     [2]Num
	ok     [2]bool
	named  [2]bool // it counts from such a zero
	offset int
	zeros  int
	unit   transform.Unit
	moved  Move
}

// In gives a move in coordinates of its work offset, rounded to 1e-9 of the unit under
// G68. What isn't known there comes back as not known; ok is false where G92 or G68 is
// the reason: a zero set where the tool's place isn't known, or a turn without a centre.
// The move is valid until the next call.
func (t *Track) In(m *Move) (v *Move, ok bool) {
	t.follow(&m.State)
	zeros := 0
	if m.Frame != nil {
		zeros = m.Frame.Zeros
	}
	if zeros != t.zeros {
		t.zeros, t.ok = zeros, [2]bool{}
	}
	v, ok = m, true
	if m.Frame != nil || !m.FromOK[0] && t.ok[0] || !m.FromOK[1] && t.ok[1] {
		t.moved = *m
		v = &t.moved
		f := m.Frame
		if f == nil {
			f = &Frame{ShiftOK: [3]bool{true, true, true}}
		}
		if f.Turn.On {
			ok = t.turn(m, v, f)
		} else {
			ok = t.shift(v, f, 0, 1, 2)
			t.stand(v)
		}
	}
	for i := range 2 {
		switch {
		case m.Home, m.Machine && m.ToOK[i]:
			t.ok[i] = false // at a place of the machine
		case !m.Machine:
			t.at[i], t.ok[i] = v.To[i], v.ToOK[i]
		}
	}
	return v, ok
}

// follow takes the unit and the work offset that are in force.
func (t *Track) follow(s *State) {
	if t.unit != s.Unit {
		for i := range t.at {
			t.at[i] = t.at[i].In(t.unit, s.Unit)
		}
		t.unit = s.Unit
	}
	if c := max(s.Offset, 540); c != t.offset {
		t.offset, t.ok = c, [2]bool{}
	}
}

// After takes what the control's last block made known or unknown without a move, for a
// Track with Renamed: a zero that G92 set where the place wasn't known, and its end; other
// work offsets, where the written program loses its place as well.
func (t *Track) After(m *Machine) {
	t.follow(&m.state)
	f := m.frame
	if t.zeros = 0; f != nil {
		t.zeros = f.Zeros
	}
	for i := range 2 {
		named := f != nil && !f.ShiftOK[i]
		switch {
		case m.effect.Renamed[i] && named: // else M2 stood beside it
			t.at[i], t.ok[i] = m.pos[i].Add(f.Shift[i]), true
		case m.place[i] == Lost || named != t.named[i]:
			t.ok[i] = false
		}
		t.named[i] = named
	}
}

// shift adds the shifts of some axes; ok is false where one isn't known.
func (t *Track) shift(v *Move, f *Frame, axes ...int) (ok bool) {
	ok = true
	first, second, _ := v.axes()
	for _, i := range axes {
		shifted := f.ShiftOK[i] || t.Renamed
		ok = ok && (shifted || !v.ToOK[i] || v.Machine)
		v.From[i], v.FromOK[i] = v.From[i].Add(f.Shift[i]), v.FromOK[i] && shifted
		if !v.Machine || !v.ToOK[i] {
			v.To[i], v.ToOK[i] = v.To[i].Add(f.Shift[i]), v.ToOK[i] && shifted
		}
		for k, axis := range [2]int{first, second} {
			if axis == i {
				v.Centre[k], v.CentreOK[k] = v.Centre[k].Add(f.Shift[i]), v.CentreOK[k] && shifted
			}
		}
	}
	return ok
}

// stand fills in where the tool stands in X and Y where v counts from a place that it
// doesn't know.
func (t *Track) stand(v *Move) {
	first, second, _ := v.axes()
	for i := range 2 {
		if v.FromOK[i] || !t.ok[i] {
			continue
		}
		d := t.at[i].Sub(v.From[i])
		v.From[i], v.FromOK[i] = t.at[i], true
		if !v.ToOK[i] {
			v.To[i], v.ToOK[i] = v.To[i].Add(d), !v.Machine && !v.Home
		}
		for k, axis := range [2]int{first, second} {
			if axis == i && !v.CentreOK[k] {
				v.Centre[k], v.CentreOK[k] = v.Centre[k].Add(d), true
			}
		}
	}
}

// turn turns m's X and Y into v. Where m gives one of the two while the other isn't known
// in the turned system, neither is known after it: controls differ.
func (t *Track) turn(m, v *Move, f *Frame) (ok bool) {
	r := &f.Turn
	ok = t.shift(v, f, 2)
	xy := func(p *Point) [2]Num { return [2]Num{p[0], p[1]} }
	at := func(p [2]Num) (q [2]Num, ok bool) {
		q, ok = r.turned([2]Num{p[0].Sub(r.Centre[0]), p[1].Sub(r.Centre[1])})
		for i := range 2 {
			q[i] = q[i].Add(r.Centre[i]).Add(f.Shift[i])
			ok = ok && (f.ShiftOK[i] || t.Renamed) && r.CentreOK
		}
		return q, ok
	}
	from, fromOK := at(xy(&m.From))
	if fromOK = fromOK && m.FromOK[0] && m.FromOK[1]; !fromOK {
		from, fromOK = t.at, t.ok[0] && t.ok[1]
	}
	by := func(p [2]Num) (q [2]Num, ok bool) { // by its count from the start
		q, ok = r.turned([2]Num{p[0].Sub(m.From[0]), p[1].Sub(m.From[1])})
		return [2]Num{from[0].Add(q[0]), from[1].Add(q[1])}, ok && fromOK
	}
	place := func(p [2]Num, known [2]bool) ([2]Num, bool) {
		switch {
		case known[0] && known[1]:
			return at(p)
		case !known[0] && !known[1] && !m.FromOK[0] && !m.FromOK[1]:
			return by(p)
		}
		return p, false
	}
	to, toOK := place(xy(&m.To), [2]bool{m.ToOK[0], m.ToOK[1]})
	ok = ok && (toOK || !m.ToOK[0] || !m.ToOK[1])
	for i := range 2 {
		v.From[i], v.FromOK[i] = from[i], fromOK
		v.To[i], v.ToOK[i] = to[i], toOK
	}
	if m.Circular() {
		var centreOK bool
		v.Centre, centreOK = place(m.Centre, m.CentreOK)
		v.CentreOK = [2]bool{centreOK, centreOK}
	}
	for k := range v.Control {
		v.Control[k], _ = r.turned(m.Control[k])
	}
	return ok
}
