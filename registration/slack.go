package registration

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// Slack is by how much touches can be off, limits to both sides in the question's unit.
type Slack struct {
	Touch   decimal.Decimal // where the spindle stood
	Feature decimal.Decimal // a touched edge off its line, a hole made beforehand off its place
	Size    decimal.Decimal // the blank's length and width
	Corner  float64         // an edge out of square or parallel, radians
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
// near edge; that share of the error enters there, and the rest at the edge across. All to
// both sides, so that the sense of the face's X and Y as they run now doesn't matter.
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
	if side := t.q.Flip.Turned(s.Edge); side == Right || side == Far {
		return 1 - share
	}
	return -share
}

// effect is what an error does to corner and turn.
func (r *rigid) effect(c cause) (e Cause) {
	e.Name = c.name
	for i, v := range c.on {
		e.DX, e.DY, e.Turn = e.DX+r.gain[0][i]*v, e.DY+r.gain[1][i]*v, e.Turn+r.gain[2][i]*v
	}
	return e
}

// turnError is the limit of the turn to both sides, in radians: the sum of what the errors
// that touches can have do to it, or where that is more what is left over shows.
func (r *rigid) turnError(list []cause) (sum float64) {
	for _, c := range list {
		sum += math.Abs(r.effect(c).Turn)
	}
	return max(sum, r.seen())
}

// seen is the turn's expanded uncertainty, k = 2, from what is left over: with v the left of
// n equations for three unknowns s^2 = sum v^2 / (n - 3), and the turn, a sum of gain times
// errors that each have s, has s sqrt(sum gain^2) (GUM, H.3.2, the residual variance of a
// least-squares fit, and 6.3.3 for k; from memory). 0 where nothing checks the touches.
func (r *rigid) seen() float64 {
	if len(r.rows) <= 3 {
		return 0
	}
	gains := 0.0
	for _, g := range r.gain[2] {
		gains += g * g
	}
	return 2 * math.Sqrt(r.squares()/float64(len(r.rows)-3)*gains)
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

// compare fills in what each touch leaves over and the sizes that opposite edges imply. It
// refuses touches that leave more than their errors explain: the zero would be wrong by an
// amount that nothing bounds.
func (t *touching) compare(l *Lie, r *rigid, list []cause) error {
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
	if t.q.Slack == nil || r.agrees(list) {
		return nil
	}
	n := t.odd(by, limit)
	hint := "touch it again, and look for a slip in a coordinate"
	for _, s := range l.sizes(t.b) {
		if !t.q.Slack.explains(s) {
			hint = measure([]string{s.Of + " " + s.Implied.String()})
		}
	}
	if t.exchanged(n) {
		hint = "its X and Y look exchanged: look at the reading again"
	}
	return &Error{No: true, About: aboutTouched,
		Found:    fmt.Sprintf("touch %d, %s, disagrees with the others: %s %s is left over", n+1, l.Touches[n].Spot.Name(), l.Touches[n].By, t.q.Unit),
		Expected: fmt.Sprintf("at most %s %s from the errors of touches", l.Touches[n].Limit, t.q.Unit),
		Hint:     hint + "; for rougher touches ‹tolerance + touch=…›"}
}

// exchanged reports whether the touches agree with X and Y of one exchanged.
func (t *touching) exchanged(n int) bool {
	other, q := *t, *t.q
	other.q, q.Touched = &q, slices.Clone(q.Touched)
	at := &q.Touched[n].At
	at.X, at.Y = at.Y, at.X
	r := other.solve(other.equations(true, -1))
	return r.rank3 && r.agrees(other.causes(r))
}

// measure says what to do about sizes that the edges imply.
func measure(sizes []string) string {
	return "the edges make " + strings.Join(sizes, " and ") + ": measure, give ‹measured›, or touch again"
}

// odd is the one touch without which the others agree, or else the one that leaves most over
// for what its errors explain.
func (t *touching) odd(by, limit []float64) (most int) {
	var alone []int
	for i := range t.q.Touched {
		rest := t.solve(t.equations(true, i))
		if rest.rank3 && len(rest.rows) > 3 && rest.agrees(t.causes(rest)) {
			alone = append(alone, i)
		}
		if by[i]*limit[most] > by[most]*limit[i] {
			most = i
		}
	}
	if len(alone) == 1 {
		return alone[0]
	}
	return most
}

// Unfixed is how far a displacement of the back's features over the turned blank, which
// the touches see too, is left at a point of it: the fit follows it as well as it can.
// shift gives it along the blank's axes.
func (l *Lie) Unfixed(shift func(x, y float64) (dx, dy float64), x, y float64) (dx, dy float64) {
	c := cause{on: make([]float64, len(l.fit.rows))}
	for i, e := range l.fit.rows {
		_, p := l.fit.at(e)
		sx, sy := shift(p.x-e.n.x*e.off, p.y-e.n.y*e.off) // of what was touched
		c.on[i] = e.n.dot(vector{sx, sy})
	}
	m := l.fit.effect(c)
	mx, my := m.At(x, y)
	sx, sy := shift(x, y)
	return sx - mx, sy - my
}
