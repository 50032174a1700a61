package cut

import "math"

// cores are the parts of pieces that are as wide as a neck must be: where a disc of that
// width fits, joined as the disc can be moved; and how they hang together over tabs.
type cores struct {
	*regions
	s      *study
	pieces *regions
	away   distances
	disc   float64 // radius of the disc, in cells
	piece  []int   // by core
	set    union   // of cores that are joined; the last is what holds the blank
}

// cores finds those of all pieces.
func (s *study) cores(pieces *regions) *cores {
	c := &cores{s: s, pieces: pieces, away: s.g.distances(pieces.spans), disc: max(1, s.neck()/2/s.g.Cell-1)} // walls are known to a cell
	c.regions = s.g.connect(false, func(i, j int) bool { return float64(c.away.at(i, j)) >= c.disc*c.disc })
	c.piece = make([]int, c.n)
	for _, sp := range c.spans {
		c.piece[sp.label] = pieces.label(int(sp.i0), int(sp.j))
	}
	for range c.n + 1 {
		c.set.add()
	}
	return c
}

// near gives a piece's cores on the cells of a rectangle for which on holds, and the radius of its
// widest disc there.
func (c *cores) near(piece, i0, j0, i1, j1 int, on func(i, j int) bool) (found map[int]bool, widest float64) {
	found = map[int]bool{}
	for j := max(0, j0); j <= min(c.g.NY-1, j1); j++ {
		for i := max(0, i0); i <= min(c.g.NX-1, i1); i++ {
			if c.pieces.label(i, j) != piece || !on(i, j) {
				continue
			}
			widest = max(widest, float64(c.away.at(i, j)))
			if n := c.label(i, j); n >= 0 {
				found[n] = true
			}
		}
	}
	return found, math.Sqrt(widest)
}

// hold joins a core to what holds the blank.
func (c *cores) hold(core int) { c.set.join(int32(core), int32(c.n)) }

func (c *cores) isHeld(core int) bool { return c.set.find(int32(core)) == c.set.find(int32(c.n)) }

// anyHeld says whether some core of a piece is held.
func (c *cores) anyHeld(piece int) bool {
	for n, p := range c.piece {
		if p == piece && c.isHeld(n) {
			return true
		}
	}
	return false
}

// anchor holds what of a piece the maker holds there on a side: the cores at the places named
// and under the clamps, or the largest one where nothing is named.
func (c *cores) anchor(piece, side int) {
	g, places := c.s.g, c.s.clamps(side)
	for _, p := range c.s.q.Held {
		places = append(places, body{Rect: Rect{X: p[0], Y: p[1]}, f: level})
	}
	if len(places) == 0 {
		best, cells := -1, c.cells()
		for n, p := range c.piece {
			if p == piece && (best < 0 || cells[n] > cells[best]) {
				best = n
			}
		}
		if best >= 0 {
			c.hold(best)
		}
		return
	}
	reach := (math.Ceil(c.disc) + 1.5) * g.Cell // to the middle of a cell that many on
	for _, p := range places {
		i0, j0, i1, j1 := p.cells(g, reach)
		found, _ := c.near(piece, i0, j0, i1, j1, func(i, j int) bool { return p.reaches(g, i, j, reach) })
		for n := range found {
			c.hold(n)
		}
	}
}

// landing is what a tab lands on, of either piece that it joins.
type landing struct {
	cores [2]map[int]bool
	width float64 // radius of the widest disc there on the narrower one, in cells
}

// land joins the cores that a tab lands on.
func (c *cores) land(b *bridge) landing {
	g := c.s.g
	i, j := g.cellAt(b.X, b.Y)
	d := int(math.Ceil((b.across/2+c.s.neck()/2)/g.Cell)) + 2
	l := landing{width: math.Inf(1)}
	last := -1
	for n, piece := range b.pieces {
		found, w := c.near(piece, i-d, j-d, i+d, j+d, func(int, int) bool { return true })
		l.cores[n], l.width = found, min(l.width, w)
		for core := range found {
			if last >= 0 {
				c.set.join(int32(last), int32(core))
			}
			last = core
		}
	}
	return l
}

// hanging gives the tabs that hang on nothing that is held: neither of the pieces that a tab
// joins leads from there to what is held by a way as wide as the neck asked for, over tabs
// that hold in turn; or a piece that is held elsewhere is narrower there. widths are how wide the narrower piece is there, mm.
func (s *study) hanging(tabs []bridge, pieces *regions, side int) (bad []bridge, widths []float64) {
	if s.q.HeldAll || len(tabs) == 0 || s.neck() == 0 {
		return nil, nil
	}
	all := s.cores(pieces)
	for piece := range s.held(pieces, side) {
		all.anchor(piece, side)
	}
	lands := make([]landing, len(tabs))
	for k := range tabs {
		lands[k] = all.land(&tabs[k])
	}
	for k, b := range tabs {
		hangs, sound := false, true
		for n, piece := range b.pieces {
			for c := range lands[k].cores[n] {
				hangs = hangs || all.isHeld(c)
			}
			sound = sound && (len(lands[k].cores[n]) > 0 || !all.anyHeld(piece))
		}
		if !hangs || !sound {
			bad, widths = append(bad, b), append(widths, max(0, (2*lands[k].width-1)*s.g.Cell))
		}
	}
	return bad, widths
}
