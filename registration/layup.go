package registration

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// layUps are the four ways to put a blank on its pins: which of X and Y is
// reversed, seen from above. As is and turned the face is up, else the back.
var layUps = []struct {
	name string
	x, y bool
}{
	{LayAsIs, false, false},
	{LayFlipX, false, true},
	{LayFlipY, true, false},
	{LayTurned, true, true},
}

// lay gives the holes as they lie from the near-left corner in one lay-up.
func lay(holes []Pin, b Blank, x, y bool) []Pin {
	laid := slices.Clone(holes)
	for i := range laid {
		if x {
			laid[i].At = FlipY.TurnedPoint(laid[i].At, b)
		}
		if y {
			laid[i].At = FlipX.TurnedPoint(laid[i].At, b)
		}
	}
	return laid
}

// carry looks for the shift that carries holes onto pins one to one, each pin no
// thicker than its hole if asked. There is at most one: holes and pins are as many, so
// the shift is that of their centroids.
func carry(holes, pins []Pin, diameters bool) (shift Point, pairing []int, ok bool) {
	for _, first := range pins {
		shift = first.At.Sub(holes[0].At)
		pairing = pairing[:0]
		for _, h := range holes {
			j := slices.IndexFunc(pins, func(p Pin) bool {
				return p.At.Equal(h.At.Add(shift)) && (!diameters || p.Dia.Cmp(h.Dia) <= 0)
			})
			if j < 0 {
				break
			}
			pairing = append(pairing, j)
		}
		if len(pairing) == len(holes) {
			return shift, pairing, true
		}
	}
	return Point{}, nil, false
}

// tryLayUps tries the four lay-ups of holes on pins, both from the near-left
// corner at their own station; wanted is the shift of the wanted lay-up, which fits
// exactly or not at all: clearance alone would leave its place to chance. The
// diameters are the greatest of the holes and the least of the pins.
func (q *Question) tryLayUps(holes, pins []Pin, b Blank) (tried []LayUp, wanted Point) {
	for _, l := range layUps {
		u := LayUp{Name: l.name, Wanted: l.name == "flip "+q.Flip.String()}
		laid := lay(holes, b, l.x, l.y)
		u.Shift, u.Pairing, u.Fits = carry(laid, pins, true)
		if !u.Fits {
			s := seatOn(laid, pins, q.hand().InexactFloat64())
			u.Miss = decimal.NewFromFloat(max(s.miss, 0)).Round(4)
			u.Pairing = s.pairing
			if s.exact && s.miss <= seatError && !u.Wanted {
				u.Fits, u.Shift, u.Turn, u.Miss = true, s.shift(b), s.degrees(), decimal.Zero
			}
		}
		if !u.Fits {
			u.Reason = ReasonPlaces
			if _, _, ok := carry(laid, pins, false); ok {
				u.Reason = ReasonDiameters
			}
		}
		u.Near = !u.Fits && u.Miss.Cmp(q.hand()) <= 0
		if u.Wanted {
			wanted = u.Shift
		}
		tried = append(tried, u)
	}
	for i := range tried {
		if tried[i].Fits {
			tried[i].Shift = tried[i].Shift.Sub(wanted)
		}
	}
	return tried, wanted
}

// verdict says whether the pins let a wrong lay-up on. As is, the face is up
// again, which the cut face shows; the other flip and the blank turned by 180
// degrees are the mistakes that pins must stop.
func (q *Question) verdict(a *Answer, cure func() string) {
	a.Foolproof = true
	var wrong, unturned []string
	for _, l := range a.LayUps {
		switch {
		case l.Wanted:
		case l.Name == LayAsIs:
			if l.Fits || l.Near {
				unturned = append(unturned, l.Name)
			}
		case l.Fits:
			a.Foolproof = false
			wrong = append(wrong, l.Name)
		case l.Near:
			a.Foolproof = false
			a.add(LevelWarning, NearMiss{l.Name, l.Miss})
		}
	}
	switch {
	case len(wrong) > 0:
		a.add(LevelWarning, NotFoolproof{cure(), wrong})
	case a.Foolproof:
		a.add(LevelNote, Foolproof{unturned})
	}
}

// hand is how far off a hole may be beyond its clearance and still go over its pin
// with a push of the hand in wood, 0.25 mm or 0.01 in (common practice).
func (q *Question) hand() decimal.Decimal {
	if q.Unit == transform.Inch {
		return decimal.New(1, -2)
	}
	return decimal.New(25, -2)
}

// holeAndPin gives a hole at its greatest and its pin at its thinnest; hole is nil if
// its diameter isn't given. A tight pin counts as one that just goes in: it is pressed
// there. instead names the flag that gives the size itself.
func (q *Question) holeAndPin(at Point, dia decimal.Decimal, hole *decimal.Decimal, instead string) (h, p Pin, err error) {
	h, p = Pin{at, dia}, Pin{at, dia}
	switch {
	case q.Clearance != nil:
		h.Dia = dia.Add(*q.Clearance)
	case hole != nil && dia.IsZero():
		h.Dia, p.Dia = *hole, *hole
	case hole != nil:
		h.Dia = *hole
	case q.Fit != "" && dia.IsPositive():
		play, err := q.limits(dia, instead)
		if err != nil {
			return h, p, err
		}
		h.Dia, p.Dia = play.Hole.Upper, play.Pin.Lower
	}
	h.Dia = decimal.Max(h.Dia, p.Dia)
	return h, p, nil
}

// boreAndPin gives the bore and the index pin's hole at their greatest, and the plug
// and the pin at their thinnest. The clearance that is stated is the plug's, and the
// pin's where nothing else says one.
func (q *Question) boreAndPin() (holes, pins []Pin, err error) {
	var bore, plug Pin
	if q.PlugD != nil && q.Clearance == nil {
		bore, plug = *q.Bore, Pin{q.Bore.At, *q.PlugD}
	} else if bore, plug, err = q.holeAndPin(q.Bore.At, q.Bore.Dia, nil, "plug"); err != nil {
		return nil, nil, err
	}
	var hole *decimal.Decimal
	index := *q
	if q.Clock.Hole.IsPositive() {
		hole = &q.Clock.Hole
	}
	if hole != nil || q.Fit != "" {
		index.Clearance = nil
	}
	h, p, err := index.holeAndPin(q.Clock.Pin, q.Clock.Dia, hole, "hole")
	return []Pin{bore, h}, []Pin{plug, p}, err
}

// A blank goes on if one rigid motion brings every hole's centre within its radial
// clearance of its pin's: with the motion p' = R p + s and the clearance c of each pair,
// the greatest of |R h + s - p| - c over the pairs is at most 0. Its least value over
// all motions and pairings is what is missing.

// askew is the greatest turn, in radians, that still counts as one of the four lay-ups:
// 5 degrees, which put the far end of an 80 mm blank 7 mm off, so that it shows
// (common practice).
const askew = 5 * math.Pi / 180

// seatError is above the error of the least value below. The search ends on intervals
// of 0.618^45 = 4e-10 of the span of the holes, and the greatest distance changes by
// no more than the motion does: under 1e-6 in any unit for a blank of 1 m. What is
// missing by less goes on, which is the safe side.
const seatError = 1e-6

// seating is the best found way for holes over pins.
type seating struct {
	miss    float64 // least value; a lower bound of it unless exact
	exact   bool
	pairing []int
	turn    float64 // counter-clockwise, about middle
	middle  vector  // of the holes
	move    vector
}

// shift is how far the blank's centre lands from where it lay, rounded to the
// fourth decimal.
func (s *seating) shift(b Blank) Point {
	c := vectorOf(Point{b.W.Mul(half), b.H.Mul(half)}).minus(s.middle)
	way := s.move.plus(c.rotated(s.turn)).minus(c)
	return Point{decimal.NewFromFloat(way.x).Round(4), decimal.NewFromFloat(way.y).Round(4)}
}

// degrees is the turn, counter-clockwise, rounded to the second decimal.
func (s *seating) degrees() decimal.Decimal {
	return decimal.NewFromFloat(s.turn * 180 / math.Pi).Round(2)
}

// seatOn looks for the way in which the least is missing. It is found exactly where no
// more than within is missing; else miss is a bound below it, for up to seven pins
// the best of all pairings.
func seatOn(holes, pins []Pin, within float64) seating {
	t := newTrial(holes, pins)
	most := 4 * within
	if len(holes) <= 7 {
		most = math.Inf(1)
	}
	for limit := within; ; limit *= 2 {
		t.best = seating{miss: limit}
		t.pair(nil, math.Inf(-1), within)
		if t.best.pairing != nil || limit >= most {
			return t.best
		}
	}
}

// trial is a search over pairings.
type trial struct {
	holes, pins []vector
	clear       [][]float64 // radial clearance of hole i over pin j
	middle      vector
	best        seating
}

func newTrial(holes, pins []Pin) *trial {
	t := &trial{}
	for _, h := range holes {
		t.holes = append(t.holes, vectorOf(h.At))
		row := make([]float64, len(pins))
		for j, p := range pins {
			row[j] = h.Dia.Sub(p.Dia).Mul(half).InexactFloat64()
		}
		t.clear = append(t.clear, row)
	}
	for _, p := range pins {
		t.pins = append(t.pins, vectorOf(p.At))
	}
	t.middle = mean(t.holes)
	return t
}

// pair gives the next hole every free pin in turn. Of two pairs at least half of what
// their distances differ by is missing, whatever the motion, less the two clearances:
// that is the bound by which most pairings are left out.
func (t *trial) pair(pairing []int, bound, within float64) {
	i := len(pairing)
	if i == len(t.holes) {
		s := seating{miss: bound, pairing: slices.Clone(pairing), middle: t.middle}
		if bound <= within {
			t.solve(&s)
		}
		if s.miss < t.best.miss || t.best.pairing == nil && s.miss <= t.best.miss {
			t.best = s
		}
		return
	}
	for j := range t.pins {
		if slices.Contains(pairing, j) {
			continue
		}
		b := max(bound, -t.clear[i][j])
		for k, l := range pairing {
			b = max(b, (t.apart(i, k, j, l)-t.clear[i][j]-t.clear[k][l])/2)
		}
		if b < t.best.miss || t.best.pairing == nil && b <= t.best.miss {
			t.pair(append(pairing, j), b, within)
		}
	}
}

// apart is how far the way from hole k to hole i is from that from pin l to pin j,
// in the best turn up to askew.
func (t *trial) apart(i, k, j, l int) float64 {
	h, p := t.holes[i].minus(t.holes[k]), t.pins[j].minus(t.pins[l])
	turn := math.Atan2(h.cross(p), h.dot(p))
	return h.rotated(min(max(turn, -askew), askew)).minus(p).length()
}

// solve finds the motion of one pairing in which the least is missing. For a turn that
// is held, the greatest of the distances is a convex function of the shift; as a
// function of turn and shift it is convex but for the square of the turn.
func (t *trial) solve(s *seating) {
	to := make([]vector, len(s.pairing)) // where the shift would have to be for each pair
	worst := func(shift vector) float64 {
		w := math.Inf(-1)
		for i, j := range s.pairing {
			w = max(w, shift.minus(to[i]).length()-t.clear[i][j])
		}
		return w
	}
	var x, y float64
	byTurn := func(turn float64) float64 {
		low, high := vector{math.Inf(1), math.Inf(1)}, vector{math.Inf(-1), math.Inf(-1)}
		for i, j := range s.pairing {
			to[i] = t.pins[j].minus(t.middle).minus(t.holes[i].minus(t.middle).rotated(turn))
			low = vector{min(low.x, to[i].x), min(low.y, to[i].y)}
			high = vector{max(high.x, to[i].x), max(high.y, to[i].y)}
		}
		byX := func(v float64) float64 {
			var w float64
			y, w = least(low.y, high.y, func(u float64) float64 { return worst(vector{v, u}) })
			return w
		}
		var w float64
		x, w = least(low.x, high.x, byX)
		byX(x) // y as it goes with x
		return w
	}
	s.turn, s.miss = least(-askew, askew, byTurn)
	if held := byTurn(0); held <= s.miss+seatError {
		s.turn, s.miss = 0, held // a turn that gains nothing
	}
	byTurn(s.turn)
	s.move, s.exact = vector{x, y}, true
}

// least finds where a function with one valley is least between a and b, by golden
// section.
func least(a, b float64, f func(float64) float64) (at, value float64) {
	const ratio = 0.6180339887498949
	c, d := b-ratio*(b-a), a+ratio*(b-a)
	fc, fd := f(c), f(d)
	for range 45 {
		if fc <= fd {
			b, d, fd = d, c, fc
			c = b - ratio*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + ratio*(b-a)
			fd = f(d)
		}
	}
	at = (a + b) / 2
	return at, f(at)
}
