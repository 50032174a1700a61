package registration

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Spot is one touch of the turned blank: what was touched, and where the spindle's axis
// stood then, in machine coordinates. Edge names an edge as the blank now lies; NoSide is
// a hole's centre. Hole is its place from the blank's near-left corner with the face up,
// or with Cut the face program's own X and Y, for a hole which that program made.
type Spot struct {
	Edge Side
	Hole Point
	Cut  bool
	At   Point
}

// spotForm is how a touch is written.
const spotForm = "U,V@X,Y or face=X,Y@X,Y for a hole's centre, or near, far, left or right@X,Y for an edge"

// ParseSpot reads U,V@X,Y, face=X,Y@X,Y or EDGE@X,Y, lengths in u.
func ParseSpot(s string, u transform.Unit) (Spot, error) {
	what, at, ok := strings.Cut(s, "@")
	if !ok {
		return Spot{}, unknown(s, spotForm)
	}
	var t Spot
	var err error
	if t.At, err = ParsePoint(at, u); err != nil {
		return Spot{}, err
	}
	if place, cut := strings.CutPrefix(word(what), "face="); cut || strings.Contains(what, ",") {
		t.Cut = cut
		t.Hole, err = ParsePoint(place, u)
		return t, err
	}
	if t.Edge, err = ParseSide(what); err != nil {
		return Spot{}, unknown(s, spotForm)
	}
	return t, nil
}

// String writes what ParseSpot reads.
func (t Spot) String() string { return t.Name() + "@" + t.At.String() }

// Name is what was touched, as ParseSpot reads it.
func (t Spot) Name() string {
	switch {
	case t.Edge != NoSide:
		return t.Edge.String()
	case t.Cut:
		return "face=" + t.Hole.String()
	}
	return t.Hole.String()
}

// Slack is by how much touches can be off, limits to both sides in the question's unit.
type Slack struct {
	Touch   decimal.Decimal // where the spindle stood
	Feature decimal.Decimal // a touched edge off its line, a hole made beforehand off its place
	Size    decimal.Decimal // the blank's length and width
	Corner  float64         // an edge out of square or parallel, radians
}

// Lie is how a touched blank lies with its back up, in machine coordinates. Angles and
// what follows from them are floats until they are rounded: turns to 0.00001 degrees,
// places to 0.0001 mm or 0.00001 in. Over 1 m that turn is under 0.0001 mm.
type Lie struct {
	// Turn is by how much the back program must be turned about the back zero, in
	// degrees, counter-clockwise, over -180 to 180. Where the turn that was found lies
	// within Error of a quarter turn, it is that quarter turn exactly.
	Turn decimal.Decimal `json:"-"`
	// Askew is the turn that was found, and Error its limit to both sides.
	Askew   decimal.Decimal `json:"turn_found"`
	Error   decimal.Decimal `json:"turn_limit"`
	Touches []Leftover      `json:"touches"`
	// Spare says that there is a touch to spare, so that the touches check each other.
	Spare bool `json:"-"`
	// Disagrees is the number, from 1, of the one touch without which the others agree;
	// 0 where there is none. Doubtful says that they don't agree.
	Disagrees int  `json:"disagrees,omitempty"`
	Doubtful  bool `json:"doubtful"`
	// W and H are the size that touches of opposite edges imply, nil without them.
	W *decimal.Decimal `json:"w,omitempty"`
	H *decimal.Decimal `json:"h,omitempty"`
	// BlindSide says that the touches can't show which side is up, BlindEnd that they
	// can't show a blank that lies turned end for end.
	BlindSide bool `json:"side_not_shown"`
	BlindEnd  bool `json:"end_not_shown"`
	// Causes are the errors that the touches can have, each independent of the others.
	Causes []Cause `json:"-"`

	corner vector // L2
	turn   float64
	unit   transform.Unit
	fit    *rigid
}

// Leftover is how far one touch lies off the blank as it was found to lie: off the
// hole's centre, or across the edge's line. Limit is how far its slack explains.
type Leftover struct {
	Spot  Spot            `json:"touch"`
	By    decimal.Decimal `json:"left"`
	Limit decimal.Decimal `json:"limit"`
}

// The causes of an error in a touched blank's place.
const (
	CauseTouch   = "touch"
	CauseFeature = "feature"
	CauseSize    = "size"
	CauseCorner  = "corner"
	CauseTurn    = "turn" // a turn within its error that is left in the part
)

// Cause is one error that touches can have, with what it does at its limit: DX and DY
// move the blank's near-left corner along the blank's own axes, Turn turns the blank
// about it, in radians. All to both sides.
type Cause struct {
	Name         string
	DX, DY, Turn float64
}

// At is how far a cause moves a point of the turned blank, along the blank's axes.
func (c Cause) At(x, y float64) (dx, dy float64) { return c.DX - c.Turn*y, c.DY + c.Turn*x }

// vector is a place or way in floats.
type vector struct{ x, y float64 }

func vectorOf(p Point) vector { return vector{p.X.InexactFloat64(), p.Y.InexactFloat64()} }

func (v vector) minus(w vector) vector { return vector{v.x - w.x, v.y - w.y} }
func (v vector) plus(w vector) vector  { return vector{v.x + w.x, v.y + w.y} }
func (v vector) dot(w vector) float64  { return v.x*w.x + v.y*w.y }

// rotated turns v counter-clockwise.
func (v vector) rotated(turn float64) vector {
	sin, cos := math.Sincos(turn)
	return vector{v.x*cos - v.y*sin, v.x*sin + v.y*cos}
}

// equation is one thing that a touch says: the touched place, turned back and taken from
// the corner, lies at c along n. A hole gives two, along X and along Y.
type equation struct {
	spot int
	n    vector
	at   vector // machine
	c    float64
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
		var a, b, c, gx, gy float64
		for _, e := range r.rows {
			left, _ := r.at(e)
			a, b, c = a+e.n.x*e.n.x, b+e.n.x*e.n.y, c+e.n.y*e.n.y
			gx, gy = gx+e.n.x*left, gy+e.n.y*left
		}
		det := a*c - b*b
		r.corner = r.corner.plus(vector{(c*gx - b*gy) / det, (a*gy - b*gx) / det}.rotated(turn))
	}
	r.measure()
}

// at gives what an equation leaves over, and where its touch lies on the blank.
func (r *rigid) at(e equation) (left float64, p vector) {
	p = e.at.minus(r.corner).rotated(-r.turn)
	return e.n.dot(p) - e.c, p
}

// slope is the change of an equation's left with corner and turn, the turn as a length.
func (r *rigid) slope(e equation) [3]float64 {
	_, p := r.at(e)
	return [3]float64{-e.n.x, -e.n.y, (e.n.x*p.y - e.n.y*p.x) / r.reach}
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
	var s, q vector
	n := float64(len(places))
	for i := range places {
		s, q = s.plus(places[i]), q.plus(touched[i])
	}
	var cross, dot, spread float64
	for i := range places {
		a, b := places[i].minus(vector{s.x / n, s.y / n}), touched[i].minus(vector{q.x / n, q.y / n})
		cross, dot = cross+a.x*b.y-a.y*b.x, dot+a.dot(b)
		spread += a.dot(a)
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
		return t.faceZero.add(s.Hole)
	}
	return s.Hole
}

// equations gives what the touches say. turned is false for a blank that wasn't turned
// over, of which the holes alone speak.
func (t *touching) equations(turned bool, but int) (rows []equation) {
	for i, s := range t.q.Touched {
		at := vectorOf(s.At)
		add := func(n vector, c float64) {
			if i != but {
				rows = append(rows, equation{i, n, at, c})
			}
		}
		switch {
		case s.Edge == NoSide:
			p := t.place(s)
			if turned {
				p = t.q.Flip.TurnedPoint(p, t.b)
			}
			add(vector{x: 1}, p.X.InexactFloat64())
			add(vector{y: 1}, p.Y.InexactFloat64())
		case !turned:
		default:
			add(t.edge(s.Edge))
		}
	}
	return rows
}

// edge is the direction across an edge of the turned blank, and where the axis of a
// finder that touches it stands: half the finder outside its line.
func (t *touching) edge(s Side) (n vector, c float64) {
	switch s {
	case Left:
		return vector{x: 1}, -t.finder / 2
	case Right:
		return vector{x: 1}, t.w + t.finder/2
	case Near:
		return vector{y: 1}, -t.finder / 2
	}
	return vector{y: 1}, t.h + t.finder/2
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

// cause is an error and its effect on every equation's left, at its limit.
type cause struct {
	name string
	on   []float64
}

// causes gives the independent errors of touches.
func (t *touching) causes(r *rigid) (list []cause) {
	k := t.q.Slack
	add := func(name string, limit float64, on func(e equation, p vector) float64) {
		c := cause{name, make([]float64, len(r.rows))}
		some := false
		for i, e := range r.rows {
			_, p := r.at(e)
			c.on[i] = limit * on(e, p)
			some = some || c.on[i] != 0
		}
		if some {
			list = append(list, c)
		}
	}
	if k == nil {
		return nil
	}
	for i := range r.rows {
		only := func(e equation, _ vector) float64 {
			if e == r.rows[i] {
				return 1
			}
			return 0
		}
		add(CauseTouch, k.Touch.InexactFloat64(), only)
		if !t.q.Touched[r.rows[i].spot].Cut {
			add(CauseFeature, k.Feature.InexactFloat64(), only)
		}
	}
	for _, x := range []bool{true, false} {
		add(CauseSize, k.Size.InexactFloat64(), func(e equation, _ vector) float64 { return t.bySize(e, x) })
	}
	// Each edge can be out of square about its middle: the face zero's line isn't known.
	for _, side := range []Side{Near, Far, Left, Right} {
		add(CauseCorner, k.Corner, func(e equation, p vector) float64 {
			switch {
			case t.q.Touched[e.spot].Edge != side:
				return 0
			case side.acrossX():
				return p.y - t.h/2
			}
			return p.x - t.w/2
		})
	}
	return list
}

// bySize is how far the place of an edge, or of a hole that was made beforehand, is moved
// along X or Y of the turned blank by a size error of 1 along that axis. What the face
// program cut lies by the face zero, which stands at a share of the size from the left or
// near edge; that share of the error enters there, and the rest at the edge across.
func (t *touching) bySize(e equation, x bool) float64 {
	s := t.q.Touched[e.spot]
	if s.Cut || (e.n.x != 0) != x {
		return 0
	}
	share := 0.0
	for _, z := range zeroNames {
		if z.name == t.q.Zero.Name && x {
			share = float64(z.x) / 2
		} else if z.name == t.q.Zero.Name {
			share = float64(z.y) / 2
		}
	}
	over := 1.0 // the face's X or Y, as it runs now
	if x == (t.q.Flip == FlipY) {
		over = -1
	}
	if side := t.q.Flip.Turned(s.Edge); side == Right || side == Far {
		return over * (1 - share)
	}
	return -over * share
}

// effect is what an error does to corner and turn.
func (r *rigid) effect(c cause) (e Cause) {
	e.Name = c.name
	for i, v := range c.on {
		e.DX, e.DY, e.Turn = e.DX+r.gain[0][i]*v, e.DY+r.gain[1][i]*v, e.Turn+r.gain[2][i]*v
	}
	return e
}

// turnError is the limit of the turn to both sides, in radians.
func (r *rigid) turnError(list []cause) (sum float64) {
	for _, c := range list {
		sum += math.Abs(r.effect(c).Turn)
	}
	return sum
}

// explained is how far each equation can be left over by the errors that touches can have:
// an error shows less what the fit makes of it. Added is what floats lose, 1e-9 of the
// greatest coordinate, over a hundred times the rounding of every step here.
func (r *rigid) explained(list []cause) []float64 {
	out := make([]float64, len(r.rows))
	for i, e := range r.rows {
		s := r.slope(e)
		for _, c := range list {
			m := r.effect(c)
			out[i] += math.Abs(c.on[i] + s[0]*m.DX + s[1]*m.DY + s[2]*r.reach*m.Turn)
		}
		out[i] += 1e-9 * (1 + math.Abs(e.at.x) + math.Abs(e.at.y))
	}
	return out
}

// agrees reports whether the errors that touches can have explain all that is left over.
func (r *rigid) agrees(list []cause) bool {
	for i, most := range r.explained(list) {
		if math.Abs(r.left[i]) > most {
			return false
		}
	}
	return true
}

// spots refuses touches that no turned blank has.
func (t *touching) spots() error {
	q := t.q
	if len(q.Touched) == 0 {
		return &Error{About: "--touched", Found: "missing", Expected: spotForm,
			Hint: "edges alone do: two touches on one, one on the next"}
	}
	for i, s := range q.Touched {
		switch {
		case s.Edge == NoSide && !t.place(s).inside(t.b):
			return &Error{About: "--touched", Found: fmt.Sprintf("touch %d: a hole at %s lies outside the blank of %s by %s", i+1, t.place(s), t.b.W, t.b.H),
				Expected: fmt.Sprintf("X 0 to %s, Y 0 to %s", t.b.W, t.b.H), Hint: "measured from the near-left corner with the face up"}
		case s.Edge != NoSide && q.Finder == nil:
			return &Error{About: "--finder", Found: "missing, and touch " + fmt.Sprint(i+1) + " is of an edge", Expected: "the diameter of the finder"}
		}
		if s.Edge == NoSide {
			t.holes = append(t.holes, i)
		}
	}
	if q.Finder != nil {
		if !q.Finder.IsPositive() {
			return &Error{About: "--finder", Found: q.Finder.String(), Expected: "a diameter greater than 0"}
		}
		t.finder = q.Finder.InexactFloat64()
	}
	return nil
}

// missing says which touch to add where the touches don't fix shift and turn.
func missing(rows []equation) *Error {
	var x, y bool
	for _, e := range rows {
		x, y = x || e.n.x != 0, y || e.n.y != 0
	}
	e := &Error{About: "--touched", Expected: "two holes' centres, or two touches on one edge and one on the next"}
	switch {
	case !x:
		e.Found, e.Hint = "nothing fixes the blank along X", "touch the left or right edge too"
	case !y:
		e.Found, e.Hint = "nothing fixes the blank along Y", "touch the near or far edge too"
	default:
		e.Found, e.Hint = "nothing fixes the blank's turn", "touch an edge at a second place, far from the first, or another hole's centre"
	}
	return e
}

// steady refuses a turn that is less well known than the limit, with the touch that
// would make it known best.
func (t *touching) steady(r *rigid, off float64) error {
	q := t.q
	if q.TurnLimit == nil || off*180/math.Pi <= q.TurnLimit.InexactFloat64() {
		return nil
	}
	hint := "touch a hole's centre farther from the others"
	least := off
	if math.Abs(r.turn) < math.Pi/4 {
		for _, s := range []Side{Near, Far, Left, Right} {
			n, c := t.edge(s)
			for _, end := range []struct {
				share float64
				x, y  Side
			}{{0.1, Left, Near}, {0.9, Right, Far}} {
				p, name := vector{end.share * t.w, c}, end.x
				if s.acrossX() {
					p, name = vector{c, end.share * t.h}, end.y
				}
				more := *t.q
				more.Touched = append(append([]Spot{}, q.Touched...), Spot{Edge: s})
				try := &touching{q: &more, b: t.b, w: t.w, h: t.h, finder: t.finder, faceZero: t.faceZero}
				f := &rigid{rows: append(append([]equation{}, r.rows...), equation{len(q.Touched), n, p.rotated(r.turn).plus(r.corner), c}),
					corner: r.corner, turn: r.turn, reach: r.reach}
				f.measure()
				if v := f.turnError(try.causes(f)); v < least {
					least, hint = v, fmt.Sprintf("touch the %s edge too, near its %s end", s, name)
				}
			}
		}
	}
	return &Error{About: "--touched", Found: "the turn is known to " + degrees(off).RoundCeil(3).String() + " degrees only",
		Expected: "turn-limit, " + q.TurnLimit.String() + " degrees, or less", Hint: hint}
}

// within refuses an edge touched beyond its ends, which is a slip in a coordinate.
func (t *touching) within(r *rigid) error {
	for _, e := range r.rows {
		s := t.q.Touched[e.spot]
		if s.Edge == NoSide {
			continue
		}
		_, p := r.at(e)
		along, length := p.x, t.w
		if s.Edge.acrossX() {
			along, length = p.y, t.h
		}
		if beyond := max(-along, along-length) - t.finder/2; beyond > 0 {
			return &Error{About: "--touched", Found: fmt.Sprintf("touch %d, %s, lies beyond the ends of the %s edge", e.spot+1, s, s.Edge),
				Expected: "a place on that edge", Hint: "look for a slip in a coordinate, or for another edge"}
		}
	}
	return nil
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

// Lie finds how the touched blank lies: its second derivation is in the tests.
func (q *Question) Lie(b Blank) (*Lie, error) {
	faceZero, err := q.Zero.on(b)
	if err != nil {
		return nil, About(err, "--zero")
	}
	t := &touching{q: q, b: b, faceZero: faceZero, w: b.W.InexactFloat64(), h: b.H.InexactFloat64()}
	if err := t.spots(); err != nil {
		return nil, err
	}
	rows := t.equations(true, -1)
	r := t.solve(rows)
	if !r.rank3 {
		return nil, missing(rows)
	}
	r.turn = math.Remainder(r.turn, 2*math.Pi)
	if len(t.holes) < len(q.Touched) && math.Abs(r.turn) >= math.Pi/4 {
		return nil, &Error{About: "--touched", Found: "edges, and a blank turned by " + degrees(r.turn).Round(1).String() + " degrees",
			Expected: "less than 45 degrees with edges", Hint: "turn the blank nearer to square, or touch holes alone"}
	}
	if err := t.within(r); err != nil {
		return nil, err
	}
	list := t.causes(r)
	if err := t.turnedOver(r, list); err != nil {
		return nil, err
	}
	off := r.turnError(list)
	if off > 1 { // radians: places that all but coincide
		return nil, missing(rows)
	}
	if err := t.steady(r, off); err != nil {
		return nil, err
	}
	l := &Lie{Askew: degrees(r.turn).Round(turnPlaces), Error: degrees(off).RoundCeil(turnPlaces), Spare: len(rows) > 3, unit: q.Unit, fit: r}
	for _, c := range list {
		l.Causes = append(l.Causes, r.effect(c))
	}
	t.compare(l, r, list)
	t.blind(l)

	l.Turn = l.Askew
	quarter := l.Askew.Div(decimal.New(90, 0)).Round(0).Mul(decimal.New(90, 0))
	if rest := l.Askew.Sub(quarter); rest.Abs().Cmp(l.Error) <= 0 {
		l.Turn = quarter
		if !rest.IsZero() {
			// A turn about the middle of the touches, which the corner was found for.
			at := r.middle()
			turn := rest.InexactFloat64() * math.Pi / 180
			l.Causes = append(l.Causes, Cause{CauseTurn, turn * at.y, -turn * at.x, turn})
		}
	}
	if l.Turn.Equal(decimal.New(-180, 0)) {
		l.Turn = l.Turn.Neg()
	}
	r.hold(l.Turn.InexactFloat64() * math.Pi / 180)
	l.corner, l.turn = r.corner, r.turn
	return l, nil
}

// middle is the place on the blank about which a turn moves no corner that the touches
// fix: with a turn held, the corner moves by what the rows' mean slope asks for.
func (r *rigid) middle() vector {
	var a, b, c, gx, gy float64
	for _, e := range r.rows {
		_, p := r.at(e)
		k := e.n.x*p.y - e.n.y*p.x
		a, b, c = a+e.n.x*e.n.x, b+e.n.x*e.n.y, c+e.n.y*e.n.y
		gx, gy = gx+e.n.x*k, gy+e.n.y*k
	}
	det := a*c - b*b
	return vector{-(a*gy - b*gx) / det, (c*gx - b*gy) / det}
}

// compare fills in what each touch leaves over, the one that disagrees, and the sizes
// that opposite edges imply.
func (t *touching) compare(l *Lie, r *rigid, list []cause) {
	most := r.explained(list)
	by, limit := make([]float64, len(t.q.Touched)), make([]float64, len(t.q.Touched))
	var low, high [2]struct{ sum, n float64 }
	for i, e := range r.rows {
		by[e.spot], limit[e.spot] = math.Hypot(by[e.spot], r.left[i]), math.Hypot(limit[e.spot], most[i])
		axis := 0
		if e.n.y != 0 {
			axis = 1
		}
		_, p := r.at(e)
		switch t.q.Touched[e.spot].Edge {
		case Left, Near:
			low[axis].sum, low[axis].n = low[axis].sum+e.n.dot(p), low[axis].n+1
		case Right, Far:
			high[axis].sum, high[axis].n = high[axis].sum+e.n.dot(p), high[axis].n+1
		}
	}
	for i, s := range t.q.Touched {
		l.Touches = append(l.Touches, Leftover{s, decimal.NewFromFloat(by[i]).Round(placesOf(t.q.Unit)), decimal.NewFromFloat(limit[i]).RoundCeil(placesOf(t.q.Unit))})
	}
	for axis, size := range []**decimal.Decimal{&l.W, &l.H} {
		if low[axis].n > 0 && high[axis].n > 0 {
			v := decimal.NewFromFloat(high[axis].sum/high[axis].n - low[axis].sum/low[axis].n - t.finder).Round(placesOf(t.q.Unit) - 1)
			*size = &v
		}
	}
	if l.Doubtful = !r.agrees(list); !l.Doubtful {
		return
	}
	var alone []int
	for i := range t.q.Touched {
		rest := t.solve(t.equations(true, i))
		if rest.rank3 && len(rest.rows) > 3 && rest.agrees(t.causes(rest)) {
			alone = append(alone, i+1)
		}
	}
	if len(alone) == 1 {
		l.Disagrees = alone[0]
	}
}

// turnedOver stops where the holes fit a blank that wasn't turned over, and not one that
// was.
func (t *touching) turnedOver(r *rigid, list []cause) error {
	if len(t.holes) < 3 || r.agrees(list) {
		return nil
	}
	flat := t.solve(t.equations(false, -1))
	turned := r
	if len(t.holes) < len(t.q.Touched) {
		turned = t.solve(t.holesAlone())
	}
	if flat.rank3 && turned.rank3 && flat.squares() < turned.squares() && !turned.agrees(t.causes(turned)) {
		return &Error{No: true, About: "--touched", Found: "the holes fit a blank that was not turned over", Expected: "the back up",
			Hint: "look which side is up; if it is the back, check which hole each touch names"}
	}
	return nil
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

// blind says what the touches can't show: a pattern of holes that lies on itself when it
// is turned end for end, or mirrored, doesn't tell its own lay-up. Two places count as one
// within twice the slack of a touch and a hole.
func (t *touching) blind(l *Lie) {
	var at []vector
	var middle vector
	for _, i := range t.holes {
		p := vectorOf(t.place(t.q.Touched[i]))
		at = append(at, p)
		middle = middle.plus(vector{p.x / float64(len(t.holes)), p.y / float64(len(t.holes))})
	}
	near := 1e-9 * (t.w + t.h)
	if k := t.q.Slack; k != nil {
		near += 2 * k.Touch.Add(k.Feature).InexactFloat64()
	}
	// onItself tries a motion about the middle: every hole must come down on another.
	onItself := func(f func(vector) vector) bool {
		for _, p := range at {
			q := f(p.minus(middle))
			free := true
			for _, o := range at {
				d := q.minus(o.minus(middle))
				free = free && math.Hypot(d.x, d.y) > near
			}
			if free {
				return false
			}
		}
		return true
	}
	l.BlindEnd = onItself(func(v vector) vector { return v.rotated(math.Pi) })
	if len(at) == 0 {
		l.BlindSide = true
		return
	}
	// A mirrored pattern may come down turned: the hole farthest from the middle comes
	// down on each of the others in turn.
	far := 0
	for i, p := range at {
		if d, e := p.minus(middle), at[far].minus(middle); d.dot(d) > e.dot(e) {
			far = i
		}
	}
	from := at[far].minus(middle)
	for _, p := range at {
		to := p.minus(middle)
		turn := math.Atan2(to.y, to.x) + math.Atan2(from.y, from.x)
		l.BlindSide = l.BlindSide || onItself(func(v vector) vector { return vector{v.x, -v.y}.rotated(turn) })
	}
}

// At gives the machine place of a point of the turned blank, from its near-left corner,
// rounded once.
func (l *Lie) At(p Point) Point {
	v := vectorOf(p).rotated(l.turn).plus(l.corner)
	n := placesOf(l.unit)
	return Point{decimal.NewFromFloat(v.x).Round(n), decimal.NewFromFloat(v.y).Round(n)}
}

// Unfixed is how far a displacement of the back's features over the turned blank, which
// the touches see too, is left at a point of it: the fit follows it as well as it can.
// shift gives it along the blank's axes.
func (l *Lie) Unfixed(shift func(x, y float64) (dx, dy float64), x, y float64) (dx, dy float64) {
	c := cause{on: make([]float64, len(l.fit.rows))}
	for i, e := range l.fit.rows {
		_, p := l.fit.at(e)
		sx, sy := shift(p.x, p.y)
		c.on[i] = e.n.dot(vector{sx, sy})
	}
	m := l.fit.effect(c)
	mx, my := m.At(x, y)
	sx, sy := shift(x, y)
	return sx - mx, sy - my
}

// touched answers for a blank that lies anywhere.
func (q *Question) touched(a *Answer, b Blank) error {
	l, err := q.Lie(b)
	if err != nil {
		return err
	}
	q.corners(a)
	a.Lie, a.Machine = l, true
	corner := l.At(Point{})
	a.BackCorner = &corner
	edges := len(q.Touched) > 0
	for _, left := range l.Touches {
		edges = edges && left.Spot.Edge != NoSide
	}
	a.add(LevelNote, TurnKnown{l.Askew, l.Error})
	end := l.Turn.Abs().Cmp(decimal.New(90, 0)) > 0
	if end {
		a.add(LevelWarning, EndForEnd{})
	}
	if rest := l.Turn.Abs(); !rest.IsZero() && !rest.Equal(decimal.New(180, 0)) {
		if end {
			rest = rest.Sub(decimal.New(180, 0)).Abs()
		}
		a.add(LevelWarning, LiesTurned{l.Turn, l.Error, rest})
	}
	switch {
	case l.Disagrees > 0:
		t := l.Touches[l.Disagrees-1]
		a.add(LevelWarning, TouchDisagrees{l.Disagrees, t.Spot.Name(), t.By})
	case l.Doubtful:
		a.add(LevelWarning, TouchesDisagree{})
	}
	for _, s := range []struct {
		name    string
		implied *decimal.Decimal
		size    decimal.Decimal
	}{{"W", l.W, b.W}, {"H", l.H, b.H}} {
		if s.implied != nil {
			level := LevelNote
			if k := q.Slack; k != nil && s.implied.Sub(s.size).Abs().GreaterThan(k.Size.Add(k.Feature.Add(k.Touch).Mul(decimal.New(2, 0)))) {
				level = LevelWarning
			}
			a.add(level, SizeImplied{s.name, *s.implied, s.size})
		}
	}
	if edges {
		a.add(LevelWarning, EdgesAlone{})
	}
	switch {
	case l.BlindSide && l.BlindEnd:
		a.add(LevelCaution, TouchBlind{[]string{"side", "end"}})
	case l.BlindSide:
		a.add(LevelCaution, TouchBlind{[]string{"side"}})
	case l.BlindEnd:
		a.add(LevelCaution, TouchBlind{[]string{"end"}})
	}
	return nil
}
