package registration

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// plug answers for a plug in a bore.
func (q *Question) plug(a *Answer, nominal, b Blank) error {
	if q.Bore == nil {
		return &Error{About: "bore", Found: "missing", Expected: "X,Y,DIA of the bore that goes over the plug",
			Hint: "from the near-left corner, face up"}
	}
	bore := *q.Bore
	switch {
	case !bore.Dia.IsPositive():
		return &Error{About: "bore", Found: "the diameter is " + bore.Dia.String(), Expected: "X,Y,DIA with a diameter greater than 0"}
	case !bore.At.inside(b):
		return &Error{About: "bore", Found: fmt.Sprintf("the bore at %s is outside the blank of %s by %s", bore.At, b.W, b.H),
			Expected: fmt.Sprintf("X 0 to %s, Y 0 to %s", b.W, b.H), Hint: "from the near-left corner, face up"}
	}
	r := bore.Dia.Mul(half)
	if inset := b.Inset(bore.At); inset.Cmp(r) <= 0 {
		return &Error{About: "bore", Found: fmt.Sprintf("the bore of %s at %s breaks out of the blank's edge", bore.Dia, bore.At),
			Expected: "material all round it"}
	}
	if q.PlugD != nil {
		switch {
		case !q.PlugD.IsPositive():
			return &Error{About: "plug", Found: "the diameter is " + q.PlugD.String(), Expected: "a length greater than 0"}
		case q.PlugD.Cmp(bore.Dia) > 0:
			return &Error{About: "plug", Found: fmt.Sprintf("a plug of %s doesn't go into a bore of %s", q.PlugD, bore.Dia),
				Expected: fmt.Sprintf("at most %s", bore.Dia)}
		}
	}
	if err := q.clocking(b); err != nil {
		return err
	}

	q.corners(a)
	turned := q.Flip.TurnedPoint(bore.At, b)
	if q.PlugAt != nil {
		at := *q.PlugAt
		a.PlugAt, a.Machine = &at, true
	} else {
		at := a.FaceCorner.add(bore.At)
		a.PlugAt, a.Machine = &at, a.FaceMachine
		a.add(LevelAssumed, PlugAtDefault{at.X, at.Y, frameName(a.Machine)})
	}
	l2 := a.PlugAt.sub(turned)
	a.BackCorner = &l2

	switch q.Clock.Kind {
	case ClockPin:
		at := l2.add(q.Flip.TurnedPoint(q.Clock.Pin, b))
		a.ClockAt = &at
		if a.Machine != a.FaceMachine || !at.equal(a.FaceCorner.add(q.Clock.Pin)) {
			a.add(LevelNote, ClockPinMoves{at.X, at.Y, frameName(a.Machine)})
		}
		if len(q.Hole) > 1 {
			return &Error{About: "hole", Found: fmt.Sprintf("%d holes for one index pin", len(q.Hole)), Expected: "one"}
		}
		if q.Clock.Hole.IsZero() && len(q.Hole) > 0 {
			q.Clock.Hole = q.Hole[0]
		}
		if hole := q.Clock.Hole; hole.IsPositive() {
			if err := q.holds("index pin", hole, q.Clock.Dia); err != nil {
				return err
			}
		}
		if hole := q.Clock.Hole; hole.IsPositive() && hole.Cmp(q.Clock.Dia) <= 0 {
			a.add(LevelWarning, HoleTight{hole, q.Clock.Dia})
		}
		holes, pins, err := q.boreAndPin()
		if err != nil {
			return err
		}
		a.LayUps, _ = q.tryLayUps(holes, lay(pins, b, q.Flip == FlipY, q.Flip == FlipX), b)
		q.verdict(a, func() string { return CureClockPin })
	case ClockFlat:
		if err := q.clockFlat(a, b); err != nil {
			return err
		}
	case ClockFence:
		if err := q.clockFence(a, nominal, b); err != nil {
			return err
		}
	}
	if q.Round {
		a.add(LevelNote, Round{})
	}
	return q.play(a, b)
}

// clocking refuses a plug on which the blank turns, and clocking that can't be.
func (q *Question) clocking(b Blank) error {
	const flag = "clock"
	const kinds = "pin=X,Y, flat=SIDE or fence"
	switch q.Clock.Kind {
	case "", ClockNone:
		if q.Round {
			return nil
		}
		found := "missing: on a plug alone the blank turns"
		if q.Clock.Kind == ClockNone {
			found = "none: on a plug alone the blank turns"
		}
		return &Error{About: flag, Found: found, Expected: kinds, Hint: "give ‹round true› if its turn doesn't matter"}
	case ClockFlat:
		if q.Clock.Side == NoSide {
			return &Error{About: flag, Found: "flat, and no side", Expected: "flat=near, flat=far, flat=left or flat=right",
				Hint: "the side of the bore with the flat, face up"}
		}
		return nil
	case ClockFence:
		return nil
	case ClockPin:
	default:
		return &Error{About: flag, Found: fmt.Sprintf("%q", short(q.Clock.Kind)), Expected: kinds + ", or none for a round part"}
	}
	p := q.Clock.Pin
	if q.Clock.Dia.IsNegative() || q.Clock.Hole.IsNegative() {
		return &Error{About: flag, Found: fmt.Sprintf("the index pin has diameter %s and its hole %s", q.Clock.Dia, q.Clock.Hole),
			Expected: "diameters greater than 0"}
	}
	if !p.inside(b) {
		return &Error{About: flag, Found: fmt.Sprintf("the index pin at %s is outside the blank of %s by %s", p, b.W, b.H),
			Expected: fmt.Sprintf("X 0 to %s, Y 0 to %s", b.W, b.H), Hint: "from the near-left corner, face up"}
	}
	d := p.sub(q.Bore.At)
	reach := q.Bore.Dia.Add(decimal.Max(q.Clock.Dia, q.Clock.Hole)).Mul(half)
	if d.X.Mul(d.X).Add(d.Y.Mul(d.Y)).Cmp(reach.Mul(reach)) <= 0 {
		return &Error{About: flag, Found: fmt.Sprintf("the index pin at %s stands in the bore", p), Expected: "a place beside the bore",
			Hint: "the farther from the bore, the less the blank turns"}
	}
	return nil
}

// clockFlat judges the lay-ups of a blank whose bore has a flat on a plug with a flat.
// The flat lies to one side and comes to lie where the flip takes it; a plug of its own
// for the back faces that way, the plug of the face can't.
func (q *Question) clockFlat(a *Answer, b Blank) error {
	face := q.Clock.Side
	back := q.Flip.Turned(face)
	if back != face {
		if q.PlugAt == nil {
			keep := [2]Side{Near, Far}
			if q.Flip == FlipX {
				keep = [2]Side{Left, Right}
			}
			return &Error{About: "clock", No: true, Found: fmt.Sprintf("turned over (flip %s), the bore's flat is %s, the plug's still %s: the blank doesn't go on", q.Flip, back, face),
				Expected: fmt.Sprintf("flat=%s or flat=%s", keep[0], keep[1]),
				Hint:     "use another plug for the back, or turn this one, and give its place: ‹plug-at X,Y›"}
		}
		a.add(LevelNote, ClockFlatTurns{face, back})
	}
	wanted := q.Flip.TurnedPoint(q.Bore.At, b)
	for _, l := range layUps {
		u := LayUp{Name: l.name, Wanted: l.name == "flip "+q.Flip.String()}
		flat := face
		if l.x {
			flat = FlipY.Turned(flat)
		}
		if l.y {
			flat = FlipX.Turned(flat)
		}
		if u.Fits = flat == back; u.Fits {
			u.Shift, u.Pairing = wanted.sub(lay([]Pin{*q.Bore}, b, l.x, l.y)[0].At), []int{0}
		} else {
			u.Reason = ReasonFlat
		}
		a.LayUps = append(a.LayUps, u)
	}
	q.verdict(a, func() string { return CureFlat })
	return nil
}

// clockFence says which edge lies against a fence that keeps a blank on a plug
// from turning. The plug places the blank; the fence must meet the edge there, so
// a coordinate that was given for it must be the edge's.
func (q *Question) clockFence(a *Answer, nominal, b Blank) error {
	if q.Fence.Side == NoSide {
		a.add(LevelWarning, ClockFenceUnsaid{})
		return nil
	}
	if c := q.Contacts; c != nil {
		if err := c.check(b, q.Fence.Side); err != nil {
			return err
		}
	}
	told := q.BackFence.Coord != nil || q.BackFence.Side != NoSide && q.BackFence.Side != q.Fence.Side
	if q.BackFence.Side == NoSide {
		q.BackFence.Side = q.Fence.Side
	}
	axis := func(p Point, s Side) decimal.Decimal {
		if s.acrossX() {
			return p.X
		}
		return p.Y
	}
	face, back := q.Fence.Side, q.BackFence.Side
	t := Touch{
		Locator: "fence", BackLocator: "fence", Side: face, BackSide: back,
		FaceEdge: face, BackEdge: q.Flip.Turned(back),
		Across:    face.acrossX() == (q.Flip == FlipY),
		KeepSide:  q.Flip.Turned(face),
		FaceCoord: face.edge(axis(a.FaceCorner, face), b), BackCoord: back.edge(axis(*a.BackCorner, back), b),
		CoordKnown: a.FaceMachine, BackKnown: a.Machine,
	}
	// A nominal blank lies on the same plug, so its edges may lie elsewhere.
	bore := q.Bore.At
	at := a.FaceCorner.add(bore)
	if err := q.fenceMeets(a, "fence", q.Fence, a.FaceMachine, t.FaceCoord, face.edge(axis(at.sub(bore), face), nominal)); err != nil {
		return err
	}
	if err := q.fenceMeets(a, "back-fence", q.BackFence, a.Machine, t.BackCoord, back.edge(axis(a.PlugAt.sub(q.Flip.TurnedPoint(bore, nominal)), back), nominal)); err != nil {
		return err
	}
	t.SameEdge = t.FaceEdge == t.BackEdge
	t.Shared = face == back && a.FaceMachine == a.Machine && t.FaceCoord.Equal(t.BackCoord)
	a.Touches = append(a.Touches, t)
	if face.acrossX() == back.acrossX() {
		q.keepFlip(a.Touches)
	}
	// A fence that stands still meets the edge on both sides only if that lies as
	// far from the plug's centre both times.
	from := t.FaceCoord.Sub(axis(at, face))
	to := t.BackCoord.Sub(axis(*a.PlugAt, back))
	if face != back || !from.Equal(to) {
		level := LevelWarning
		if told || a.Machine != a.FaceMachine || !a.PlugAt.equal(at) { // or a station of its own
			level = LevelNote
		}
		a.add(level, ClockFenceMoves{Face: face, FaceAt: t.FaceCoord, FaceFrame: frameName(a.FaceMachine), Back: back, BackAt: t.BackCoord, BackFrame: frameName(a.Machine)})
	}
	return nil
}

// fenceMeets refuses a coordinate of a clocking fence at which the blank on its plug
// has no edge. edge is where the piece in hand has it, nominal where a blank of
// nominal size would: there the fence stands only as long as no piece is measured.
func (q *Question) fenceMeets(a *Answer, flag string, c Contact, machine bool, edge, nominal decimal.Decimal) error {
	if c.Coord == nil {
		return nil
	}
	name := "Y"
	if c.Side.acrossX() {
		name = "X"
	}
	if !machine {
		want := "the face zero too, as ‹at X,Y›, or the side alone"
		if flag == "back-fence" {
			want = "the plug's place for the back too, as ‹plug-at X,Y› or by ‹at X,Y›, or the side alone"
		}
		return &Error{About: flag, Found: c.String() + " is a machine coordinate, but where the plug stands isn't known", Expected: want}
	}
	switch {
	case c.Coord.Equal(edge):
		return nil
	case q.Measured != nil && c.Coord.Equal(nominal):
		a.add(LevelWarning, ClockFenceNominal{Side: c.Side, At: *c.Coord, Edge: edge, Up: map[string]string{"fence": "face", "back-fence": "back"}[flag]})
		return nil
	}
	where := "face up, its " + c.Side.String() + " edge"
	if flag == "back-fence" {
		where = "back up, its " + c.Side.String() + " edge"
	}
	return &Error{About: flag, Found: c.String() + ": on the plug, " + where + " is at " + name + edge.String(),
		Expected: c.Side.String() + "@" + edge.String(), Hint: "the plug places the blank; the fence only keeps it from turning"}
}
