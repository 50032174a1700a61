package bed

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// small draws a bed of at most 12 x 7 with even blanks, so that every best place
// is whole.
func small(rng *rand.Rand) (*Machine, Request) {
	m := router()
	m.X, m.Y = Range{n(0), n(6 + rng.IntN(7))}, Range{n(0), n(3 + rng.IntN(5))}
	if rng.IntN(3) == 0 {
		m.Home = &registration.Point{X: n(rng.IntN(15)), Y: n(rng.IntN(12))}
	}
	q := Request{Pairs: 0, Flip: registration.Flip(1 + rng.IntN(2)), AllowTurn: rng.IntN(2) == 0, Gap: n(rng.IntN(2)),
		Blank: registration.Blank{W: n(2 + 2*rng.IntN(2)), H: n(2 + 2*rng.IntN(2))}}
	if rng.IntN(2) == 0 {
		q.Margin = Reach{Left: n(rng.IntN(2)), Near: n(rng.IntN(2))}
	}
	if rng.IntN(2) == 0 {
		q.Back = Program{Reach: &Reach{Left: n(rng.IntN(2)), Right: n(rng.IntN(3) - 1), Far: n(rng.IntN(2))}, Radius: n(rng.IntN(2))}
	}
	for range rng.IntN(3) {
		r := rect(rng.IntN(12), rng.IntN(9), 1+rng.IntN(3), 1+rng.IntN(3))
		if rng.IntN(2) == 0 {
			q.NoGo = append(q.NoGo, Area{Rect: r})
		} else {
			q.Taken = append(q.Taken, InUse{Offset: []string{"G58", "G59", "G57"}[len(q.Taken)], Rect: &r})
		}
	}
	return m, q
}

// grow gives the rectangle of a blank of w x h at a corner with a reach around it.
func grow(x, y, w, h int, r Reach) (x0, y0, x1, y1 int) {
	i := func(d decimal.Decimal) int { return int(d.IntPart()) }
	return x - i(r.Left), y - i(r.Near), x + w + i(r.Right), y + h + i(r.Far)
}

// brute tries every whole place of every pair: a second way to the answer that
// shares nothing with the search but the meaning of the words.
func brute(m *Machine, q Request) (pairs, turned, between, home int) {
	type rc struct{ x0, y0, x1, y1 int }
	type cand struct {
		r                 [2]rc
		turned, sep, home int
	}
	i := func(d decimal.Decimal) int { return int(d.IntPart()) }
	rot := func(r Reach) Reach { return Reach{Left: r.Far, Right: r.Near, Near: r.Left, Far: r.Right} }
	apart := func(a, b rc, g int) bool {
		return a.x1+g <= b.x0 || b.x1+g <= a.x0 || a.y1+g <= b.y0 || b.y1+g <= a.y0
	}
	g, X, Y := i(q.Gap), i(m.X.Greatest), i(m.Y.Greatest)
	hx, hy := 0, 0
	if m.Home != nil {
		hx, hy = i(m.Home.X), i(m.Home.Y)
	}
	abs := func(v int) int { return max(v, -v) }
	station := func(side, turn, x, y int) (rc, int, bool) {
		w, h := i(q.Blank.W), i(q.Blank.H)
		p := []Program{q.Face, q.Back}[side]
		margin, mv, over := q.Margin, Reach{}, Reach{}
		if p.Reach != nil {
			mv = *p.Reach
			over = Reach{Left: mv.Left.Add(p.Radius), Right: mv.Right.Add(p.Radius), Near: mv.Near.Add(p.Radius), Far: mv.Far.Add(p.Radius)}
		}
		if turn == 1 {
			w, h, margin, mv, over = h, w, rot(margin), rot(mv), rot(over)
		}
		// Fixture on the bed; blank and moves in the travel, which is the same here.
		bx0, by0, bx1, by1 := grow(x, y, w, h, margin)
		mx0, my0, mx1, my1 := grow(x, y, w, h, mv)
		if min(bx0, mx0) < 0 || min(by0, my0) < 0 || max(bx1, mx1) > X || max(by1, my1) > Y {
			return rc{}, 0, false
		}
		ox0, oy0, ox1, oy1 := grow(x, y, w, h, over)
		r := rc{min(bx0, ox0), min(by0, oy0), max(bx1, ox1), max(by1, oy1)}
		for _, o := range q.NoGo {
			if !apart(r, rc{i(o.X), i(o.Y), i(o.Right()), i(o.Far())}, 0) {
				return rc{}, 0, false
			}
		}
		for _, u := range q.Taken {
			if o := u.Rect; !apart(r, rc{i(o.X), i(o.Y), i(o.Right()), i(o.Far())}, g) {
				return rc{}, 0, false
			}
		}
		return r, abs(x+w/2-hx) + abs(y+h/2-hy), true
	}
	var all []cand
	for turn := range 2 {
		if turn == 1 && !q.AllowTurn {
			continue
		}
		alongX := (q.Flip == registration.FlipY) == (turn == 0)
		for x := 0; x <= X; x++ {
			for y := 0; y <= Y; y++ {
				f, fh, ok := station(0, turn, x, y)
				if !ok {
					continue
				}
				for v := 0; v <= max(X, Y); v++ {
					bx, by := v, y
					if !alongX {
						bx, by = x, v
					}
					b, bh, ok := station(1, turn, bx, by)
					if ok && apart(f, b, g) {
						all = append(all, cand{[2]rc{f, b}, turn, abs(bx-x) + abs(by-y), fh + bh})
					}
				}
			}
		}
	}
	cap := (6 - len(q.Taken)) / 2
	var walk func(from, count, turn, sep, hm int, chosen []cand)
	better := func(count, turn, sep, hm int) bool {
		for _, c := range [][2]int{{-count, -pairs}, {turn, turned}, {sep, between}, {hm, home}} {
			if c[0] != c[1] {
				return c[0] < c[1]
			}
		}
		return false
	}
	walk = func(from, count, turn, sep, hm int, chosen []cand) {
		if better(count, turn, sep, hm) {
			pairs, turned, between, home = count, turn, sep, hm
		}
		if count == cap {
			return
		}
	next:
		for k := from; k < len(all); k++ {
			for _, c := range chosen {
				for _, a := range c.r {
					for _, b := range all[k].r {
						if !apart(a, b, g) {
							continue next
						}
					}
				}
			}
			walk(k+1, count+1, turn+all[k].turned, sep+all[k].sep, hm+all[k].home, append(chosen[:count:count], all[k]))
		}
	}
	walk(0, 0, 0, 0, 0, nil)
	return pairs, turned, between, home
}

func TestBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	var seen [4]int
	for i := range 150 {
		m, q := small(rng)
		pairs, turned, between, home := brute(m, q)
		seen[pairs]++
		l, err := Place(m, q)
		if pairs == 0 {
			var no *NoFit
			if !errors.As(err, &no) || no.Fits != 0 {
				t.Fatalf("bed %d: got %v, %v, want no fit\n%+v", i, l, err, q)
			}
			continue
		}
		if err != nil {
			t.Fatalf("bed %d: %v, want %d pairs", i, err, pairs)
		}
		got := 0
		for _, s := range l.Stations {
			got += b2i(s.Turned)
		}
		if l.Pairs != pairs || got != 2*turned || !l.Between.Equal(n(between)) || !l.FromHome.Equal(n(home)) {
			t.Fatalf("bed %d: got %d pairs, %d turned stations, %s between, %s from home; brute force %d, %d, %d, %d\n%+v\n%v",
				i, l.Pairs, got, l.Between, l.FromHome, pairs, 2*turned, between, home, q, corners(l))
		}
	}
	for k, v := range seen {
		if v == 0 {
			t.Errorf("no bed with %d pairs was drawn", k)
		}
	}
	t.Log(seen)
}

// Random beds: stations never overlap, leave bed or travel, enter a no-go or
// taken rectangle, or get a taken offset.
func TestRandomBeds(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 26))
	placed, cut := 0, 0
	for i := range 10_000 {
		m, q := drawBed(rng)
		l, err := placeIn(m, q, 200_000)
		if err != nil {
			continue
		}
		placed++
		cut += b2i(!l.Proved)
		if err := wrong(m, q, l); err != nil {
			t.Fatalf("bed %d: %v\n%+v\n%+v\n%q", i, err, m, q, corners(l))
		}
	}
	if placed < 5000 {
		t.Errorf("only %d of 10000 beds held a pair", placed)
	}
	t.Logf("%d placed, %d cut short", placed, cut)
}

// drawBed draws a bed with decimals, obstacles and offsets in use.
func drawBed(rng *rand.Rand) (*Machine, Request) {
	f := func(lo, hi float64) decimal.Decimal {
		return decimal.NewFromFloat(lo + rng.Float64()*(hi-lo)).Round(int32(rng.IntN(4)))
	}
	m := router()
	m.X, m.Y, m.Extended = Range{f(-50, 0), f(200, 1200)}, Range{f(-50, 0), f(150, 900)}, rng.IntN(3) == 0
	if rng.IntN(2) == 0 {
		b := Rect{X: f(0, 40), Y: f(0, 40), W: f(200, 1000), H: f(150, 800)}
		m.Bed = &b
	}
	for _, name := range OffsetNames(m.Extended) {
		if rng.IntN(4) == 0 {
			u := InUse{Offset: name}
			if rng.IntN(2) == 0 {
				r := Rect{X: f(0, 800), Y: f(0, 600), W: f(20, 200), H: f(20, 200)}
				u.Rect = &r
			}
			m.InUse = append(m.InUse, u)
		}
	}
	q := Request{Pairs: rng.IntN(3), Flip: registration.Flip(1 + rng.IntN(2)), Gap: f(0, 40), AllowTurn: rng.IntN(3) == 0,
		Blank:  registration.Blank{W: f(20, 200), H: f(20, 200)},
		Margin: Reach{Left: f(0, 20), Right: f(0, 20), Near: f(0, 20), Far: f(0, 20)},
		Face:   Program{Zero: registration.Point{X: f(0, 20), Y: f(0, 20)}, Reach: &Reach{Left: f(-10, 10), Right: f(-10, 10), Near: f(-10, 10), Far: f(-10, 10)}, Radius: f(0, 6)},
		Back:   Program{Reach: &Reach{Left: f(-10, 10), Right: f(-10, 10), Near: f(-10, 10), Far: f(-10, 10)}, Radius: f(0, 6)}}
	for range rng.IntN(3) {
		q.NoGo = append(q.NoGo, Area{Rect: Rect{X: f(0, 800), Y: f(0, 600), W: f(10, 150), H: f(10, 150)}})
	}
	return m, q
}

// wrong checks a layout against the words of the contract, from the corners alone.
func wrong(m *Machine, q Request, l *Layout) error {
	bedRect := Rect{X: m.X.Least, Y: m.Y.Least, W: m.X.Greatest.Sub(m.X.Least), H: m.Y.Greatest.Sub(m.Y.Least)}
	travel := bedRect
	if m.Bed != nil {
		bedRect = *m.Bed
	}
	used := map[string]bool{}
	for _, u := range m.InUse {
		used[u.Offset] = true
	}
	var occupied []Rect
	for i, s := range l.Stations {
		if used[s.Offset] {
			return fmt.Errorf("offset %s is taken or given twice", s.Offset)
		}
		used[s.Offset] = true
		p := []Program{q.Face, q.Back}[i%2]
		r, mg, zero, w, h := *p.Reach, q.Margin, p.Zero, q.Blank.W, q.Blank.H
		if s.Turned {
			r = Reach{Left: r.Far, Right: r.Near, Near: r.Left, Far: r.Right}
			mg = Reach{Left: mg.Far, Right: mg.Near, Near: mg.Left, Far: mg.Right}
			zero = registration.Point{X: h.Sub(zero.Y), Y: zero.X}
			w, h = h, w
		}
		around := func(r Reach, more decimal.Decimal) Rect {
			return Rect{X: s.Corner.X.Sub(r.Left).Sub(more), Y: s.Corner.Y.Sub(r.Near).Sub(more),
				W: w.Add(r.Left).Add(r.Right).Add(more).Add(more), H: h.Add(r.Near).Add(r.Far).Add(more).Add(more)}
		}
		blank, body, moves, swept := around(Reach{}, decimal.Zero), around(mg, decimal.Zero), around(r, decimal.Zero), around(r, p.Radius)
		switch {
		case !bedRect.Holds(body):
			return fmt.Errorf("station %d off the bed: %s", i, body)
		case !travel.Holds(moves) || !travel.Holds(blank):
			return fmt.Errorf("station %d out of the travel: %s", i, moves)
		case !s.Zero.X.Equal(s.Corner.X.Add(zero.X)) || !s.Zero.Y.Equal(s.Corner.Y.Add(zero.Y)):
			return fmt.Errorf("station %d has its zero at %s,%s", i, s.Zero.X, s.Zero.Y)
		case s.Turned && !q.AllowTurn:
			return fmt.Errorf("station %d is turned", i)
		}
		for _, mine := range []Rect{body, swept} {
			for _, o := range q.NoGo {
				if mine.Overlaps(o.Rect) {
					return fmt.Errorf("station %d enters no-go %s", i, o)
				}
			}
			for _, u := range m.InUse {
				if u.Rect != nil && mine.Overlaps(u.Rect.Grow(q.Gap)) {
					return fmt.Errorf("station %d within the gap of %s", i, u.Rect)
				}
			}
			for j, o := range occupied {
				if j/2 != i && mine.Overlaps(o.Grow(q.Gap)) {
					return fmt.Errorf("station %d within the gap of another, %s and %s", i, mine, o)
				}
			}
			occupied = append(occupied, mine)
		}
		if i%2 == 1 {
			f := l.Stations[i-1]
			alongX := (q.Flip == registration.FlipY) != s.Turned
			if alongX && !f.Corner.Y.Equal(s.Corner.Y) || !alongX && !f.Corner.X.Equal(s.Corner.X) || f.Turned != s.Turned {
				return fmt.Errorf("pair %d doesn't turn like a page", s.Pair)
			}
		}
	}
	if q.Pairs > 0 && l.Pairs != q.Pairs {
		return fmt.Errorf("%d pairs, asked %d", l.Pairs, q.Pairs)
	}
	return nil
}
