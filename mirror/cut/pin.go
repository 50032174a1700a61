package cut

import "math"

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
		o := obstacle{x: p.X, y: p.Y, r: p.Dia / 2, index: i, hole: r.side == faceSide && p.Drilled}
		if p.Height > 0 {
			o.top = r.bed + p.Height
		}
		r.obstacles = append(r.obstacles, o)
	}
}

// boredSlack is how much wider than its pin a hole may be in radius, mm.
const boredSlack = 0.5

// bored says which of the holes that go over a plug and its index pin the face program makes,
// and takes back what was found of pins that can't have stood there yet: a dowel in a hole that
// it makes, right through, and both pins where it makes the plug's bore. The index pin stands at
// the turned blank alone then, so its hole may end where the pin does.
func (s *study) bored(out *Result) {
	b := s.q.Bore
	out.Bored = b != nil && s.makes(Pin{X: b.X, Y: b.Y, Dia: b.Dia}, s.g.T)
	s.runs[faceSide].found.drop(func(f Finding) bool {
		p, ok := f.(*PinCut)
		return ok && (out.Bored || s.makes(s.q.Pins[p.Pin], s.g.T))
	})
	for _, p := range s.q.Pins {
		if b == nil || p.X == b.X && p.Y == b.Y {
			continue
		}
		deep := s.g.T
		if p.Height > 0 {
			deep = min(deep, s.q.Skimmed+p.Height)
		}
		out.Indexed = s.makes(p, deep)
	}
}

// makes says whether the face program makes the hole of a pin: the pin's place is
// cut as deep as asked all over, and around it nine tenths or more are not. A groove that
// passes over the place leaves it open on two sides.
func (s *study) makes(p Pin, deep float64) bool {
	g := s.g
	isCut := func(x, y float64) bool {
		i, j := g.cellAt(x, y)
		return g.inside(i, j) && g.depth(faceSide, i, j) <= -deep+throughSlack
	}
	const around = 72
	open := 0
	for n := range around {
		sin, cos := math.Sincos(float64(n) * 2 * math.Pi / around)
		for d := 0.0; d < p.Dia/2-g.Cell; d += g.Cell {
			if !isCut(p.X+d*cos, p.Y+d*sin) {
				return false
			}
		}
		d := p.Dia/2 + boredSlack + 1.5*g.Cell
		if isCut(p.X+d*cos, p.Y+d*sin) {
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
func (r *run) collide(k *stroke) {
	low := k.bottom()
	for _, o := range r.obstacles {
		if o.hole || low >= o.top {
			continue
		}
		d, _, _ := k.near(o.x, o.y)
		over := k.p.R + o.r - d
		if over <= touchSlack {
			continue
		}
		g := *k
		g.p = k.p.grown(o.r)
		h, _ := g.surface(o.x, o.y)
		if h >= o.top-touchSlack {
			continue
		}
		at := onSide(r.side, Spot{X: o.x, Y: o.y}, int(k.line))
		at.Depth = o.top - h
		r.found.add(&PinCut{at, o.index, min(over, 2*o.r)})
	}
	r.bump(k)
	if into := r.bed - low; into > r.bedLimit+touchSlack && !r.inHole(k) {
		x, y := k.x, k.y
		if k.kind == levelArc {
			x, y = k.x+k.radius*k.ux, k.y+k.radius*k.uy
		} else if k.slope < 0 {
			x, y = k.x+k.ux*k.length, k.y+k.uy*k.length
		}
		r.found.add(&BedCut{onSide(r.side, Spot{X: x, Y: y}, int(k.line)), into, r.bedLimit})
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
