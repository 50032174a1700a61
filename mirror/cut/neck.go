package cut

import "math"

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

// near gives the cores within a rectangle of cells, and the radius of the widest disc there.
func (c *cores) near(i0, j0, i1, j1 int) (found map[int32]bool, widest float64) {
	found = map[int32]bool{}
	for j := max(0, j0-c.j0); j <= min(c.h-1, j1-c.j0); j++ {
		for i := max(0, i0-c.i0); i <= min(c.w-1, i1-c.i0); i++ {
			k := j*c.w + i
			widest = max(widest, float64(c.square[k]))
			if c.label[k] > 0 {
				found[c.label[k]] = true
			}
		}
	}
	return found, math.Sqrt(widest)
}

// hanging gives the tabs that hang on nothing that is held: neither of the pieces that a tab
// joins leads from there to what is held by a way as wide as the neck asked for, over tabs
// that hold in turn; or a piece that is held elsewhere is narrower there. widths are how wide the narrower piece is there, mm.
func (s *study) hanging(all []bridge, pieces *regions, side int) (bad []bridge, widths []float64) {
	g := s.g
	neck := s.neck()
	if s.q.HeldAll || len(all) == 0 || neck == 0 {
		return nil, nil
	}
	r := max(1, neck/2/g.Cell-1) // walls are known to a cell
	split := pieces.split()
	known := map[int]*cores{}
	of := func(label int) *cores {
		if known[label] == nil {
			known[label] = g.cores(split[label], r)
		}
		return known[label]
	}
	type core struct {
		piece int
		n     int32
	}
	holds := map[core]bool{}
	hold := func(label, i0, j0, i1, j1 int) {
		found, _ := of(label).near(i0, j0, i1, j1)
		for n := range found {
			holds[core{label, n}] = true
		}
	}
	reach := int(math.Ceil(r)) + 1
	for label := range s.held(pieces, side) {
		if len(s.q.Held)+len(s.q.Clamped[side]) == 0 {
			c, best := of(label), 0
			for n, v := range c.cells {
				if v > c.cells[best] {
					best = n
				}
			}
			holds[core{label, int32(best)}] = best > 0
			continue
		}
		for _, p := range s.q.Held {
			i, j := g.cellAt(p[0], p[1])
			hold(label, i-reach, j-reach, i+reach, j+reach)
		}
		for _, c := range s.q.Clamped[side] {
			i0, j0 := g.cellAt(c.X, c.Y)
			i1, j1 := g.cellAt(c.X+c.W, c.Y+c.H)
			hold(label, i0-reach, j0-reach, i1+reach, j1+reach)
		}
	}
	done := make([]bool, len(all))
	landing := func(b bridge, n int) (map[int32]bool, float64) {
		i, j := g.cellAt(b.X, b.Y)
		d := int(math.Ceil((b.across/2+neck/2)/g.Cell)) + 2
		return of(b.pieces[n]).near(i-d, j-d, i+d, j+d)
	}
	for again := true; again; {
		again = false
		for k, b := range all {
			if done[k] {
				continue
			}
			for n := range 2 {
				cores, _ := landing(b, n)
				for c := range cores {
					done[k] = done[k] || holds[core{b.pieces[n], c}]
				}
			}
			if !done[k] {
				continue
			}
			again = true
			for n := range 2 {
				cores, _ := landing(b, n)
				for c := range cores {
					holds[core{b.pieces[n], c}] = true
				}
			}
		}
	}
	held := map[int]bool{} // pieces of which some is
	for c, ok := range holds {
		held[c.piece] = held[c.piece] || ok
	}
	for k, b := range all {
		f, v := landing(b, 0)
		o, w := landing(b, 1)
		if done[k] && (len(f) > 0 || !held[b.pieces[0]]) && (len(o) > 0 || !held[b.pieces[1]]) {
			continue
		}
		bad, widths = append(bad, b), append(widths, max(0, (2*min(v, w)-1)*g.Cell))
	}
	return bad, widths
}
