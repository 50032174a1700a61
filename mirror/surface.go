package mirror

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// An open chain is entered at its other end when it runs backwards. What the program did
// at the old end may have been right only there: a rapid or a fast feed down beside the
// blank, or a rapid aside through a groove that is cleared. So the way down must be a feed
// as slow as the cuts, and the ways aside must run above the work.

// surface is what is known of the blank in the mirrored program's coordinates, for each
// unit.
type surface struct {
	top   [2]decimal.Decimal
	blank [2][2][2]decimal.Decimal // unit, axis, least and greatest
}

// newSurface carries the blank through the map.
func newSurface(m *rewriter) (s surface) {
	in := func(d decimal.Decimal, u int) decimal.Decimal {
		d, _ = transform.Convert(d, m.o.Map.Unit, transform.Unit(u), mostInchPlaces)
		return d
	}
	for u := range s.top {
		if t := m.o.Top; t != nil {
			s.top[u] = m.maps[u].Z.Apply(in(*t, u))
		}
		if b := m.o.Blank; b != nil {
			for a := range 2 {
				p, q := m.maps[u].Axis(a).Apply(in(b[0][a], u)), m.maps[u].Axis(a).Apply(in(b[1][a], u))
				s.blank[u][a] = [2]decimal.Decimal{decimal.Min(p, q), decimal.Max(p, q)}
			}
		}
	}
	return s
}

// zeroMoves notes the codes after which the blank's place in the program's coordinates
// isn't known: G52, G92 and a second work offset.
func (r *reverser) zeroMoves(code int) {
	switch g := gGroups[code]; {
	case code == 520 || code == 920, g == gOffset && r.offset != 0 && r.offset != code:
		r.shifted = true
	case g == gOffset:
		r.offset = code
	}
}

// above reports whether a height surely lies above the work.
func (r *reverser) above(z *coordinate, u transform.Unit) bool {
	return r.m.o.Top != nil && !r.shifted && z.ok && z.v.GreaterThan(r.surface.top[u])
}

// inAir reports whether a move surely runs no lower than the top of the work.
func (r *reverser) inAir(l *chainText) bool {
	for _, z := range [2]*coordinate{&l.from[2], &l.to[2]} {
		if r.m.o.Top == nil || r.shifted || !z.ok || z.v.LessThan(r.surface.top[l.unit]) {
			return false
		}
	}
	return true
}

// chainInAir reports whether the held chain cuts nothing.
func (r *reverser) chainInAir() bool {
	for i := r.first; i <= r.last; i++ {
		if l := &r.lines[i]; l.kind == lineCut && !r.inAir(l) {
			return false
		}
	}
	return true
}

// inside says where a point lies: 1 in the blank, 0 on its edge, -1 outside.
func (r *reverser) inside(at *[3]coordinate, u transform.Unit) int {
	where := 1
	for a := range 2 {
		b := &r.surface.blank[u][a]
		where = min(where, at[a].v.Cmp(b[0]), b[1].Cmp(at[a].v))
	}
	return where
}

// wayDown says what forbids going down at the other end as the program does at this one.
func (r *reverser) wayDown() (why string) {
	first, last := &r.lines[r.first], &r.lines[r.last]
	least := first.after.feed.v
	for i := r.first; i <= r.last; i++ {
		if l := &r.lines[i]; l.kind == lineCut {
			least = decimal.Min(least, l.after.feed.v)
		}
	}
	for i := r.aside + 1; i < r.first; i++ {
		l := &r.lines[i]
		switch {
		case l.kind != lineLevel || l.rises() || r.above(&l.to[2], l.unit):
		case l.after.motion == 0:
			return "its way down is a rapid, which its other end mustn't get"
		case !l.after.feed.ok || l.after.feed.v.GreaterThan(least):
			return "its way down is faster than its cuts, which its other end mustn't get"
		}
	}
	if r.m.o.Blank != nil && !r.shifted && r.inside(&last.to, last.unit) > r.inside(&first.from, first.unit) {
		return "it starts outside the blank, and its other end lies inside"
	}
	return ""
}

// high reports whether both ends of a rapid aside surely lie above the work.
func (r *reverser) high(l *chainText) bool {
	if r.m.o.Top == nil {
		// As high as the program crosses the work anywhere.
		s := r.m.o.passes
		return s == nil || s.clearance[l.unit] == nil || !l.from[2].ok || !l.to[2].ok ||
			decimal.Min(l.from[2].v, l.to[2].v).GreaterThanOrEqual(*s.clearance[l.unit])
	}
	return r.above(&l.from[2], l.unit) && r.above(&l.to[2], l.unit)
}
