package registration

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// locator is a fence or a stop at one station, with the names of its flags.
type locator struct {
	name, flag string
	Contact
}

// contacts checks the fence and stop of both stations and sorts them by axis:
// index 0 stands across X (left or right), 1 across Y.
func (q *Question) contacts() (face, back [2]locator, err error) {
	byAxis := func(fence, stop locator) ([2]locator, error) {
		if fence.Side.acrossX() == stop.Side.acrossX() {
			return [2]locator{}, &Error{About: stop.flag,
				Found:    fmt.Sprintf("%s with ‹%s %s›: not across each other", stop.Side, fence.flag, fence.Side),
				Expected: map[bool]string{true: "near or far", false: "left or right"}[fence.Side.acrossX()],
				Hint:     "the fence takes one direction and the turn, the stop the direction along the fence"}
		}
		if fence.Side.acrossX() {
			return [2]locator{fence, stop}, nil
		}
		return [2]locator{stop, fence}, nil
	}
	fence := locator{"fence", "fence", q.Fence}
	stop := locator{"stop", "stop", q.Stop}
	switch {
	case fence.Side == NoSide:
		return face, back, &Error{About: "fence", Found: "missing", Expected: "near, far, left or right",
			Hint: "two contacts, best on the longer edge"}
	case stop.Side == NoSide:
		return face, back, &Error{About: "stop", Found: "missing: nothing places the blank along the fence",
			Expected: map[bool]string{true: "near or far", false: "left or right"}[fence.Side.acrossX()]}
	}
	if face, err = byAxis(fence, stop); err != nil {
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
	return face, back, err
}

// placed is what one axis comes to: where the locators and the blank lie on it.
// Face values are machine coordinates if faceKnown, back values if backKnown;
// otherwise they are measured from the face zero.
type placed struct {
	faceKnown, backKnown         bool
	zero                         decimal.Decimal // the face zero
	faceLocator, backLocator     decimal.Decimal
	faceCorner, backCorner       decimal.Decimal
	faceDefaulted, backDefaulted bool
}

// place works out one axis. A locator stands still when another piece is put in:
// where its coordinate isn't given, it stands where the nominal blank's edge
// lies, and the piece in hand touches it. at is the face zero in machine
// coordinates or nil; aNom and aUsed are the zero's place on the nominal blank
// and on the piece in hand.
func place(face, back locator, nominal, used Blank, at *decimal.Decimal, aNom, aUsed decimal.Decimal) (placed, error) {
	var p placed
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
				axis := "Y"
				if face.Side.acrossX() {
					axis = "X"
				}
				return p, &Error{About: face.flag,
					Found: fmt.Sprintf("%s and ‹at› disagree: by ‹at› and ‹zero› the %s edge is at %s%s",
						face.Contact, face.Side, axis, byNominal),
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
func (q *Question) touch(face, back locator, p placed) Touch {
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

// frameName names the frame of a coordinate in a Fact.
func frameName(machine bool) string {
	if machine {
		return "machine"
	}
	return "face zero"
}

// fenceStop answers for a fence and a stop.
func (q *Question) fenceStop(a *Answer, nominal, used Blank) error {
	face, back, err := q.contacts()
	if err != nil {
		return err
	}
	if c := q.Contacts; c != nil {
		for _, s := range []Side{q.Fence.Side, q.BackFence.Side} {
			if err := c.check(used, s); err != nil {
				return err
			}
		}
	}
	aNom, err := q.Zero.on(nominal)
	if err != nil {
		return About(err, "zero")
	}
	aUsed := a.FaceZero
	var atX, atY *decimal.Decimal
	if q.At != nil {
		atX, atY = &q.At.X, &q.At.Y
	}
	px, err := place(face[0], back[0], nominal, used, atX, aNom.X, aUsed.X)
	if err != nil {
		return err
	}
	py, err := place(face[1], back[1], nominal, used, atY, aNom.Y, aUsed.Y)
	if err != nil {
		return err
	}
	axes := [2]placed{px, py}
	if px.backKnown != py.backKnown {
		known, unknown := 0, 1
		if py.backKnown {
			known, unknown = 1, 0
		}
		without, with := back[unknown], back[known]
		if without.Side == face[unknown].Side {
			without = face[unknown]
		}
		return &Error{About: without.flag,
			Found: fmt.Sprintf("%s has no machine coordinate, the %s has one (%s)",
				without.Side, with.name, with.Contact),
			Expected: "both or neither",
			Hint:     "give SIDE@COORDINATE for both, or the face zero with ‹at X,Y›"}
	}

	corner := Point{X: px.faceCorner, Y: py.faceCorner}
	zero := Point{X: px.zero, Y: py.zero}
	place := zero.sub(corner)
	if off := place.sub(a.FaceZero); !off.X.IsZero() || !off.Y.IsZero() {
		a.add(LevelNote, ZeroMoved(off))
	}
	a.FaceZero = place
	a.FaceMachine = px.faceKnown && py.faceKnown
	a.Machine = px.backKnown
	a.FaceCorner = Point{}.sub(place)
	if a.FaceMachine {
		a.FaceCorner = corner
		if q.At == nil {
			a.FaceAt = &Position{X: zero.X, Y: zero.Y}
		}
	}
	a.BackCorner = &Point{X: px.backCorner, Y: py.backCorner}

	// The fence first: it is what a maker thinks of first.
	order := [2]int{0, 1}
	if face[1].name == "fence" {
		order = [2]int{1, 0}
	}
	for _, i := range order {
		a.Touches = append(a.Touches, q.touch(face[i], back[i], axes[i]))
		if axes[i].faceDefaulted {
			a.add(LevelAssumed, LocatorDefault{Locator: face[i].name, Side: face[i].Side, At: axes[i].faceLocator, Frame: frameName(axes[i].faceKnown)})
		}
		if axes[i].backDefaulted {
			a.add(LevelAssumed, LocatorDefault{Locator: "back " + back[i].name, Side: back[i].Side, At: axes[i].backLocator, Frame: frameName(axes[i].backKnown)})
		}
	}
	q.keepFlip(a.Touches)
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
	faceEdge, backEdge := q.Fence.Side, q.Flip.Turned(q.BackFence.Side)
	if faceEdge != backEdge {
		enters := "square"
		if faceEdge.acrossX() == backEdge.acrossX() {
			enters = "parallel"
		}
		a.add(LevelWarning, FenceEdgeChanged{faceEdge, backEdge, enters})
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
	return nil
}
