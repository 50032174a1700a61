package cut

import (
	"cmp"
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
	r := g.connect(false, func(i, j int) bool { return g.Web(i, j) > solidSlack && pieces.label(i, j) < 0 })
	at, n := r.numbers()
	to := make([]int32, n) // by cell: the piece that it is counted to, and one more
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

// meeting is how a cell meets cells that are counted to another piece: along X and along Y.
type meeting struct{ h, v, other int }

// fronts finds where cells that are counted to two pieces meet.
func (s *study) fronts(spans []span, piece func(i, j int) int) (out []bridge) {
	on := map[[2]int]meeting{}
	var front [][2]int
	for i, j := range cells(spans) {
		m := meeting{other: -1}
		for _, d := range sides {
			if l := piece(i+d[0], j+d[1]); l >= 0 && l != piece(i, j) {
				m.other = l
				m.h += d[0] * d[0]
				m.v += d[1] * d[1]
			}
		}
		if m.other >= 0 {
			on[[2]int{i, j}] = m
			front = append(front, [2]int{i, j})
		}
	}
	for _, c := range front {
		m, ok := on[c]
		if !ok {
			continue
		}
		b := s.front(c, on)
		b.pieces = [2]int{piece(c[0], c[1]), m.other}
		out = append(out, b)
	}
	return out
}

// front takes the front that holds a cell out of on, and gives its bridge. With h meetings
// along X and v along Y it is sqrt(h^2 + v^2) cells long, exact where it is straight.
func (s *study) front(c [2]int, on map[[2]int]meeting) (b bridge) {
	g := s.g
	var heights []float64
	var list [][2]int
	h, v := 0, 0 // each meeting is seen from both its cells
	add := func(c [2]int) {
		if m, ok := on[c]; ok {
			delete(on, c)
			list = append(list, c)
			h, v = h+m.h, v+m.v
			heights = append(heights, g.Web(c[0], c[1]))
		}
	}
	add(c)
	for n := 0; n < len(list); n++ {
		for dj := -1; dj <= 1; dj++ {
			for di := -1; di <= 1; di++ {
				add([2]int{list[n][0] + di, list[n][1] + dj})
			}
		}
	}
	b.length = math.Hypot(float64(h), float64(v)) / 2 * g.Cell
	slices.Sort(heights)
	b.height = heights[len(heights)/2]
	mid := amidst(list)
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
	return b
}

// amidst gives the cell nearest to the middle of them all.
func amidst(list [][2]int) [2]int {
	var mx, my float64
	for _, e := range list {
		mx, my = mx+float64(e[0])/float64(len(list)), my+float64(e[1])/float64(len(list))
	}
	away := func(e [2]int) float64 { return math.Hypot(float64(e[0])-mx, float64(e[1])-my) }
	return slices.MinFunc(list, func(a, b [2]int) int { return cmp.Compare(away(a), away(b)) })
}
