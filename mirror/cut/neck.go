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
	// Sets of cores that are joined by tabs; 0 is what holds the blank.
	var set union
	anchor := set.add()
	first := map[int]int32{} // by piece: its core 1, less one
	of := func(label int) *cores {
		c := known[label]
		if c == nil {
			c = g.cores(split[label], r)
			known[label], first[label] = c, int32(len(set))-1
			for range len(c.cells) - 1 {
				set.add()
			}
		}
		return c
	}
	held := map[int]bool{} // pieces of which some core is held
	hold := func(label int, core int32) { set.join(anchor, first[label]+core) }
	holdIn := func(label, i0, j0, i1, j1 int) {
		found, _ := of(label).near(i0, j0, i1, j1)
		for n := range found {
			hold(label, n)
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
			if best > 0 {
				hold(label, int32(best))
			}
			continue
		}
		for _, p := range s.q.Held {
			i, j := g.cellAt(p[0], p[1])
			holdIn(label, i-reach, j-reach, i+reach, j+reach)
		}
		for _, c := range s.q.Clamped[side] {
			i0, j0 := g.cellAt(c.X, c.Y)
			i1, j1 := g.cellAt(c.X+c.W, c.Y+c.H)
			holdIn(label, i0-reach, j0-reach, i1+reach, j1+reach)
		}
	}
	// What a tab lands on, of either piece that it joins.
	type landing struct {
		cores [2]map[int32]bool
		width float64 // of the narrower one
	}
	land := make([]landing, len(all))
	for k, b := range all {
		i, j := g.cellAt(b.X, b.Y)
		d := int(math.Ceil((b.across/2+neck/2)/g.Cell)) + 2
		land[k].width = math.Inf(1)
		last := int32(-1)
		for n, label := range b.pieces {
			found, w := of(label).near(i-d, j-d, i+d, j+d)
			land[k].cores[n], land[k].width = found, min(land[k].width, w)
			for c := range found {
				if last >= 0 {
					set.join(last, first[label]+c)
				}
				last = first[label] + c
			}
		}
	}
	isHeld := func(label int, core int32) bool { return set.find(first[label]+core) == set.find(anchor) }
	for label, c := range known {
		for n := 1; n < len(c.cells); n++ {
			held[label] = held[label] || isHeld(label, int32(n))
		}
	}
	for k, b := range all {
		hangs, sound := false, true
		for n, label := range b.pieces {
			for c := range land[k].cores[n] {
				hangs = hangs || isHeld(label, c)
			}
			sound = sound && (len(land[k].cores[n]) > 0 || !held[label])
		}
		if !hangs || !sound {
			bad, widths = append(bad, b), append(widths, max(0, (2*land[k].width-1)*g.Cell))
		}
	}
	return bad, widths
}
