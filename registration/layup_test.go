package registration

import (
	"container/heap"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/testdata/draws"
)

// round is a hole or a pin: its centre and its diameter.
type round struct{ x, y, dia float64 }

// pose is a box of motions: its middle, and how far it goes from there in X, in Y and
// in the turn.
type pose struct {
	x, y, turn, dx, dy, dt float64
	least                  float64 // nothing in the box is below
}

type poses []pose

func (p poses) Len() int           { return len(p) }
func (p poses) Less(i, j int) bool { return p[i].least < p[j].least }
func (p poses) Swap(i, j int)      { p[i], p[j] = p[j], p[i] }
func (p *poses) Push(v any)        { *p = append(*p, v.(pose)) }
func (p *poses) Pop() any {
	old := *p
	v := old[len(old)-1]
	*p = old[:len(old)-1]
	return v
}

// seek lays holes over pins in every way, turned by up to five degrees, and gives how
// much more room the worst pin needs to stand inside a hole, at the best of them, to
// 0.001. It knows nothing of pairings: a box of motions is left out once the room at
// its middle, which no motion in it changes by more than the motion is long, shows
// that it holds nothing better, and else cut in eight.
func seek(holes, pins []round) float64 {
	var mx, my, far float64
	for _, h := range holes {
		mx, my = mx+h.x/float64(len(holes)), my+h.y/float64(len(holes))
	}
	for _, h := range holes {
		far = max(far, math.Hypot(h.x-mx, h.y-my))
	}
	need := func(x, y, turn float64) float64 {
		sin, cos := math.Sincos(turn)
		worst := math.Inf(-1)
		for _, p := range pins {
			best := math.Inf(1)
			for _, h := range holes {
				hx, hy := mx+x+(h.x-mx)*cos-(h.y-my)*sin, my+y+(h.x-mx)*sin+(h.y-my)*cos
				best = min(best, math.Hypot(hx-p.x, hy-p.y)+p.dia/2-h.dia/2)
			}
			worst = max(worst, best)
		}
		return worst
	}
	best := math.Inf(1)
	queue := &poses{}
	add := func(p pose) {
		v := need(p.x, p.y, p.turn)
		best = min(best, v)
		p.least = v - math.Hypot(p.dx, p.dy) - far*p.dt
		heap.Push(queue, p)
	}
	add(pose{dx: 150, dy: 150, dt: 5 * math.Pi / 180})
	for queue.Len() > 0 {
		p := heap.Pop(queue).(pose)
		if p.least > best-0.001 || p.least > 0.3 {
			break
		}
		for k := range 8 {
			q := p
			q.dx, q.dy, q.dt = p.dx/2, p.dy/2, p.dt/2
			q.x += q.dx * float64(2*(k&1)-1)
			q.y += q.dy * float64(k&2-1)
			q.turn += q.dt * float64(k&4/2-1)
			add(q)
		}
	}
	return best
}

// Lay-ups against a search over all motions that knows no formula, on patterns that
// are nearly symmetric, with clearances given as a size, as a clearance or not at all.
func TestLayUpsAgreeWithSearch(t *testing.T) {
	if testing.Short() {
		t.Skip("a search over all motions")
	}
	r := rand.New(rand.NewPCG(12, 8))
	tenth := func(n int) decimal.Decimal { return decimal.New(int64(r.IntN(n)), -2) }
	blank := Blank{d("120"), d("80"), d("12")}
	counts := map[string]int{}
	for range draws.Of(60) {
		q := Question{Stock: &blank, Flip: FlipY, Register: Dowels}
		switch r.IntN(6) {
		case 0: // three on the line, nearly evenly spaced
			q.Pins = pins(t, "60,10,6 60,40,6 60,70,6")
			q.Pins[1].At.Y = q.Pins[1].At.Y.Add(tenth(150))
		case 1: // a pair, and a third nearly on their join
			q.Pins = pins(t, "20,40,6 100,40,6 60,40,6")
			q.Pins[2].At.Y = q.Pins[2].At.Y.Add(tenth(120))
		case 2: // two whose diameters hardly differ
			q.Pins = pins(t, "60,10,6 60,70,6")
			q.Pins[1].Dia = q.Pins[1].Dia.Add(tenth(160))
		default: // a second station, any pattern: turned and shifted by clearance alone
			q.BackPin = &Point{d("300"), d("50")}
			q.Pins = pins(t, "30,38,6 92,41,6 61,40,6")
			for i := range q.Pins {
				q.Pins[i].At = q.Pins[i].At.Add(Point{tenth(200), tenth(200)})
			}
		}
		clear := tenth(90)
		switch r.IntN(3) {
		case 0:
			q.Clearance = &clear
		case 1:
			for _, p := range q.Pins {
				q.Hole = append(q.Hole, p.Dia.Add(clear))
			}
		case 2:
			clear = decimal.Decimal{}
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		spots := func(list []Pin, more decimal.Decimal) (s []round) {
			for _, p := range list {
				s = append(s, round{f(p.At.X), f(p.At.Y), f(p.Dia.Add(more))})
			}
			return s
		}
		pins := spots(q.Pins, decimal.Decimal{})
		if q.BackPin != nil {
			for i := range pins {
				pins[i].x = 120 - pins[i].x
			}
		}
		foolproof := true
		for _, l := range a.LayUps {
			if l.Wanted {
				continue
			}
			holes := spots(q.Pins, clear)
			for i := range holes {
				if l.Name == LayFlipY || l.Name == LayTurned {
					holes[i].x = 120 - holes[i].x
				}
				if l.Name == LayFlipX || l.Name == LayTurned {
					holes[i].y = 80 - holes[i].y
				}
			}
			need := seek(holes, pins)
			const apart = 0.002 // twice what the search is good for
			fits, near := need <= 0, need > 0 && need <= 0.25
			if math.Abs(need) > apart && math.Abs(need-0.25) > apart && (l.Fits != fits || l.Near != near) {
				t.Errorf("%v, clearance %s, %s: fits %v, near %v, missing %s; the search says %.4f", q.Pins, clear, l.Name, l.Fits, l.Near, l.Miss, need)
			}
			if l.Near && math.Abs(f(l.Miss)-need) > apart {
				t.Errorf("%v, clearance %s, %s: %s is missing, the search says %.4f", q.Pins, clear, l.Name, l.Miss, need)
			}
			if l.Name != LayAsIs && need <= 0.25 {
				foolproof = false
			}
			switch {
			case l.Fits && !l.Turn.IsZero():
				counts["askew"]++
			case l.Fits:
				counts["fits"]++
			case l.Near:
				counts["near"]++
			default:
				counts["off"]++
			}
		}
		if a.Foolproof != foolproof && !slices.ContainsFunc(a.LayUps, func(l LayUp) bool { return math.Abs(f(l.Miss)-0.25) <= 0.002 }) {
			t.Errorf("%v, clearance %s: foolproof = %v", q.Pins, clear, a.Foolproof)
		}
	}
	t.Logf("%v", counts)
	for _, kind := range []string{"askew", "fits", "near", "off"} {
		if counts[kind] < draws.Of(5) {
			t.Errorf("only %d lay-ups of the kind %s", counts[kind], kind)
		}
	}
}

// Clearance from wherever it is given lets a wrong lay-up on: with the third pin
// 0.15 off the middle the turned holes lie 0 and 0.3 off, at best 0.15 each way.
func TestClearanceLetsOn(t *testing.T) {
	for _, test := range []struct {
		name      string
		change    func(*Question)
		fits      bool
		foolproof bool
	}{
		{"no clearance said", func(q *Question) {}, false, false},
		{"0.28 on the diameter, 0.14 any way", func(q *Question) { q.Hole = holes("6.28") }, false, false},
		{"0.3: just", func(q *Question) { q.Hole = holes("6.3") }, true, false},
		{"0.8 as a tolerance", func(q *Question) { q.Clearance = ptr("0.8") }, true, false},
		// H11/f7 at 6: H11 +0.075, f7 -0.010 to -0.022 (ISO 286): 0.097 at most.
		{"by the fit, a hair off", func(q *Question) { q.Fit = "H11/f7"; q.Pins[1].At.Y = d("40.048") }, true, false},
		{"by the fit, a hair farther", func(q *Question) { q.Fit = "H11/f7"; q.Pins[1].At.Y = d("40.049") }, false, false},
		{"far off", func(q *Question) { q.Clearance = ptr("0.1"); q.Pins[1].At.Y = d("44") }, false, true},
	} {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Register: Dowels, Pins: pins(t, "60,8,6 60,40.15,6 60,72,6")}
		test.change(&q)
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if l := a.LayUps[1]; l.Name != LayFlipX || l.Fits != test.fits || a.Foolproof != test.foolproof {
			t.Errorf("%s: %s fits %v, %s missing; foolproof %v", test.name, l.Name, l.Fits, l.Miss, a.Foolproof)
		}
	}
}

// Two pins always go into two holes as far apart, if the blank may turn: here by
// atan(2.5/50) - atan(-2.5/50) = 5.72 degrees for the pattern of a second station, and
// 2.29 degrees with half of that.
func TestLiesAskew(t *testing.T) {
	for _, test := range []struct {
		second string
		turn   string
		fits   bool
	}{{"85,42.5,6", "", false}, {"85,41,6", "-2.29", true}} {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Register: Dowels, BackPin: &Point{d("300"), d("50")}, Pins: pins(t, "35,40,6 "+test.second)}
		if !test.fits {
			q.Pins[0].At.Y = d("37.5")
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if l := a.LayUps[0]; l.Fits != test.fits || test.fits && l.Turn.String() != test.turn {
			t.Errorf("%s: %s fits %v, turned by %s, %s missing", test.second, l.Name, l.Fits, l.Turn, l.Miss)
		}
	}
}
