package cut

import (
	"iter"
	"slices"
)

// span is the cells i0 to i1 (both included) of row j, in region label.
type span struct {
	j, i0, i1 int32
	label     int32
}

// size counts its cells.
func (s span) size() int { return int(s.i1-s.i0) + 1 }

// cells goes over the cells of spans.
func cells(spans []span) iter.Seq2[int, int] {
	return func(yield func(i, j int) bool) {
		for _, sp := range spans {
			for i := int(sp.i0); i <= int(sp.i1); i++ {
				if !yield(i, int(sp.j)) {
					return
				}
			}
		}
	}
}

// union is sets of things that are counted from 0, each thing by another of its set or itself.
type union []int32

// add adds a thing that is alone.
func (u *union) add() int32 {
	*u = append(*u, int32(len(*u)))
	return int32(len(*u) - 1)
}

// find gives the thing that stands for a's set.
func (u union) find(a int32) int32 {
	for u[a] != a {
		u[a] = u[u[a]]
		a = u[a]
	}
	return a
}

// join makes one set of those of a and b.
func (u union) join(a, b int32) {
	x, y := u.find(a), u.find(b)
	u[max(x, y)] = min(x, y)
}

// regions is a grid split into connected sets of cells.
type regions struct {
	g     *Grid
	spans []span // by row, then column
	row   []int  // by row: its first span; one more at the end
	n     int    // how many regions
}

// connect finds the connected sets of cells for which in holds. corners says that cells which
// touch at a corner belong together, as cuts do; what is left of the material touches at sides
// only.
func (g *Grid) connect(corners bool, in func(i, j int) bool) *regions {
	r := &regions{g: g, row: make([]int, g.NY+1)}
	var set union
	reach := int32(0)
	if corners {
		reach = 1
	}
	for j := range g.NY {
		r.row[j] = len(r.spans)
		for i := 0; i < g.NX; i++ {
			from := i
			for i < g.NX && in(i, j) {
				i++
			}
			if i > from {
				r.spans = append(r.spans, span{int32(j), int32(from), int32(i - 1), set.add()})
			}
		}
		if j > 0 {
			r.meet(j, reach, set)
		}
	}
	r.row[g.NY] = len(r.spans)
	r.number(set)
	return r
}

// meet joins the spans of row j, the last one so far, with those of the row before that come
// within reach: both rows are in order.
func (r *regions) meet(j int, reach int32, set union) {
	a, b := r.row[j-1], r.row[j]
	for a < r.row[j] && b < len(r.spans) {
		p, q := &r.spans[a], &r.spans[b]
		if p.i0 <= q.i1+reach && q.i0 <= p.i1+reach {
			set.join(p.label, q.label)
		}
		if p.i1 < q.i1 {
			a++
		} else {
			b++
		}
	}
}

// number numbers the regions by their first span.
func (r *regions) number(set union) {
	number := make([]int32, len(set))
	for i := range number {
		number[i] = -1
	}
	for i := range r.spans {
		root := set.find(r.spans[i].label)
		if number[root] < 0 {
			number[root] = int32(r.n)
			r.n++
		}
		r.spans[i].label = number[root]
	}
}

// find gives the span that holds a cell, -1 for none.
func (r *regions) find(i, j int) int {
	if !r.g.inside(i, j) {
		return -1
	}
	lo, hi := r.row[j], r.row[j+1]
	for lo < hi {
		m := (lo + hi) / 2
		if int(r.spans[m].i1) < i {
			lo = m + 1
		} else {
			hi = m
		}
	}
	if lo < r.row[j+1] && int(r.spans[lo].i0) <= i {
		return lo
	}
	return -1
}

// label gives the region of a cell, -1 for none.
func (r *regions) label(i, j int) int {
	if n := r.find(i, j); n >= 0 {
		return int(r.spans[n].label)
	}
	return -1
}

// numbers gives the number of a cell among all those of the regions, -1 for one in none, and
// how many there are.
func (r *regions) numbers() (at func(i, j int) int, n int) {
	first := make([]int, len(r.spans)) // by span: the number of its first cell
	for i, sp := range r.spans {
		first[i] = n
		n += sp.size()
	}
	return func(i, j int) int {
		if sp := r.find(i, j); sp >= 0 {
			return first[sp] + i - int(r.spans[sp].i0)
		}
		return -1
	}, n
}

// cells counts the cells of each region.
func (r *regions) cells() []int {
	n := make([]int, r.n)
	for _, s := range r.spans {
		n[s.label] += s.size()
	}
	return n
}

// large gives a function that says of a region whether it counts as a part and not as a chip.
func (r *regions) large() func(label int) bool {
	cells := r.cells()
	area := r.g.Cell * r.g.Cell
	return func(label int) bool { return float64(cells[label])*area >= max(minLoose, 9*area) }
}

// split gives each region's spans.
func (r *regions) split() [][]span {
	count := make([]int, r.n)
	for _, s := range r.spans {
		count[s.label]++
	}
	all := make([]span, 0, len(r.spans))
	out := make([][]span, r.n)
	for i, c := range count {
		n := len(all)
		out[i] = all[n : n : n+c]
		all = all[:n+c]
	}
	for _, s := range r.spans {
		out[s.label] = append(out[s.label], s)
	}
	return out
}

// beside gives the pieces that lie beside a region, or corner to corner with it, of those that
// count, each once.
func (r *regions) beside(spans []span, corners bool, counts func(label int) bool) []int {
	var labels []int
	for _, sp := range spans {
		for j := max(0, sp.j-1); j <= min(int32(r.g.NY)-1, sp.j+1); j++ {
			reach := int32(0)
			if corners || j == sp.j {
				reach = 1
			}
			row := r.spans[r.row[j]:r.row[j+1]]
			n, _ := slices.BinarySearchFunc(row, sp.i0-reach, func(p span, i int32) int { return int(p.i1 - i) })
			for ; n < len(row) && row[n].i0 <= sp.i1+reach; n++ {
				if l := int(row[n].label); counts(l) && !slices.Contains(labels, l) {
					labels = append(labels, l)
				}
			}
		}
	}
	return labels
}
