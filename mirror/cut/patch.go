package cut

import (
	"math"
	"slices"
	"sort"
)

// patch is an island while it is studied.
type patch struct {
	label int
	in    *regions
	spans []span
	area  float64
	cells int
	rims  []rim

	overlap  float64 // greatest
	pi, pj   int     // where
	usual    float64 // overlap in the middle of the list
	low      float64 // overlap that nine tenths have, where flat cutters made it, else the usual one
	alone    [2]bool // a side alone goes through on nearly all of it
	cut      [2]bool // a side cuts nearly all of it
	flat     [2]bool // a side cuts it with a flat or bull cutter or a drill
	tool     [2]*cutter
	level    [2]float64 // usual depth of each side
	lines    [2][2]int  // least and greatest line on each side
	width    float64
	step     float64
	made     [2]map[int]int // how many of the cells that were looked at each line cut
	scant    bool           // recognised but for what the two sides pass each other by
	kind     string         // "" for a break-through
	i0, j0   int
	i1, j1   int
	outlined bool
}

// sampled bounds the cells of a patch whose lines and depths are looked at.
const sampled = 4000

// measure fills in what p looks like. The region may also be one where something
// is left (a groove that doesn't quite go through).
func (s *study) measure(p *patch, r *regions) {
	g := s.g
	p.i0, p.j0, p.i1, p.j1 = box(p.spans)
	p.overlap = math.Inf(-1)
	p.lines = [2][2]int{{math.MaxInt, 0}, {math.MaxInt, 0}}
	for _, sp := range p.spans {
		p.cells += int(sp.i1-sp.i0) + 1
	}
	p.area = float64(p.cells) * g.Cell * g.Cell
	step := max(1, p.cells/sampled)
	var overlaps []float64
	var levels [2][]float64
	var alone, cut [2]int
	tools := [2]map[*cutter]int{{}, {}}
	lines := [2]map[int]int{{}, {}}
	n, taken := 0, 0
	for i, j := range cells(p.spans) {
		over := -g.Web(i, j)
		if over > p.overlap {
			p.overlap, p.pi, p.pj = over, i, j
		}
		n++
		for side := range 2 {
			if l := g.cutLine(side, i, j); l > 0 {
				p.lines[side][0] = min(p.lines[side][0], l)
				p.lines[side][1] = max(p.lines[side][1], l)
			}
		}
		if n%step != 0 && n != 1 {
			continue
		}
		taken++
		overlaps = append(overlaps, over)
		for side := range 2 {
			d := g.depth(side, i, j)
			if d >= 0 {
				continue
			}
			cut[side]++
			levels[side] = append(levels[side], d)
			if d <= -s.thick(side)+throughSlack {
				alone[side]++
			}
			l := g.cutLine(side, i, j)
			tools[side][s.runs[side].toolAt(l)]++
			lines[side][l]++
		}
	}
	slices.Sort(overlaps)
	p.usual = overlaps[len(overlaps)/2]
	for side := range 2 {
		p.alone[side] = 10*alone[side] >= 9*taken
		p.cut[side] = 10*cut[side] >= 9*taken
		slices.Sort(levels[side])
		if m := len(levels[side]); m > 0 {
			p.level[side] = levels[side][m/2]
		}
		most := 0
		for _, c := range s.runs[side].tools {
			if k := tools[side][c]; k > most || k == most && k > 0 && c.Number < p.tool[side].Number {
				most, p.tool[side] = k, c
			}
		}
		p.flat[side] = p.tool[side] != nil && p.tool[side].Shape != Vee && p.tool[side].Shape != Ball
		p.made[side] = lines[side]
	}
	p.low = overlaps[len(overlaps)/10]
	for _, c := range p.tool {
		if c != nil && c.Shape != Flat {
			p.low = p.usual // under a rounded or pointed cutter the cut ends on a slope
		}
	}
}

// outline fills in the edge and the width of p.
func (s *study) outline(p *patch, r *regions) {
	if p.outlined {
		return
	}
	p.outlined = true
	p.rims = r.rims(p.label, p.spans)
	p.width = width(p.rims)
	if p.width == 0 {
		// A speck: as wide as its box.
		p.width = float64(min(p.i1-p.i0, p.j1-p.j0)+1) * s.g.Cell
	}
}

// keptOn gives the kept strokes of a line.
func (r *run) keptOn(line int) []stroke {
	a := sort.Search(len(r.kept), func(i int) bool { return int(r.kept[i].line) >= line })
	b := a
	for b < len(r.kept) && int(r.kept[b].line) == line {
		b++
	}
	return r.kept[a:b]
}

// across gives the greater diameter of the cutters that take part in p.
func (p *patch) across() float64 {
	d := 0.0
	for side := range 2 {
		if p.tool[side] != nil && p.cut[side] {
			d = max(d, p.tool[side].Diameter)
		}
	}
	return d
}

// round says whether p is a disc: its box is square and holds a disc's share.
func (s *study) round(p *patch) bool {
	w, h := float64(p.i1-p.i0+1), float64(p.j1-p.j0+1)
	slack := 2 + 0.05*max(w, h)
	share := float64(p.cells) / (w * h)
	return math.Abs(w-h) <= slack && share > math.Pi/4-0.1-1/w && share < math.Pi/4+0.1+1/w
}
