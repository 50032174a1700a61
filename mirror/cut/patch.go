package cut

import (
	"math"
	"slices"
)

// patch is an island while it is studied.
type patch struct {
	cellBox // around it
	label   int
	in      *regions
	spans   []span
	area    float64
	cells   int
	rims    []rim

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
	outlined bool
}

// sampled bounds the cells of a patch whose lines and depths are looked at.
const sampled = 4000

// patchesOf gives the regions of r as patches. They may also be such where something is left (a
// groove that doesn't quite go through).
func (s *study) patchesOf(r *regions) []*patch {
	out := make([]*patch, 0, r.n)
	for label, spans := range r.split() {
		p := &patch{label: label, in: r, spans: spans}
		s.measure(p)
		out = append(out, p)
	}
	return out
}

// sample is what some cells of a patch say of one side.
type sample struct {
	cut, alone int
	levels     []float64
}

// measure fills in what p looks like.
func (s *study) measure(p *patch) {
	g := s.g
	p.cellBox = box(p.spans)
	p.overlap = math.Inf(-1)
	p.lines = [2][2]int{{math.MaxInt, 0}, {math.MaxInt, 0}}
	p.made = [2]map[int]int{{}, {}}
	for _, sp := range p.spans {
		p.cells += sp.size()
	}
	p.area = float64(p.cells) * g.Cell * g.Cell
	step := max(1, p.cells/sampled)
	var overlaps []float64
	var seen [2]sample
	n := 0
	for i, j := range cells(p.spans) {
		over := -g.Web(i, j)
		if over > p.overlap {
			p.overlap, p.pi, p.pj = over, i, j
		}
		n++
		look := n%step == 0 || n == 1
		if look {
			overlaps = append(overlaps, over)
		}
		for side := range 2 {
			l, d := g.cutLine(side, i, j), g.depth(side, i, j)
			if l > 0 {
				p.lines[side][0] = min(p.lines[side][0], l)
				p.lines[side][1] = max(p.lines[side][1], l)
			}
			if !look || d >= 0 {
				continue
			}
			v := &seen[side]
			v.cut++
			v.levels = append(v.levels, d)
			if d <= -s.thick(side)+throughSlack {
				v.alone++
			}
			p.made[side][l]++
		}
	}
	slices.Sort(overlaps)
	p.usual, p.low = overlaps[len(overlaps)/2], overlaps[len(overlaps)/10]
	for side, v := range seen {
		p.alone[side] = 10*v.alone >= 9*len(overlaps)
		p.cut[side] = 10*v.cut >= 9*len(overlaps)
		slices.Sort(v.levels)
		if m := len(v.levels); m > 0 {
			p.level[side] = v.levels[m/2]
		}
		p.tool[side] = s.runs[side].mostUsed(p.made[side])
		p.flat[side] = p.tool[side] != nil && p.tool[side].Shape != Vee && p.tool[side].Shape != Ball
	}
	for _, c := range p.tool {
		if c != nil && c.Shape != Flat {
			p.low = p.usual // under a rounded or pointed cutter the cut ends on a slope
		}
	}
}

// outline fills in the edge and the width of p.
func (s *study) outline(p *patch) {
	if p.outlined {
		return
	}
	p.outlined = true
	p.rims = p.in.rims(p.label, p.spans)
	p.width = width(p.rims)
	if p.width == 0 {
		// A speck: as wide as its box.
		p.width = float64(min(p.i1-p.i0, p.j1-p.j0)+1) * s.g.Cell
	}
}

// cutterAcross gives the greater diameter of the cutters that take part in p.
func (p *patch) cutterAcross() float64 {
	d := 0.0
	for side := range 2 {
		if p.tool[side] != nil && p.cut[side] {
			d = max(d, p.tool[side].Diameter)
		}
	}
	return d
}

// groove says whether p is no wider than a groove of its cutters.
func (p *patch) groove() bool { return p.width <= grooveWidth*p.cutterAcross()+2*p.in.g.Cell }

// round says whether p is a disc: its box is square and holds a disc's share.
func (s *study) round(p *patch) bool {
	w, h := float64(p.i1-p.i0+1), float64(p.j1-p.j0+1)
	slack := 2 + 0.05*max(w, h)
	share := float64(p.cells) / (w * h)
	return math.Abs(w-h) <= slack && share > math.Pi/4-0.1-1/w && share < math.Pi/4+0.1+1/w
}
