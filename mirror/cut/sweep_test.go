package cut

import (
	"math"
	"math/rand"
	"testing"
)

// sweepAll cuts strokes into the face of a fresh grid.
func sweepAll(t testing.TB, w, h, thick, cell float64, workers int, ks []stroke) *Grid {
	t.Helper()
	return sweepInBatches(t, w, h, thick, cell, workers, len(ks), ks)
}

// sweepInBatches does so some strokes at a time: those of a batch find what the ones before left.
func sweepInBatches(t testing.TB, w, h, thick, cell float64, workers, batch int, ks []stroke) *Grid {
	t.Helper()
	g, err := newGrid(w, h, thick, cell)
	if err != nil {
		t.Fatal(err)
	}
	s := newSweeper(g, faceSide, workers)
	for i := range ks {
		s.add(&ks[i], act{})
		if (i+1)%batch == 0 {
			s.flush()
		}
	}
	s.finish()
	return g
}

// randomStrokes gives n moves of all kinds with every cutter over a w x h blank.
func randomStrokes(rng *rand.Rand, n int, w, h float64) []stroke {
	var ks []stroke
	var ps []*profile
	for _, tool := range tools {
		ps = append(ps, tool.profile())
	}
	at := func() [3]float64 {
		return [3]float64{rng.Float64()*(w+8) - 4, rng.Float64()*(h+8) - 4, 1 - 5*rng.Float64()}
	}
	for i := range n {
		p := ps[rng.Intn(len(ps))]
		a, b := at(), at()
		switch rng.Intn(6) {
		case 0:
			b[2] = a[2]
		case 1: // short
			b = [3]float64{a[0] + rng.Float64(), a[1] + rng.Float64(), a[2] + rng.Float64() - 0.5}
		case 2: // plunge
			b[0], b[1] = a[0], a[1]
		case 3: // along an axis
			b[1], b[2] = a[1], a[2]
		case 4:
			ks = append(ks, newArc(p, i+1, a[0], a[1], a[2], rng.Float64()*10, rng.Float64()*6, (rng.Float64()*2-1)*7))
			continue
		}
		ks = append(ks, newStraight(p, i+1, a, b))
	}
	return ks
}

// steepRelief gives many short moves over steep waves, with each cutter in turn.
func steepRelief(w, h float64) []stroke {
	var ks []stroke
	z := func(x, y float64) float64 { return -3 + 1.2*math.Sin(2*x)*math.Cos(1.5*y) + 0.3*math.Sin(9*x+4*y) }
	for n, tool := range tools {
		p := tool.profile()
		for y := 0.1 + 0.03*float64(n); y < h; y += 0.4 {
			for x := 0.0; x < w; x += 0.35 {
				ks = append(ks, newStraight(p, len(ks)+1, [3]float64{x, y, z(x, y)}, [3]float64{x + 0.35, y, z(x+0.35, y)}))
			}
		}
	}
	return ks
}

// Every cell of a swept grid holds the least of the surfaces of all strokes at its
// centre, worked out one by one; and any number of workers gives the same grid.
func TestSweepIsTheLeastOfAllSurfaces(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewSource(11))
	for _, c := range []struct {
		w, h, cell float64
		n          int
	}{{30, 20, 0.25, 60}, {41.3, 17.7, 0.3, 200}, {12, 12, 0.05, 12}, {5, 5, 0.1, 400}, {3, 3, 0.7, 5}, {12, 12, 0.1, -1}} {
		ks := randomStrokes(rng, max(0, c.n), c.w, c.h)
		if c.n < 0 {
			ks = steepRelief(c.w, c.h)
		}
		g := sweepAll(t, c.w, c.h, 12, c.cell, 1, ks)
		other := sweepAll(t, c.w, c.h, 12, c.cell, 3, ks)
		pairs := sweepInBatches(t, c.w, c.h, 12, c.cell, 1, 2, ks)
		for j := range g.NY {
			for i := range g.NX {
				x, y := g.Centre(i, j)
				want := 0.0
				for n := range ks {
					if s, ok := ks[n].surface(x, y); ok {
						want = math.Min(want, s)
					}
				}
				got := g.depth(faceSide, i, j)
				// 24 bits of a depth under 16 mm: half a step is 2^-21 mm.
				if math.Abs(got-want) > 0x1p-21+1e-9 {
					t.Fatalf("cell %g: at %g,%g depth %g, want %g", c.cell, x, y, got, want)
				}
				if got < 0 {
					line := g.cutLine(faceSide, i, j)
					if s, ok := ks[line-1].surface(x, y); !ok || math.Abs(s-got) > 1e-6 {
						t.Fatalf("at %g,%g depth %g is given to line %d, which leaves %g %v", x, y, got, line, s, ok)
					}
				}
				if o := pairs.depth(faceSide, i, j); o != got {
					t.Fatalf("cell %g: at %g,%g depth %g two strokes at a time, want %g", c.cell, x, y, o, got)
				}
				if o := other.depth(faceSide, i, j); o != got || g.cutLine(faceSide, i, j) != other.cutLine(faceSide, i, j) {
					t.Fatalf("at %g,%g: %g from one worker, %g from three", x, y, got, o)
				}
			}
		}
	}
}

// The same over gentle and steep reliefs of short moves, for each cutter alone, in rows
// along and aslant: where strokes lie closest to each other the bounds that leave them
// out must be right.
func TestReliefIsTheLeastOfAllSurfaces(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewSource(21))
	ball := Tool{Shape: Ball, Diameter: 3}
	for n, tool := range append(tools, ball, ball, ball, Tool{Shape: Ball, Diameter: 1}, Tool{Shape: Bull, Diameter: 3, Corner: 0.5}) {
		for _, cell := range []float64{0.1, 0.27} {
			const w, h = 7.0, 6.0
			p := tool.profile()
			amp, fx, fy, turn := 0.2+0.6*rng.Float64(), 0.5+rng.Float64(), 0.5+rng.Float64(), float64(n%3)*0.4
			row := 0.25 + 0.3*rng.Float64()
			z := func(x, y float64) float64 { return -2.2 + amp*math.Sin(fx*x+1)*math.Cos(fy*y) }
			at := func(x, y float64) [3]float64 {
				s, c := math.Sincos(turn)
				x, y = x*c-y*s, x*s+y*c
				return [3]float64{x, y, z(x, y)}
			}
			var ks []stroke
			for y := -4.0; y < h; y += row {
				for x := 0.0; x < w+3; x += 0.26 {
					ks = append(ks, newStraight(p, len(ks)+1, at(x, y), at(x+0.26, y)))
				}
			}
			g, rows := sweepAll(t, w, h, 12, cell, 2, ks), sweepInBatches(t, w, h, 12, cell, 1, 37, ks)
			for j := range g.NY {
				for i := range g.NX {
					x, y := g.Centre(i, j)
					want := 0.0
					for n := range ks {
						k := &ks[n]
						if math.Abs(k.x-x) > p.R+1 || math.Abs(k.y-y) > p.R+1 {
							continue
						}
						if s, ok := k.surface(x, y); ok {
							want = math.Min(want, s)
						}
					}
					if got := g.depth(faceSide, i, j); math.Abs(got-want) > 0x1p-21+1e-9 {
						t.Fatalf("%v %g, cell %g: at %g,%g depth %g, want %g", tool.Shape, tool.Diameter, cell, x, y, got, want)
					}
					if o := rows.depth(faceSide, i, j); o != g.depth(faceSide, i, j) {
						t.Fatalf("%v %g, cell %g: at %g,%g depth %g in batches, want %g", tool.Shape, tool.Diameter, cell, x, y, o, want)
					}
				}
			}
		}
	}
}

// Plain stamping, the slow way, comes to the same heights but for its ridges.
func TestStampingAgrees(t *testing.T) {
	const w, h, cell = 12.0, 8.0, 0.1
	p := Tool{Shape: Ball, Diameter: 3}.profile()
	var ks []stroke
	z := func(x, y float64) float64 { return -2 + 0.5*math.Sin(x)*math.Cos(y) }
	for y := 0.2; y < h; y += 0.4 {
		for x := 0.0; x < w; x += 0.25 {
			ks = append(ks, newStraight(p, len(ks)+1, [3]float64{x, y, z(x, y)}, [3]float64{x + 0.25, y, z(x+0.25, y)}))
		}
	}
	g := sweepAll(t, w, h, 12, cell, 2, ks)
	want := stamp(w, h, cell, cell/4, ks)
	for j := range g.NY {
		for i := range g.NX {
			got, slow := g.depth(faceSide, i, j), float64(want[j*g.NX+i])
			// Ridges of (1+m^2)^(3/2) s^2/8R with slopes m up to 1/2; none below.
			if got > slow+1e-6 || got < slow-0.0001 {
				t.Fatalf("cell %d,%d: swept %g, stamped %g", i, j, got, slow)
			}
		}
	}
}
