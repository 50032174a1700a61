package cut

import (
	"fmt"
	"math"
	"testing"
)

// reliefMoves calls visit with a raster relief of about n short moves over a
// 300 x 200 mm blank: rows 0.3 mm apart, each a chain of 0.2 mm moves over a wavy
// ground 2 to 4 mm deep with slopes up to 1/2.
func reliefMoves(n int, visit func(from, to [3]float64)) {
	rows := int(math.Round(200 / 0.3))
	perRow := n / rows
	step := 300 / float64(perRow)
	height := func(x, y float64) float64 {
		return -3 + math.Sin(x/2)*math.Cos(y/3)*0.6 + 0.4*math.Sin(x/17+y/11)
	}
	for r := range rows {
		y := (float64(r) + 0.5) * 0.3
		for i := range perRow {
			x0, x1 := float64(i)*step, float64(i+1)*step
			if r%2 == 1 {
				x0, x1 = 300-x0, 300-x1
			}
			visit([3]float64{x0, y, height(x0, y)}, [3]float64{x1, y, height(x1, y)})
		}
	}
}

func reliefStrokes(n int) []stroke {
	p := Tool{Shape: Ball, Diameter: 3}.profile()
	var ks []stroke
	reliefMoves(n, func(from, to [3]float64) { ks = append(ks, newStraight(p, len(ks)+1, from, to)) })
	return ks
}

// One million short moves, half on each side.
func BenchmarkReliefSweep(b *testing.B) {
	ks := reliefStrokes(500_000)
	b.ResetTimer()
	for b.Loop() {
		g, err := newGrid(300, 200, 12, 0.1)
		if err != nil {
			b.Fatal(err)
		}
		for side := range 2 {
			s := newSweeper(g, side, 0)
			for i := range ks {
				s.add(&ks[i], act{})
			}
			s.finish()
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ns/move")
}

// The whole check of the same: from moves to findings.
func BenchmarkReliefCheck(b *testing.B) {
	var segs []Segment
	reliefMoves(500_000, func(from, to [3]float64) { segs = append(segs, Straight(len(segs)+1, 1, from, to)) })
	b.ResetTimer()
	for b.Loop() {
		q := Request{W: 300, H: 200, T: 12, Cell: 0.1, Map: turned("y", 300, 200), Web: 2, Skimmed: 1.998,
			Tools: []Tool{{Number: 1, Shape: Ball, Diameter: 3}}}
		q.Face.Segments, q.Back.Segments = segs, segs
		r, err := Check(q)
		if err != nil || !r.OK() {
			b.Fatal(err, r.Findings)
		}
	}
}

// The price grows with the swept area over the square of the cell: the last figure
// is to stay about the same from line to line.
func BenchmarkSlotsByCell(b *testing.B) {
	p := Tool{Shape: Flat, Diameter: 6}.profile()
	for _, cell := range []float64{0.4, 0.2, 0.1, 0.05} {
		b.Run(fmt.Sprint(cell), func(b *testing.B) {
			var ks []stroke
			for i := range 20 {
				y := float64(i)*9 + 10
				ks = append(ks, newStraight(p, i+1, [3]float64{10, y, -2}, [3]float64{290, y + 3, -4}))
			}
			for b.Loop() {
				g, err := newGrid(300, 200, 12, cell)
				if err != nil {
					b.Fatal(err)
				}
				s := newSweeper(g, faceSide, 0)
				for i := range ks {
					s.add(&ks[i], act{})
				}
				s.finish()
			}
			cells := 20 * 280 * 6 / (cell * cell)
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/cells, "ns/cell")
		})
	}
}

// The same by plain stamping: the cutter put down in steps along each move, every cell
// under it compared. For the price alone, on a twentieth of the moves: compare ns/move.
// Steps of s leave ridges of s^2/8R: 0.0002 mm for half a cell here, 0.00005 mm for a
// quarter; the sweep leaves none.
func BenchmarkReliefStamped(b *testing.B) {
	ks := reliefStrokes(500_000)[:50_000]
	for _, share := range []float64{0.5, 0.25} {
		b.Run(fmt.Sprintf("%g cell", share), func(b *testing.B) {
			for b.Loop() {
				stamp(300, 200, 0.1, share*0.1, ks)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(ks)), "ns/move")
		})
	}
}

// stamp is the plain way to sweep: discs along the path.
func stamp(w, h, cell, step float64, ks []stroke) []float32 {
	nx, ny := int(w/cell+0.5), int(h/cell+0.5)
	grid := make([]float32, nx*ny)
	for n := range ks {
		k := &ks[n]
		R := k.p.R
		steps := int(math.Ceil(k.length / step))
		for s := range steps + 1 {
			t := k.length * float64(s) / float64(max(1, steps))
			x, y, z := k.x+k.ux*t, k.y+k.uy*t, k.z+k.slope*t
			i0, i1 := max(0, int((x-R)/cell)), min(nx-1, int((x+R)/cell))
			j0, j1 := max(0, int((y-R)/cell)), min(ny-1, int((y+R)/cell))
			for j := j0; j <= j1; j++ {
				dy := (float64(j)+0.5)*cell - y
				for i := i0; i <= i1; i++ {
					dx := (float64(i)+0.5)*cell - x
					d2 := dx*dx + dy*dy
					if d2 > R*R {
						continue
					}
					if v := float32(z + R - math.Sqrt(R*R-d2)); v < grid[j*nx+i] {
						grid[j*nx+i] = v
					}
				}
			}
		}
	}
	return grid
}
