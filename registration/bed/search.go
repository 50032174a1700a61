package bed

import (
	"cmp"
	"math/big"
	"slices"
)

// The search works on whole numbers, see scale. Axis 0 is X and axis 1 is Y.

// box is a rectangle by its least and greatest coordinates.
type box struct{ lo, hi [2]int64 }

// at moves b to a corner.
func (b box) at(c [2]int64) box {
	for a := range 2 {
		b.lo[a] += c[a]
		b.hi[a] += c[a]
	}
	return b
}

// cover gives the smallest box that holds b and d.
func (b box) cover(d box) box {
	for a := range 2 {
		b.lo[a] = min(b.lo[a], d.lo[a])
		b.hi[a] = max(b.hi[a], d.hi[a])
	}
	return b
}

// near reports whether less than gap lies between b and d both in X and in Y.
// With gap 0 this says that their insides meet.
func (b box) near(d box, gap int64) bool {
	return b.lo[0] < d.hi[0]+gap && d.lo[0] < b.hi[0]+gap && b.lo[1] < d.hi[1]+gap && d.lo[1] < b.hi[1]+gap
}

// kind is one side's station in one orientation, from its corner.
type kind struct {
	blank box // the blank, its near-left corner at 0
	body  box // blank and fixture: must lie on the bed
	swept box // body and swept cutter: must stay clear of everything
	reach box // tool centre, blank and zero: must lie in the travel
}

// hall is the bed with everything that limits the stations.
type hall struct {
	bed, travel box
	hard        []box // nothing may enter
	soft        []box // as hard, and gap away
	gap         int64
	home        [2]int64
	kinds       [2][2]kind // by turned and side: 0 face, 1 back
	along       [2]int     // by turned: the axis from face to back
	budgetEach  int        // steps that each search may take
	budget      int        // steps that this search may still take
	cut         *bool      // set when the search had to stop short
}

// spend takes n steps off the budget; false says that the search has to stop.
func (h *hall) spend(n int) bool {
	if h.budget -= n; h.budget < 0 {
		*h.cut = true
		return false
	}
	return true
}

// pair is a placed pair.
type pair struct {
	turned    int
	corner    [2][2]int64 // by side
	sep, home int64       // corner to corner; X plus Y from home to both middles
}

// bounds gives the least and greatest corner coordinate of k along an axis.
func (h *hall) bounds(k *kind, axis int) (lo, hi int64) {
	return max(h.bed.lo[axis]-k.body.lo[axis], h.travel.lo[axis]-k.reach.lo[axis]),
		min(h.bed.hi[axis]-k.body.hi[axis], h.travel.hi[axis]-k.reach.hi[axis])
}

// clear reports whether a station of kind k may lie at a corner, other stations
// apart.
func (h *hall) clear(k *kind, c [2]int64) bool {
	for a := range 2 {
		if lo, hi := h.bounds(k, a); c[a] < lo || c[a] > hi {
			return false
		}
	}
	s := k.swept.at(c)
	return !slices.ContainsFunc(h.hard, func(o box) bool { return s.near(o, 0) }) &&
		!slices.ContainsFunc(h.soft, func(o box) bool { return s.near(o, h.gap) })
}

// dist is the least way from the corner of k to the corner of l when l lies
// beyond k along an axis.
func (h *hall) dist(k, l *kind, axis int) int64 { return k.swept.hi[axis] + h.gap - l.swept.lo[axis] }

// clash reports whether two pairs can't lie on the bed together.
func (h *hall) clash(p, q *pair) bool {
	for s := range 2 {
		b := h.kinds[p.turned][s].swept.at(p.corner[s])
		for t := range 2 {
			if b.near(h.kinds[q.turned][t].swept.at(q.corner[t]), h.gap) {
				return true
			}
		}
	}
	return false
}

// place fills in what a pair costs.
func (h *hall) place(turned int, face, back [2]int64) pair {
	p := pair{turned: turned, corner: [2][2]int64{face, back}}
	for a := range 2 {
		p.sep += abs(face[a] - back[a])
		for s := range 2 {
			p.home += abs(p.corner[s][a] + h.kinds[turned][s].blank.hi[a]/2 - h.home[a])
		}
	}
	return p
}

func abs(v int64) int64 { return max(v, -v) }

// member is a station whose coordinate along an axis is that of its class plus
// off. The members of a class move together.
type member struct {
	k   *kind
	off int64
}

// Directions in which stations are pushed against each other.
const (
	toLeast = iota
	toGreatest
	bothWays
)

// grid gives, for each class, the coordinates along an axis that need to be
// tried.
//
// Take a best layout and keep for every two things the side on which they lie of
// each other. What is left is to choose coordinates under bounds on them and on
// their differences, at a cost that is linear but for kinks where a blank's
// middle meets home. Some best choice is a corner of that problem, in which every
// coordinate hangs on a bound, a kink or the edge of an obstacle by a chain of
// stations that touch; n stations make chains of at most n-1 steps. Where pushing
// everything towards least (or greatest) costs nothing, one direction is enough.
func (h *hall) grid(axis int, classes [][]member, steps, direction int, home bool) [][]int64 {
	type span struct{ lo, hi int64 }
	spans := make([]span, len(classes))
	seen := make([]map[int64]bool, len(classes))
	type item struct {
		class int
		at    int64
	}
	var now []item
	add := func(to []item, class int, at int64) []item {
		if at < spans[class].lo || at > spans[class].hi || seen[class][at] {
			return to
		}
		seen[class][at] = true
		return append(to, item{class, at})
	}
	for c, members := range classes {
		seen[c] = map[int64]bool{}
		spans[c].lo, spans[c].hi = -1<<62, 1<<62
		for _, m := range members {
			lo, hi := h.bounds(m.k, axis)
			spans[c].lo, spans[c].hi = max(spans[c].lo, lo-m.off), min(spans[c].hi, hi-m.off)
		}
		if direction != toGreatest {
			now = add(now, c, spans[c].lo)
		}
		if direction != toLeast {
			now = add(now, c, spans[c].hi)
		}
		for _, m := range members {
			if home {
				now = add(now, c, h.home[axis]-m.k.blank.hi[axis]/2-m.off)
			}
			edge := func(o box, gap int64) {
				if direction != toGreatest {
					now = add(now, c, o.hi[axis]+gap-m.k.swept.lo[axis]-m.off)
				}
				if direction != toLeast {
					now = add(now, c, o.lo[axis]-gap-m.k.swept.hi[axis]-m.off)
				}
			}
			for _, o := range h.hard {
				edge(o, 0)
			}
			for _, o := range h.soft {
				edge(o, h.gap)
			}
		}
	}
	for range steps {
		var next []item
		for _, it := range now {
			for c, members := range classes {
				for _, m := range members {
					for _, w := range classes[it.class] {
						if direction != toGreatest {
							next = add(next, c, it.at+w.off+h.dist(w.k, m.k, axis)-m.off)
						}
						if direction != toLeast {
							next = add(next, c, it.at+w.off-h.dist(m.k, w.k, axis)-m.off)
						}
					}
				}
			}
			if !h.spend(1) {
				break
			}
		}
		if now = next; len(now) == 0 {
			break
		}
	}
	out := make([][]int64, len(classes))
	for c := range classes {
		for v := range seen[c] {
			out[c] = append(out[c], v)
		}
		slices.Sort(out[c])
	}
	return out
}

// direction says which way stations are pushed so as to come nearer to home.
func (h *hall) direction(axis int) int {
	low, high := true, true
	for t := range 2 {
		for s := range 2 {
			k := &h.kinds[t][s]
			lo, hi := h.bounds(k, axis)
			low = low && h.home[axis] <= lo+k.blank.hi[axis]/2
			high = high && h.home[axis] >= hi+k.blank.hi[axis]/2
		}
	}
	switch {
	case low:
		return toLeast
	case high:
		return toGreatest
	}
	return bothWays
}

// tight gives the pairs whose stations lie as close together as they can.
func (h *hall) tight(n, turned int) []pair {
	type class struct{ turned, first int }
	var ids []class
	least := int64(1) << 62
	for t := range 2 {
		for first := range 2 {
			least = min(least, h.dist(&h.kinds[t][first], &h.kinds[t][1-first], h.along[t]))
		}
	}
	offs := func(id class) (off [2][2]int64) {
		off[1-id.first][h.along[id.turned]] = least
		return off
	}
	var classes [2][][]member
	for t := range 2 {
		if t == 1 && turned == 0 || t == 0 && turned == n {
			continue
		}
		for first := range 2 {
			if h.dist(&h.kinds[t][first], &h.kinds[t][1-first], h.along[t]) != least {
				continue
			}
			id := class{t, first}
			ids = append(ids, id)
			off := offs(id)
			for a := range 2 {
				classes[a] = append(classes[a], []member{{&h.kinds[t][0], off[0][a]}, {&h.kinds[t][1], off[1][a]}})
			}
		}
	}
	var coords [2][][]int64
	for a := range 2 {
		d := h.direction(a)
		coords[a] = h.grid(a, classes[a], n-1, d, d == bothWays)
	}
	var out []pair
	for c, id := range ids {
		off := offs(id)
		for _, y := range coords[1][c] {
			for _, x := range coords[0][c] {
				face := [2]int64{x + off[0][0], y + off[0][1]}
				back := [2]int64{x + off[1][0], y + off[1][1]}
				if h.clear(&h.kinds[id.turned][0], face) && h.clear(&h.kinds[id.turned][1], back) {
					out = append(out, h.place(id.turned, face, back))
				}
			}
		}
	}
	return out
}

// most is how many places of a pair are looked at; 300 000 take some 20 MB.
const most = 300_000

// loose gives pairs at any distance up to reach between their corners (no limit
// if negative). With pushed only those are given that suffice to find whether n
// pairs fit at all: everything pushed to the near left.
func (h *hall) loose(n, turned int, pushed bool, reach int64) []pair {
	// Per turned: the face and the back apart along the pair, together across it.
	var classes [2][][]member
	index := [2][2][2]int{} // by axis, turned and side
	for t := range 2 {
		if t == 1 && turned == 0 || t == 0 && turned == n {
			continue
		}
		f, b := member{k: &h.kinds[t][0]}, member{k: &h.kinds[t][1]}
		a := h.along[t]
		index[a][t] = [2]int{len(classes[a]), len(classes[a]) + 1}
		classes[a] = append(classes[a], []member{f}, []member{b})
		index[1-a][t] = [2]int{len(classes[1-a]), len(classes[1-a])}
		classes[1-a] = append(classes[1-a], []member{f, b})
	}
	var coords [2][][]int64
	for a := range 2 {
		d, home := toLeast, false
		if !pushed {
			d, home = bothWays, true
		}
		coords[a] = h.grid(a, classes[a], 2*n-1, d, home)
	}
	var out []pair
	for t := range 2 {
		if t == 1 && turned == 0 || t == 0 && turned == n {
			continue
		}
		a := h.along[t]
		for _, across := range coords[1-a][index[1-a][t][0]] {
			var at [2][]int64
			for s := range 2 {
				for _, v := range coords[a][index[a][t][s]] {
					if h.clear(&h.kinds[t][s], corner(a, v, across)) {
						at[s] = append(at[s], v)
					}
				}
			}
			for _, f := range at[0] {
				for _, b := range at[1] {
					apart := h.dist(&h.kinds[t][0], &h.kinds[t][1], a)
					if b < f {
						apart = h.dist(&h.kinds[t][1], &h.kinds[t][0], a)
					}
					if d := abs(b - f); d < apart || reach >= 0 && d > reach {
						continue
					}
					out = append(out, h.place(t, corner(a, f, across), corner(a, b, across)))
					if len(out) == most {
						*h.cut = true
						return out
					}
				}
			}
		}
	}
	return out
}

// corner puts a coordinate along an axis and one across it together.
func corner(axis int, along, across int64) (c [2]int64) {
	c[axis], c[1-axis] = along, across
	return c
}

// pick chooses n pairs of the list, turned of them turned, that don't clash: the
// cheapest by separation, then by the way home, or any if that is enough. It
// returns nil if there are none, and gives up when the budget is spent.
func (h *hall) pick(list []pair, n, turned int, any bool) []pair {
	slices.SortFunc(list, func(p, q pair) int {
		order := []int{cmp.Compare(p.sep, q.sep), cmp.Compare(p.home, q.home)}
		if any {
			order = nil
		}
		return cmp.Or(append(order, cmp.Compare(p.corner[0][1], q.corner[0][1]), cmp.Compare(p.corner[0][0], q.corner[0][0]),
			cmp.Compare(p.corner[1][1], q.corner[1][1]), cmp.Compare(p.corner[1][0], q.corner[1][0]), cmp.Compare(p.turned, q.turned))...)
	})
	var best, chosen []pair
	var bestSep, bestHome int64
	var walk func(rest []pair, need, needTurned int, sep, home int64) bool
	walk = func(rest []pair, need, needTurned int, sep, home int64) bool {
		if need == 0 {
			best, bestSep, bestHome = slices.Clone(chosen), sep, home
			return any
		}
		for i := range rest {
			p := &rest[i]
			if len(rest)-i < need {
				return false
			}
			if best != nil {
				// The list is sorted by cost, so the rest can't cost less than this.
				s := sep + int64(need)*p.sep
				if s > bestSep || s == bestSep && home+int64(need)*p.home >= bestHome {
					return false
				}
			}
			if p.turned > needTurned || p.turned == 0 && need == needTurned {
				continue
			}
			var fits []pair
			if need > 1 {
				if !h.spend(len(rest) - i) {
					return true
				}
				for j := i + 1; j < len(rest); j++ {
					if !h.clash(p, &rest[j]) {
						fits = append(fits, rest[j])
					}
				}
			}
			chosen = append(chosen, *p)
			if walk(fits, need-1, needTurned-p.turned, sep+p.sep, home+p.home) {
				return true
			}
			chosen = chosen[:len(chosen)-1]
		}
		return false
	}
	walk(list, n, turned, 0, 0)
	return best
}

// roomy is false if n pairs have more area than there is, half the gap around
// each station counted with it.
func (h *hall) roomy(n, turned int) bool {
	area := func(b box) *big.Int {
		w := big.NewInt(max(b.hi[0]-b.lo[0]+h.gap, 0))
		return w.Mul(w, big.NewInt(max(b.hi[1]-b.lo[1]+h.gap, 0)))
	}
	all, first := box{}, true
	need := new(big.Int)
	for t := range 2 {
		count := [2]int{n - turned, turned}[t]
		for s := range 2 {
			k := &h.kinds[t][s]
			if count == 0 {
				continue
			}
			var b box
			for a := range 2 {
				lo, hi := h.bounds(k, a)
				if lo > hi {
					return false
				}
				b.lo[a], b.hi[a] = lo+k.swept.lo[a], hi+k.swept.hi[a]
			}
			if first {
				all, first = b, false
			}
			all = all.cover(b)
			x := area(k.swept)
			need.Add(need, x.Mul(x, big.NewInt(int64(count))))
		}
	}
	return need.Cmp(area(all)) <= 0
}

// fits reports whether n pairs fit, up to turned of them turned.
func (h *hall) fits(n, turned int) bool {
	h.budget = h.budgetEach
	for t := 0; t <= min(n, turned); t++ {
		if !h.roomy(n, t) {
			continue
		}
		if h.pick(h.tight(n, t), n, t, true) != nil || h.pick(h.loose(n, t, true, -1), n, t, true) != nil {
			return true
		}
	}
	return false
}

// best finds the best layout of n pairs: fewest turned (at most turned), then the
// least separation, then the least way home; nil if n pairs don't fit.
func (h *hall) best(n, turned int) []pair {
	h.budget = h.budgetEach
	for t := 0; t <= min(n, turned); t++ {
		if !h.roomy(n, t) {
			continue
		}
		// No layout has less separation than one of tight pairs only.
		if p := h.pick(h.tight(n, t), n, t, false); p != nil {
			return p
		}
		some := h.pick(h.loose(n, t, true, -1), n, t, true)
		if some == nil {
			continue
		}
		least := int64(1) << 62
		sum := int64(0)
		for _, p := range some {
			sum += p.sep
			for first := range 2 {
				least = min(least, h.dist(&h.kinds[p.turned][first], &h.kinds[p.turned][1-first], h.along[p.turned]))
			}
		}
		if p := h.pick(h.loose(n, t, false, sum-int64(n-1)*least), n, t, false); p != nil {
			return p
		}
		return some
	}
	return nil
}
