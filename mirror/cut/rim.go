package cut

import (
	"math"
	"slices"
)

// rim is one cell at the edge of a region, with the direction out of it and how
// far the region reaches straight in from there.
type rim struct {
	i, j   int
	nx, ny float64 // outwards, of length 1
	width  float64 // mm
}

// out gives the cell that lies d cells straight out.
func (m rim) out(d float64) (i, j int) {
	return int(math.Round(float64(m.i) + m.nx*d)), int(math.Round(float64(m.j) + m.ny*d))
}

// maxRims bounds how many cells of a region's edge are looked at.
const maxRims = 600

// rims gives cells spread evenly over the edge of region label, whose spans are
// given. Cells at the edge of the blank are left out: what ends there ends for
// want of material.
func (r *regions) rims(label int, spans []span) []rim {
	g := r.g
	in := func(i, j int) bool { return r.label(i, j) == label }
	var edge [][2]int
	for i, j := range cells(spans) {
		if i > 0 && j > 0 && i < g.NX-1 && j < g.NY-1 && !(in(i-1, j) && in(i+1, j) && in(i, j-1) && in(i, j+1)) {
			edge = append(edge, [2]int{i, j})
		}
	}
	step := max(1, (len(edge)+maxRims-1)/maxRims)
	var out []rim
	for n := 0; n < len(edge); n += step {
		// One of each step cells, not always the same: the cells lie row by row, and a
		// groove around something has four in each.
		_, part := math.Modf(float64(n/step) * 0.618034)
		at := edge[min(n+int(part*float64(step)), len(edge)-1)]
		i, j := at[0], at[1]
		m := rim{i: i, j: j}
		if m.nx, m.ny = outward(i, j, in); m.nx == 0 && m.ny == 0 {
			continue
		}
		// Walk in until the region ends.
		limit := float64(g.NX + g.NY)
		d := 0.5
		for ; d < limit; d += 0.5 {
			if !in(m.out(-d)) {
				break
			}
		}
		m.width = (d + 0.5) * g.Cell
		out = append(out, m)
	}
	return out
}

// outward gives the direction, of length 1, out of a region at a cell of its edge: to the cells
// around that aren't in it.
func outward(i, j int, in func(i, j int) bool) (nx, ny float64) {
	const reach = 3
	for dj := -reach; dj <= reach; dj++ {
		for di := -reach; di <= reach; di++ {
			if di*di+dj*dj <= reach*reach+1 && !in(i+di, j+dj) {
				nx += float64(di)
				ny += float64(dj)
			}
		}
	}
	if l := math.Hypot(nx, ny); l > 0 {
		return nx / l, ny / l
	}
	return 0, 0
}

// width gives a region's usual width across: three quarters of its edge are no
// farther from the edge opposite. The ends of a groove, which see its length, are
// few; a pocket shows its size.
func width(rims []rim) float64 {
	if len(rims) == 0 {
		return 0
	}
	w := make([]float64, len(rims))
	for n := range rims {
		w[n] = rims[n].width
	}
	slices.Sort(w)
	return w[len(w)*3/4]
}

// cellBox is a rectangle of cells, both ends included.
type cellBox struct{ i0, j0, i1, j1 int }

// box gives the one around spans.
func box(spans []span) cellBox {
	b := cellBox{i0: math.MaxInt32, j0: int(spans[0].j)}
	for _, s := range spans {
		b.i0, b.i1, b.j1 = min(b.i0, int(s.i0)), max(b.i1, int(s.i1)), int(s.j)
	}
	return b
}

// with gives the one around both.
func (b cellBox) with(o cellBox) cellBox {
	return cellBox{min(b.i0, o.i0), min(b.j0, o.j0), max(b.i1, o.i1), max(b.j1, o.j1)}
}

// middle gives the cell in its middle.
func (b cellBox) middle() (i, j int) { return (b.i0 + b.i1) / 2, (b.j0 + b.j1) / 2 }

// apart gives how far the middles of two lie apart, in cells.
func (b cellBox) apart(o cellBox) float64 {
	return math.Hypot(float64(b.i0+b.i1-o.i0-o.i1), float64(b.j0+b.j1-o.j0-o.j1)) / 2
}

// across gives the longer side, in cells.
func (b cellBox) across() float64 { return float64(max(b.i1-b.i0, b.j1-b.j0) + 1) }
