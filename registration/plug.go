package registration

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// plug answers for a plug in a bore.
func (q *Question) plug(a *Answer, nominal, b Blank) error {
	if err := q.checkBore(b); err != nil {
		return err
	}
	if err := q.clocking(b); err != nil {
		return err
	}
	q.corners(a)
	if q.PlugAt != nil {
		at := *q.PlugAt
		a.PlugAt, a.Machine = &at, true
	} else {
		at := a.FaceCorner.Add(q.Bore.At)
		a.PlugAt, a.Machine = &at, a.FaceMachine
		a.add(LevelAssumed, PlugAtDefault{at.X, at.Y, Frame(a.Machine)})
	}
	corner := a.PlugAt.Sub(q.Flip.TurnedPoint(q.Bore.At, b))
	a.BackCorner = &corner
	var err error
	switch q.Clock.Kind {
	case ClockPin:
		err = q.clockPin(a, b)
	case ClockFlat:
		err = q.clockFlat(a, b)
	case ClockFence:
		err = q.clockFence(a, nominal, b)
	}
	if err != nil {
		return err
	}
	if q.Round {
		a.add(LevelNote, Round{})
	}
	return q.play(a, b)
}

// checkBore refuses a bore or a plug that can't be.
func (q *Question) checkBore(b Blank) error {
	if q.Bore == nil {
		return &Error{About: "bore", Found: "missing", Expected: "X,Y,DIA of the bore that goes over the plug",
			Hint: "from the near-left corner, face up"}
	}
	bore := *q.Bore
	if !bore.Dia.IsPositive() {
		return &Error{About: "bore", Found: "the diameter is " + bore.Dia.String(), Expected: "X,Y,DIA with a diameter greater than 0"}
	}
	if err := b.outside(bore.At, "bore", "the bore"); err != nil {
		return err
	}
	switch {
	case b.Inset(bore.At).LessThanOrEqual(bore.Dia.Mul(half)):
		return &Error{About: "bore", Found: fmt.Sprintf("the bore of %s at %s breaks out of the blank's edge", bore.Dia, bore.At),
			Expected: "material all round it"}
	case q.PlugD == nil:
		return nil
	case !q.PlugD.IsPositive():
		return &Error{About: "plug", Found: "the diameter is " + q.PlugD.String(), Expected: "a length greater than 0"}
	case q.PlugD.GreaterThan(bore.Dia):
		return &Error{About: "plug", Found: fmt.Sprintf("a plug of %s doesn't go into a bore of %s", q.PlugD, bore.Dia),
			Expected: fmt.Sprintf("at most %s", bore.Dia)}
	}
	return nil
}

// clockPin answers for an index pin beside the plug.
func (q *Question) clockPin(a *Answer, b Blank) error {
	at := a.BackCorner.Add(q.Flip.TurnedPoint(q.Clock.Pin, b))
	a.ClockAt = &at
	if q.clockMoves(a) {
		a.add(LevelNote, ClockPinMoves{at.X, at.Y, Frame(a.Machine)})
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
		if hole.LessThanOrEqual(q.Clock.Dia) {
			a.add(LevelWarning, HoleTight{hole, q.Clock.Dia})
		}
	}
	holes, pins, err := q.boreAndPin()
	if err != nil {
		return err
	}
	a.LayUps, _ = q.tryLayUps(holes, lay(pins, b, q.Flip == FlipY, q.Flip == FlipX), b)
	q.verdict(a, func() string { return CureClockPin })
	return nil
}

// ClockMoves reports whether the index pin of a plug stands elsewhere for the back.
func (a *Answer) ClockMoves() bool { return a.Question.clockMoves(a) }

func (q *Question) clockMoves(a *Answer) bool {
	return a.Machine != a.FaceMachine || !a.ClockAt.Equal(a.FaceCorner.Add(q.Clock.Pin))
}

// clocking refuses a plug on which the blank turns, and clocking that can't be.
func (q *Question) clocking(b Blank) error {
	const key = "clock"
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
		return &Error{About: key, Found: found, Expected: kinds, Hint: "give ‹round true› if its turn doesn't matter"}
	case ClockFlat:
		if q.Clock.Side == NoSide {
			return &Error{About: key, Found: "flat, and no side", Expected: "flat=near, flat=far, flat=left or flat=right",
				Hint: "the side of the bore with the flat, face up"}
		}
		return nil
	case ClockFence:
		return nil
	case ClockPin:
	default:
		return &Error{About: key, Found: fmt.Sprintf("%q", short(q.Clock.Kind)), Expected: kinds + ", or none for a round part"}
	}
	p := q.Clock.Pin
	if q.Clock.Dia.IsNegative() || q.Clock.Hole.IsNegative() {
		return &Error{About: key, Found: fmt.Sprintf("the index pin has diameter %s and its hole %s", q.Clock.Dia, q.Clock.Hole),
			Expected: "diameters greater than 0"}
	}
	if err := b.outside(p, key, "the index pin"); err != nil {
		return err
	}
	d := p.Sub(q.Bore.At)
	reach := q.Bore.Dia.Add(decimal.Max(q.Clock.Dia, q.Clock.Hole)).Mul(half)
	if d.Dot(d).LessThanOrEqual(reach.Mul(reach)) {
		return &Error{About: key, Found: fmt.Sprintf("the index pin at %s stands in the bore", p), Expected: "a place beside the bore",
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
			u.Shift, u.Pairing = wanted.Sub(lay([]Pin{*q.Bore}, b, l.x, l.y)[0].At), []int{0}
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
	given := q.BackFence.Coord != nil || q.BackFence.Side != NoSide && q.BackFence.Side != q.Fence.Side
	if q.BackFence.Side == NoSide {
		q.BackFence.Side = q.Fence.Side
	}
	face, back := q.Fence.Side, q.BackFence.Side
	t := q.touch(placed{face: locator{"fence", "fence", q.Fence}, back: locator{"fence", "back-fence", q.BackFence},
		faceKnown: a.FaceMachine, backKnown: a.Machine,
		faceLocator: face.edge(face.of(a.FaceCorner), b), backLocator: back.edge(back.of(*a.BackCorner), b)})
	// A nominal blank lies on the same plug, so its edges may lie elsewhere.
	bore := q.Bore.At
	at := a.FaceCorner.Add(bore)
	if err := q.fenceMeets(a, "face", q.Fence, a.FaceMachine, t.FaceCoord, face.edge(face.of(at.Sub(bore)), nominal)); err != nil {
		return err
	}
	if err := q.fenceMeets(a, "back", q.BackFence, a.Machine, t.BackCoord, back.edge(back.of(a.PlugAt.Sub(q.Flip.TurnedPoint(bore, nominal))), nominal)); err != nil {
		return err
	}
	a.Touches = append(a.Touches, t)
	if face.acrossX() == back.acrossX() {
		q.keepFlip(a.Touches)
	}
	// A fence that stands still meets the edge on both sides only if that lies as
	// far from the plug's centre both times.
	from := t.FaceCoord.Sub(face.of(at))
	to := t.BackCoord.Sub(back.of(*a.PlugAt))
	if face != back || !from.Equal(to) {
		level := LevelWarning
		if given || a.Machine != a.FaceMachine || !a.PlugAt.Equal(at) { // or a station of its own
			level = LevelNote
		}
		a.add(level, ClockFenceMoves{Face: face, FaceAt: t.FaceCoord, FaceFrame: Frame(a.FaceMachine), Back: back, BackAt: t.BackCoord, BackFrame: Frame(a.Machine)})
	}
	return nil
}

// fenceMeets refuses a coordinate of a clocking fence at which the blank on its plug
// has no edge. edge is where the piece in hand has it, nominal where a blank of
// nominal size would: there the fence stands only as long as no piece is measured.
func (q *Question) fenceMeets(a *Answer, up string, c Contact, machine bool, edge, nominal decimal.Decimal) error {
	key, missing := "fence", "the face zero too, as ‹at X,Y›, or the side alone"
	if up == "back" {
		key, missing = "back-fence", "the plug's place for the back too, as ‹plug-at X,Y› or by ‹at X,Y›, or the side alone"
	}
	switch {
	case c.Coord == nil || machine && c.Coord.Equal(edge):
		return nil
	case !machine:
		return &Error{About: key, Found: c.String() + " is a machine coordinate, but where the plug stands isn't known", Expected: missing}
	case q.Measured != nil && c.Coord.Equal(nominal):
		a.add(LevelWarning, ClockFenceNominal{Side: c.Side, At: *c.Coord, Edge: edge, Up: up})
		return nil
	}
	return &Error{About: key, Found: fmt.Sprintf("%s: on the plug, %s up, its %s edge is at %s%s", c, up, c.Side, c.Side.Axis(), edge),
		Expected: fmt.Sprintf("%s@%s", c.Side, edge), Hint: "the plug places the blank; the fence only keeps it from turning"}
}
