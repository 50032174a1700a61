package registration

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// locator is a fence or a stop at one station, with the key that gives it.
type locator struct {
	name, key string
	Contact
}

// contacts checks the fence and stop of both stations and sorts them by axis:
// index 0 stands across X (left or right), 1 across Y.
func (q *Question) contacts(used Blank) (face, back [2]locator, err error) {
	switch {
	case q.Fence.Side == NoSide:
		return face, back, &Error{About: "fence", Found: "missing", Expected: "near, far, left or right",
			Hint: "two contacts, best on the longer edge"}
	case q.Stop.Side == NoSide:
		return face, back, &Error{About: "stop", Found: "missing: nothing places the blank along the fence", Expected: q.Fence.Side.crossing()}
	}
	if face, err = byAxis(locator{"fence", "fence", q.Fence}, locator{"stop", "stop", q.Stop}); err != nil {
		return face, back, err
	}
	take := func(c *Contact, from Contact) {
		if c.Side == NoSide && c.Coord == nil {
			*c = from
		} else if c.Side == from.Side && c.Coord == nil {
			c.Coord = from.Coord // the same locator, named again
		}
	}
	take(&q.BackFence, q.Fence)
	take(&q.BackStop, q.Stop)
	back, err = byAxis(locator{"fence", "back-fence", q.BackFence}, locator{"stop", "back-stop", q.BackStop})
	if c := q.Contacts; c != nil && err == nil {
		for _, s := range []Side{q.Fence.Side, q.BackFence.Side} {
			if err := c.check(used, s); err != nil {
				return face, back, err
			}
		}
	}
	return face, back, err
}

// byAxis sorts a fence and a stop, which must stand across each other.
func byAxis(fence, stop locator) ([2]locator, error) {
	switch {
	case fence.Side.acrossX() == stop.Side.acrossX():
		return [2]locator{}, &Error{About: stop.key,
			Found:    fmt.Sprintf("%s with ‹%s %s›: not across each other", stop.Side, fence.key, fence.Side),
			Expected: fence.Side.crossing(),
			Hint:     "the fence takes one direction and the turn, the stop the direction along the fence"}
	case fence.Side.acrossX():
		return [2]locator{fence, stop}, nil
	}
	return [2]locator{stop, fence}, nil
}

// placed is what one axis comes to: where the locators and the blank lie on it.
// Face values are machine coordinates if faceKnown, back values if backKnown;
// otherwise they are measured from the face zero.
type placed struct {
	face, back                   locator
	faceKnown, backKnown         bool
	zero                         decimal.Decimal // the face zero
	faceLocator, backLocator     decimal.Decimal
	faceCorner, backCorner       decimal.Decimal
	faceDefaulted, backDefaulted bool
}

// along works out one axis. A locator stands still when another piece is put in:
// where its coordinate isn't given, it stands where the nominal blank's edge
// lies, and the piece in hand touches it. at is the face zero in machine
// coordinates or nil; aNom and aUsed are the zero's place on the nominal blank
// and on the piece in hand.
func along(face, back locator, nominal, used Blank, at *decimal.Decimal, aNom, aUsed decimal.Decimal) (placed, error) {
	p := placed{face: face, back: back}
	nominalCorner := aNom.Neg()
	if at != nil {
		p.zero = *at
		nominalCorner = at.Sub(aNom)
		p.faceKnown = true
	}
	if face.Coord != nil {
		p.faceKnown = true
		p.faceLocator = *face.Coord
		if at != nil {
			byNominal := face.Side.edge(nominalCorner, nominal)
			byUsed := face.Side.edge(at.Sub(aUsed), used)
			if !p.faceLocator.Equal(byNominal) && !p.faceLocator.Equal(byUsed) {
				return p, &Error{About: face.key,
					Found:    fmt.Sprintf("%s and ‹at› disagree: by ‹at› and ‹zero› the %s edge is at %s%s", face.Contact, face.Side, face.Side.Axis(), byNominal),
					Expected: "the same place twice",
					Hint:     "leave one of the two out, or correct it"}
			}
		}
		nominalCorner = face.Side.corner(p.faceLocator, nominal)
		if at == nil {
			p.zero = nominalCorner.Add(aNom)
		}
	} else {
		p.faceLocator = face.Side.edge(nominalCorner, nominal)
		p.faceDefaulted = true
	}
	p.faceCorner = face.Side.corner(p.faceLocator, used)

	switch {
	case back.Coord != nil:
		p.backKnown, p.backLocator = true, *back.Coord
	case back.Side == face.Side:
		p.backKnown, p.backLocator = p.faceKnown, p.faceLocator
	default:
		p.backKnown, p.backLocator = p.faceKnown, back.Side.edge(nominalCorner, nominal)
		p.backDefaulted = true
	}
	p.backCorner = back.Side.corner(p.backLocator, used)
	return p, nil
}

// touch says what the locators of one axis touch.
func (q *Question) touch(p placed) Touch {
	face, back := p.face, p.back
	t := Touch{
		Locator: face.name, BackLocator: back.name,
		Side: face.Side, BackSide: back.Side,
		FaceEdge: face.Side, BackEdge: q.Flip.Turned(back.Side),
		Across:    face.Side.acrossX() == (q.Flip == FlipY),
		KeepSide:  q.Flip.Turned(face.Side),
		FaceCoord: p.faceLocator, BackCoord: p.backLocator,
		CoordKnown: p.faceKnown, BackKnown: p.backKnown,
	}
	t.SameEdge = t.FaceEdge == t.BackEdge
	t.Shared = face.name == back.name && face.Side == back.Side &&
		p.faceKnown == p.backKnown && p.faceLocator.Equal(p.backLocator)
	return t
}

// keepFlip offers the other flip where this one brings another edge against a
// locator. Each axis is reversed by one of the two flips and not by the other, so
// the other flip always keeps that edge, and loses the mate's if this one keeps it.
func (q *Question) keepFlip(touches []Touch) {
	for i := range touches {
		t, mate := &touches[i], touches[len(touches)-1-i]
		if !t.SameEdge {
			t.KeepFlip, t.KeepFlipSpoils = q.Flip.Other(), mate.SameEdge
		}
	}
}

// fenceStop answers for a fence and a stop.
func (q *Question) fenceStop(a *Answer, nominal, used Blank) error {
	face, back, err := q.contacts(used)
	if err != nil {
		return err
	}
	var atX, atY *decimal.Decimal
	if q.At != nil {
		atX, atY = &q.At.X, &q.At.Y
	}
	zero := q.Zero.on(nominal)
	x, err := along(face[0], back[0], nominal, used, atX, zero.X, a.FaceZero.X)
	if err != nil {
		return err
	}
	y, err := along(face[1], back[1], nominal, used, atY, zero.Y, a.FaceZero.Y)
	if err != nil {
		return err
	}
	if x.backKnown != y.backKnown {
		return oneCoordinate(x, y)
	}
	q.against(a, x, y)
	axes := []placed{x, y} // the fence first: it is what a maker thinks of first
	if y.face.name == "fence" {
		axes = []placed{y, x}
	}
	for _, p := range axes {
		a.Touches = append(a.Touches, q.touch(p))
		if p.faceDefaulted {
			a.add(LevelAssumed, LocatorDefault{Locator: p.face.name, Side: p.face.Side, At: p.faceLocator, Frame: Frame(p.faceKnown)})
		}
		if p.backDefaulted {
			a.add(LevelAssumed, LocatorDefault{Locator: "back " + p.back.name, Side: p.back.Side, At: p.backLocator, Frame: Frame(p.backKnown)})
		}
	}
	q.keepFlip(a.Touches)
	q.edges(a, used)
	return nil
}

// oneCoordinate refuses a machine coordinate along one axis of the back alone.
func oneCoordinate(known, unknown placed) error {
	if unknown.backKnown {
		known, unknown = unknown, known
	}
	without, with := unknown.back, known.back
	if without.Side == unknown.face.Side {
		without = unknown.face
	}
	return &Error{About: without.key,
		Found:    fmt.Sprintf("%s has no machine coordinate, the %s has one (%s)", without.Side, with.name, with.Contact),
		Expected: "both or neither",
		Hint:     "give SIDE@COORDINATE for both, or the face zero with ‹at X,Y›"}
}

// against sets where zero and blank lie against their locators.
func (q *Question) against(a *Answer, x, y placed) {
	corner, zero := Point{X: x.faceCorner, Y: y.faceCorner}, Point{X: x.zero, Y: y.zero}
	place := zero.Sub(corner)
	a.FaceZero = place
	a.FaceMachine = x.faceKnown && y.faceKnown
	a.Machine = x.backKnown
	a.FaceCorner = Point{}.Sub(place)
	if a.FaceMachine {
		a.FaceCorner = corner
		if q.At == nil {
			a.FaceAt = &Position{X: zero.X, Y: zero.Y}
		}
	}
	a.BackCorner = &Point{X: x.backCorner, Y: y.backCorner}
}

// edges remarks on the edges that touch.
func (q *Question) edges(a *Answer, used Blank) {
	for _, t := range a.Touches {
		if t.SameEdge {
			a.add(LevelNote, SameEdge{Locator: t.Locator, Edge: t.FaceEdge, Face: t.Side, Back: t.BackSide})
			continue
		}
		size := "H"
		if t.Side.acrossX() {
			size = "W"
		}
		a.add(LevelWarning, OtherEdge{Locator: t.Locator, Face: t.FaceEdge, Back: t.BackEdge, Error: size})
	}
	face, back := q.Fence.Side, q.Flip.Turned(q.BackFence.Side)
	if face != back {
		enters := "square"
		if face.acrossX() == back.acrossX() {
			enters = "parallel"
		}
		a.add(LevelWarning, FenceEdgeChanged{face, back, enters})
	}
	short := func(which string, s Side) {
		mine, other := s.length(used), s.across(used)
		if mine.Cmp(other) < 0 {
			a.add(LevelWarning, FenceShort{Of: which, Side: s, Length: mine, Other: other})
		}
	}
	short("face", q.Fence.Side)
	if q.BackFence.Side != q.Fence.Side {
		short("back", q.BackFence.Side)
	}
}
