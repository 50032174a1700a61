package cut

import (
	"math"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Comp says how cutter radius compensation moves the cutter aside on a move: the
// segment is then the programmed contour, not the way of the cutter's centre.
type Comp struct {
	Side  int           // 1 to the left of the contour (G41), -1 to the right (G42), 0 not at all
	By    motion.CompBy // what says how far
	D     float64       // a number or, where By says so, a diameter in mm
	Apart bool          // a move of a canned cycle, which no control compensates, or after a shift of the zero
}

// CompUse is one way in which a side's programs use cutter radius compensation.
type CompUse struct {
	Side   Side
	By     motion.CompBy
	D      float64 // as in Comp
	Tool   int     // the cutter in the spindle
	Of     int     // the cutter whose radius it is; Tool where By gives a diameter
	Radius float64 // by which the centre runs beside the contour, mm
	File   string
	Line   int // of the first move
}

// compensator carries a program's moves to the way of the cutter's centre.
type compensator struct {
	hand   func(*Segment) error // takes the moves of the centre
	err    error                // its first one: no move is handed on after it
	on     bool
	lost   bool // what follows up to G40 is cut along the programmed contour
	side   float64
	radius float64
	offset int // work offset

	aside bool // the cutter isn't where the program says, but at at
	at    [2]float64

	any   bool   // held is there
	entry bool   // held leads in
	held  beside // the last move in X and Y: its end waits for the next
	after []Segment
	uses  []CompUse
}

// described gives the cutter whose radius compensation goes by: that of the number in
// D, where it is one of those described, else the one in the spindle; nil for none.
func (r *run) described(s *Segment) *cutter {
	if s.Comp.By == motion.CompByNumber {
		if c := r.tools[int(min(s.Comp.D, 1<<30))]; c != nil {
			return c
		}
	}
	if s.Tool < 0 {
		return r.first
	}
	return r.tools[s.Tool]
}

// offsetOf gives the side of a move's contour on which the centre runs, 1 for the
// left, and how far from it.
func (r *run) offsetOf(s *Segment) (side, radius float64, ok bool) {
	side = float64(s.Comp.Side)
	d := s.Comp.D
	switch s.Comp.By {
	case motion.CompByDiameter:
		if d < 0 {
			side, d = -side, -d // NISTIR 6556, appendix B: the other side
		}
		return side, d / 2, true
	case motion.CompByNothing:
		return side, 0, false
	case motion.CompByNumber:
		if d < 0 || d != math.Trunc(d) {
			return side, 0, false
		}
		if d == 0 {
			return side, 0, true // NISTIR 6556, 3.5.10
		}
	}
	c := r.described(s)
	if c == nil {
		return side, 0, false
	}
	return side, c.Diameter / 2, true
}

// unfollowed records that a move's real way isn't known.
func (r *run) unfollowed(s *Segment, why CompFault) {
	f := &Compensated{r.onLine(s.Line + r.base), why, r.comp.radius}
	if s.FromOK[0] && s.FromOK[1] {
		p := r.f.point(s.From)
		f.Placed, f.X, f.Y = true, p[0], p[1]
	}
	r.found.add(f)
}

// pass hands on a move of the centre.
func (c *compensator) pass(s *Segment) {
	if c.err == nil {
		c.err = c.hand(s)
	}
}

// compensate takes the program's next move, and hands on to move what the cutter's
// centre really does, as NISTIR 6556, appendix B, has it: the contour is moved aside
// by the radius; round an outside corner the cutter rolls on an arc; at an inside
// corner it goes where the two offsets cross. The first move ends beside the start
// of the second: straight where it turns to the cutter's side (an error there,
// but what controls do), else along the tangent from the cutter to its end and round that
// end. The move after G40 starts from where the cutter then is. Moves along Z alone
// run where the cutter is.
func (r *run) compensate(s *Segment) error {
	c := &r.comp
	if s.Comp.Side == 0 {
		if !c.on && !c.aside {
			c.pass(s)
			return c.err
		}
		r.settleComp()
		c.on, c.lost = false, false
		r.leave(s)
		return c.err
	}
	r.last = max(r.last, s.Line+r.base)
	side, radius, ok := r.offsetOf(s)
	begins := !c.on
	if begins {
		c.on, c.side, c.radius, c.offset = true, side, radius, s.Offset
		if ok {
			r.useComp(s)
		}
	}
	flat := !s.Arc && s.FromOK == s.ToOK && !s.Home && apart(plan(s.From), plan(s.To)) <= tinyMove
	switch {
	case begins && !ok:
		r.loseComp(s, CompRadius)
	case c.lost:
		c.pass(s)
	case !ok || side != c.side || radius != c.radius:
		r.loseComp(s, CompChange)
	case c.radius == 0:
		r.leave(s)
	case s.Comp.Apart, s.Machine, s.Home, s.Offset != c.offset,
		c.any && s.FromOK[0] && s.FromOK[1] && apart(plan(s.From), plan(c.held.s.To)) > 2*tinyMove:
		r.loseComp(s, CompCode)
	case flat && c.any:
		c.after = append(c.after, *s)
	case flat:
		r.leave(s)
	case s.Plane != transform.XY:
		r.loseComp(s, CompPlane)
	case !s.ToOK[0] || !s.ToOK[1] || (c.any || s.Arc) && !(s.FromOK[0] && s.FromOK[1]):
		r.loseComp(s, CompPlace)
	case !c.any && s.Arc:
		r.loseComp(s, CompRound)
	default:
		r.contour(s)
	}
	return c.err
}

// contour takes a move of the contour: the one before it can then be handed on.
func (r *run) contour(s *Segment) {
	c := &r.comp
	if !c.any {
		c.any, c.entry, c.held = true, true, beside{s: *s}
		if c.aside {
			c.held.s.From[0], c.held.s.From[1] = c.at[0], c.at[1]
		}
		c.held.from = plan(c.held.s.From)
		return
	}
	b := newBeside(s, c.side*c.radius)
	if b.tight {
		r.unfollowed(s, CompTight)
	}
	if c.entry {
		r.lead(&b)
	} else {
		r.corner(&b)
	}
	c.entry, c.held = false, b
}

// useComp notes what compensation goes by.
func (r *run) useComp(s *Segment) {
	if r.comp.radius == 0 {
		return
	}
	u := CompUse{Side: Side(r.side), By: s.Comp.By, D: s.Comp.D, Tool: s.Tool, Radius: r.comp.radius}
	if s.Tool < 0 {
		u.Tool = r.first.Number
	}
	u.Of = u.Tool
	if c := r.described(s); c != nil && u.By != motion.CompByDiameter {
		u.Of = c.Number
	}
	for _, o := range r.comp.uses {
		o.File, o.Line = "", 0
		if o == u {
			return
		}
	}
	u.File, u.Line = r.prog.Name, r.told(s.Line+r.base)
	r.comp.uses = append(r.comp.uses, u)
}

// loseComp gives up following the cutter's centre from a move on, up to G40.
func (r *run) loseComp(s *Segment, why CompFault) {
	r.settleComp()
	r.unfollowed(s, why)
	r.comp.lost, r.comp.aside = true, false
	r.comp.pass(s)
}

// endComp hands on what is held at a program's end, which puts everything back.
func (r *run) endComp() error {
	r.settleComp()
	c := &r.comp
	c.on, c.lost, c.aside = false, false, false
	return c.err
}

// settleComp hands on what is held: the last move ends beside its own end.
func (r *run) settleComp() {
	c := &r.comp
	if !c.any {
		return
	}
	c.any = false
	if !c.entry {
		r.finish(c.held.p1, c.held.whole)
		return
	}
	to := plan(c.held.s.To)
	if q, _, ok := r.tangent(); ok {
		to = q
	}
	r.finish(to, 0)
}

// leave hands on a move that isn't compensated, from where the cutter is.
func (r *run) leave(s *Segment) {
	c := &r.comp
	if !c.aside {
		c.pass(s)
		return
	}
	m := *s
	switch {
	case !m.FromOK[0] || !m.FromOK[1]:
		c.aside = false
	case m.Machine && !m.ToOK[0] && !m.ToOK[1], !m.Arc && !m.Machine && plan(m.From) == plan(m.To) && m.ToOK[0] && m.ToOK[1]:
		// It stays over its place.
		m.From[0], m.From[1] = c.at[0], c.at[1]
		if !m.Machine {
			m.To[0], m.To[1] = c.at[0], c.at[1]
		}
	case m.Arc:
		c.aside = false
		r.unfollowed(s, CompRound)
	default:
		c.aside = false
		m.From[0], m.From[1] = c.at[0], c.at[1]
	}
	c.pass(&m)
}

// tangent gives where the first move ends along the tangent from the cutter to its
// programmed end, and its direction; false where the cutter is nearer to that end
// than its radius, or its place isn't known.
func (r *run) tangent() (q, u [2]float64, ok bool) {
	c := &r.comp
	s := &c.held.s
	from, to := plan(s.From), plan(s.To)
	l := apart(from, to)
	if !s.FromOK[0] || !s.FromOK[1] || l < c.radius-compSlack {
		return q, u, false
	}
	// The tangent turns off the programmed line by asin(radius/l), to the cutter's side.
	sin, cos := math.Sincos(c.side * math.Asin(min(1, c.radius/l)))
	e := [2]float64{(to[0] - from[0]) / l, (to[1] - from[1]) / l}
	u = [2]float64{e[0]*cos - e[1]*sin, e[0]*sin + e[1]*cos}
	return along(to, leftOf(u), c.side*c.radius), u, true
}

// lead ends the first move, b being the second.
func (r *run) lead(b *beside) {
	c := &r.comp
	q, u, ok := r.tangent()
	s := &c.held.s
	if !ok && s.FromOK[0] && s.FromOK[1] {
		r.unfollowed(s, CompEntry)
	}
	if !ok || !outside(u, b.u0, c.side) {
		b.from = b.p0
		r.finish(b.p0, 0)
		return
	}
	r.finish(q, 0)
	r.join(b, true)
}

// outside says whether the way turns away from the cutter, or back on itself.
func outside(u, v [2]float64, side float64) bool {
	turn := side * cross(u, v)
	return turn < 0 || math.Abs(turn) < 1e-9 && dot(u, v) < 0
}

// corner ends the move that is held at the corner to b.
func (r *run) corner(b *beside) {
	c := &r.comp
	a := &c.held
	if outside(a.u1, b.u0, c.side) && !a.tight && !b.tight {
		r.finish(a.p1, a.whole)
		r.join(b, true)
		return
	}
	at, best := plan(b.s.From), math.Inf(1)
	var p [2]float64
	var wayA, wayB float64
	for _, x := range meet(a, b) {
		va, onA := a.way(x)
		vb, onB := b.way(x)
		if d := apart(x, at); onA && onB && d < best {
			p, wayA, wayB, best = x, va, b.first(vb), d
		}
	}
	if !math.IsInf(best, 1) && !a.tight && !b.tight {
		b.from, b.fromWay = p, wayB
		r.finish(p, wayA)
		return
	}
	if gap := apart(a.p1, b.p0); gap > compLink && !a.tight && !b.tight {
		r.unfollowed(&b.s, CompTight)
	}
	r.finish(a.p1, a.whole)
	r.join(b, false)
}

// finish hands on the move that is held, up to a place and its progress there, and the
// moves along Z behind it.
func (r *run) finish(to [2]float64, way float64) {
	c := &r.comp
	a := &c.held
	m := a.s
	m.From[0], m.From[1] = a.from[0], a.from[1]
	m.To[0], m.To[1] = to[0], to[1]
	if m.Arc {
		// Rounding must not make a whole turn of none, nor none of a whole turn.
		sweep := way - a.fromWay
		m.Turns = 1
		for ; sweep > 2*math.Pi+1e-6; sweep -= 2 * math.Pi {
			m.Turns++
		}
		switch {
		case a.point || way-a.fromWay < 1e-9:
			m.Arc = false
		case sweep > 2*math.Pi-1e-9:
			m.To[0], m.To[1] = m.From[0], m.From[1]
		}
	}
	c.at, c.aside = plan(m.To), true
	if m.From != m.To || m.FromOK != m.ToOK || m.Arc {
		c.pass(&m)
	}
	for i := range c.after {
		m := &c.after[i]
		m.From[0], m.From[1], m.To[0], m.To[1] = c.at[0], c.at[1], c.at[0], c.at[1]
		if m.From != m.To || m.FromOK != m.ToOK {
			c.pass(m)
		}
	}
	c.after = c.after[:0]
}

// join takes the cutter to the start of b's offset: straight, or round the corner.
func (r *run) join(b *beside, round bool) {
	c := &r.comp
	if apart(c.at, b.p0) <= 1e-9 {
		b.from = c.at
		return
	}
	m := b.s
	m.From = [3]float64{c.at[0], c.at[1], b.s.From[2]}
	m.To = [3]float64{b.p0[0], b.p0[1], b.s.From[2]}
	m.ToOK[2] = m.FromOK[2]
	if m.Arc = round; round {
		m.Turns, m.Plane, m.Centre, m.CCW = 1, transform.XY, plan(b.s.From), c.side < 0
	}
	b.from, c.at = b.p0, b.p0
	c.pass(&m)
}
