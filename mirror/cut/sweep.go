package cut

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// A sweeper cuts strokes into one side of a grid. It gathers them in batches,
// sorts each batch by the tiles it reaches, and lets its workers take the tiles.
// A tile is worked by one worker and sees its strokes in the program's order, so
// the result is the same for any number of workers.
type sweeper struct {
	g       *Grid
	side    int
	workers []*worker

	strokes []stroke
	acts    []act
	head    []int32 // by tile: its newest link in links, -1 for none
	links   []link
	touched []int32

	hits map[hitKey]hit
}

// act says what else a stroke does besides cutting.
type act struct {
	rapid bool     // it must meet no material
	shank *profile // it must not touch material at flute over the tip; nil for no check
	flute float64
}

func (a act) checks() bool { return a.rapid || a.shank != nil }

// link is one stroke in a tile's list, which runs from the newest back.
type link struct{ stroke, next int32 }

// A batch ends at this many strokes or links: some 20 MB.
const (
	batchStrokes = 1 << 17
	batchLinks   = 1 << 20
)

// hitKey and hit say that a line met material it should not have, and its worst
// place.
type hitKey struct {
	code Code
	line int
}

type hit struct {
	depth, x, y float64
}

// worse orders hits: deeper, then nearer, then farther left.
func (h hit) worse(o hit) bool {
	if c := cmp.Compare(h.depth, o.depth); c != 0 {
		return c > 0
	}
	if c := cmp.Compare(h.y, o.y); c != 0 {
		return c < 0
	}
	return h.x < o.x
}

// maxHitLines bounds how many lines are kept for each kind of hit.
const maxHitLines = 1000

// newSweeper makes a sweeper with the given number of workers, 0 for one a core.
func newSweeper(g *Grid, side, workers int) *sweeper {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	s := &sweeper{g: g, side: side, hits: map[hitKey]hit{}}
	for range workers {
		s.workers = append(s.workers, &worker{g: g, side: side})
	}
	s.head = make([]int32, len(g.tiles))
	for i := range s.head {
		s.head[i] = -1
	}
	return s
}

// add takes one stroke. One that stays over the blank's top cuts nothing and is
// left out.
func (s *sweeper) add(k stroke, a act) {
	if k.bottom() >= 0 {
		return
	}
	reach := k.p.R
	if a.shank != nil {
		reach = math.Max(reach, a.shank.R)
	}
	id := int32(len(s.strokes))
	before := len(s.links)
	s.bin(&k, reach, id)
	if len(s.links) == before {
		return
	}
	s.strokes = append(s.strokes, k)
	s.acts = append(s.acts, a)
	if len(s.strokes) >= batchStrokes || len(s.links) >= batchLinks {
		s.flush()
	}
}

// bin links stroke id to every tile within reach of its way. For a straight move
// each row of tiles sees only the part of the way near that row.
func (s *sweeper) bin(k *stroke, reach float64, id int32) {
	size := float64(tileSize) * s.g.Cell
	x0, y0 := k.x, k.y
	x1, y1 := k.x+k.ux*k.length, k.y+k.uy*k.length
	if k.kind == levelArc {
		x0, x1 = k.x-k.radius, k.x+k.radius
		y0, y1 = k.y-k.radius, k.y+k.radius
	}
	row := func(v float64, n int) int { return int(math.Min(math.Max(math.Floor(v/size), -1), float64(n))) }
	r0 := max(0, row(math.Min(y0, y1)-reach, s.g.ty))
	r1 := min(s.g.ty-1, row(math.Max(y0, y1)+reach, s.g.ty))
	for r := r0; r <= r1; r++ {
		lo, hi := math.Min(x0, x1), math.Max(x0, x1)
		if k.kind == straight && k.uy != 0 && r1 > r0 {
			// The part of the way with y in this row's band, widened by reach.
			t0 := (float64(r)*size - reach - k.y) / k.uy
			t1 := (float64(r+1)*size + reach - k.y) / k.uy
			if t0 > t1 {
				t0, t1 = t1, t0
			}
			t0, t1 = math.Max(0, t0), math.Min(k.length, t1)
			if t0 > t1 {
				continue
			}
			a, b := k.x+k.ux*t0, k.x+k.ux*t1
			lo, hi = math.Min(a, b), math.Max(a, b)
		}
		c0 := max(0, row(lo-reach, s.g.tx))
		c1 := min(s.g.tx-1, row(hi+reach, s.g.tx))
		for c := c0; c <= c1; c++ {
			if k.kind == levelArc || c1-c0 > 2 {
				// Farther than reach from the tile's circle: not touched.
				half := size / 2
				if d, _, _ := k.near(float64(c)*size+half, float64(r)*size+half); d > reach+half*math.Sqrt2 {
					continue
				}
			}
			n := r*s.g.tx + c
			if s.head[n] < 0 {
				s.touched = append(s.touched, int32(n))
			}
			s.links = append(s.links, link{id, s.head[n]})
			s.head[n] = int32(len(s.links) - 1)
		}
	}
}

// flush cuts the batch gathered so far.
func (s *sweeper) flush() {
	if len(s.touched) == 0 {
		return
	}
	var next atomic.Int64
	run := func(w *worker) {
		for {
			n := int(next.Add(1)) - 1
			if n >= len(s.touched) {
				return
			}
			w.tile(s, int(s.touched[n]))
		}
	}
	if len(s.workers) == 1 || len(s.touched) == 1 {
		run(s.workers[0])
	} else {
		var wg sync.WaitGroup
		for _, w := range s.workers {
			wg.Go(func() { run(w) })
		}
		wg.Wait()
	}
	for _, w := range s.workers {
		for _, h := range w.hits {
			if old, ok := s.hits[h.key]; !ok || h.hit.worse(old) {
				s.hits[h.key] = h.hit
			}
		}
		w.hits = w.hits[:0]
	}
	s.thin()
	for _, n := range s.touched {
		s.head[n] = -1
	}
	s.strokes, s.acts, s.links, s.touched = s.strokes[:0], s.acts[:0], s.links[:0], s.touched[:0]
}

// thin keeps the lines that come first where there are far too many hits.
func (s *sweeper) thin() {
	if len(s.hits) <= 4*maxHitLines {
		return
	}
	keys := s.hitKeys()
	count := map[Code]int{}
	for _, k := range keys {
		if count[k.code]++; count[k.code] > maxHitLines {
			delete(s.hits, k)
		}
	}
}

// hitKeys gives the hits' keys by code and line.
func (s *sweeper) hitKeys() []hitKey {
	keys := make([]hitKey, 0, len(s.hits))
	for k := range s.hits {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b hitKey) int {
		return cmp.Or(cmp.Compare(a.code, b.code), cmp.Compare(a.line, b.line))
	})
	return keys
}
