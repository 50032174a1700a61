package cut

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"flipcalc/mirror/transform"
)

// A question mirrored about the line X = Y has the same answer with X and Y exchanged: what was
// turned like a page is turned the other way, and every arc changes its sense.

// transposed gives such a question; its programs must be segments.
func transposed(q Request) Request {
	swap := func(p *[2]float64) { p[0], p[1] = p[1], p[0] }
	rect := func(r Rect) Rect { return Rect{X: r.Y, Y: r.X, W: r.H, H: r.W, Height: r.Height} }
	places := func(list [][2]float64) (out [][2]float64) {
		for _, p := range list {
			out = append(out, [2]float64{p[1], p[0]})
		}
		return out
	}
	rects := func(list []Rect) (out []Rect) {
		for _, r := range list {
			out = append(out, rect(r))
		}
		return out
	}
	t := q
	t.W, t.H = q.H, q.W
	t.Map.X, t.Map.Y = q.Map.Y, q.Map.X
	swap(&t.FaceZero)
	t.FaceTurn, t.Map.Turn = -q.FaceTurn, q.Map.Turn.Neg()
	if q.FreeTurn != nil {
		t.FreeTurn = &[2]float64{q.FreeTurn[1], q.FreeTurn[0]}
	}
	if q.Bore != nil {
		t.Bore = &Circle{X: q.Bore.Y, Y: q.Bore.X, Dia: q.Bore.Dia}
	}
	t.Pins = slices.Clone(q.Pins)
	for i := range t.Pins {
		t.Pins[i].X, t.Pins[i].Y = q.Pins[i].Y, q.Pins[i].X
	}
	t.NoGo, t.Through, t.Held = rects(q.NoGo), places(q.Through), places(q.Held)
	for side := range 2 {
		t.Locators[side] = slices.Clone(q.Locators[side])
		for i := range t.Locators[side] {
			l := &t.Locators[side][i]
			l.Edge = [...]Edge{NearEdge: LeftEdge, LeftEdge: NearEdge, FarEdge: RightEdge, RightEdge: FarEdge}[l.Edge]
		}
		if z := q.Zeros[side]; z != nil {
			n := *z
			n.X, n.Y = z.Y, z.X
			t.Zeros[side] = &n
		}
	}
	if q.Travel != nil {
		n := *q.Travel
		n.Least[0], n.Least[1] = n.Least[1], n.Least[0]
		n.Greatest[0], n.Greatest[1] = n.Greatest[1], n.Greatest[0]
		t.Travel = &n
	}
	t.Face, t.Back = transposedProgram(q.Face), transposedProgram(q.Back)
	return t
}

func transposedProgram(p Program) Program {
	p.Segments, p.Then = transposedMoves(p.Segments), slices.Clone(p.Then)
	for i := range p.Then {
		p.Then[i] = transposedProgram(p.Then[i])
	}
	return p
}

func transposedMoves(list []Segment) []Segment {
	out := slices.Clone(list)
	for i := range out {
		s := &out[i]
		s.From[0], s.From[1] = s.From[1], s.From[0]
		s.To[0], s.To[1] = s.To[1], s.To[0]
		s.FromOK[0], s.FromOK[1] = s.FromOK[1], s.FromOK[0]
		s.ToOK[0], s.ToOK[1] = s.ToOK[1], s.ToOK[0]
		// G18 names Z before X, G19 Y before Z (NISTIR 6556, 3.5.3).
		s.Centre[0], s.Centre[1] = s.Centre[1], s.Centre[0]
		s.Plane = [...]transform.Plane{transform.XY: transform.XY, transform.ZX: transform.YZ, transform.YZ: transform.ZX}[s.Plane]
		s.CCW, s.Comp.Side = !s.CCW, -s.Comp.Side
	}
	return out
}

// alike says whether a question that was answered with r gets the same answer transposed: the
// same surfaces, and the same findings with the same figures, in whatever order.
func alike(t *testing.T, name string, q Request, r *Result) {
	t.Helper()
	for _, p := range slices.Concat([]Program{q.Face, q.Back}, q.Face.Then, q.Back.Then) {
		if p.Read != nil {
			return
		}
	}
	o, err := Check(transposed(q))
	if err != nil {
		t.Errorf("%s: transposed: %v", name, err)
		return
	}
	far := 0.0
	for j := range r.Grid.NY {
		for i := range r.Grid.NX {
			for side := range 2 {
				far = max(far, math.Abs(r.Grid.depth(side, i, j)-o.Grid.depth(side, j, i)))
			}
		}
	}
	if far > 1e-5 {
		t.Errorf("%s: transposed, a surface lies %g off", name, far)
	}
	order := func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Code(), b.Code()), cmp.Compare(a.At().Side, b.At().Side), cmp.Compare(figure(a), figure(b)))
	}
	got, want := slices.SortedFunc(slices.Values(o.Findings), order), slices.SortedFunc(slices.Values(r.Findings), order)
	if len(got) != len(want) {
		t.Errorf("%s: transposed %s, want %s", name, codes(o), codes(r))
		return
	}
	for i := range got {
		g, w := got[i].At(), want[i].At()
		if got[i].Code() != want[i].Code() || math.Abs(figure(got[i])-figure(want[i])) > 1e-4 || math.Abs(g.Depth-w.Depth) > 1e-5 || g.Side != w.Side || g.Count != w.Count {
			t.Errorf("%s: transposed %+v, want %+v", name, got[i], want[i])
		}
		if Hit(got[i]) && max(math.Abs(g.X-w.Y), math.Abs(g.Y-w.X)) > 1e-4 && got[i].Code() != "rapid-in-stock" {
			t.Errorf("%s: transposed at X%g Y%g, want X%g Y%g", name, g.X, g.Y, w.Y, w.X)
		}
	}
	for _, w := range [][2]Web{{o.Web, r.Web}, {o.WorstWeb, r.WorstWeb}, {o.Wall, r.Wall}, {o.WorstWall, r.WorstWall}} {
		if w[0].Any != w[1].Any || math.Abs(w[0].Min-w[1].Min) > 1e-5 {
			t.Errorf("%s: transposed a web of %g, want %g", name, w[0].Min, w[1].Min)
		}
	}
	if o.Outlines != r.Outlines || o.Openings != r.Openings || o.Tabs.Count != r.Tabs.Count || len(o.Through) != len(r.Through) || len(o.Loose) != len(r.Loose) {
		t.Errorf("%s: transposed %d outlines, %d openings, %d tabs, %d through, %d loose; want %d, %d, %d, %d, %d", name,
			o.Outlines, o.Openings, o.Tabs.Count, len(o.Through), len(o.Loose), r.Outlines, r.Openings, r.Tabs.Count, len(r.Through), len(r.Loose))
	}
}
