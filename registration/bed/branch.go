package bed

import (
	"cmp"
	"slices"
)

// How the search works. Two stations, or a station and an obstacle, lie clear of
// each other if one is left of, right of, near or far of the other. Once a side is
// chosen for everything that clashes, what is left are bounds on coordinates and
// on their differences, separately for X and Y. Their solution that costs least
// is found exactly; if something still clashes in it, the search branches on the
// sides on which those two can lie. The cost before branching is never more than
// after, so branches that can't beat the best layout found are left out.

// maxVars is how many coordinates an axis has at most: four pairs of two stations.
const maxVars = 8

// Goals of a search.
const (
	// leastOver: what sticks out beyond the greatest end of an axis, or nothing
	// may stick out; the first layout without any ends the search.
	leastOver = iota
	// leastWay: separation, then the way home.
	leastWay
)

// seat is one station of a plan: its place is variable plus offset.
type seat struct {
	k    *kind
	pair int
	side int
	v    [2]int
	off  [2]int64
}

// plan is a choice of turned or not, and of which side comes first, for each pair.
type plan struct {
	turned []int
	seats  []seat // face and back of each pair
	vars   [2]int
	// lead and trail are, per axis, the seats whose difference is a separation.
	lead, trail [2][]int
	root        node
}

// node is a set of bounds: lo and hi of each variable, and x[j] >= x[i] + gap[i][j].
type node struct {
	lo, hi [2][maxVars]int64
	gap    [2][maxVars][maxVars]int64
	x      [2][maxVars]int64 // the cheapest solution
	cost   [2]int64          // by goal: what sticks out; or separation and way home
}

// found is a layout with its cost.
type found struct {
	pairs         []pair
	first, second int64
}

const (
	noGap = -1 << 60 // no bound on a difference
	ample = 1 << 60  // no bound on a coordinate
)

// plans lists the plans for n pairs, t of them turned. With tight, the two
// stations of each pair are one rigid thing, as close together as any two can be.
func (h *hall) plans(n, t int, tight bool) []*plan {
	apart := func(turned, first int) int64 {
		return h.dist(&h.kinds[turned][first], &h.kinds[turned][1-first], h.along[turned])
	}
	least := min(apart(0, 0), apart(0, 1))
	f, b := h.kinds[0][0], h.kinds[0][1]
	alike := f == b
	var out []*plan
	// How many of the pairs, and of the turned pairs, have the back first.
	for swapped := 0; swapped <= n-t; swapped++ {
		for swappedTurned := 0; swappedTurned <= t; swappedTurned++ {
			if alike && swapped+swappedTurned > 0 {
				continue
			}
			p, ok := &plan{}, true
			for i := range n {
				turned, first := b2i(i >= n-t), b2i(i < swapped)
				if turned == 1 {
					first = b2i(i-(n-t) < swappedTurned)
				}
				ok = ok && (!tight || apart(turned, first) == least)
				p.add(h, turned, first, tight, least)
			}
			if ok {
				h.bind(p)
				out = append(out, p)
			}
		}
	}
	return out
}

// add puts one pair into the plan.
func (p *plan) add(h *hall, turned, first int, tight bool, least int64) {
	along := h.along[turned]
	pair := len(p.turned)
	p.turned = append(p.turned, turned)
	var s [2]seat
	for side := range 2 {
		s[side] = seat{k: &h.kinds[turned][side], pair: pair, side: side}
		for a := range 2 {
			s[side].v[a] = p.vars[a]
		}
	}
	last := 1 - first
	if tight {
		s[last].off[along] = least
	} else {
		p.vars[along]++
		s[last].v[along] = p.vars[along]
		p.lead[along] = append(p.lead[along], 2*pair+first)
		p.trail[along] = append(p.trail[along], 2*pair+last)
	}
	p.vars[along]++
	p.vars[1-along]++
	p.seats = append(p.seats, s[0], s[1])
}

// bind sets the bounds that hold in every layout of the plan.
func (h *hall) bind(p *plan) {
	r := &p.root
	for a := range 2 {
		for i := range p.vars[a] {
			r.lo[a][i], r.hi[a][i] = -ample, ample
			for j := range p.vars[a] {
				r.gap[a][i][j] = noGap
			}
		}
		for _, s := range p.seats {
			lo, hi := h.bounds(s.k, a)
			r.lo[a][s.v[a]] = max(r.lo[a][s.v[a]], lo-s.off[a])
			r.hi[a][s.v[a]] = min(r.hi[a][s.v[a]], hi-s.off[a])
		}
		for i, l := range p.lead[a] {
			h.order(p, r, a, &p.seats[l], &p.seats[p.trail[a][i]])
		}
	}
	// Pairs of the same sort can change places, so they may be taken in order.
	for i := 1; i < len(p.turned); i++ {
		s, prev := &p.seats[2*i], &p.seats[2*i-2]
		if p.turned[i] != p.turned[i-1] || p.first(i) != p.first(i-1) {
			continue
		}
		across := 1 - h.along[p.turned[i]]
		g := &r.gap[across][prev.v[across]][s.v[across]]
		*g = max(*g, 0)
	}
}

// first tells which side of a pair has the lesser place.
func (p *plan) first(pair int) int {
	f, b := &p.seats[2*pair], &p.seats[2*pair+1]
	for a := range 2 {
		if f.v[a] > b.v[a] || f.v[a] == b.v[a] && f.off[a] > b.off[a] {
			return 1
		}
	}
	return 0
}

// order bounds s to lie before t along an axis; false if it never can.
func (h *hall) order(p *plan, nd *node, axis int, s, t *seat) bool {
	w := h.dist(s.k, t.k, axis) + s.off[axis] - t.off[axis]
	if s.v[axis] == t.v[axis] {
		return w <= 0
	}
	g := &nd.gap[axis][s.v[axis]][t.v[axis]]
	*g = max(*g, w)
	return true
}

// disorder bounds s not to lie before t by more than just so.
func (h *hall) disorder(nd *node, axis int, s, t *seat) {
	w := h.dist(s.k, t.k, axis) + s.off[axis] - t.off[axis]
	if s.v[axis] != t.v[axis] {
		g := &nd.gap[axis][t.v[axis]][s.v[axis]]
		*g = max(*g, -w)
	}
}

// search finds the cheapest layout of a plan if it is cheaper than best, else it
// returns best. over is the axis along which the bed may be exceeded at its
// greatest end, or -1.
func (h *hall) search(p *plan, goal, over int, best *found) *found {
	left := h.budget
	root := p.root
	if over >= 0 {
		for i := range p.vars[over] {
			root.hi[over][i] = ample
		}
	}
	var walk func(nd *node) bool
	walk = func(nd *node) bool {
		if left--; left < 0 {
			*h.cut = true
			return true
		}
		if best != nil && !less(nd.cost, best) {
			return false
		}
		clash, ok := h.clash(p, nd)
		if !ok {
			return false
		}
		if clash == nil {
			best = &found{pairs: p.layout(h, nd), first: nd.cost[0], second: nd.cost[1]}
			return goal == leastOver && nd.cost[0] == 0
		}
		var next []node
		rest := *nd
		for side := range 4 {
			child := rest
			if clash.apply(h, p, &child, side) && h.solve(p, &child, goal, over) {
				next = append(next, child)
			}
			clash.forbid(h, &rest, side)
		}
		slices.SortStableFunc(next, func(a, b node) int {
			return cmp.Or(cmp.Compare(a.cost[0], b.cost[0]), cmp.Compare(a.cost[1], b.cost[1]))
		})
		for i := range next {
			if walk(&next[i]) {
				return true
			}
		}
		return false
	}
	if h.solve(p, &root, goal, over) {
		walk(&root)
	}
	return best
}

// less compares a cost with that of a layout.
func less(cost [2]int64, f *found) bool {
	return cost[0] < f.first || cost[0] == f.first && cost[1] < f.second
}

// at gives a seat's corner.
func (nd *node) at(s *seat) (c [2]int64) {
	for a := range 2 {
		c[a] = nd.x[a][s.v[a]] + s.off[a]
	}
	return c
}

// layout reads the pairs off a solution.
func (p *plan) layout(h *hall, nd *node) []pair {
	var out []pair
	for i, turned := range p.turned {
		out = append(out, h.place(turned, nd.at(&p.seats[2*i]), nd.at(&p.seats[2*i+1])))
	}
	return out
}

// clash is two things in each other's way.
type clash struct {
	s, t *seat // t is nil for an obstacle
	o    box
	gap  int64
}

// clash finds what is in the way in a solution, the one with the fewest ways out;
// ok is false if one has none.
func (h *hall) clash(p *plan, nd *node) (worst *clash, ok bool) {
	fewest := 5
	var places [2 * maxVars]box
	look := func(c clash) bool {
		ways := 0
		for side := range 4 {
			ways += b2i(c.possible(h, nd, side))
		}
		if ways < fewest {
			fewest, worst = ways, &c
		}
		return ways > 0
	}
	for i := range p.seats {
		s := &p.seats[i]
		places[i] = s.k.swept.at(nd.at(s))
		for _, o := range h.hard {
			if places[i].near(o, 0) && !look(clash{s: s, o: o}) {
				return nil, false
			}
		}
		for _, o := range h.soft {
			if places[i].near(o, h.gap) && !look(clash{s: s, o: o, gap: h.gap}) {
				return nil, false
			}
		}
		for j := range i {
			if places[i].near(places[j], h.gap) && !look(clash{s: &p.seats[j], t: s}) {
				return nil, false
			}
		}
	}
	return worst, true
}

// The four ways out of a clash: s before t in X, t before s in X, the same in Y.
func (c *clash) sides(side int) (axis int, s, t *seat) {
	if side%2 == 0 {
		return side / 2, c.s, c.t
	}
	return side / 2, c.t, c.s
}

// bound gives the bound on the variable of a seat that lies beyond (or, with
// before, short of) an obstacle.
func (c *clash) bound(axis int, before bool) int64 {
	if before {
		return c.o.lo[axis] - c.gap - c.s.k.swept.hi[axis] - c.s.off[axis]
	}
	return c.o.hi[axis] + c.gap - c.s.k.swept.lo[axis] - c.s.off[axis]
}

// possible reports whether a way out is open as far as the bounds of the two alone say.
func (c *clash) possible(h *hall, nd *node, side int) bool {
	axis, s, t := c.sides(side)
	if c.t == nil {
		v, b := c.s.v[axis], c.bound(axis, side%2 == 0)
		if side%2 == 0 {
			return nd.lo[axis][v] <= b
		}
		return b <= nd.hi[axis][v]
	}
	w := h.dist(s.k, t.k, axis) + s.off[axis] - t.off[axis]
	if s.v[axis] == t.v[axis] {
		return w <= 0
	}
	return nd.lo[axis][s.v[axis]]+w <= nd.hi[axis][t.v[axis]]
}

// apply takes a way out; false if it isn't open.
func (c *clash) apply(h *hall, p *plan, nd *node, side int) bool {
	axis, s, t := c.sides(side)
	if c.t != nil {
		return h.order(p, nd, axis, s, t)
	}
	v, b := c.s.v[axis], c.bound(axis, side%2 == 0)
	if side%2 == 0 {
		nd.hi[axis][v] = min(nd.hi[axis][v], b)
	} else {
		nd.lo[axis][v] = max(nd.lo[axis][v], b)
	}
	return true
}

// forbid closes a way out that has been searched.
func (c *clash) forbid(h *hall, nd *node, side int) {
	axis, s, t := c.sides(side)
	if c.t != nil {
		h.disorder(nd, axis, s, t)
		return
	}
	v, b := c.s.v[axis], c.bound(axis, side%2 == 0)
	if side%2 == 0 {
		nd.lo[axis][v] = max(nd.lo[axis][v], b)
	} else {
		nd.hi[axis][v] = min(nd.hi[axis][v], b)
	}
}

// solve finds the cheapest solution of a node's bounds, clashes apart; false if
// there is none.
func (h *hall) solve(p *plan, nd *node, goal, over int) bool {
	nd.cost = [2]int64{}
	for a := range 2 {
		n := p.vars[a]
		if !push(nd.lo[a][:n], nd.hi[a][:n], &nd.gap[a], 1) || !push(nd.hi[a][:n], nd.lo[a][:n], &nd.gap[a], -1) {
			return false
		}
		nd.x[a] = nd.lo[a]
		if goal == leastWay {
			sep, home := h.descend(p, nd, a)
			nd.cost[0] += sep
			nd.cost[1] += home
		}
	}
	if goal == leastOver && over >= 0 {
		for i := range p.seats {
			s := &p.seats[i]
			_, hi := h.bounds(s.k, over)
			nd.cost[0] = max(nd.cost[0], nd.x[over][s.v[over]]+s.off[over]-hi)
		}
	}
	return true
}

// push moves coordinates up to the least (sign 1) or down to the greatest (sign
// -1) solution of the bounds on their differences; false if one passes its limit.
// A chain of bounds has at most one step less than there are coordinates, so
// whatever still moves after that many rounds moves for ever.
func push(x, limit []int64, gap *[maxVars][maxVars]int64, sign int64) bool {
	for round := 0; ; round++ {
		moved := false
		for i := range x {
			for j := range x {
				g := gap[i][j]
				if g == noGap {
					continue
				}
				if sign > 0 && x[i]+g > x[j] {
					x[j], moved = x[i]+g, true
				}
				if sign < 0 && x[j]-g < x[i] {
					x[i], moved = x[j]-g, true
				}
			}
		}
		for i := range x {
			if sign*x[i] > sign*limit[i] {
				return false
			}
		}
		if !moved {
			return true
		}
		if round > len(x) {
			return false
		}
	}
}

// descend moves the coordinates of one axis to a solution of least separation,
// then of the least way home, and gives both.
//
// The cost is convex, and a sum of functions of single coordinates and of
// differences. For such costs a solution is best if moving no set of coordinates
// together, up or down, makes it cheaper (L-natural convexity; Murota, Discrete
// Convex Analysis, 2003, theorem 7.14: value from memory; the brute force test
// confirms it), so it is enough to try the sets.
func (h *hall) descend(p *plan, nd *node, axis int) (sep, home int64) {
	n := p.vars[axis]
	x := nd.x[axis][:n]
	for improved := true; improved; {
		improved = false
		for set := 1; set < 1<<n; set++ {
			for _, dir := range []int64{-1, 1} {
				step := h.room(p, nd, axis, set, dir)
				if step <= 0 {
					continue
				}
				for i := range n {
					if set>>i&1 == 1 {
						x[i] += dir * step
					}
				}
				improved = true
			}
		}
	}
	for i, l := range p.lead[axis] {
		sep += nd.at(&p.seats[p.trail[axis][i]])[axis] - nd.at(&p.seats[l])[axis]
	}
	for i := range p.seats {
		s := &p.seats[i]
		home += abs(nd.at(s)[axis] + s.k.blank.hi[axis]/2 - h.home[axis])
		if len(p.lead[0])+len(p.lead[1]) == 0 && s.side == 0 && axis == h.along[p.turned[s.pair]] {
			sep += abs(nd.at(s)[axis] - nd.at(&p.seats[i+1])[axis])
		}
	}
	return sep, home
}

// room gives how far a set of coordinates can be moved in a direction with every
// bit of the way making the layout cheaper; 0 if it doesn't pay.
func (h *hall) room(p *plan, nd *node, axis, set int, dir int64) int64 {
	n := p.vars[axis]
	x := nd.x[axis][:n]
	in := func(i int) bool { return set>>i&1 == 1 }
	step := int64(ample)
	for i := range n {
		if !in(i) {
			continue
		}
		if dir > 0 {
			step = min(step, nd.hi[axis][i]-x[i])
		} else {
			step = min(step, x[i]-nd.lo[axis][i])
		}
		for j := range n {
			if in(j) {
				continue
			}
			if dir > 0 && nd.gap[axis][i][j] != noGap {
				step = min(step, x[j]-x[i]-nd.gap[axis][i][j])
			}
			if dir < 0 && nd.gap[axis][j][i] != noGap {
				step = min(step, x[i]-x[j]-nd.gap[axis][j][i])
			}
		}
		if step <= 0 {
			return 0
		}
	}
	var sep, home int64
	for i, l := range p.lead[axis] {
		sep += dir * int64(b2i(in(p.seats[p.trail[axis][i]].v[axis]))-b2i(in(p.seats[l].v[axis])))
	}
	for i := range p.seats {
		s := &p.seats[i]
		if !in(s.v[axis]) {
			continue
		}
		// Positive while home lies ahead.
		ahead := dir * (h.home[axis] - s.k.blank.hi[axis]/2 - s.off[axis] - x[s.v[axis]])
		if ahead > 0 {
			home--
			step = min(step, ahead)
		} else {
			home++
		}
	}
	if sep > 0 || sep == 0 && home >= 0 {
		return 0
	}
	return step
}
