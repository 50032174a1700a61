package cut

import (
	"math"
	"runtime"
	"sync"
)

// A sweeper cuts strokes into one side of a grid. It gathers them in batches. Of each batch a
// worker takes all strokes, in the program's order, into its own rows of tiles, so the result is
// the same for any number of workers.
type sweeper struct {
	g       *Grid
	side    int
	workers []*worker
	strokes []stroke // of the batch
	acts    []act
	hits    map[hitKey]hit
}

// act says what else a stroke does besides cutting.
type act struct {
	rapid bool     // it must meet no material
	shank *profile // it must not touch material at flute over the tip; nil for no check
	flute float64
}

func (a act) checks() bool { return a.rapid || a.shank != nil }

// batchStrokes is how many strokes a batch has: some 10 MB.
const batchStrokes = 1 << 16

// newSweeper makes a sweeper with the given number of workers, 0 for one a core.
func newSweeper(g *Grid, side, workers int) *sweeper {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	s := &sweeper{g: g, side: side, hits: map[hitKey]hit{}}
	for n := range workers {
		s.workers = append(s.workers, &worker{g: g, side: side, first: n, each: workers, tops: map[int]*[blocks]float32{}, hits: map[hitKey]hit{}})
	}
	return s
}

// add takes one stroke. One that stays over the blank's top cuts nothing and is
// left out.
func (s *sweeper) add(k *stroke, a act) {
	if k.bottom() >= 0 {
		return
	}
	s.strokes, s.acts = append(s.strokes, *k), append(s.acts, a)
	if len(s.strokes) == batchStrokes {
		s.flush()
	}
}

// flush cuts the batch gathered so far.
func (s *sweeper) flush() {
	var busy sync.WaitGroup
	for _, w := range s.workers {
		busy.Go(func() {
			for n := 0; n < len(s.strokes); {
				n = w.run(s.strokes, s.acts, n)
			}
		})
	}
	busy.Wait()
	s.strokes, s.acts = s.strokes[:0], s.acts[:0]
}

// finish cuts all that is left, and gathers what was met.
func (s *sweeper) finish() {
	s.flush()
	for _, w := range s.workers {
		for key, h := range w.hits {
			if h.worse(s.hits[key]) {
				s.hits[key] = h
			}
		}
	}
}

// A tile is cut in blocks of blockSize cells a side. Only a stroke that could come below a
// block's highest cell is worked out cell by cell: a relief passes every cell hundreds of times
// and lowers it a few times.
const (
	blockSize = 4
	perSide   = tileSize / blockSize
	blocks    = perSide * perSide
)

// worker cuts strokes into every so many-th row of tiles.
type worker struct {
	g           *Grid
	side        int
	first, each int
	tops        map[int]*[blocks]float32 // by tile: the highest cell of each block
	hits        map[hitKey]hit
}

// run cuts the strokes from the nth up to the next that looks at the material first, which it needs
// in its place, and gives the one behind. The others may come in any order. Level ones keep
// theirs, so that a floor has the line that reached it first. Those of a relief are taken
// from all over the run, in steps of a golden section: in rows each would lower the cells
// ahead of it once more.
func (w *worker) run(strokes []stroke, acts []act, n int) int {
	end := n
	for end < len(strokes) && !acts[end].checks() {
		if strokes[end].slope == 0 {
			w.sweep(&strokes[end], acts[end])
		}
		end++
	}
	each := int(0.618034 * float64(end-n))
	for gcd(each, end-n) > 1 {
		each++
	}
	for i, at := n, 0; i < end; i, at = i+1, (at+each)%(end-n) {
		if k := &strokes[n+at]; k.slope != 0 {
			w.sweep(k, acts[n+at])
		}
	}
	if end < len(strokes) {
		w.sweep(&strokes[end], acts[end])
		end++
	}
	return end
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// sweep cuts a stroke. For a straight move each row of tiles sees only the part of the way near it.
func (w *worker) sweep(k *stroke, a act) {
	g, reach, size := w.g, k.p.R, float64(tileSize)*w.g.Cell
	x0, y0, x1, y1 := k.box()
	row := func(v float64, n int) int { return int(min(max(math.Floor(v/size), -1), float64(n))) }
	r0, r1 := max(0, row(y0-reach, g.ty)), min(g.ty-1, row(y1+reach, g.ty))
	for r := r0 + (w.first-r0%w.each+w.each)%w.each; r <= r1; r += w.each {
		lo, hi := x0, x1
		if k.kind == straight && k.uy != 0 && r1 > r0 {
			t0, t1 := (float64(r)*size-reach-k.y)/k.uy, (float64(r+1)*size+reach-k.y)/k.uy
			t0, t1 = max(0, min(t0, t1)), min(k.length, max(t0, t1))
			lo, hi = min(k.x+k.ux*t0, k.x+k.ux*t1), max(k.x+k.ux*t0, k.x+k.ux*t1)
		}
		for c := max(0, row(lo-reach, g.tx)); c <= min(g.tx-1, row(hi+reach, g.tx)); c++ {
			// Farther than reach from the tile's circle: not touched.
			x, y := float64(c)*size, float64(r)*size
			if d, _, _ := k.near(x+size/2, y+size/2); d > reach+size/2*math.Sqrt2 {
				continue
			}
			n := r*g.tx + c
			if g.tiles[n] == nil {
				g.tiles[n] = new(tile)
			}
			w.check(g.tiles[n], x, y, k, a)
			w.tile(n, x, y, k)
		}
	}
}

// tile cuts a stroke into tile n, whose corner is (x0, y0).
func (w *worker) tile(n int, x0, y0 float64, k *stroke) {
	t, tops := w.g.tiles[n], w.tops[n]
	if tops == nil {
		tops = new([blocks]float32)
		w.tops[n] = tops
	}
	size := blockSize * w.g.Cell
	rho := (blockSize - 1) / 2.0 * w.g.Cell * math.Sqrt2
	span := func(lo, hi float64) (int, int) {
		return int(max(0, math.Floor((lo-k.p.R)/size))), int(min(perSide-1, math.Floor((hi+k.p.R)/size)))
	}
	xa, ya, xb, yb := k.box()
	i0, i1 := span(xa-x0, xb-x0)
	j0, j1 := span(ya-y0, yb-y0)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			x, y := x0+float64(i)*size, y0+float64(j)*size
			if b := j*perSide + i; k.over(x+size/2, y+size/2, rho) < float64(tops[b]) {
				tops[b] = w.block(t, (j*tileSize+i)*blockSize, x, y, k)
			}
		}
	}
}

// block cuts a stroke into the block whose first cell is c and whose corner is (x, y), and gives
// its highest cell then.
func (w *worker) block(t *tile, c int, x, y float64, k *stroke) float32 {
	top := float32(math.Inf(-1))
	low, bend := k.bottom(), 0.0
	if k.p.flat == 0 && k.p.r > 0 && k.kind == straight {
		bend = 1 / (2 * k.p.R) // a ball lies over the paraboloid d^2/2R: most cells need no root
	}
	for j := range blockSize {
		y := y + (float64(j)+0.5)*w.g.Cell
		for i := range blockSize {
			x := x + (float64(i)+0.5)*w.g.Cell
			n := c + j*tileSize + i
			h := &t.h[w.side][n]
			if bend == 0 || low+bend*k.squared(x, y) < float64(*h) {
				if z, ok := k.surface(x, y); ok && float32(z) < *h {
					*h, t.line[w.side][n] = float32(z), k.line
				}
			}
			if *h > top {
				top = *h
			}
		}
	}
	return top
}

// squared gives the square of the distance in plan from (x, y) to a straight way.
func (k *stroke) squared(x, y float64) float64 {
	x, y = x-k.x, y-k.y
	a, q := x*k.ux+y*k.uy, x*k.uy-y*k.ux
	if a > k.length {
		a -= k.length
	} else if a > 0 {
		a = 0
	}
	return q*q + a*a
}

// over gives what the surface that k leaves within rho of (x, y) stays over: the lowest tip
// nearby, raised by the cutter's rise up to the nearest place; infinite beyond its reach.
func (k *stroke) over(x, y, rho float64) float64 {
	d, z, a := k.near(x, y)
	reach := k.p.R + rho
	if d > reach {
		return math.Inf(1)
	}
	if k.slope < 0 {
		z = k.z + k.slope*min(k.length, a+reach)
	} else if k.slope > 0 {
		z = k.z + k.slope*max(0, a-reach)
	}
	return z + k.p.height(d-rho)
}
