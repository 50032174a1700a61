package cut

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"flipcalc/testdata/draws"
)

// Closed forms, all derived: plane geometry of the cut, not of the grid.

// near says whether got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g within %.3g", what, got, want, tol)
	}
}

// cutArea counts the cells that the face cuts.
func cutArea(g *Grid) float64 {
	n := 0
	for j := range g.NY {
		for i := range g.NX {
			if g.depth(faceSide, i, j) < 0 {
				n++
			}
		}
	}
	return float64(n) * g.Cell * g.Cell
}

// oneCut sweeps one straight move of a tool over a 40 x 30 x 12 mm blank.
func oneCut(t testing.TB, tool Tool, cell float64, from, to [3]float64) *Grid {
	return sweepAll(t, 40, 30, 12, cell, 1, []stroke{newStraight(tool.profile(), 1, from, to)})
}

func TestSlotAreaAndVolume(t *testing.T) {
	const l, d, depth = 20.0, 6.0, 2.5
	w := 0.3
	g := oneCut(t, Tool{Shape: Flat, Diameter: d}, 0.05, [3]float64{8, 10, -depth}, [3]float64{8 + l*math.Cos(w), 10 + l*math.Sin(w), -depth})
	area := l*d + math.Pi*d*d/4 // a rectangle and two half discs
	// The edge is known to half a cell at worst and far better on the whole.
	near(t, "area", cutArea(g), area, 0.002*area)
	near(t, "volume", g.Volume(false), area*depth, 0.002*area*depth)
}

func TestVeeGroove(t *testing.T) {
	const depth, l = 2.0, 20.0
	for _, angle := range []float64{30, 60, 90, 120} {
		half := math.Tan(angle * math.Pi / 360)
		g := oneCut(t, Tool{Shape: Vee, Diameter: 12, Angle: angle}, 0.05, [3]float64{10, 15, -depth}, [3]float64{10 + l, 15, -depth})
		// Width at the surface 2 d tan(a/2): counted along a column of cells.
		n := 0
		i, _ := g.cellAt(20, 0)
		for j := range g.NY {
			if g.depth(faceSide, i, j) < 0 {
				n++
			}
		}
		near(t, "width", float64(n)*g.Cell, 2*depth*half, g.Cell)
		// A wedge and two half cones.
		want := depth*depth*half*l + math.Pi*(depth*half)*(depth*half)*depth/3
		near(t, "volume", g.Volume(false), want, 0.002*want)
	}
}

// Volumes of solids of revolution, R the cutter's radius and d the depth of its tip: the cap of
// a ball pi d^2 (3R - d)/3, a cone pi d^3 tan^2/3; on a circle of radius r, wider than the cut,
// the cut's cross-section times 2 pi r (Pappus).
func TestPlungesAndRings(t *testing.T) {
	const d, r = 2.0, 7.0
	ball, vee, flat := Tool{Shape: Ball, Diameter: 6}, Tool{Shape: Vee, Diameter: 10, Angle: 90}, Tool{Shape: Flat, Diameter: 6}
	bull := Tool{Shape: Bull, Diameter: 6, Corner: 1}
	segment := 9*math.Acos((3-d)/3) - (3-d)*math.Sqrt(9-(3-d)*(3-d)) // of the ball's circle
	// The bull's floor is 4 wide; its corners are a quarter disc each, upright above.
	corners := 6*d - 2*(1-math.Pi/4)
	for _, c := range []struct {
		name string
		tool Tool
		ring bool
		want float64
	}{
		{"the cap of a ball", ball, false, math.Pi * d * d * (9 - d) / 3},
		{"a cone", vee, false, math.Pi * d * d * d / 3},
		{"a cylinder", flat, false, math.Pi * 9 * d},
		// A cylinder less the ring around a quarter disc, whose middle lies 4/(3 pi) from its centre.
		{"a bull's end", bull, false, math.Pi*9*d - 2*math.Pi*(3-1.0/2)*1 + 2*math.Pi*(2+4/(3*math.Pi))*math.Pi/4},
		{"a ring of a ball", ball, true, 2 * math.Pi * r * segment},
		{"a ring of a cone", vee, true, 2 * math.Pi * r * d * d},
		{"a ring of a flat end", flat, true, 2 * math.Pi * r * 6 * d},
		{"a ring of a bull", bull, true, 2 * math.Pi * r * corners},
	} {
		p := c.tool.profile()
		k := newStraight(p, 1, [3]float64{20.03, 14.96, 5}, [3]float64{20.03, 14.96, -d})
		if c.ring {
			k = newArc(p, 1, 20.03, 14.96, -d, r, 1, -2*math.Pi)
		}
		g := sweepAll(t, 40, 30, 12, 0.05, 1, []stroke{k})
		near(t, c.name, g.Volume(false), c.want, 0.003*c.want)
	}
}

func TestBallScallop(t *testing.T) {
	const R, depth = 1.5, 3.0
	ball := Tool{Shape: Ball, Diameter: 2 * R}.profile()
	for _, s := range []float64{0.1, 0.3, 0.6, 1.2} {
		// A column of cells has its centres midway between two passes at y = 10 -+ s/2.
		cell := 0.1
		y := 10.05
		g := sweepAll(t, 40, 30, 12, cell, 1, []stroke{
			newStraight(ball, 1, [3]float64{5, y - s/2, -depth}, [3]float64{35, y - s/2, -depth}),
			newStraight(ball, 2, [3]float64{5, y + s/2, -depth}, [3]float64{35, y + s/2, -depth}),
		})
		i, j := g.cellAt(20.05, y)
		near(t, "scallop", g.depth(faceSide, i, j)+depth, R-math.Sqrt(R*R-s*s/4), 1e-6)
	}
}

func TestHelixBore(t *testing.T) {
	const r, d, depth, cell = 4.0, 6.0, 8.0, 0.1
	q := Request{W: 40, H: 30, T: 12, Cell: cell, Map: turned("y", 40, 30), Tools: []Tool{{Number: 1, Shape: Flat, Diameter: d}}}
	centre := [2]float64{20.03, 14.96}
	at := func(z float64) [3]float64 { return [3]float64{centre[0] + r, centre[1], z} }
	var segs []Segment
	for z := 0.0; z > -depth; z-- {
		segs = append(segs, Circular(len(segs)+1, 1, at(z), at(z-1), centre, true))
	}
	// One turn without pitch cleans the floor; half a helix leaves a ramp.
	helix := segs
	segs = append(segs, Circular(len(segs)+1, 1, at(-depth), at(-depth), centre, true))
	q.Face.Segments = segs
	res, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	ring := math.Pi * ((r+d/2)*(r+d/2) - (r-d/2)*(r-d/2))
	near(t, "volume", res.Grid.Volume(false), ring*depth, 0.003*ring*depth)
	out := math.Pi * (r + d/2) * (r + d/2)
	in := math.Pi * (r - d/2) * (r - d/2)
	near(t, "area", cutArea(res.Grid), out-in, 0.003*out)

	// Without the last turn the floor rises by the pitch over one turn: seen under
	// the cutter's axis on the last turn, a flat end leaves the height of the lower
	// end of its reach, the half angle asin(R/2r)*2 further on; at the end all of it.
	q.Face.Segments = helix
	if res, err = Check(q); err != nil {
		t.Fatal(err)
	}
	for _, w := range []float64{2, 3, 4} {
		lead := 2 * math.Asin(d/2/(2*r))
		i, j := res.Grid.cellAt(centre[0]+r*math.Cos(w), centre[1]+r*math.Sin(w))
		x, y := res.Grid.Centre(i, j)
		angle := math.Atan2(y-centre[1], x-centre[0])
		if angle < 0 {
			angle += 2 * math.Pi
		}
		want := -depth + 1 - (angle+lead)/(2*math.Pi)
		// The cell's centre lies up to half a cell off the axis: asin changes by
		// cell/(2 r cos) of a turn's millimetre.
		near(t, "floor of the helix", res.Grid.depth(faceSide, i, j), want, 0.01)
	}
}

// The two crossed vees leave T - d1 - d2 where they cross; deeper by e in all they
// meet over a square on its corner, k|x| + k|y| < e with k = cot(a/2), of area
// 2 (e/k)^2.
func TestCrossedVees(t *testing.T) {
	const T = 10.0
	for _, c := range []struct{ d1, d2, angle float64 }{{4, 5, 60}, {5, 5, 90}, {6, 5, 60}, {5.5, 6, 90}, {7, 4.5, 45}} {
		q := Request{W: 40, H: 40, T: T, Cell: 0.05, Map: turned("y", 40, 40),
			Tools: []Tool{{Number: 1, Shape: Vee, Diameter: 12, Angle: c.angle}}}
		q.Face.Segments = []Segment{Straight(3, 1, [3]float64{5, 20, -c.d1}, [3]float64{35, 20, -c.d1})}
		q.Back.Segments = []Segment{Straight(4, 1, [3]float64{22, 6, -c.d2}, [3]float64{22, 34, -c.d2})}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		e := c.d1 + c.d2 - T
		k := 1 / math.Tan(c.angle*math.Pi/360)
		// No cell is centred on the crossing: the nearest is half a cell off each way.
		off := k * q.Cell
		if e < 0 {
			near(t, "web", r.Web.Min, -e, 1e-9)
			// The back lies mirrored: x' = 40 - x, so its groove runs at x = 18.
			near(t, "place x", r.Web.X, 18, q.Cell)
			near(t, "place y", r.Web.Y, 20, q.Cell)
			if len(r.BrokenThrough) != 0 || r.Web.FaceLine != 3 || r.Web.BackLine != 4 {
				t.Errorf("broken through %+v, web %+v", r.BrokenThrough, r.Web)
			}
			continue
		}
		if e <= off {
			continue // they meet in a point or less
		}
		if len(r.BrokenThrough) != 1 || r.Web.Min != 0 {
			t.Fatalf("%+v: broken through %+v, web %+v", c, r.BrokenThrough, r.Web)
		}
		b := r.BrokenThrough[0]
		near(t, "area", b.Area, 2*(e/k)*(e/k), 4*(e/k)*q.Cell)
		near(t, "overlap", b.Overlap, e, 1e-6)
		near(t, "x", b.X, 18, q.Cell)
		near(t, "y", b.Y, 20, q.Cell)
		if b.FaceLine != 3 || b.BackLine != 4 {
			t.Errorf("lines %d, %d", b.FaceLine, b.BackLine)
		}
	}
}

func TestRingFromBothSides(t *testing.T) {
	const r, d, T = 12.0, 4.0, 10.0
	for _, c := range []struct {
		name        string
		face, back  float64
		shift       float64
		want        string
		overlap, by float64
	}{
		{"meets", -5.2, -5.3, 0, "part-loose", 0.5, 0},
		{"meets exactly", -5, -5, 0, "part-loose through-just-meets", 0, 0},
		{"falls short", -4.8, -4.9, 0, "through-short", 0, 0.3},
		{"steps aside", -5.2, -5.3, 0.37, "through-step part-loose", 0.5, 0.37},
	} {
		q := Request{W: 40, H: 40, T: T, Cell: 0.1, Map: turned("x", 40, 40), Tools: []Tool{{Number: 1, Shape: Flat, Diameter: d}}}
		q.Face.Segments = []Segment{Circular(3, 1, [3]float64{20 + r, 20, c.face}, [3]float64{20 + r, 20, c.face}, [2]float64{20, 20}, true)}
		if c.overlap == 0 && c.by == 0 {
			q.Through = [][2]float64{{20 + r, 20}}
		}
		p := [3]float64{20 + r + c.shift, 20, c.back}
		q.Back.Segments = []Segment{Circular(7, 1, p, p, [2]float64{20 + c.shift, 20}, false)}
		res, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if got := codes(res); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
			continue
		}
		switch c.name {
		case "falls short":
			near(t, c.name, figure(res.Findings[0]), c.by, 1e-5)
			continue
		case "steps aside":
			// A shift s parts the walls by s cos of the direction: most is s itself.
			near(t, c.name, figure(res.Findings[0]), c.by, 0.01)
		default:
			area := 2 * math.Pi * r * d // of the ring
			near(t, "ring", res.Through[0].Area, area, 0.005*area)
		}
		near(t, "overlap", res.Through[0].Overlap, c.overlap, 1e-5)
		in := math.Pi * (r - d/2) * (r - d/2)
		if c.shift == 0 {
			near(t, "loose disc", res.Loose[0].Area, in, 0.01*in)
		}
		if res.Loose[0].Side != Back || res.Loose[0].BackLine != 7 {
			t.Errorf("%s: loose %+v", c.name, res.Loose[0])
		}
	}
}

// How fast the volume comes right as cells shrink, from the root mean square error
// over many places of the cut on the grid. A slot has walls, and the cells on them
// count wholly or not at all: their number grows as 1/c, each is off by up to c^2 at
// random, so order 3/2. A pit without walls (a cone) has a bend at its rim, where
// each cell is off by up to c^3 at random: order 5/2.
func TestVolumeConverges(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	order := func(volume func(rng *rand.Rand, cell float64) float64) (float64, []float64) {
		cells := []float64{0.4, 0.2, 0.1}
		var errs []float64
		for _, c := range cells {
			rng := rand.New(rand.NewSource(5))
			sum := 0.0
			n := draws.Of(60)
			for range n {
				e := volume(rng, c)
				sum += e * e
			}
			errs = append(errs, math.Sqrt(sum/float64(n)))
		}
		return math.Log(errs[0]/errs[2]) / math.Log(4), errs
	}
	cone, errs := order(func(rng *rand.Rand, c float64) float64 {
		x, y := 6+rng.Float64(), 6+rng.Float64()
		g := sweepAll(t, 14, 14, 12, c, 1, []stroke{newStraight(Tool{Shape: Vee, Diameter: 12, Angle: 90}.profile(), 1, [3]float64{x, y, -3.5}, [3]float64{x, y, -3.5})})
		return g.Volume(false) - math.Pi*3.5*3.5*3.5/3
	})
	t.Logf("cone: errors %.4g mm^3 at cells 0.4, 0.2, 0.1: order %.2f", errs, cone)
	if cone < 2 {
		t.Errorf("cone: order %.2f, want about 2.5", cone)
	}
	slot, errs := order(func(rng *rand.Rand, c float64) float64 {
		x, y, w := 4+rng.Float64(), 4+rng.Float64(), rng.Float64()*math.Pi/2
		g := sweepAll(t, 16, 16, 12, c, 1, []stroke{newStraight(Tool{Shape: Flat, Diameter: 6}.profile(), 1, [3]float64{x, y, -2}, [3]float64{x + 7*math.Cos(w), y + 7*math.Sin(w), -2})})
		return g.Volume(false) - 2*(7*6+math.Pi*9)
	})
	t.Logf("slot: errors %.4g mm^3 at cells 0.4, 0.2, 0.1: order %.2f", errs, slot)
	if slot < 1.3 {
		t.Errorf("slot: order %.2f, want about 1.5", slot)
	}
}

// The height held for a cell differs from the exact surface at any place of the
// cell by no more than ErrorBound says, where no edge of a cut lies between.
func TestErrorBound(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewSource(9))
	for _, tool := range tools {
		p := tool.profile()
		var ks []stroke
		slope := 0.0
		for i := range 40 {
			a := [3]float64{rng.Float64() * 20, rng.Float64() * 20, -3 * rng.Float64()}
			b := [3]float64{a[0] + 6*rng.Float64() - 3, a[1] + 6*rng.Float64() - 3, a[2] + rng.Float64() - 0.5}
			k := newStraight(p, i+1, a, b)
			if math.Abs(k.slope) > 1 {
				continue
			}
			slope = math.Max(slope, math.Abs(k.slope))
			ks = append(ks, k)
		}
		for _, cell := range []float64{0.5, 0.1} {
			g := sweepAll(t, 20, 20, 12, cell, 1, ks)
			bound := ErrorBound(tool, cell, slope, 0, 4)
			worst := 0.0
			for range 20000 {
				x, y := rng.Float64()*20, rng.Float64()*20
				i, j := g.cellAt(x, y)
				cx, cy := g.Centre(i, j)
				exact, edge := 0.0, false
				for n := range ks {
					s, ok := ks[n].surface(x, y)
					_, at := ks[n].surface(cx, cy)
					edge = edge || ok != at
					if ok {
						exact = math.Min(exact, s)
					}
				}
				if edge {
					continue
				}
				d := math.Abs(exact - g.depth(faceSide, i, j))
				if worst = math.Max(worst, d); d > bound {
					t.Fatalf("%v, cell %g: %g off at %g,%g, bound %g", tool, cell, d, x, y, bound)
				}
			}
			t.Logf("%v %g, cell %g: worst %.4g, bound %.4g", tool.Shape, tool.Diameter, cell, worst, bound)
		}
	}
}

// Cell by cell with the misalignment: against every pair of cells whose centres lie within it
// and half a cell of each other.
func TestWorstWebByCells(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	for _, miss := range []float64{0, 0.4, 0.7, 1.1, 2.3} {
		g, err := newGrid(30, 20, 12, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		for n := range g.tiles {
			g.tiles[n] = new(tile)
		}
		for range 1200 {
			c, k := g.at(rng.Intn(g.NX), rng.Intn(g.NY))
			c.h[rng.Intn(2)][k] = -float32(rng.Intn(5000)) / 1000
		}
		s := &study{q: &Request{Misalignment: miss, ThicknessTol: 0.25}, g: g, masked: func(i, j int) bool { return false }}
		want := math.Inf(1)
		for j := range g.NY {
			for i := range g.NX {
				for b := range g.NY {
					for a := range g.NX {
						f, h := g.depth(faceSide, i, j), g.depth(backSide, a, b)
						if math.Hypot(float64(a-i), float64(b-j))*g.Cell <= miss+g.Cell/2 && (f < 0 || h < 0) {
							want = math.Min(want, 12+f+h-0.25)
						}
					}
				}
			}
		}
		if miss == 0 {
			want = math.Inf(1)
			for j := range g.NY {
				for i := range g.NX {
					want = math.Min(want, g.Web(i, j)-0.25)
				}
			}
		}
		near(t, "worst", s.worst(Web{Min: math.Inf(1)}).Min, want, 1e-6)
	}
}

// Where more strokes come than there is room for, those are kept that lie deepest: all below
// the height that is said to be lost, and never less than a quarter of the room.
func TestDeepestStrokesAreKept(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	p := tools[2].profile()
	r := &run{most: 40}
	var all []float64
	for n := range 1000 {
		z := -float64(rng.Intn(300)) / 100
		k := newStraight(p, n, [3]float64{0, 0, z}, [3]float64{1, 0, z})
		r.spare(&k, z)
		if all = append(all, z); len(r.light) < min(r.most, len(all))/4 {
			t.Fatalf("%d strokes held of %d", len(r.light), len(all))
		}
	}
	slices.Sort(all)
	held := map[float64]int{}
	for i := range r.light {
		held[r.light[i].bottom()]++
	}
	for _, z := range all {
		if z < r.lost {
			held[z]--
		}
	}
	for z, n := range held {
		if n < 0 {
			t.Errorf("%d strokes at %g are missing; lost from %g on", -n, z, r.lost)
		}
	}
	if len(r.light) >= r.most || r.lost >= 0 {
		t.Errorf("%d strokes, lost from %g on", len(r.light), r.lost)
	}
}

// Where strokes were lost a cell is known to the bound of each side's cutter: two vees may leave
// both bounds less than the cell shows.
func TestDoubtOfBothSides(t *testing.T) {
	g, err := newGrid(10, 10, 12, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	s := &study{q: &Request{Tools: tools[2:3]}, g: g, masked: func(i, j int) bool { return false }}
	for side := range 2 {
		s.runs[side] = newRun(s.q, g, side, frame{})
		s.runs[side].lost = -1
	}
	bound := ErrorBound(tools[2], g.Cell, 0, 0, g.T)
	g.tiles[0] = new(tile)
	for side := range 2 {
		g.tiles[0].h[side][5], g.tiles[0].line[side][5] = -2, 1
	}
	kept := Web{Any: true, Min: 8 - 1.5*bound} // found elsewhere
	w := kept
	s.doubted(&w, &kept)
	near(t, "least", w.Min, 8-2*bound, 1e-6)
}
