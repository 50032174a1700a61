package cut

import (
	"cmp"
	"math"
	"slices"
)

// bundle is the ways of one side that one cutter went, those left out that belong to
// cuts meant to go through.
type bundle struct {
	p       *profile
	ways    []*stroke
	deepest float64
	blocks  map[float64]*squares // by size
}

// bundles sorts a side's strokes by cutter.
func (s *study) bundles(side int) []*bundle {
	r := s.runs[side]
	by := map[*profile]*bundle{}
	var out []*bundle
	add := func(k *stroke) {
		x0, y0, x1, y1 := k.box()
		R := k.p.R
		if x0 > s.g.W+R || y0 > s.g.H+R || x1 < -R || y1 < -R {
			return
		}
		b := by[k.p]
		if b == nil {
			b = &bundle{p: k.p, blocks: map[float64]*squares{}}
			by[k.p] = b
			out = append(out, b)
		}
		b.ways = append(b.ways, k)
		b.deepest = min(b.deepest, k.bottom())
	}
	for n := range r.kept {
		k := &r.kept[n]
		if len(s.stretches[side]) == 0 || len(s.stretches[side][n]) == 0 {
			add(k)
			continue
		}
		slack := 1.0
		if way := k.way(); way > 0 {
			slack = s.pace(k) / way
		}
		from := 0.0
		list := slices.Clone(s.stretches[side][n])
		slices.SortFunc(list, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
		for _, p := range append(list, stretch{from: 1 + slack, to: 1 + slack}) {
			if to := p.from - slack; to > from {
				part := k.part(from, min(to, 1))
				add(&part)
			}
			from = max(from, p.to+slack)
		}
	}
	for n := range r.light {
		add(&r.light[n])
	}
	return out
}

// squares is a blank and a margin around it in squares, with the ways that pass through
// each or within a quarter of its size of it, and the deepest tip there.
type squares struct {
	size, margin float64
	nx, ny       int
	deepest      []float64
	ids          [][]int32
}

// in gives a bundle's blocks of a size.
func (b *bundle) in(g *Grid, size float64) *squares {
	if have := b.blocks[size]; have != nil {
		return have
	}
	n := &squares{size: size, margin: size * math.Ceil(b.p.R/size)}
	n.nx, n.ny = int(math.Ceil((g.W+2*n.margin)/size)), int(math.Ceil((g.H+2*n.margin)/size))
	n.deepest = make([]float64, n.nx*n.ny)
	n.ids = make([][]int32, n.nx*n.ny)
	for id, k := range b.ways {
		way := k.way()
		steps := max(1, int(math.Ceil(way/(size/2))))
		if way == 0 {
			steps = 0
		}
		for m := range steps + 1 {
			x, y, z := k.place(ratio(float64(m), float64(steps)))
			z = max(k.bottom(), z-math.Abs(k.slope)*size/4)
			i, j := int(math.Floor((x+n.margin)/size)), int(math.Floor((y+n.margin)/size))
			if i < 0 || j < 0 || i >= n.nx || j >= n.ny {
				continue
			}
			c := j*n.nx + i
			n.deepest[c] = min(n.deepest[c], z)
			if l := len(n.ids[c]); l == 0 || n.ids[c][l-1] != int32(id) {
				n.ids[c] = append(n.ids[c], int32(id))
			}
		}
	}
	b.blocks[size] = n
	return n
}
