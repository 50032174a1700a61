package cut

import (
	"math"
	"slices"
)

// bridge is a place where what is left under cuts that are meant to go through joins two
// pieces.
type bridge struct {
	pieces [2]int
	height float64 // mm: that which half of it reaches
	length float64 // mm, along the groove
	Spot           // a place in its middle
	across float64 // mm: diameter of the wider cutter there
}

// bridges finds the places where pieces are joined by what is left under cuts that are
// meant to go through. Each cell there is counted to the piece that is nearest, going
// from cell to cell; where cells of two pieces meet is a bridge. So a ledge along a wall
// is part of its piece, and a bridge is looked at in the middle of the groove.
func (s *study) bridges(pieces *regions, part func(label int) bool) []bridge {
	g := s.g
	r := g.connectAt(false, false, func(c *tile, k, i, j int) bool {
		return g.T+float64(c.h[faceSide][k])+float64(c.h[backSide][k]) > solidSlack && pieces.label(i, j) < 0
	})
	first := make([]int, len(r.spans)) // by span: the number of its first cell
	n := 0
	for i, sp := range r.spans {
		first[i] = n
		n += int(sp.i1-sp.i0) + 1
	}
	to := make([]int32, n) // by cell: the piece that it is counted to, and one more
	at := func(i, j int) int {
		if sp := r.find(i, j); sp >= 0 {
			return first[sp] + i - int(r.spans[sp].i0)
		}
		return -1
	}
	var out []bridge
	for _, spans := range r.split() {
		if len(pieces.beside(spans, false, part)) < 2 {
			continue
		}
		var next [][2]int
		for i, j := range cells(spans) {
			for _, d := range sides {
				if l := pieces.label(i+d[0], j+d[1]); l >= 0 && part(l) {
					to[at(i, j)] = int32(l + 1)
					next = append(next, [2]int{i, j})
					break
				}
			}
		}
		for ; len(next) > 0; next = next[1:] {
			l := to[at(next[0][0], next[0][1])]
			for _, d := range sides {
				i, j := next[0][0]+d[0], next[0][1]+d[1]
				if n := at(i, j); n >= 0 && to[n] == 0 {
					to[n] = l
					next = append(next, [2]int{i, j})
				}
			}
		}
		out = append(out, s.fronts(spans, func(i, j int) int {
			if n := at(i, j); n >= 0 {
				return int(to[n]) - 1
			}
			return -1
		})...)
	}
	return out
}

// sides are the four cells beside a cell.
var sides = [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// fronts finds where cells that are counted to two pieces meet. A front with h meetings
// along X and v along Y is sqrt(h^2 + v^2) cells long, exact where it is straight.
func (s *study) fronts(spans []span, piece func(i, j int) int) []bridge {
	g := s.g
	type meet struct{ h, v, other int }
	on := map[[2]int]meet{}
	var front [][2]int
	for i, j := range cells(spans) {
		m := meet{other: -1}
		for _, d := range sides {
			if l := piece(i+d[0], j+d[1]); l >= 0 && l != piece(i, j) {
				m.other = l
				m.h += d[0] * d[0] // each meeting is seen from both its cells
				m.v += d[1] * d[1]
			}
		}
		if m.other >= 0 {
			on[[2]int{i, j}] = m
			front = append(front, [2]int{i, j})
		}
	}
	var out []bridge
	for _, c := range front {
		m, ok := on[c]
		if !ok {
			continue
		}
		b := bridge{pieces: [2]int{piece(c[0], c[1]), m.other}}
		var heights []float64
		h, v := 0, 0
		list := [][2]int{c}
		delete(on, c)
		add := func(c [2]int, m meet) {
			h, v = h+m.h, v+m.v
			heights = append(heights, g.Web(c[0], c[1]))
		}
		add(c, m)
		for n := 0; n < len(list); n++ {
			for dj := -1; dj <= 1; dj++ {
				for di := -1; di <= 1; di++ {
					e := [2]int{list[n][0] + di, list[n][1] + dj}
					if m, ok := on[e]; ok {
						delete(on, e)
						list = append(list, e)
						add(e, m)
					}
				}
			}
		}
		b.length = math.Hypot(float64(h), float64(v)) / 2 * g.Cell
		mid := list[0] // the cell nearest to the middle of them all
		var mx, my float64
		for _, e := range list {
			mx, my = mx+float64(e[0])/float64(len(list)), my+float64(e[1])/float64(len(list))
		}
		away := func(e [2]int) float64 { return math.Hypot(float64(e[0])-mx, float64(e[1])-my) }
		for _, e := range list {
			if away(e) < away(mid) {
				mid = e
			}
		}
		b.Spot = g.spot(mid[0], mid[1])
		for side, line := range [2]int{b.FaceLine, b.BackLine} {
			if f := s.over(side, b.X, b.Y); f != nil && line == 0 {
				line = int(f.line)
				b.setLine(side, line)
			}
			if line > 0 {
				b.across = max(b.across, s.runs[side].toolAt(line).Diameter)
			}
		}
		slices.Sort(heights)
		b.height = heights[len(heights)/2]
		out = append(out, b)
	}
	return out
}
