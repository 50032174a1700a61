package cut

import (
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// maxSag is how far the chords of helices and upright arcs may lie from the arc,
// mm; level arcs are swept exactly.
const maxSag = 0.0005

// run is one side's program while it is cut.
type run struct {
	q       *Request
	side    int
	prog    *Program
	f       frame
	sw      *sweeper
	tools   map[int]*cutter
	first   *cutter
	uses    []toolUse
	kept    strokes
	light   strokes // the deepest of those that aren't, see spare
	lost    float64 // the height from which on strokes are in neither
	most    int     // how many each of the two holds
	deepest float64
	dark    bool // feeding at an unknown height

	base  int    // what is added to the lines of the program being cut
	last  int    // the greatest line so far, so counted
	parts []part // the side's programs

	comp      compensator
	obstacles []obstacle
	bodies    []body
	bed       float64 // depth of the bed under the side's surface, as a height (below 0)
	bedLimit  float64
	reach     reach
	found     finder
	turns     bool // the side starts the spindle
}

// part is one of the programs that a side runs one after the other. Their lines
// are counted through: first is what line 0 of it counts as.
type part struct {
	first   int
	prog    *Program
	overrun overrun
}

// newRun makes ready to cut side's program into g.
func newRun(q *Request, g *Grid, side int, f frame) *run {
	r := &run{q: q, side: side, prog: &q.Face, f: f, tools: map[int]*cutter{}, most: maxKept}
	if side == backSide {
		r.prog = &q.Back
	}
	for _, t := range q.Tools {
		c := newCutter(t, g)
		r.tools[t.Number] = c
		if r.first == nil {
			r.first = c
		}
	}
	r.sw = newSweeper(g, side, 0)
	r.bed = -q.T
	if side == backSide {
		r.bed += q.Skimmed
	}
	r.bedLimit = DefaultBedDepth
	if q.BedDepth != nil {
		r.bedLimit = *q.BedDepth
	}
	r.comp.hand = r.move
	r.place()
	r.fences()
	r.noGo()
	r.reach.start()
	return r
}

// do cuts the side's programs.
func (r *run) do() error {
	defer r.sw.finish()
	first := r.prog
	if err := r.one(); err != nil {
		return err
	}
	for i := range first.Then {
		r.prog, r.base, r.dark = &first.Then[i], r.last, false
		if err := r.one(); err != nil {
			return err
		}
	}
	return nil
}

// one cuts one whole program.
func (r *run) one() error {
	r.parts = append(r.parts, part{first: r.base, prog: r.prog})
	if r.prog.Read == nil {
		for i := range r.prog.Segments {
			if err := r.compensate(&r.prog.Segments[i]); err != nil {
				return err
			}
		}
		return r.endComp()
	}
	o := r.prog.Options
	o.Name = r.prog.Name
	if t := r.q.Travel; t != nil {
		for i := range 3 {
			if d := 10 * (t.Greatest[i] - t.Least[i]); finite(d) && d > 0 && d < 1e6 && d > o.Farthest.Float() {
				o.Farthest = motion.FromNano(int64(d * 1e9)) // no program goes ten times as far as the machine
			}
		}
	}
	var track motion.Track
	var frame *motion.Frame // of the move before
	_, err := motion.Walk(r.prog.Read, o, func(m *motion.Move) error {
		r.turns = r.turns || m.State.Spindle != 0
		v, ok := track.In(m)
		switch {
		case !ok && m.Rotated:
			r.found.add(&NotFollowed{r.onLine(r.base + m.Line), NotRotated})
			return nil
		case !ok:
			r.found.add(&NotFollowed{r.onLine(r.base + m.Line), NotPreset})
			return nil
		case m.Kind == motion.Spline:
			r.found.add(&NotFollowed{r.onLine(r.base + m.Line), NotSpline})
		case m.NoLevel:
			r.found.add(&NotFollowed{r.onLine(r.base + m.Line), NotLevel})
		case m.Carried:
			r.found.add(&NotFollowed{r.onLine(r.base + m.Line), NotCounted})
		}
		s := FromMove(v)
		if m.Either && s.Comp.Side == 0 {
			rapid := s // it may run at rapid: it must then meet no stock
			rapid.Rapid = true
			if err := r.compensate(&rapid); err != nil {
				return err
			}
		}
		s.Comp.Apart = s.Comp.Apart || r.comp.on && m.Frame != frame
		frame = m.Frame
		return r.compensate(&s)
	})
	if err != nil {
		return err
	}
	return r.endComp()
}

// told gives the line of the program being cut that is told for a counted line.
func (r *run) told(line int) int {
	if f := r.prog.Source; f != nil {
		return f(line - r.base)
	}
	return line - r.base
}

// where gives the program and the line to be told for a counted line; 0 is none.
func (r *run) where(line int) (file string, n int) {
	if line == 0 {
		return "", 0
	}
	i := len(r.parts) - 1
	for i > 0 && line <= r.parts[i].first {
		i--
	}
	p := r.parts[i]
	n = line - p.first
	if p.prog.Source != nil {
		n = p.prog.Source(n)
	}
	return p.prog.Name, n
}

// move takes the program's next move.
func (r *run) move(s *Segment) error {
	if s.Home {
		return nil
	}
	seg := *s
	seg.Line += r.base
	r.last = max(r.last, seg.Line)
	zero := r.q.Zeros[r.side]
	if seg.Machine {
		r.reach.machine(&seg)
		for i := range 3 {
			switch {
			case !seg.ToOK[i]:
				seg.To[i], seg.ToOK[i] = seg.From[i], seg.FromOK[i]
			case zero == nil || i == 2 && !zero.ZKnown:
				seg.ToOK[i] = false
			default:
				seg.To[i] -= [3]float64{zero.X, zero.Y, zero.Z}[i]
			}
		}
	} else if seg.Offset != 0 && r.prog.Offset != 0 && seg.Offset != r.prog.Offset && !slices.Contains(r.prog.Also, seg.Offset) {
		r.found.add(&WrongOffset{r.onLine(seg.Line), seg.Offset})
		other, ok := r.q.OtherZeros[seg.Offset]
		if !ok || zero == nil || !other.ZKnown || !zero.ZKnown {
			return nil
		}
		d := [3]float64{other.X - zero.X, other.Y - zero.Y, other.Z - zero.Z}
		for i := range 3 {
			seg.From[i] += d[i]
			seg.To[i] += d[i]
		}
		if seg.Arc {
			a, b, _ := seg.Plane.Axes()
			seg.Centre[0] += d[a]
			seg.Centre[1] += d[b]
		}
	}
	for i := range 3 {
		if seg.FromOK[i] && !finite(seg.From[i]) || seg.ToOK[i] && !finite(seg.To[i]) {
			return &fault.Error{File: r.prog.Name, Line: r.told(seg.Line), Col: 1, Found: "a coordinate that isn't a finite number"}
		}
	}
	if !seg.Machine {
		r.reach.work(&seg)
	}
	return r.cut(&seg)
}

// hidden says whether a move may cut at a place that isn't known: it ends under the
// surface and its way in X and Y isn't known, or it runs at an unknown height after a
// feed downwards from one. A move at an unknown height before that is taken to pass
// over the work, as after the start or a G53 retract.
func (r *run) hidden(s *Segment) bool {
	if s.ToOK[2] {
		r.dark = false
	}
	if s.Rapid {
		return false
	}
	if !s.ToOK[2] {
		r.dark = r.dark || s.To[2] < s.From[2]
		return r.dark
	}
	plan := s.ToOK[0] && s.ToOK[1] && s.FromOK[0] && s.FromOK[1]
	if plan && (s.FromOK[2] || !s.Arc && s.From[0] == s.To[0] && s.From[1] == s.To[1]) {
		return false
	}
	z := r.f.z.apply(s.To[2])
	if s.FromOK[2] {
		z = min(z, r.f.z.apply(s.From[2]))
	}
	return z < 0
}

// cut sweeps a move in the program's own coordinates.
func (r *run) cut(s *Segment) error {
	if r.hidden(s) {
		r.found.add(&PlaceUnknown{r.onLine(s.Line)})
	}
	if s.ToOK != known {
		return nil
	}
	from := s.From
	if s.FromOK != known {
		// What isn't known of its start is taken from its end.
		for i := range 3 {
			if !s.FromOK[i] {
				from[i] = s.To[i]
			}
		}
		arc := *s
		arc.Arc = false
		s = &arc
	}
	a, b := r.f.point(from), r.f.point(s.To)
	low := min(a[2], b[2])
	if s.Arc {
		lo, _, _ := s.extent()
		low = min(low, r.f.z.apply(lo[2]))
	}
	if low >= 0 && !r.nearby(low) {
		return nil
	}
	// Straight up takes the cutter out of the place it made.
	if s.Rapid && !s.Arc && a[0] == b[0] && a[1] == b[1] && b[2] >= a[2] && s.FromOK == known {
		return nil
	}
	c, err := r.tool(s)
	if err != nil {
		return err
	}
	act := act{rapid: s.Rapid}
	if !s.Rapid {
		r.deepest = min(r.deepest, low)
		if s.Still && low < 0 {
			r.found.add(&SpindleStopped{r.onLine(s.Line)})
		}
	}
	if s.Arc {
		r.arc(s, act, c)
		return nil
	}
	k := newStraight(c.p, s.Line, a, b)
	r.stroke(&k, act, c)
	return nil
}

// arc sweeps an arc: a level one as it is, others in chords.
func (r *run) arc(s *Segment, act act, c *cutter) {
	g, from := s.arc(), r.f.point(s.From)
	if s.level(g, maxSag) {
		centre := r.f.point([3]float64{s.Centre[0], s.Centre[1], s.To[2]})
		k := newArc(c.p, s.Line, centre[0], centre[1], from[2], (g.r0+g.r1)/2, r.f.angle(g.start), r.f.sense()*g.sweep)
		r.stroke(&k, act, c)
		return
	}
	n := g.chords(maxSag)
	for i := range n {
		next := r.f.point(s.at(g, float64(i+1)/float64(n)))
		k := newStraight(c.p, s.Line, from, next)
		r.stroke(&k, act, c)
		from = next
	}
}

// stroke sweeps one stroke and looks at what it runs into.
func (r *run) stroke(k *stroke, a act, c *cutter) {
	low := k.bottom()
	if c.shank != nil && !a.rapid && low < -c.reach {
		a.shank, a.flute = c.shank, c.reach
	}
	r.collide(k)
	if low >= 0 {
		return
	}
	if !a.rapid {
		r.parts[len(r.parts)-1].overrun.add(k, r.q.W, r.q.H)
	}
	switch {
	case a.rapid:
	case low < -keptDepth*r.q.T && len(r.kept) < r.most:
		r.kept = append(r.kept, *k)
	default:
		r.spare(k, low)
	}
	r.sw.add(k, a)
}
