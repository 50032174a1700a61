package budget

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// The simulations below seat a blank, cut its face, turn it over, seat it again
// and cut the back, with the errors as they are: pins in wrong places, axes out
// of square, a fence that leans. They use none of the budget's formulas.

// sheet is a rigid motion of a blank on the bed: turned by a about c, then moved.
type sheet struct {
	a       float64
	c, move vec
}

func (s sheet) put(p vec) vec {
	sin, cos := math.Sincos(s.a)
	d := vec{p.x - s.c.x, p.y - s.c.y}
	return vec{s.c.x + s.move.x + cos*d.x - sin*d.y, s.c.y + s.move.y + sin*d.x + cos*d.y}
}

func (s sheet) take(m vec) vec {
	sin, cos := math.Sincos(s.a)
	d := vec{m.x - s.c.x - s.move.x, m.y - s.c.y - s.move.y}
	return vec{s.c.x + cos*d.x + sin*d.y, s.c.y - sin*d.x + cos*d.y}
}

// lean is where a machine whose Y axis leans by q puts a commanded place.
func lean(p vec, q float64) vec { return vec{p.x + q*p.y, p.y} }

// dowelErrors is one draw.
type dowelErrors struct {
	locator    vec // one error of all pins
	line       float64
	square     float64
	repeat     [2]vec
	hole       [2][2]vec // face and back: how far each hole is off its pin, within the unit disc
	clearances [2]float64
}

// dowelShop is a blank W x H on two dowels, turned over by flip y on the same ones.
type dowelShop struct {
	w, h float64
	pins [2]vec
}

// seatOn lays holes over pins, off by the draw; ok is false where the draw asks
// for more than the holes leave.
func seatOn(holes, pins [2]vec, off [2]vec, c [2]float64) (sheet, bool) {
	t := [2]vec{{pins[0].x + off[0].x*c[0]/2, pins[0].y + off[0].y*c[0]/2}, {pins[1].x + off[1].x*c[1]/2, pins[1].y + off[1].y*c[1]/2}}
	mid := func(p [2]vec) vec { return vec{(p[0].x + p[1].x) / 2, (p[0].y + p[1].y) / 2} }
	dir := func(p [2]vec) float64 { return math.Atan2(p[1].y-p[0].y, p[1].x-p[0].x) }
	m := mid(holes)
	a := math.Remainder(dir(t)-dir(holes), 2*math.Pi)
	s := sheet{a: a, c: m, move: vec{mid(t).x - m.x, mid(t).y - m.y}}
	for i := range holes {
		at := s.put(holes[i])
		if math.Hypot(at.x-pins[i].x, at.y-pins[i].y) > c[i]/2+2e-5 { // a leaning line of pins is longer by some 1e-5
			return s, false
		}
	}
	return s, true
}

// cut gives how far the back lies off the face at p.
func (d dowelShop) cut(p vec, e dowelErrors) (vec, bool) {
	// The pins stand where the machine bored them, all off by one error, the second
	// off the line by another.
	n := vec{-(d.pins[1].y - d.pins[0].y), d.pins[1].x - d.pins[0].x}
	l := math.Hypot(n.x, n.y)
	pins := d.pins
	for i := range pins {
		half := []float64{-0.5, 0.5}[i] * e.line
		pins[i] = vec{pins[i].x + n.x/l*half, pins[i].y + n.y/l*half}
		pins[i] = lean(pins[i], e.square)
		pins[i] = vec{pins[i].x + e.locator.x, pins[i].y + e.locator.y}
	}
	ok := true
	pose := [2]sheet{}
	m := (d.pins[0].x + d.pins[1].x) / 2 // the flip line
	over := func(v vec) vec { return vec{2*m - v.x, v.y} }
	for s := range pose {
		holes := d.pins
		pegs := pins
		if s == 1 {
			holes = [2]vec{over(d.pins[0]), over(d.pins[1])}
			if math.Abs(holes[0].x-d.pins[0].x) > 1e-9 { // a pair either side of the line changes over
				holes = [2]vec{holes[1], holes[0]}
			}
		}
		var good bool
		pose[s], good = seatOn(holes, pegs, e.hole[s], e.clearances)
		ok = ok && good
	}
	land := func(cmd vec, s int) vec {
		q := lean(cmd, e.square)
		return pose[s].take(vec{q.x + e.repeat[s].x, q.y + e.repeat[s].y})
	}
	face, back := land(p, 0), over(land(over(p), 1))
	return vec{back.x - face.x, back.y - face.y}, ok
}

var shops = []struct {
	name string
	shop dowelShop
}{
	{"on the flip line", dowelShop{120, 80, [2]vec{{60, 8}, {60, 72}}}},
	{"on the flip line, near one end", dowelShop{120, 80, [2]vec{{60, 8}, {60, 40}}}},
	{"either side of it", dowelShop{120, 80, [2]vec{{10, 40}, {110, 40}}}},
}

func (d dowelShop) question() registration.Question {
	f := func(v float64) string { return fmt.Sprint(v) }
	return registration.Question{
		Stock: &registration.Blank{W: dec(f(d.w)), H: dec(f(d.h)), T: dec("12")},
		Flip:  registration.FlipY, Register: registration.Dowels,
		Pins: []registration.Pin{pin(f(d.pins[0].x), f(d.pins[0].y), "6"), pin(f(d.pins[1].x), f(d.pins[1].y), "6")},
	}
}

// Each error alone, at its limits: the mismatch reaches the budget's limit and
// doesn't pass it.
func TestEachDowelTerm(t *testing.T) {
	const clear, loc, line, sq, rep = 0.03, 0.05, 0.04, 0.1 / 300, 0.02
	rng := rand.New(rand.NewPCG(1, 2))
	for _, s := range shops {
		q := s.shop.question()
		for _, p := range []vec{{0, 0}, {120, 80}, {120, 0}, {60, 40}, {60, 80}, {33, 71}} {
			at := registration.Point{X: dec(fmt.Sprint(p.x)), Y: dec(fmt.Sprint(p.y))}
			for _, c := range []struct {
				tol   string
				reach float64 // share of the limit that extreme draws reach at least
				draw  func() dowelErrors
			}{
				{"locator=0.05", 0.99, func() dowelErrors { return dowelErrors{locator: ring(rng, loc)} }},
				{"pin-line=0.04", 0.99, func() dowelErrors { return dowelErrors{line: sign(rng) * line} }},
				{"square=0.1/300", 0.99, func() dowelErrors { return dowelErrors{square: sign(rng) * sq} }},
				{"repeatability=0.02", 0.99, func() dowelErrors {
					return dowelErrors{repeat: [2]vec{{rep * sign(rng), rep * sign(rng)}, {rep * sign(rng), rep * sign(rng)}}}
				}},
				{"clearance=0.03", 0.5, func() dowelErrors {
					e := dowelErrors{clearances: [2]float64{clear, clear}}
					for i := range e.hole {
						e.hole[i] = [2]vec{ring(rng, 1), ring(rng, 1)}
						if rng.IntN(2) == 0 {
							e.hole[i][1] = vec{-e.hole[i][0].x, -e.hole[i][0].y}
						}
					}
					return e
				}},
			} {
				r, err := of(q, Options{At: &at, Tolerances: only(t, transform.MM, c.tol)})
				if err != nil {
					t.Fatal(err)
				}
				var x, y, all float64
				for range 4000 {
					m, ok := s.shop.cut(p, c.draw())
					if !ok {
						continue
					}
					x, y, all = max(x, math.Abs(m.x)), max(y, math.Abs(m.y)), max(all, m.abs())
				}
				const slack = 5e-5 // of second order, and the 2e-5 above
				if all > r.Worst*(1+1e-3)+slack || x > worstX(r)*(1+1e-3)+slack || y > worstY(r)*(1+1e-3)+slack {
					t.Errorf("%s, %s at %v: %.6f %.6f %.6f beyond %.6f %.6f %.6f", s.name, c.tol, p, x, y, all, worstX(r), worstY(r), r.Worst)
				}
				if all < c.reach*r.Worst-slack {
					t.Errorf("%s, %s at %v: at most %.6f of %.6f", s.name, c.tol, p, all, r.Worst)
				}
			}
		}
	}
}

func sign(r *rand.Rand) float64 { return float64(2*r.IntN(2) - 1) }

func ring(r *rand.Rand, radius float64) vec {
	s, c := math.Sincos(2 * math.Pi * r.Float64())
	return vec{radius * c, radius * s}
}

func disc(r *rand.Rand, radius float64) vec { return ring(r, radius*math.Sqrt(r.Float64())) }

func even1(r *rand.Rand) float64 { return 2*r.Float64() - 1 }

// Full seating, all errors at once: no draw lies beyond the worst case, and at
// least 93 % lie inside the figure given as likely.
func TestMonteCarloSeating(t *testing.T) {
	for _, s := range shops {
		q := s.shop.question()
		q.Fit = "H7/g6" // 4 to 24 um at 6 mm (ISO 286)
		rng := rand.New(rand.NewPCG(20, 26))
		tol := only(t, transform.MM, "locator=0.02", "pin-line=0.02", "square=0.1/300", "repeatability=0.02")
		delete(tol, Clearance)
		r, err := of(q, Options{Tolerances: tol})
		if err != nil {
			t.Fatal(err)
		}
		p := toVec(r.At)
		const draws = 20000
		n, inside, insideX, insideY := 0, 0, 0, 0
		wideX, wideY := 2*uncertainty(r, limitX), 2*uncertainty(r, limitY) // k = 2
		var most float64
		for n < draws {
			e := dowelErrors{
				locator: disc(rng, 0.02), line: 0.02 * even1(rng), square: 0.1 / 300 * even1(rng),
				repeat:     [2]vec{disc(rng, 0.02), disc(rng, 0.02)},
				clearances: [2]float64{0.004 + 0.020*rng.Float64(), 0.004 + 0.020*rng.Float64()},
			}
			for i := range e.hole {
				e.hole[i] = [2]vec{disc(rng, 1), disc(rng, 1)}
			}
			m, ok := s.shop.cut(p, e)
			if !ok {
				continue // not a place that the blank can take
			}
			n++
			most = max(most, m.abs())
			if m.abs() > r.Worst || math.Abs(m.x) > worstX(r) || math.Abs(m.y) > worstY(r) {
				t.Fatalf("%s: %v lies beyond %v (%v, %v)", s.name, m, r.Worst, worstX(r), worstY(r))
			}
			if m.abs() <= r.Likely {
				inside++
			}
			if math.Abs(m.x) <= wideX {
				insideX++
			}
			if math.Abs(m.y) <= wideY {
				insideY++
			}
		}
		share := float64(inside) / draws
		t.Logf("%s at %v: worst case %.4f, greatest of %d draws %.4f, likely %.4f holds %.2f %% (X %.2f %%, Y %.2f %%)", s.name, p,
			r.Worst, draws, most, r.Likely, 100*share, 100*float64(insideX)/draws, 100*float64(insideY)/draws)
		if share < 0.93 || float64(insideX)/draws < 0.93 || float64(insideY)/draws < 0.93 {
			t.Errorf("%s: only %.1f %% inside", s.name, 100*share)
		}
		if most < r.Worst/4 {
			t.Errorf("%s: the draws reach %.4f of %.4f: the simulation does nothing", s.name, most, r.Worst)
		}
	}
}

// Independent rectangular errors of known limits: the spread along X and Y is
// the combined standard uncertainty within 3 standard errors.
func TestMonteCarloSpread(t *testing.T) {
	for _, s := range shops {
		rng := rand.New(rand.NewPCG(7, 11))
		r, err := of(s.shop.question(), Options{Tolerances: only(t, transform.MM,
			"locator=0.05", "pin-line=0.04", "square=0.1/300", "repeatability=0.02")})
		if err != nil {
			t.Fatal(err)
		}
		p := toVec(r.At)
		const draws = 40000
		var xs, ys [draws]float64
		for i := range draws {
			m, _ := s.shop.cut(p, dowelErrors{
				locator: vec{0.05 * even1(rng), 0.05 * even1(rng)}, line: 0.04 * even1(rng), square: 0.1 / 300 * even1(rng),
				repeat: [2]vec{{0.02 * even1(rng), 0.02 * even1(rng)}, {0.02 * even1(rng), 0.02 * even1(rng)}},
			})
			xs[i], ys[i] = m.x, m.y
		}
		for axis, c := range map[string]struct {
			v    []float64
			want float64
		}{"x": {xs[:], uncertainty(r, limitX)}, "y": {ys[:], uncertainty(r, limitY)}} {
			got, err := deviation(c.v)
			if math.Abs(got-c.want) > 3*err {
				t.Errorf("%s, %s: spread %.6f, combined u %.6f, standard error %.6f", s.name, axis, got, c.want, err)
			}
			t.Logf("%s, %s: spread %.5f, u %.5f", s.name, axis, got, c.want)
		}
	}
}

// deviation gives the sample's standard deviation and its standard error, from
// the sample's fourth moment.
func deviation(v []float64) (s, err float64) {
	n := float64(len(v))
	var mean, m2, m4 float64
	for _, x := range v {
		mean += x / n
	}
	for _, x := range v {
		d := (x - mean) * (x - mean)
		m2 += d / n
		m4 += d * d / n
	}
	s = math.Sqrt(m2 * n / (n - 1))
	return s, math.Sqrt((m4-m2*m2)/n) / (2 * s)
}
