package cut

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// A sweeper cuts strokes into one side of a grid. It gathers them in batches,
// sorts each batch by the tiles it reaches, and lets its workers take the tiles
// while the next batch is gathered. A tile is worked by one worker and sees its
// strokes in the program's order, so the result is the same for any number of
// workers.
type sweeper struct {
	g       *Grid
	side    int
	workers []*worker

	fill *batch // being gathered
	work *batch // being cut
	busy sync.WaitGroup

	hits map[hitKey]hit
}

// batch is a run of strokes with a list of them for each tile they reach.
type batch struct {
	strokes []stroke
	acts    []act
	head    []int32 // by tile: its newest link, -1 for none
	links   []link
	touched []int32
}

func newBatch(tiles int) *batch {
	b := &batch{head: make([]int32, tiles)}
	for i := range b.head {
		b.head[i] = -1
	}
	return b
}

// clear empties a batch and keeps its memory.
func (b *batch) clear() {
	for _, n := range b.touched {
		b.head[n] = -1
	}
	b.strokes, b.acts, b.links, b.touched = b.strokes[:0], b.acts[:0], b.links[:0], b.touched[:0]
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
	batchStrokes = 1 << 16
	batchLinks   = 1 << 19
)

// newSweeper makes a sweeper with the given number of workers, 0 for one a core.
func newSweeper(g *Grid, side, workers int) *sweeper {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	s := &sweeper{g: g, side: side, hits: map[hitKey]hit{}}
	for range workers {
		s.workers = append(s.workers, &worker{g: g, side: side})
	}
	s.fill, s.work = newBatch(len(g.tiles)), newBatch(len(g.tiles))
	return s
}

// add takes one stroke. One that stays over the blank's top cuts nothing and is
// left out.
func (s *sweeper) add(k *stroke, a act) {
	if k.bottom() >= 0 {
		return
	}
	b := s.fill
	before := len(b.links)
	s.bin(k, int32(len(b.strokes)))
	if len(b.links) == before {
		return
	}
	b.strokes = append(b.strokes, *k)
	b.acts = append(b.acts, a)
	if len(b.strokes) >= batchStrokes || len(b.links) >= batchLinks {
		s.flush()
	}
}

// bin links stroke id to every tile within its cutter's reach of its way. For a straight move
// each row of tiles sees only the part of the way near that row.
func (s *sweeper) bin(k *stroke, id int32) {
	b, reach := s.fill, k.p.R
	size := float64(tileSize) * s.g.Cell
	x0, y0, x1, y1 := k.box()
	row := func(v float64, n int) int { return int(min(max(math.Floor(v/size), -1), float64(n))) }
	r0 := max(0, row(y0-reach, s.g.ty))
	r1 := min(s.g.ty-1, row(y1+reach, s.g.ty))
	for r := r0; r <= r1; r++ {
		lo, hi := x0, x1
		if k.kind == straight && k.uy != 0 && r1 > r0 {
			// The part of the way with y in this row's band, widened by reach.
			t0 := (float64(r)*size - reach - k.y) / k.uy
			t1 := (float64(r+1)*size + reach - k.y) / k.uy
			if t0 > t1 {
				t0, t1 = t1, t0
			}
			t0, t1 = max(0, t0), min(k.length, t1)
			if t0 > t1 {
				continue
			}
			lo, hi = k.x+k.ux*t0, k.x+k.ux*t1
			if lo > hi {
				lo, hi = hi, lo
			}
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
			if b.head[n] < 0 {
				b.touched = append(b.touched, int32(n))
			}
			b.links = append(b.links, link{id, b.head[n]})
			b.head[n] = int32(len(b.links) - 1)
		}
	}
}

// flush hands the batch gathered so far to the workers, once they are done with
// the one before.
func (s *sweeper) flush() {
	s.wait()
	s.fill, s.work = s.work, s.fill
	if len(s.work.touched) == 0 {
		return
	}
	next := new(atomic.Int64)
	b := s.work
	for _, w := range s.workers {
		s.busy.Go(func() {
			for {
				n := int(next.Add(1)) - 1
				if n >= len(b.touched) {
					return
				}
				w.tile(b, int(b.touched[n]))
			}
		})
	}
}

// wait lets the workers finish and gathers what they met.
func (s *sweeper) wait() {
	s.busy.Wait()
	for _, w := range s.workers {
		for _, h := range w.hits {
			if old, ok := s.hits[h.key]; !ok || h.hit.worse(old) {
				s.hits[h.key] = h.hit
			}
		}
		w.hits = w.hits[:0]
	}
	s.thin()
	s.work.clear()
}

// finish cuts all that is left.
func (s *sweeper) finish() {
	s.flush()
	s.wait()
}
