package registration

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"
)

// Station is one place on the bed for a blank: the offset's name, the machine
// coordinates of the side's zero, and of the blank's near-left corner as it lies.
type Station struct {
	Offset string
	Zero   Position
	Corner Point
	// Turned says that it is turned by 90 degrees counter-clockwise seen from above, its
	// locators and its blank with it.
	Turned bool
}

// At asks the question of a again for a face and a back station whose places on
// the bed are settled: the locators of each station stand where its blank needs
// them, at the nominal size. The second zero then comes from the locators, not
// from the stations; it is an error (No) if it doesn't fall on the back station's
// zero. Coordinates given with a locator contradict a settled station and are an
// error.
func (a *Answer) At(face, back Station) (*Answer, error) {
	if face.Turned {
		return a.atTurned(face, back)
	}
	q := a.Question
	b := a.Used
	given := func(name string) error {
		return &Error{About: name, Found: "a machine coordinate, where the stations are placed on the bed", Expected: "one of the two",
			Hint: "leave out the coordinate, or give ‹at› and no ‹pairs›"}
	}
	for _, c := range []struct {
		name string
		Contact
	}{{"fence", q.Fence}, {"stop", q.Stop}, {"back-fence", q.BackFence}, {"back-stop", q.BackStop}} {
		if c.Coord != nil {
			return nil, given(c.name)
		}
	}
	if q.BackPin != nil {
		return nil, given("back-pin")
	}
	if q.PlugAt != nil {
		return nil, given("plug-at")
	}
	q.At, q.Offset, q.BackOffset = &face.Zero, face.Offset, back.Offset
	switch q.Register {
	case Dowels:
		if len(q.Pins) > 0 {
			p := back.Corner.add(q.Flip.TurnedPoint(q.Pins[0].At, b))
			q.BackPin = &p
		}
	case Plug:
		if q.Bore != nil {
			p := back.Corner.add(q.Flip.TurnedPoint(q.Bore.At, b))
			q.PlugAt = &p
		}
	case FenceStop:
		if q.BackFence.Side == NoSide {
			q.BackFence.Side = q.Fence.Side
		}
		if q.BackStop.Side == NoSide {
			q.BackStop.Side = q.Stop.Side
		}
		for _, c := range []*Contact{&q.BackFence, &q.BackStop} {
			corner := back.Corner.Y
			if c.Side.acrossX() {
				corner = back.Corner.X
			}
			at := c.Side.edge(corner, b)
			c.Coord = &at
		}
	}
	out, err := Solve(q)
	if err != nil {
		return nil, err
	}
	if out.BackCorner != nil && !out.BackCorner.equal(back.Corner) {
		return nil, &Error{No: true, Found: fmt.Sprintf("the locators put the turned blank's corner at X%s Y%s", out.BackCorner.X, out.BackCorner.Y),
			Expected: fmt.Sprintf("the back station's corner, X%s Y%s", back.Corner.X, back.Corner.Y)}
	}
	return out, nil
}

// atTurned is At for a pair that is turned as a whole. The question is asked in a frame
// that is turned with the pair, in which the blank lies as ever, and the places of the
// answer are carried back. It takes dowels alone: what a side of the blank names, or a
// bore's place from its corner, would stand elsewhere than the question says.
func (a *Answer) atTurned(face, back Station) (*Answer, error) {
	q := a.Question
	if q.Register != Dowels && q.Register != NoRegister || !back.Turned {
		return nil, &Error{No: true, Found: "a pair turned by 90 degrees, and " + q.Register.String() + " by which the blank is found", Expected: "dowels",
			Hint: "place the pairs without turning"}
	}
	straight := func(s Station) Station {
		// The blank's own near-left corner is the lying blank's near-right one.
		corner := s.Corner.add(Point{X: a.Used.H})
		s.Zero.X, s.Zero.Y, s.Turned = s.Zero.Y, s.Zero.X.Neg(), false
		s.Corner = Point{X: corner.Y, Y: corner.X.Neg()}
		return s
	}
	out, err := a.At(straight(face), straight(back))
	if err != nil {
		return nil, err
	}
	quarter := func(p *Point) {
		if p != nil {
			*p = Point{X: p.Y.Neg(), Y: p.X}
		}
	}
	zero := func(z *SecondZero) {
		if z != nil {
			z.X, z.Y = z.Y.Neg(), z.X
		}
	}
	zero(out.Second)
	zero(out.NominalZero)
	for _, pins := range [][]Pin{out.FacePins, out.BackPins} {
		for i := range pins {
			quarter(&pins[i].At)
		}
	}
	quarter(out.Question.BackPin)
	at, corner := face.Zero, back.Corner
	out.FaceAt, out.Question.At = &at, &at
	out.FaceCorner, out.BackCorner = face.Corner, &corner
	turn := decimal.New(90, 0)
	out.FaceTurn = turn
	out.Turned(turn)
	return out, nil
}

// LyingSize is the blank's extent along X and Y of the bed.
func (a *Answer) LyingSize() (x, y decimal.Decimal) {
	if a.FaceTurn.IsZero() {
		return a.Used.W, a.Used.H
	}
	return a.Used.H, a.Used.W
}

// SamePlace says that one blank is turned over at one station: the back has no dowels and
// no plug of its own, a blank of nominal size touches fence and stop where it lay, or what
// was touched lies over that place. The blank's own place may be another, as on dowels
// beside its middle.
func (a *Answer) SamePlace() bool {
	if a.BackCorner == nil || a.FaceCorner.equal(*a.BackCorner) {
		return true
	}
	if a.Machine != a.FaceMachine {
		return false
	}
	q := &a.Question
	switch q.Register {
	case Dowels:
		return !slices.ContainsFunc(a.BackPins, func(b Pin) bool {
			return !slices.ContainsFunc(a.FacePins, func(f Pin) bool { return f.At.equal(b.At) })
		})
	case Plug:
		return a.PlugAt.equal(a.FaceCorner.add(q.Bore.At))
	case FenceStop:
		return !slices.ContainsFunc(a.Touches, func(t Touch) bool {
			return !t.Side.corner(t.FaceCoord, *q.Stock).Equal(t.BackSide.corner(t.BackCoord, *q.Stock))
		})
	}
	return a.Overlies() // nothing on the bed locates it
}

// Overlies reports whether the turned blank lies over the place where it lay with its face
// up, so that no two blanks can lie there at once.
func (a *Answer) Overlies() bool {
	if a.BackCorner == nil || a.Machine != a.FaceMachine {
		return false
	}
	near := func(d, size decimal.Decimal) bool { return d.Abs().LessThan(size) }
	return near(a.BackCorner.X.Sub(a.FaceCorner.X), a.Used.W) && near(a.BackCorner.Y.Sub(a.FaceCorner.Y), a.Used.H)
}
