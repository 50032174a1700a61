package cut

import (
	"cmp"
	"math"
	"slices"
)

// touchSlack is how far a cutter may overlap a pin or a no-go rectangle before it
// counts, mm: it covers the rounding of places to the decimals of a program.
const touchSlack = 0.005

// obstacle is a pin as one side meets it, in that side's frame.
type obstacle struct {
	x, y, r float64
	top     float64 // height of its top in the side's frame: 0 is the blank's surface
	index   int
	hole    bool // no pin: the hole that this program drills into the bed
}

// place sets up the pins for r's side.
func (r *run) place() {
	for i, p := range r.q.Pins {
		o := obstacle{x: p.X, y: p.Y, r: p.Dia / 2, index: i}
		if p.Height > 0 {
			o.top = r.bed + p.Height
		}
		switch {
		case r.side == faceSide && p.Drilled:
			o.hole = true
		case r.side == faceSide && p.NoFace, r.side == backSide && p.NoBack:
			continue
		}
		r.obstacles = append(r.obstacles, o)
	}
}

// bored takes back what was found of pins whose holes the face program itself makes:
// such a pin can't have stood there yet.
func (s *study) bored() {
	r := s.runs[faceSide]
	n := 0
	for i, f := range r.found.list {
		if f.Code == CodePin && s.makes(s.q.Pins[f.Index]) {
			continue
		}
		r.found.list[n], r.found.last[n] = f, r.found.last[i]
		n++
	}
	r.found.list, r.found.last = r.found.list[:n], r.found.last[:n]
}

// boredSlack is how much wider than its pin a hole may be in radius, mm.
const boredSlack = 0.5

// makes says whether the face program makes the hole of a pin: the pin's place is
// cut through all over, and around it nine tenths or more are not. A groove that
// passes over the place leaves it open on two sides.
func (s *study) makes(p Pin) bool {
	g := s.g
	through := func(x, y float64) bool {
		i, j := g.cellAt(x, y)
		return g.inside(i, j) && g.depth(faceSide, i, j) <= -g.T+throughSlack
	}
	const around = 72
	open := 0
	for n := range around {
		sin, cos := math.Sincos(float64(n) * 2 * math.Pi / around)
		for d := 0.0; d < p.Dia/2-g.Cell; d += g.Cell {
			if !through(p.X+d*cos, p.Y+d*sin) {
				return false
			}
		}
		d := p.Dia/2 + boredSlack + 1.5*g.Cell
		if through(p.X+d*cos, p.Y+d*sin) {
			open++
		}
	}
	return 10*open <= around
}

// nearby says whether something stands above low.
func (r *run) nearby(low float64) bool {
	for i := range r.bodies {
		if r.bodies[i].top > low {
			return true
		}
	}
	for _, o := range r.obstacles {
		if !o.hole && o.top > low {
			return true
		}
	}
	return false
}

// collide looks for pins, bodies and the bed in the way of a stroke.
func (r *run) collide(k *stroke, c *cutter) {
	low := k.bottom()
	for _, o := range r.obstacles {
		if o.hole || low >= o.top {
			continue
		}
		p := c.grown[o.index]
		if p == nil {
			p = c.p.grown(o.r)
			c.grown[o.index] = p
		}
		g := *k
		g.p = p
		h, ok := g.surface(o.x, o.y)
		if !ok || h >= o.top-touchSlack {
			continue
		}
		d, _, _ := k.near(o.x, o.y)
		over := c.p.R + o.r - d
		if over <= touchSlack {
			continue
		}
		r.found.add(Finding{Code: CodePin, Index: o.index, Placed: true, Spot: Spot{X: o.x, Y: o.y},
			Depth: o.top - h, Amount: min(over, 2*o.r)}, r.side, int(k.line))
	}
	r.bump(k)
	if into := r.bed - low; into > r.bedLimit+touchSlack && !r.inHole(k) {
		x, y := k.x, k.y
		if k.kind == levelArc {
			x, y = k.x+k.radius*k.ux, k.y+k.radius*k.uy
		} else if k.slope < 0 {
			x, y = k.x+k.ux*k.length, k.y+k.uy*k.length
		}
		r.found.add(Finding{Code: CodeBed, Placed: true, Spot: Spot{X: x, Y: y}, Amount: into, Limit: r.bedLimit}, r.side, int(k.line))
	}
}

// inHole says whether a stroke stays within a hole that the program drills
// through blank and bed for a pin.
func (r *run) inHole(k *stroke) bool {
	x0, y0, x1, y1 := k.box()
	for _, o := range r.obstacles {
		if !o.hole {
			continue
		}
		far := math.Hypot(max(math.Abs(x0-o.x), math.Abs(x1-o.x)), max(math.Abs(y0-o.y), math.Abs(y1-o.y)))
		if far+k.p.R <= o.r+0.25 {
			return true
		}
	}
	return false
}

// from gives the distance of a place from the rectangle; below 0 by how deep it lies
// inside. It is convex along a line.
func (b Rect) from(x, y float64) float64 {
	dx := max(b.X-x, x-b.X-b.W)
	dy := max(b.Y-y, y-b.Y-b.H)
	if dx <= 0 && dy <= 0 {
		return max(dx, dy)
	}
	return math.Hypot(max(dx, 0), max(dy, 0))
}

// reach is how far a program goes on each axis, in its own coordinates and, for
// G53 moves, in machine coordinates.
type reach struct {
	lo, hi         [2][3]float64 // work, machine
	loLine, hiLine [2][3]int
}

func (r *reach) start() {
	for k := range 2 {
		for i := range 3 {
			r.lo[k][i], r.hi[k][i] = math.Inf(1), math.Inf(-1)
		}
	}
}

func (r *reach) widen(k, i int, lo, hi float64, line int) {
	if lo < r.lo[k][i] {
		r.lo[k][i], r.loLine[k][i] = lo, line
	}
	if hi > r.hi[k][i] {
		r.hi[k][i], r.hiLine[k][i] = hi, line
	}
}

// work takes a move in work coordinates.
func (r *reach) work(s *Segment) {
	if !s.Arc && s.ToOK == known {
		// The start is the end of the move before.
		for i := range 3 {
			r.widen(0, i, s.To[i], s.To[i], s.Line)
		}
		return
	}
	lo, hi, ok := s.extent()
	for i := range 3 {
		if ok[i] {
			r.widen(0, i, lo[i], hi[i], s.Line)
		}
	}
}

// machine takes a move whose end is in machine coordinates.
func (r *reach) machine(s *Segment) {
	for i := range 3 {
		if s.ToOK[i] {
			r.widen(1, i, s.To[i], s.To[i], s.Line)
		}
	}
}

// AxisTravel is how one station's program uses one axis, in machine coordinates.
type AxisTravel struct {
	Side            Side
	Axis            int // 0 X, 1 Y, 2 Z
	Least, Greatest float64
	LeftLow         float64 // travel left below Least; under 0 where it is exceeded
	LeftHigh        float64 // and above Greatest
	// Room is the travel left above the moves that go with the work offset: by so much it
	// can be raised. A G53 move stays where it is. Without such moves it is infinite.
	Room float64
}

// TravelResult says whether both programs stay within the travel.
type TravelResult struct {
	Known bool // the travel and at least one station's zero are known
	OK    bool
	Axes  []AxisTravel
}

// travel compares a side's reach with the machine's travel.
func (r *run) travel(out *TravelResult) {
	t, zero := r.q.Travel, r.q.Zeros[r.side]
	if t == nil {
		return
	}
	for i := range 3 {
		a := AxisTravel{Side: Side(r.side), Axis: i, Least: math.Inf(1), Greatest: math.Inf(-1), Room: math.Inf(1)}
		var loLine, hiLine int
		whole := true // all moves along the axis can be placed
		for k := range 2 {
			off := 0.0
			if k == 0 {
				if zero == nil || i == 2 && !zero.ZKnown {
					whole = r.reach.lo[0][i] > r.reach.hi[0][i]
					continue
				}
				off = [3]float64{zero.X, zero.Y, zero.Z}[i]
				a.Room = t.Greatest[i] - (r.reach.hi[0][i] + off)
			}
			if v := r.reach.lo[k][i] + off; v < a.Least {
				a.Least, loLine = v, r.reach.loLine[k][i]
			}
			if v := r.reach.hi[k][i] + off; v > a.Greatest {
				a.Greatest, hiLine = v, r.reach.hiLine[k][i]
			}
		}
		if a.Least > a.Greatest {
			continue
		}
		a.LeftLow, a.LeftHigh = a.Least-t.Least[i], t.Greatest[i]-a.Greatest
		if whole || min(a.LeftLow, a.LeftHigh) < -1e-6 {
			out.Known = true
			out.Axes = append(out.Axes, a)
		}
		// A nanometre covers the rounding of sums of decimals in binary.
		if a.LeftLow < -1e-6 {
			out.OK = false
			r.found.add(Finding{Code: CodeTravel, Index: i, Amount: -a.LeftLow, Limit: t.Least[i]}, r.side, loLine)
		}
		if a.LeftHigh < -1e-6 {
			out.OK = false
			r.found.add(Finding{Code: CodeTravel, Index: i, Amount: -a.LeftHigh, Limit: t.Greatest[i]}, r.side, hiLine)
		}
	}
}

// finder gathers findings: for each code and object the worst, with how many
// lines there are.
type finder struct {
	list []Finding
	last []int // the last line counted for each
}

// add records f on a line of a side.
func (d *finder) add(f Finding, side, line int) {
	f.Side = Side(side)
	f.setLine(side, line)
	f.Count = 1
	for i := range d.list {
		o := &d.list[i]
		if o.Code != f.Code || o.Index != f.Index || o.Side != f.Side || f.Code == CodeTravel && o.Limit != f.Limit {
			continue
		}
		n := o.Count
		if d.last[i] != line {
			n++
			d.last[i] = line
		}
		if cmp.Or(cmp.Compare(f.Amount, o.Amount), cmp.Compare(f.Depth, o.Depth)) > 0 {
			*o = f
		}
		o.Count = n
		return
	}
	d.list = append(d.list, f)
	d.last = append(d.last, line)
}

// maxListed is how many lines of a kind of hit are listed one by one.
const maxListed = 20

// hits gives the findings of a side: the gathered ones and those that the sweep
// met in the material, the first few lines of each kind.
func (r *run) hits() []Finding {
	keys := slices.DeleteFunc(r.sw.hitKeys(), func(k hitKey) bool {
		c := r.toolAt(k.line)
		if k.code != CodeShank || c.Flute > 0 {
			return false
		}
		// No more than a note, so the worst alone is told.
		h := r.sw.hits[k]
		r.found.add(Finding{Code: CodeCone, Placed: true, Spot: Spot{X: h.x, Y: h.y}, Depth: h.depth, Limit: c.reach}, r.side, k.line)
		return true
	})
	out := slices.Clone(r.found.list)
	count := map[Code]int{}
	for _, k := range keys {
		count[k.code]++
	}
	listed := map[Code]int{}
	for _, k := range keys {
		if listed[k.code]++; listed[k.code] > maxListed {
			continue
		}
		h := r.sw.hits[k]
		f := Finding{Code: k.code, Side: Side(r.side), Placed: true, Spot: Spot{X: h.x, Y: h.y}, Depth: h.depth, Count: 1}
		if listed[k.code] == 1 {
			f.Count = count[k.code]
		}
		if k.code == CodeShank {
			f.Limit = r.toolAt(k.line).Flute
		}
		f.setLine(r.side, k.line)
		out = append(out, f)
	}
	return out
}
