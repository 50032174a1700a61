package landed

import (
	"fmt"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/registration"
)

// The simulations below lay a rectangle against points, cut its face, turn it over, lay it
// again and cut the back. They solve for the blank's place from what touches, and use none
// of the formulas of the cures.

type vec struct{ x, y float64 }

func (v vec) minus(w vec) vec   { return vec{v.x - w.x, v.y - w.y} }
func (v vec) dot(w vec) float64 { return v.x*w.x + v.y*w.y }

// line is an edge of the blank in its own frame: n.p = c, with the blank on the side to
// which n points.
type line struct {
	n vec
	c float64
}

// edgeOf gives the edge of a w x h blank at a side.
func edgeOf(s registration.Side, w, h float64) line {
	return map[registration.Side]line{registration.Near: {vec{0, 1}, 0}, registration.Far: {vec{0, -1}, -h},
		registration.Left: {vec{1, 0}, 0}, registration.Right: {vec{-1, 0}, -w}}[s]
}

// touching finds the place of a blank on which three points of the bed touch three of its
// edges, or one of whose own points lies on a point of the bed (plug), by Newton's steps.
type touching struct {
	at   vec
	edge *line
	hole *vec // of the blank
}

func lay(t *testing.T, list []touching) pose {
	t.Helper()
	var p [3]float64 // angle, and where the blank's origin lies
	misses := func(p [3]float64) (out []float64) {
		s, c := math.Sincos(p[0])
		for _, k := range list {
			d := k.at.minus(vec{p[1], p[2]})
			own := vec{c*d.x + s*d.y, -s*d.x + c*d.y}
			if k.edge != nil {
				out = append(out, k.edge.n.dot(own)-k.edge.c)
			} else {
				out = append(out, own.x-k.hole.x, own.y-k.hole.y)
			}
		}
		return out
	}
	for range 20 {
		m := misses(p)
		var j [3][4]float64
		for k := range p {
			q := p
			q[k] += 1e-6
			for i, v := range misses(q) {
				j[i][k] = (v - m[i]) / 1e-6
			}
		}
		for i := range m {
			j[i][3] = m[i]
		}
		for i := range 3 { // Gauss
			best := i
			for r := i; r < 3; r++ {
				if math.Abs(j[r][i]) > math.Abs(j[best][i]) {
					best = r
				}
			}
			j[i], j[best] = j[best], j[i]
			for r := range 3 {
				if r == i {
					continue
				}
				f := j[r][i] / j[i][i]
				for k := range 4 {
					j[r][k] -= f * j[i][k]
				}
			}
		}
		for i := range p {
			p[i] -= j[i][3] / j[i][i]
		}
	}
	for _, v := range misses(p) {
		if math.Abs(v) > 1e-9 {
			t.Fatalf("nothing lies so: %v", misses(p))
		}
	}
	return pose{a: p[0], mx: p[1], my: p[2]}
}

// shop is what stands on the bed, as it really is: contacts and stops of the face and of
// the back in the as-laid frame of a blank that lies as it should.
type shop struct {
	w, h  float64
	flip  registration.Flip
	sides [2][2]registration.Side // face and back: fence, stop
	on    [2][2]vec               // the fence's contacts
	stop  [2]vec
	bore  *vec // on a plug: at the face; the plug stands at plug
	plug  [2]vec
}

func (s *shop) over(p vec) vec {
	if s.flip == registration.FlipY {
		return vec{s.w - p.x, p.y}
	}
	return vec{p.x, s.h - p.y}
}

// shims hold the contacts of the fence off, face and back.
func (s *shop) pose(t *testing.T, back int, shims [2]float64) pose {
	fence := edgeOf(s.sides[back][0], s.w, s.h)
	var list []touching
	for i, at := range s.on[back] {
		if s.bore != nil && i != 1-s.loose(back, shims) {
			continue
		}
		list = append(list, touching{at: vec{at.x + fence.n.x*shims[i], at.y + fence.n.y*shims[i]}, edge: &fence})
	}
	if s.bore != nil {
		hole := *s.bore
		if back == 1 {
			hole = s.over(hole)
		}
		return lay(t, append(list, touching{at: s.plug[back], hole: &hole}))
	}
	stop := edgeOf(s.sides[back][1], s.w, s.h)
	return lay(t, append(list, touching{at: s.stop[back], edge: &stop}))
}

// loose is the contact that a blank on a plug doesn't touch: on a plug one contact is
// enough, and the shimmed one is the one that turns it.
func (s *shop) loose(_ int, shims [2]float64) int {
	if shims[0] != 0 {
		return 1
	}
	return 0
}

// mismatch is how far the back lands off at p of the back, its zero moved by z.
func (s *shop) mismatch(t *testing.T, p, z vec, face, back [2]float64) vec {
	fx, fy := s.pose(t, 0, face).take(s.over(p).x, s.over(p).y)
	should := s.over(vec{fx, fy})
	bx, by := s.pose(t, 1, back).take(p.x+z.x, p.y+z.y)
	return vec{bx - should.x, by - should.y}
}

func toPoint(v vec) *registration.Point {
	return &registration.Point{X: decimal.NewFromFloat(v.x), Y: decimal.NewFromFloat(v.y)}
}

func toVec(p registration.Point) vec { return vec{num(p.X), num(p.Y)} }

// Every fence and stop, both flips, the same fence for both sides or one of the back's
// own, contacts said and not: each cure, done as it says with its own zero, leaves of a
// mismatch of some tenths only the second order.
//
// The bound: a turn by a carries a point at a distance of at most D by its first order
// but for D a a/2. Four turns by at most the whole angle t take part, of the blank as it
// lies on both sides and of the cure on both, so 2 D t t; and what is displaced by e is
// turned with, e t for each of the four. A contact that slides along the edge by at most
// D t t and e leads to no more than that times t.
func TestEachCureTakesTheErrorOut(t *testing.T) {
	cases, worst := 0, 0.0
	for _, flip := range []registration.Flip{registration.FlipX, registration.FlipY} {
		for _, fence := range []registration.Side{registration.Near, registration.Far, registration.Left, registration.Right} {
			for _, stop := range []registration.Side{registration.Near, registration.Far, registration.Left, registration.Right} {
				if (fence <= registration.Far) == (stop <= registration.Far) {
					continue
				}
				for _, otherStop := range []bool{false, true} {
					for _, ownFence := range []bool{false, true} {
						for _, said := range []bool{false, true} {
							for _, lean := range []float64{0.3, -0.2} {
								q := boards(flip, fence, stop)
								if otherStop {
									q.BackStop.Side = opposite(stop)
								}
								if ownFence {
									q.BackFence.Side = opposite(fence)
								}
								if said {
									q.Contacts = &registration.Contacts{Fence: [2]decimal.Decimal{dec("7.5"), dec("81")}, Stop: dec("12")}
								}
								w := cured(t, q, lean)
								worst = max(worst, w)
								cases++
							}
						}
					}
				}
			}
		}
	}
	t.Logf("%d cases, at most %.2f of the bound left", cases, worst)
}

// cured gives what is left after the worst cure as a share of the bound.
func cured(t *testing.T, q registration.Question, lean float64) float64 {
	a := solve(t, q)
	s := &shop{w: 140, h: 90, flip: q.Flip}
	back := [2]registration.Side{a.Question.BackFence.Side, a.Question.BackStop.Side}
	s.sides = [2][2]registration.Side{{q.Fence.Side, q.Stop.Side}, back}
	e := 0.0
	for i, side := range s.sides {
		on, stop := a.Question.ContactsOn(a.Used, side[0]).Points(a.Used, side[0], side[1])
		for k := range on {
			n := edgeOf(side[0], s.w, s.h).n
			d := 0.11
			if k == 1 {
				d += lean // the fence leans; the same one leans the same on both sides
			}
			s.on[i][k] = vec{num(on[k].X) + n.x*d, num(on[k].Y) + n.y*d}
			e = max(e, math.Abs(d))
		}
		n := edgeOf(side[1], s.w, s.h).n
		s.stop[i] = vec{num(stop.X) - n.x*0.07, num(stop.Y) - n.y*0.07}
	}
	var list []Measurement
	off := vec{0.05, -0.08} // the back's zero, set wrong
	for _, p := range []vec{{8, 9}, {131, 12}, {66, 84}} {
		list = append(list, Measurement{Off: *toPoint(s.mismatch(t, p, off, [2]float64{}, [2]float64{})), At: toPoint(p)})
	}
	c, err := Correct(a, list, Options{Measuring: dec("0.001")})
	if err != nil {
		t.Fatal(err)
	}
	name := fmt.Sprintf("flip %v, face %v, back %v, contacts %v, lean %v", q.Flip, s.sides[0], s.sides[1], q.Contacts, lean)
	cures := 2 // the last turns the program
	if q.Fence.Side == back[0] {
		cures = 3
	}
	if len(c.Turn.Cures) != cures {
		t.Fatalf("%s: %d cures, want %d", name, len(c.Turn.Cures), cures)
	}
	share := 0.0
	for _, k := range c.Turn.Cures[:cures-1] {
		end := 0
		if k.Shim.End == registration.Right || k.Shim.End == registration.Far {
			end = 1
		}
		var face, shim [2]float64
		shim[end] = num(k.Shim.Thick)
		if k.Both {
			face = shim
		}
		z := vec{num(k.Zero.X.Sub(a.Second.X)) + off.x, num(k.Zero.Y.Sub(a.Second.Y)) + off.y}
		angle, reach := math.Abs(c.Turn.Angle), math.Hypot(s.w, s.h)
		// A single lean that cancels between the two sides is still there on each.
		angle = max(angle, math.Abs(lean)/73.5)
		bound := 2*reach*angle*angle + 4*(e+0.1)*angle
		for _, p := range []vec{{0, 0}, {140, 0}, {0, 90}, {140, 90}, {70, 45}} {
			before, left := s.mismatch(t, p, off, [2]float64{}, [2]float64{}), s.mismatch(t, p, z, face, shim)
			l := math.Hypot(left.x, left.y)
			share = max(share, l/bound)
			if l > bound {
				t.Errorf("%s: both %v, shim %s at %v: %.5f left of %.5f at %v, want at most %.5f", name, k.Both, k.Shim.Thick, k.Shim.End, l, math.Hypot(before.x, before.y), p, bound)
			}
		}
	}
	return share
}

// A plug clocked by a fence: the shim acts on the one contact that it stands on.
func TestCuresOfAClockingFence(t *testing.T) {
	for _, flip := range []registration.Flip{registration.FlipX, registration.FlipY} {
		for _, fence := range []registration.Side{registration.Near, registration.Far, registration.Left, registration.Right} {
			for _, turn := range []float64{0.002, -0.003} {
				q := markers()
				q.Flip, q.Register, q.Bore = flip, registration.Plug, &registration.Pin{At: point("50", "33"), Dia: dec("12")}
				q.Clock, q.Fence.Side = registration.Clocking{Kind: registration.ClockFence}, fence
				plugAt := point("400", "150")
				q.PlugAt = &plugAt
				a := solve(t, q)
				bore := a.Question.Bore.At
				centre := toVec(over(a, bore))
				var list []Measurement
				at := func(p vec, turn float64) vec { // cuts turned about the plug on the back
					s, c := math.Sincos(turn)
					d := p.minus(centre)
					return vec{centre.x + c*d.x - s*d.y - p.x + 0.1, centre.y + s*d.x + c*d.y - p.y}
				}
				for _, p := range []vec{{8, 9}, {111, 12}, {66, 74}} {
					list = append(list, Measurement{Off: *toPoint(at(p, turn)), At: toPoint(p)})
				}
				c, err := Correct(a, list, Options{Measuring: dec("0.001")})
				if err != nil {
					t.Fatal(err)
				}
				if len(c.Turn.Cures) != 2 || c.Turn.Cures[0].Shim == nil {
					t.Fatalf("%+v", c.Turn)
				}
				k := c.Turn.Cures[0]
				// The blank on its plug, the shim under the contact: by how much it turns.
				s := &shop{w: 120, h: 80, flip: flip, sides: [2][2]registration.Side{{fence}, {fence}}, bore: &vec{num(bore.X), num(bore.Y)}}
				s.plug[1] = centre
				on, _ := a.Question.ContactsOn(a.Used, fence).Points(a.Used, fence, registration.NoSide)
				s.on[1] = [2]vec{toVec(on[0]), toVec(on[1])}
				var shim [2]float64
				end := 0
				if k.Shim.End == registration.Right || k.Shim.End == registration.Far {
					end = 1
				}
				shim[end] = num(k.Shim.Thick)
				// The edge, r from the plug, comes r t t/2 nearer by the turn itself, which
				// the contact l along it takes for a turn of r t t/(2 l).
				n := edgeOf(fence, s.w, s.h).n
				d := s.on[1][end].minus(centre)
				r, l := math.Abs(d.dot(n)), math.Abs(d.x*n.y-d.y*n.x)
				if got := s.pose(t, 1, shim).a; math.Abs(got-turn) > turn*turn*(1+r/2/l) {
					t.Errorf("flip %v, fence %v: turned by %v, want %v (shim %s at %v)", flip, fence, got, turn, k.Shim.Thick, k.Shim.End)
				}
				// The plug stays, so the shift there is what is left for the zero.
				if math.Abs(num(k.Shift.X)-0.1) > 0.1*turn*turn*2 || math.Abs(num(k.Shift.Y)) > 2*0.1*math.Abs(turn) {
					t.Errorf("shift %v", k.Shift)
				}
			}
		}
	}
}

// A flat or a fence whose side isn't said is turned itself; a round part's turn doesn't
// matter, and its zero is the one that holds at the bore.
func TestCuresWithoutAShim(t *testing.T) {
	q := markers()
	q.Register, q.Bore = registration.Plug, &registration.Pin{At: point("60", "40"), Dia: dec("30")}
	// sin t = 0.2/100 about (60, 40), where nothing is off.
	list := []Measurement{off("0,-0.1@10,40"), off("0,0.1@110,40")}
	for _, c := range []struct {
		clock, part string
		both        bool
		angle       float64
	}{{registration.ClockFlat, "plug", true, 0.001}, {registration.ClockFence, "fence", false, 0.002}} {
		q.Clock = registration.Clocking{Kind: c.clock}
		if c.clock == registration.ClockFlat {
			q.Clock.Side = registration.Near
		}
		k, err := Correct(solve(t, q), list, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := k.Turn.Cures; len(got) != 2 || k.Turn.Best != 1 || got[0].Part != c.part || got[0].Both != c.both || math.Abs(got[0].Angle-c.angle) > 1e-6 {
			t.Errorf("%s: %+v", c.clock, got)
		}
	}
	q.Clock, q.Round = registration.Clocking{}, true
	k, err := Correct(solve(t, q), []Measurement{off("0.05,-0.1@10,40"), off("0.05,0.02@70,40")}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	// The turn 0.12/60 leaves 0 at (60, 40), where the mean of the places has -0.04.
	if k.Turn != nil || !k.Shift.X.Round(4).Equal(dec("0.05")) || !k.Shift.Y.Round(4).IsZero() || k.Greatest > 1e-4 {
		t.Errorf("round: %+v", k)
	}
	for _, f := range k.Facts {
		if f.Code() == "turn-unknown" || f.Code() == "turn-small" {
			t.Errorf("round: %v", f)
		}
	}
}

// One of four places, or one of three pieces, that doesn't agree with the others is named;
// where it may be any, or where a size explains it all, none is.
func TestNamesThePlace(t *testing.T) {
	a := solve(t, markers())
	for _, c := range []struct {
		name string
		list []string
		want string
	}{
		{"the fourth", []string{"0.1,0@10,10", "0.1,0@110,10", "0.1,0@10,70", "0.9,0@110,70"}, "4 0.8"},
		{"the second, with a turn", []string{"0.06,-0.1@10,10", "0.06,-0.4@110,10", "-0.06,-0.1@10,70", "-0.06,0.1@110,70", "0,0@60,40"}, "2 0.5"},
		{"one of three pieces", []string{"0.1,0", "0.12,0.01", "0.5,0"}, "3 0.39"},
		{"two pieces", []string{"0.1,0", "0.5,0"}, ""},
		{"a size", []string{"-0.5,0@10,10", "0.5,0@110,10", "-0.5,0@10,70", "0.5,0@110,70"}, ""},
		{"three places", []string{"0,0@10,10", "0,0@110,10", "1,0@10,70"}, ""},
		{"all agree", []string{"0.1,0@10,10", "0.1,0@110,10", "0.1,0@10,70", "0.1,0.02@110,70"}, ""},
	} {
		var list []Measurement
		for _, s := range c.list {
			list = append(list, off(s))
		}
		k, err := Correct(a, list, Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, rigid := "", false
		for _, f := range k.Facts {
			if f.Code() == "place-disagrees" {
				got = fact.Values(f.Is)[0] + " " + dec(fact.Values(f.Is)[1]).Round(2).String()
			}
			rigid = rigid || f.Code() == "not-rigid"
		}
		if got != c.want || got != "" && rigid {
			t.Errorf("%s: %q, want %q; %v", c.name, got, c.want, k.Facts)
		}
	}
}

func opposite(s registration.Side) registration.Side { return s.Opposite() }

// A fence that clocks both sides, its contacts at 18 and 102 of 120, the plug at 60: a shim at
// the contact from which the turn leads the edge away, 42 along the fence and the sine 0.002
// high for the back alone, half of that where it stays in for both (by the lever).
func TestClockingFenceOfBothSides(t *testing.T) {
	for _, c := range []struct {
		list []Measurement
		end  registration.Side
	}{
		{[]Measurement{off("0,-0.1@10,40"), off("0,0.1@110,40")}, registration.Right},
		{[]Measurement{off("0,0.1@10,40"), off("0,-0.1@110,40")}, registration.Left},
	} {
		q := markers()
		q.Register, q.Bore = registration.Plug, &registration.Pin{At: point("60", "40"), Dia: dec("12")}
		q.Clock, q.Fence.Side = registration.Clocking{Kind: registration.ClockFence}, registration.Near
		got, err := Correct(solve(t, q), c.list, Options{Measuring: dec("0.001")})
		if err != nil || len(got.Turn.Cures) != 3 {
			t.Fatalf("%+v, %v", got, err)
		}
		for i, want := range []string{"0.084", "0.042"} {
			k := got.Turn.Cures[i]
			if k.Shim == nil || !k.Shim.Thick.Equal(dec(want)) || k.Shim.End != c.end || k.Shim.Fence != registration.Near || k.Both != (i == 1) ||
				math.Abs(k.Angle-got.Turn.Angle/float64(1+i)) > 1e-15 {
				t.Errorf("%s end: %+v, shim %+v, want %s", c.end, k, k.Shim, want)
			}
		}
	}
}

// Where the back programs are turned, a mismatch was measured along the part, which lies
// turned with them: by a quarter (0.3, -0.1) is (0.1, 0.3) of the machine, by 30 degrees its
// components go by cosine and sine (closed form). The zero moves the other way.
func TestMovedWhereTurned(t *testing.T) {
	for degrees, want := range map[string]vec{"90": {0.1, 0.3}, "180": {-0.3, 0.1}, "-90": {-0.1, -0.3},
		"30": {0.3*math.Sqrt(3)/2 + 0.05, 0.15 - 0.1*math.Sqrt(3)/2}} {
		a := solve(t, markers())
		a.Turned(dec(degrees))
		z := Moved(a, point("0.3", "-0.1"))
		if x, y := num(a.Second.X.Sub(z.X)), num(a.Second.Y.Sub(z.Y)); math.Abs(x-want.x) > 1e-9 || math.Abs(y-want.y) > 1e-9 {
			t.Errorf("turned by %s: moved by -%v, -%v, want %v", degrees, x, y, want)
		}
	}
}
