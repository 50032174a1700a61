package cut

import (
	"math"
)

// cores are the parts of a piece that are as wide as a neck must be: where a disc of that
// width fits, joined as the disc can be moved.
type cores struct {
	distances
	label []int32 // by cell: its core, from 1; 0 is none
	cells []int   // by core
}

// cores finds those of a piece; r is the disc's radius in cells.
func (g *Grid) cores(spans []span, r float64) *cores {
	c := &cores{distances: g.distances(spans)}
	c.label = make([]int32, len(c.square))
	c.cells = []int{0}
	var next []int
	for k := range c.square {
		if !c.wide(k, r) || c.label[k] != 0 {
			continue
		}
		n := int32(len(c.cells))
		c.cells = append(c.cells, 0)
		c.label[k] = n
		next = append(next[:0], k)
		for len(next) > 0 {
			at := next[len(next)-1]
			next = next[:len(next)-1]
			c.cells[n]++
			for _, d := range [4]int{1, -1, c.w, -c.w} {
				if e := at + d; c.label[e] == 0 && c.wide(e, r) {
					c.label[e] = n
					next = append(next, e)
				}
			}
		}
	}
	return c
}

func (c *cores) wide(k int, r float64) bool {
	return c.square[k] > 0 && float64(c.square[k]) >= r*r
}

// near gives the cores within a rectangle of cells, as far as in has them, and the radius of the
// widest disc there.
func (c *cores) near(i0, j0, i1, j1 int, in func(i, j int) bool) (found map[int32]bool, widest float64) {
	found = map[int32]bool{}
	for j := max(0, j0-c.j0); j <= min(c.h-1, j1-c.j0); j++ {
		for i := max(0, i0-c.i0); i <= min(c.w-1, i1-c.i0); i++ {
			if !in(i+c.i0, j+c.j0) {
				continue
			}
			k := j*c.w + i
			widest = max(widest, float64(c.square[k]))
			if c.label[k] > 0 {
				found[c.label[k]] = true
			}
		}
	}
	return found, math.Sqrt(widest)
}

// holding is how the cores of pieces hang together over tabs.
type holding struct {
	s     *study
	split [][]span // by piece
	disc  float64  // radius of the disc, in cells
	known map[int]*cores
	first map[int]int32 // by piece: its core 1, less one
	set   union         // cores that are joined; 0 is what holds the blank
}

// of gives the cores of a piece.
func (h *holding) of(piece int) *cores {
	c := h.known[piece]
	if c == nil {
		c = h.s.g.cores(h.split[piece], h.disc)
		h.known[piece], h.first[piece] = c, int32(len(h.set))-1
		for range len(c.cells) - 1 {
			h.set.add()
		}
	}
	return c
}

// hold joins a core to what holds the blank.
func (h *holding) hold(piece int, core int32) { h.set.join(0, h.first[piece]+core) }

func (h *holding) isHeld(piece int, core int32) bool {
	return h.set.find(h.first[piece]+core) == h.set.find(0)
}

// anyHeld says whether some core of a piece is held.
func (h *holding) anyHeld(piece int) bool {
	for n := 1; n < len(h.of(piece).cells); n++ {
		if h.isHeld(piece, int32(n)) {
			return true
		}
	}
	return false
}

// anchor holds what of a piece the maker holds there on a side: the cores at the places named
// and under the clamps, or the largest one where nothing is named.
func (h *holding) anchor(piece, side int) {
	g, places := h.s.g, h.s.clamps(side)
	for _, p := range h.s.q.Held {
		places = append(places, body{Rect: Rect{X: p[0], Y: p[1]}, f: level})
	}
	c := h.of(piece)
	if len(places) == 0 {
		best := 0
		for n, v := range c.cells {
			if v > c.cells[best] {
				best = n
			}
		}
		if best > 0 {
			h.hold(piece, int32(best))
		}
		return
	}
	reach := (math.Ceil(h.disc) + 1.5) * g.Cell // to the middle of a cell that many on
	for _, p := range places {
		i0, j0, i1, j1 := p.cells(g, reach)
		found, _ := c.near(i0, j0, i1, j1, func(i, j int) bool { return p.reaches(g, i, j, reach) })
		for n := range found {
			h.hold(piece, n)
		}
	}
}

// landing is what a tab lands on, of either piece that it joins.
type landing struct {
	cores [2]map[int32]bool
	width float64 // radius of the widest disc there on the narrower one, in cells
}

// land joins the cores that a tab lands on.
func (h *holding) land(b *bridge) landing {
	g := h.s.g
	i, j := g.cellAt(b.X, b.Y)
	d := int(math.Ceil((b.across/2+h.s.neck()/2)/g.Cell)) + 2
	l := landing{width: math.Inf(1)}
	last := int32(-1)
	for n, piece := range b.pieces {
		found, w := h.of(piece).near(i-d, j-d, i+d, j+d, func(int, int) bool { return true })
		l.cores[n], l.width = found, min(l.width, w)
		for c := range found {
			if last >= 0 {
				h.set.join(last, h.first[piece]+c)
			}
			last = h.first[piece] + c
		}
	}
	return l
}

// hanging gives the tabs that hang on nothing that is held: neither of the pieces that a tab
// joins leads from there to what is held by a way as wide as the neck asked for, over tabs
// that hold in turn; or a piece that is held elsewhere is narrower there. widths are how wide the narrower piece is there, mm.
func (s *study) hanging(all []bridge, pieces *regions, side int) (bad []bridge, widths []float64) {
	g, neck := s.g, s.neck()
	if s.q.HeldAll || len(all) == 0 || neck == 0 {
		return nil, nil
	}
	h := &holding{s: s, split: pieces.split(), disc: max(1, neck/2/g.Cell-1), // walls are known to a cell
		known: map[int]*cores{}, first: map[int]int32{}}
	h.set.add()
	for piece := range s.held(pieces, side) {
		h.anchor(piece, side)
	}
	lands := make([]landing, len(all))
	for k := range all {
		lands[k] = h.land(&all[k])
	}
	for k, b := range all {
		hangs, sound := false, true
		for n, piece := range b.pieces {
			for c := range lands[k].cores[n] {
				hangs = hangs || h.isHeld(piece, c)
			}
			sound = sound && (len(lands[k].cores[n]) > 0 || !h.anyHeld(piece))
		}
		if !hangs || !sound {
			bad, widths = append(bad, b), append(widths, max(0, (2*lands[k].width-1)*g.Cell))
		}
	}
	return bad, widths
}
