package bed

import (
	"cmp"
	"math"
	"slices"

	"flipcalc/registration"
)

// How pairs are placed. A station that is pushed left, right, near or far stops at an
// end of the bed or of the travel, at something on the bed or at another station.
// Those stops are the rows and columns of the bed. Pairs are placed one after
// another, each where its rows and columns cross, nearest to home first; where the
// next pair finds no place, the one before takes its next place. Corners stand on whole
// steps (see step), so a stop is rounded away from what it stops at.
//
// Lengths are whole numbers, see scale. Axis 0 is X and axis 1 is Y.

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

// thing is what stations stay clear of, by gap.
type thing struct {
	box
	gap int64
}

// hall is the bed with everything that limits the stations.
type hall struct {
	bed, travel box
	things      []thing
	fixed       int   // of things, how many are no-go rectangles; the others are taken
	gap         int64 // between stations
	step        int64 // corners are whole numbers of it
	home        [2]int64
	kinds       [4][2]kind             // by turn and side: 0 face, 1 back
	turns       []registration.Quarter // that differ in what they need, in the order in which they are tried
	over        int                    // the axis from left to right as a straight blank is turned over
	budget      int                    // places that each search may look at
	cut         *bool                  // set when a search had to stop short
}

// pair is a placed pair.
type pair struct {
	turn      registration.Quarter
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
func (h *hall) place(turn registration.Quarter, face, back [2]int64) pair {
	p := pair{turn: turn, corner: [2][2]int64{face, back}}
	for a := range 2 {
		p.sep += abs(face[a] - back[a])
		for s := range 2 {
			p.home += abs(p.corner[s][a] + h.kinds[turn][s].blank.hi[a]/2 - h.home[a])
		}
	}
	return p
}

func abs(v int64) int64 { return max(v, -v) }

// down and up give the next whole step at or below, and at or above v.
func (h *hall) down(v int64) int64 {
	r := v % h.step
	if r < 0 {
		r += h.step
	}
	return v - r
}

func (h *hall) up(v int64) int64 { return -h.down(-v) }

// style says how pairs may stand: along the way in which the blank is turned over or
// across it, and with the face or the back at the lesser coordinate.
type style struct{ along, across, face, back bool }

// styles are tried in this order: every pair alike as long as that costs none.
var styles = []style{
	{along: true, face: true}, {along: true, back: true}, {across: true, face: true}, {across: true, back: true},
	{along: true, across: true, face: true}, {along: true, across: true, back: true}, anyhow,
}

var anyhow = style{along: true, across: true, face: true, back: true}

// search places pairs one after another.
type search struct {
	*hall
	style
	pairs    []pair
	stations []thing // bed's things, then the placed stations
	left     int     // places that may still be looked at
}

// find gives n pairs of which at most turned are turned; nil where it finds none.
func (h *hall) find(st style, n, turned int) []pair {
	s := &search{hall: h, style: st, stations: slices.Clone(h.things), left: h.budget}
	if s.add(n, turned) {
		return s.pairs
	}
	return nil
}

// add places n more pairs.
func (s *search) add(n, turned int) bool {
	if n == 0 {
		return true
	}
	for _, p := range s.places(turned) {
		placed := len(s.stations)
		s.pairs = append(s.pairs, p)
		for side, c := range p.corner {
			s.stations = append(s.stations, thing{s.kinds[p.turn][side].swept.at(c), s.gap})
		}
		if s.add(n-1, turned-b2i(p.turn != 0)) {
			return true
		}
		s.pairs, s.stations = s.pairs[:len(s.pairs)-1], s.stations[:placed]
		if s.left <= 0 {
			*s.cut = true
			return false
		}
	}
	return false
}

// places lists where one more pair can stand, closest together and nearest to home
// first.
func (s *search) places(turned int) []pair {
	var near nearest
	for _, t := range s.tried(turned) {
		for axis := range 2 {
			if along := (axis+int(t))%2 == s.over; along && !s.style.along || !along && !s.across {
				continue
			}
			for first := range 2 {
				if first == 0 && s.face || first == 1 && s.back {
					s.beside(&near, t, axis, first)
				}
			}
		}
	}
	near.sort()
	return near.pairs
}

// nearest keeps the first of the places of a pair.
type nearest struct {
	pairs []pair
	full  bool
	last  pair // where full, no place after it is kept
}

// mostPlaces is how many are kept. Each has been looked at, and a pair that follows takes
// about as many looks again: where there are more than this, fewer than
// looks/mostPlaces can be tried, which is as many.
const mostPlaces = 1000

func (n *nearest) add(p pair) {
	if n.full && p.compare(n.last) >= 0 {
		return
	}
	if n.pairs = append(n.pairs, p); len(n.pairs) == 2*mostPlaces {
		n.sort()
	}
}

func (n *nearest) sort() {
	slices.SortStableFunc(n.pairs, pair.compare)
	if n.pairs = slices.Compact(n.pairs); len(n.pairs) >= mostPlaces {
		n.pairs = n.pairs[:mostPlaces]
		n.full, n.last = true, n.pairs[mostPlaces-1]
	}
}

// compare puts the pair that isn't turned, then one that is by half a turn, stands closer
// together, then nearer to home first.
func (p pair) compare(q pair) int {
	return cmp.Or(cmp.Compare(p.turn%2, q.turn%2), cmp.Compare(p.turn, q.turn), cmp.Compare(p.sep, q.sep), cmp.Compare(p.home, q.home),
		cmp.Compare(p.corner[0][1], q.corner[0][1]), cmp.Compare(p.corner[0][0], q.corner[0][0]))
}

// beside adds the places of a pair whose stations stand level, one beyond the other along
// an axis; first is the side at the lesser coordinate. The other stands as close as it
// can, or beyond what is in the way there.
func (s *search) beside(near *nearest, turn registration.Quarter, axis, first int) {
	k, l := &s.kinds[turn][first], &s.kinds[turn][1-first]
	lesser, greater := s.stops(k, axis), s.stops(l, axis)
	level := append(s.stops(k, 1-axis), s.stops(l, 1-axis)...)
	slices.Sort(level)
	take := func(v, w, across int64) {
		p := [2][2]int64{}
		p[first][axis], p[first][1-axis], p[1-first][axis], p[1-first][1-axis] = v, across, w, across
		near.add(s.place(turn, p[0], p[1]))
	}
	apart := s.dist(k, l, axis)
	kWalls, lWalls := s.walls(k, axis), s.walls(l, axis)
	for _, across := range slices.Compact(level) {
		if !s.within(k, 1-axis, across) || !s.within(l, 1-axis, across) {
			continue
		}
		kLane, lLane := s.lane(kWalls, k, axis, across), s.lane(lWalls, l, axis, across)
		froms, tos := kLane.clear(s, lesser), lLane.clear(s, greater)
		beside, i := lLane, 0
		for _, v := range froms {
			least := s.up(v + apart)
			for i < len(tos) && tos[i] < least {
				i++
			}
			if beside.at(s, least) {
				take(v, least, across)
			} else if i < len(tos) {
				take(v, tos[i], across)
			}
		}
		beside, i = kLane, 0
		for _, w := range tos {
			most := s.down(w - apart)
			for i < len(froms) && froms[i] <= most {
				i++
			}
			if beside.at(s, most) {
				take(most, w, across)
			} else if i > 0 {
				take(froms[i-1], w, across)
			}
		}
	}
}

// wall is what a station of a kind can't stand between, corner coordinates along an axis,
// while it is level with a thing across it.
type wall struct {
	lo, hi int64
	thing  *thing
}

// walls lists them by their lesser ends.
func (s *search) walls(k *kind, axis int) (out []wall) {
	for i := range s.stations {
		t := &s.stations[i]
		out = append(out, wall{t.lo[axis] - t.gap - k.swept.hi[axis], t.hi[axis] + t.gap - k.swept.lo[axis], t})
	}
	slices.SortFunc(out, func(a, b wall) int { return cmp.Compare(a.lo, b.lo) })
	return out
}

// lane is one row or column for one kind of station. It is walked once, from the least
// coordinate on.
type lane struct {
	walls  []wall // by their lesser ends
	lo, hi int64  // bounds of the corner
	end    int64  // the greatest end of the walls passed
}

// lane gives the row or column at a coordinate across.
func (s *search) lane(walls []wall, k *kind, axis int, across int64) lane {
	l := lane{end: math.MinInt64}
	l.lo, l.hi = s.bounds(k, axis)
	lo, hi := across+k.swept.lo[1-axis], across+k.swept.hi[1-axis]
	for _, w := range walls {
		if t := w.thing; lo < t.hi[1-axis]+t.gap && t.lo[1-axis] < hi+t.gap {
			l.walls = append(l.walls, w)
		}
	}
	return l
}

// at reports whether a station can stand at v, which is no less than at the call before:
// not between the ends of any wall, so not before the greatest end of those that begin
// before v.
func (l *lane) at(s *search, v int64) bool {
	s.left--
	for len(l.walls) > 0 && l.walls[0].lo < v {
		l.end = max(l.end, l.walls[0].hi)
		l.walls = l.walls[1:]
	}
	return v >= l.end && l.lo <= v && v <= l.hi
}

// clear gives those of the places, in order, at which a station can stand.
func (l lane) clear(s *search, places []int64) (out []int64) {
	for _, v := range places {
		if l.at(s, v) {
			out = append(out, v)
		}
	}
	return out
}

// stops lists in order the corner coordinates at which k stops along an axis.
func (s *search) stops(k *kind, axis int) (out []int64) {
	lo, hi := s.bounds(k, axis)
	out = append(out, s.up(lo), s.down(hi))
	for _, t := range s.stations {
		out = append(out, s.up(t.hi[axis]+t.gap-k.swept.lo[axis]), s.down(t.lo[axis]-t.gap-k.swept.hi[axis]))
	}
	out = slices.DeleteFunc(out, func(v int64) bool { return v < lo || v > hi })
	slices.Sort(out)
	return slices.Compact(out)
}

// within reports whether k's corner is inside its bounds along an axis.
func (s *search) within(k *kind, axis int, v int64) bool {
	lo, hi := s.bounds(k, axis)
	return lo <= v && v <= hi
}

// one gives the place of one station whose blank's middle is nearest to home: where its
// rows and columns cross, or level with home.
func (h *hall) one(k *kind) (at [2]int64, ok bool) {
	s := &search{hall: h, stations: h.things}
	var places [2][]int64
	for axis := range 2 {
		level := h.home[axis] - k.blank.hi[axis]/2
		places[axis] = slices.DeleteFunc(append(s.stops(k, axis), h.down(level), h.up(level)), func(v int64) bool { return !s.within(k, axis, v) })
	}
	least := int64(0)
	for _, x := range places[0] {
		for _, y := range places[1] {
			c := [2]int64{x, y}
			far := abs(x+k.blank.hi[0]/2-h.home[0]) + abs(y+k.blank.hi[1]/2-h.home[1])
			if ok && far >= least || slices.ContainsFunc(h.things, func(t thing) bool { return k.swept.at(c).near(t.box, t.gap) }) {
				continue
			}
			at, least, ok = c, far, true
		}
	}
	return at, ok
}

// tried lists the turns for up to so many turned pairs.
func (h *hall) tried(turned int) []registration.Quarter {
	if turned == 0 {
		return h.turns[:1]
	}
	return h.turns
}

// fits reports whether n pairs are found to fit, up to turned of them turned.
func (h *hall) fits(n, turned int) bool { return h.find(anyhow, n, min(n, turned)) != nil }

// best finds n pairs, as few of them turned as it can; nil where it finds none.
func (h *hall) best(n, turned int) []pair {
	for t := 0; t <= min(n, turned); t++ {
		if h.find(anyhow, n, t) == nil {
			continue
		}
		for _, st := range styles {
			if found := h.find(st, n, t); found != nil {
				return found
			}
		}
	}
	return nil
}

// short gives how far bed and travel would have to grow at their greatest end of
// an axis so that n pairs fit, or -1 if that doesn't help.
func (h *hall) short(n, turned, axis int) int64 {
	fits := func(d int64) bool {
		g := *h
		g.bed.hi[axis] += d
		g.travel.hi[axis] += d
		return g.fits(n, turned)
	}
	// All stations in a row beyond all that stands there.
	var row int64
	end := max(h.bed.hi[axis], h.travel.hi[axis])
	for _, t := range h.things {
		row = max(row, t.hi[axis]+t.gap-end)
	}
	for _, t := range h.tried(turned) {
		for _, k := range h.kinds[t] {
			row += int64(2*n) * (k.swept.hi[axis] - k.swept.lo[axis] + k.reach.hi[axis] - k.reach.lo[axis] + h.gap + h.step)
		}
	}
	whole := row/h.step + 1
	if !fits(whole * h.step) {
		return -1
	}
	no := int64(0) // doesn't fit
	for whole-no > 1 {
		if mid := (whole + no) / 2; fits(mid * h.step) {
			whole = mid
		} else {
			no = mid
		}
	}
	// Within that step it is a station's corner on a whole step that makes the end.
	var ends []int64
	for _, t := range h.tried(turned) {
		for _, k := range h.kinds[t] {
			for _, e := range []int64{h.bed.hi[axis] - k.body.hi[axis], h.travel.hi[axis] - k.reach.hi[axis]} {
				ends = append(ends, no*h.step+h.up(e+no*h.step)-(e+no*h.step))
			}
		}
	}
	slices.Sort(ends)
	for _, d := range ends {
		if d > no*h.step && fits(d) {
			return d
		}
	}
	return whole * h.step
}
