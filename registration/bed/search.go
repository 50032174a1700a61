package bed

import "math/big"

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
	budget      int        // branches that each search may look at
	cut         *bool      // set when the search had to stop short
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

// dist is the least way from the corner of k to the corner of l when l lies
// beyond k along an axis.
func (h *hall) dist(k, l *kind, axis int) int64 { return k.swept.hi[axis] + h.gap - l.swept.lo[axis] }

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
	for t := 0; t <= min(n, turned); t++ {
		if h.roomy(n, t) && h.any(n, t) {
			return true
		}
	}
	return false
}

// any reports whether n pairs fit, t of them turned.
func (h *hall) any(n, t int) bool {
	for _, p := range h.plans(n, t, false) {
		if s := h.search(p, leastOver, -1, nil); s != nil {
			return true
		}
	}
	return false
}

// best finds the best layout of n pairs: fewest turned (at most turned), then the
// least separation, then the least way home; nil if n pairs don't fit.
func (h *hall) best(n, turned int) []pair {
	for t := 0; t <= min(n, turned); t++ {
		if !h.roomy(n, t) {
			continue
		}
		// No layout has less separation than one whose pairs all lie as close
		// together as they can.
		var best *found
		for _, p := range h.plans(n, t, true) {
			best = h.search(p, leastWay, -1, best)
		}
		if best == nil {
			for _, p := range h.plans(n, t, false) {
				if h.search(p, leastOver, -1, nil) != nil {
					best = h.search(p, leastWay, -1, best)
				}
			}
		}
		if best != nil {
			return best.pairs
		}
	}
	return nil
}

// short gives how far bed and travel would have to grow at their greatest end of
// an axis so that n pairs fit, or -1 if that doesn't help.
func (h *hall) short(n, turned, axis int) int64 {
	var best *found
	for t := 0; t <= min(n, turned); t++ {
		for _, p := range h.plans(n, t, false) {
			best = h.search(p, leastOver, axis, best)
		}
	}
	if best == nil {
		return -1
	}
	return best.first
}
