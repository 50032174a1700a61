package registration

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// equation is one thing that a touch says: the touched place, turned back and taken from
// the corner, lies at c along n. A hole gives two, along X and along Y.
type equation struct {
	spot int
	n    vector
	at   vector // machine
	c    float64
	off  float64 // along n, how far the spindle's axis stands from what it touched
}

// rigid is the least-squares place of a blank: corner L2 and turn minimise the sum of the
// squares of left, over left = n . R(-turn)(at - corner) - c. gain is how the corner,
// along the blank's axes, and the turn follow from each equation's left.
type rigid struct {
	rows   []equation
	corner vector
	turn   float64
	left   []float64
	gain   [3][]float64
	rank3  bool
	reach  float64 // half the blank's diagonal, which makes a turn a length
}

// singular is the least determinant of the normal matrix, as a share of its trace cubed,
// that counts as rank 3. Its smallest eigenvalue is then over 1e-12 of the trace, so errors
// of the touches grow up to a million times: any turn limit refuses far worse layouts.
// Rounding leaves a true rank 2 below 1e-14.
const singular = 1e-12

// solve finds the place by Gauss-Newton steps from turn. With holes alone the start is
// already the answer; a step squares what is missing, so 30 are plenty.
func (r *rigid) solve(turn float64) {
	r.turn, r.corner = turn, vector{}
	for range 30 {
		m, g := r.normal()
		inverse, ok := inverted(m)
		if r.rank3 = ok; !ok {
			return
		}
		var d [3]float64
		for i := range 3 {
			for j := range 3 {
				d[i] -= inverse[i][j] * g[j]
			}
		}
		r.corner = r.corner.plus(vector{d[0], d[1]}.rotated(r.turn))
		r.turn += d[2] / r.reach
		if math.Abs(d[0])+math.Abs(d[1])+math.Abs(d[2]) < 1e-13*r.reach {
			break
		}
	}
	r.measure()
}

// hold finds the corner for a turn that is given.
func (r *rigid) hold(turn float64) {
	r.turn = turn
	for range 2 { // linear in the corner: the second step takes out rounding
		r.corner = r.corner.plus(r.shift(func(left float64, _ equation, _ vector) float64 { return left }).rotated(turn))
	}
	r.measure()
}

// shift is the way along the blank's axes that takes as much as it can out of a value of
// every equation, by least squares. Each equation lies along X or along Y, so it is the mean
// of the values along either.
func (r *rigid) shift(value func(left float64, e equation, p vector) float64) vector {
	var sum, count vector
	for _, e := range r.rows {
		left, p := r.at(e)
		v := value(left, e, p)
		sum, count = sum.plus(vector{e.n.x * v, e.n.y * v}), count.plus(e.n)
	}
	return vector{sum.x / count.x, sum.y / count.y}
}

// middle is the place on the blank about which a turn moves no corner that the touches
// fix: about the near-left corner a turn moves each touch by n x p, and with the turn held
// the corner goes after it.
func (r *rigid) middle() vector {
	way := r.shift(func(_ float64, e equation, p vector) float64 { return e.n.cross(p) })
	return vector{-way.y, way.x}
}

// at gives what an equation leaves over, and where its touch lies on the blank.
func (r *rigid) at(e equation) (left float64, p vector) {
	p = e.at.minus(r.corner).rotated(-r.turn)
	return e.n.dot(p) - e.c, p
}

// slope is the change of an equation's left with corner and turn, the turn as a length.
func (r *rigid) slope(e equation) [3]float64 {
	_, p := r.at(e)
	return [3]float64{-e.n.x, -e.n.y, e.n.cross(p) / r.reach}
}

// normal gives the normal matrix and the slope of half the sum of squares.
func (r *rigid) normal() (m [3][3]float64, g [3]float64) {
	for _, e := range r.rows {
		left, _ := r.at(e)
		s := r.slope(e)
		for i := range 3 {
			g[i] += s[i] * left
			for j := range 3 {
				m[i][j] += s[i] * s[j]
			}
		}
	}
	return m, g
}

// measure fills in left and gain.
func (r *rigid) measure() {
	m, _ := r.normal()
	inverse, _ := inverted(m)
	r.left = make([]float64, len(r.rows))
	for i := range 3 {
		r.gain[i] = make([]float64, len(r.rows))
	}
	for k, e := range r.rows {
		r.left[k], _ = r.at(e)
		s := r.slope(e)
		for i := range 3 {
			for j := range 3 {
				r.gain[i][k] -= inverse[i][j] * s[j]
			}
		}
		r.gain[2][k] /= r.reach
	}
}

// inverted gives the inverse of a symmetric 3 by 3 matrix; ok is false where it is
// singular.
func inverted(m [3][3]float64) (inverse [3][3]float64, ok bool) {
	for i := range 3 {
		for j := range 3 {
			a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
			inverse[j][i] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	det := m[0][0]*inverse[0][0] + m[0][1]*inverse[1][0] + m[0][2]*inverse[2][0]
	trace := m[0][0] + m[1][1] + m[2][2]
	if cubed := trace * trace * trace; !(det >= singular*cubed) || math.IsInf(cubed, 0) {
		return inverse, false
	}
	for i := range 3 {
		for j := range 3 {
			inverse[i][j] /= det
		}
	}
	return inverse, true
}

// squares is the sum of the squares of what is left over.
func (r *rigid) squares() (s float64) {
	for _, l := range r.left {
		s += l * l
	}
	return s
}

// closed is the turn of holes alone: atan2 of the sums of s x q and s . q over centred
// points (the planar case of Wahba's problem). ok is false with fewer than two places.
func closed(places, touched []vector) (turn float64, ok bool) {
	s, q := mean(places), mean(touched)
	var cross, dot, spread float64
	for i := range places {
		a, b := places[i].minus(s), touched[i].minus(q)
		cross, dot, spread = cross+a.cross(b), dot+a.dot(b), spread+a.dot(a)
	}
	return math.Atan2(cross, dot), spread > 0
}

// touching is a question made ready for its touches.
type touching struct {
	q        *Question
	b        Blank
	w, h     float64
	finder   float64
	faceZero Point
	holes    []int // which of the spots are holes
}

// place is a hole's centre from the near-left corner with the face up.
func (t *touching) place(s Spot) Point {
	if s.Cut {
		return t.faceZero.Add(s.Hole)
	}
	return s.Hole
}

// equations gives what the touches say. turned is false for a blank that wasn't turned
// over, of which the holes alone speak.
func (t *touching) equations(turned bool, but int) (rows []equation) {
	for i, s := range t.q.Touched {
		at := vectorOf(s.At)
		add := func(n vector, c, off float64) {
			if i != but {
				rows = append(rows, equation{i, n, at, c, off})
			}
		}
		switch {
		case s.Edge == NoSide:
			p := t.place(s)
			if turned {
				p = t.q.Flip.TurnedPoint(p, t.b)
			}
			add(vector{x: 1}, p.X.InexactFloat64(), 0)
			add(vector{y: 1}, p.Y.InexactFloat64(), 0)
		case !turned:
		default:
			add(t.edge(s.Edge))
		}
	}
	return rows
}

// edge is the direction across an edge of the turned blank, and where along it the axis of a
// finder stands that touches the edge: off from its line, half the finder outside.
func (t *touching) edge(s Side) (n vector, c, off float64) {
	off = t.finder / 2
	switch s {
	case Left:
		return vector{x: 1}, -off, -off
	case Right:
		return vector{x: 1}, t.w + off, off
	case Near:
		return vector{y: 1}, -off, -off
	}
	return vector{y: 1}, t.h + off, off
}

// solve gives the least-squares place by the equations, from the closed form where two
// holes give it, else from the two touches of one edge that stand farthest apart.
func (t *touching) solve(rows []equation) *rigid {
	r := &rigid{rows: rows, reach: math.Hypot(t.w, t.h) / 2}
	var places, touched []vector
	for i := 0; i+1 < len(rows); i++ {
		if e, f := rows[i], rows[i+1]; e.spot == f.spot {
			places, touched = append(places, vector{e.c, f.c}), append(touched, e.at)
		}
	}
	turn := 0.0
	if len(places) > 1 {
		if v, ok := closed(places, touched); ok {
			turn = v
		}
	}
	if turn == 0 {
		turn = t.alongEdge(rows)
	}
	r.solve(turn)
	return r
}

// alongEdge is the turn, under a right angle, that the two touches of one edge show which
// stand farthest apart; 0 without two.
func (t *touching) alongEdge(rows []equation) (turn float64) {
	far := 0.0
	for i, e := range rows {
		for _, f := range rows[:i] {
			side := t.q.Touched[e.spot].Edge
			d := e.at.minus(f.at)
			if side == NoSide || side != t.q.Touched[f.spot].Edge || d.dot(d) <= far {
				continue
			}
			far = d.dot(d)
			if turn = math.Atan(d.y / d.x); side.acrossX() {
				turn = math.Atan(-d.x / d.y)
			}
		}
	}
	return turn
}

func degrees(turn float64) decimal.Decimal { return decimal.NewFromFloat(turn * 180 / math.Pi) }

// turnPlaces is how many decimals a turn in degrees has.
const turnPlaces = 5

// placesOf is how many decimals a place has that follows from a turn.
func placesOf(u transform.Unit) int32 {
	if u == transform.Inch {
		return 5
	}
	return 4
}

// holesAlone gives what the holes say.
func (t *touching) holesAlone() (rows []equation) {
	for _, e := range t.equations(true, -1) {
		if t.q.Touched[e.spot].Edge == NoSide {
			rows = append(rows, e)
		}
	}
	return rows
}
