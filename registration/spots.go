package registration

import (
	"cmp"
	"fmt"
	"math"
)

// aboutTouched is where touches are asked for.
const aboutTouched = "touched"

// touching makes a question ready for its touches on a blank.
func (q *Question) touching(b Blank) (*touching, error) {
	t := &touching{q: q, b: b, faceZero: q.Zero.on(b), w: b.W.InexactFloat64(), h: b.H.InexactFloat64()}
	return t, t.spots()
}

// spots refuses touches that no turned blank has.
func (t *touching) spots() error {
	q := t.q
	if len(q.Touched) == 0 {
		return &Error{About: aboutTouched, Found: "missing", Expected: spotForm,
			Hint: "edges alone do: two touches on one, one on the next"}
	}
	for i, s := range q.Touched {
		if s.Edge != NoSide {
			if q.Finder == nil {
				return &Error{About: "finder", Found: fmt.Sprintf("missing, and touch %d is of an edge", i+1), Expected: "the diameter of the finder"}
			}
			continue
		}
		if err := t.b.outside(t.place(s), aboutTouched, fmt.Sprintf("touch %d: a hole", i+1)); err != nil {
			return err
		}
		t.holes = append(t.holes, i)
	}
	if q.Finder != nil {
		if !q.Finder.IsPositive() {
			return &Error{About: "finder", Found: q.Finder.String(), Expected: "a diameter greater than 0"}
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
	e := &Error{About: aboutTouched, Expected: "two holes' centres, or two touches on one edge and one on the next"}
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

// unsteady says whether the limit of the turn, in radians, is more than is asked for.
func (q *Question) unsteady(off float64) bool {
	return q.TurnLimit != nil && off*180/math.Pi > q.TurnLimit.InexactFloat64()
}

// bySizes is what to do where the turn comes within its limit once the sizes that touches of
// opposite edges imply are taken: what those leave over says nothing of the turn. "" where it
// doesn't.
func (t *touching) bySizes(sizes []SizeImplied) string {
	b, off := t.b, []string{}
	for _, s := range sizes {
		if s.Of == "W" {
			b.W = s.Implied
		} else {
			b.H = s.Implied
		}
		if !s.Implied.Equal(s.Taken) {
			off = append(off, s.Of+" "+s.Implied.String())
		}
	}
	again, err := t.q.touching(b)
	if err != nil || len(off) == 0 {
		return ""
	}
	if r := again.solve(again.equations(true, -1)); t.q.unsteady(r.turnError(again.causes(r))) {
		return ""
	}
	return measure(off)
}

// steady refuses a turn that is less well known than the limit, with the touch that
// would make it known best, or the sizes to measure instead.
func (t *touching) steady(r *rigid, off float64, sizes []SizeImplied) error {
	q := t.q
	if !q.unsteady(off) {
		return nil
	}
	hint := "touch a hole's centre farther from the others"
	least := off
	if math.Abs(r.turn) < math.Pi/4 {
		for _, s := range []Side{Near, Far, Left, Right} {
			n, c, off := t.edge(s)
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
				f := &rigid{rows: append(append([]equation{}, r.rows...), equation{len(q.Touched), n, p.rotated(r.turn).plus(r.corner), c, off}),
					corner: r.corner, turn: r.turn, reach: r.reach}
				f.measure()
				if v := f.turnError(try.causes(f)); v < least {
					least, hint = v, fmt.Sprintf("touch the %s edge too, near its %s end", s, name)
				}
			}
		}
	}
	hint = cmp.Or(t.bySizes(sizes), hint)
	return &Error{About: aboutTouched, Found: "the turn is known to " + degrees(off).RoundCeil(3).String() + " degrees only",
		Expected: "‹turn-limit›, " + q.TurnLimit.String() + " degrees, or less", Hint: hint}
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
			return &Error{About: aboutTouched, Found: fmt.Sprintf("touch %d, %s, is beyond the ends of the %s edge", e.spot+1, s, s.Edge),
				Expected: "a place on that edge", Hint: "look for a slip in a coordinate, or for another edge"}
		}
	}
	return nil
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
		return &Error{No: true, About: aboutTouched, Found: "the holes fit a blank that was not turned over", Expected: "the back up",
			Hint: "look which side is up; if it is the back, check which hole each touch names, and that no X and Y are exchanged"}
	}
	return nil
}

// blind says what the touches can't show: a pattern of holes that lies on itself when it
// is turned end for end, or mirrored, doesn't tell its own lay-up. Two places count as one
// within twice the slack of a touch and a hole.
func (t *touching) blind(l *Lie) {
	var at []vector
	for _, i := range t.holes {
		at = append(at, vectorOf(t.place(t.q.Touched[i])))
	}
	middle := mean(at)
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
				free = free && q.minus(o.minus(middle)).length() > near
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
