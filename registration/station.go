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
	Turn   Quarter
}

// bedded is the blank for which stations are placed: what locates a blank is set once, for
// the nominal length and width, and stays for every piece. Where nothing locates it, the piece
// in hand counts.
func (a *Answer) bedded() Blank {
	b := a.Used
	if r := a.Question.Register; r != NoRegister && r != Touched {
		b.W, b.H = a.Question.Stock.W, a.Question.Stock.H
	}
	return b
}

// Bedded gives the answer for the blank for which stations are placed, as thick as the piece.
func (a *Answer) Bedded() (*Answer, error) {
	q, b := a.Question, a.bedded()
	b.T = a.Uncut()
	q.Measured = &b
	return Solve(q)
}

// At asks the question of a again for a face and a back station whose places on
// the bed are settled, for the blank of Bedded: the locators of each station stand where
// that blank needs them, and the second zero of the piece in hand comes from them.
// Coordinates given with a locator contradict a settled station and are an error.
//
// A pair that is turned as a whole is asked for in a frame that is turned with it, in
// which the blank lies as ever, and the answer is carried back to the machine's.
func (a *Answer) At(face, back Station) (*Answer, error) {
	k := face.Turn
	switch {
	case back.Turn != k:
		return nil, &Error{No: true, Found: fmt.Sprintf("a face station turned by %s degrees and a back station turned by %s", k.Degrees(), back.Turn.Degrees()),
			Expected: "a pair that is turned as a whole"}
	case k == 0:
		return a.at(face, back)
	case a.Question.Register == Touched:
		return nil, &Error{About: "register", No: true, Found: "touched, at stations that are turned", Expected: "dowels, plug or fence",
			Hint: "what was touched lies where it lies: locators find the blank at each station"}
	}
	own := func(s Station) Station {
		zero := k.Back().Point(Point{s.Zero.X, s.Zero.Y})
		s.Zero.X, s.Zero.Y = zero.X, zero.Y
		s.Corner = k.Back().Point(s.Corner.Add(k.On(a.bedded(), Point{})))
		return s
	}
	out, err := a.at(own(face), own(back))
	if err != nil {
		return nil, err
	}
	return out.turned(k), nil
}

// at is At for a pair that stands straight.
func (a *Answer) at(face, back Station) (*Answer, error) {
	q := a.Question
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
	q.locate(back.Corner, a.bedded())
	return Solve(q)
}

// locate sets the back's locators for a turned blank whose near-left corner lies at a place.
func (q *Question) locate(corner Point, b Blank) {
	switch q.Register {
	case Dowels:
		if len(q.Pins) > 0 {
			p := corner.Add(q.Flip.TurnedPoint(q.Pins[0].At, b))
			q.BackPin = &p
		}
	case Plug:
		if q.Bore != nil {
			p := corner.Add(q.Flip.TurnedPoint(q.Bore.At, b))
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
			at := c.Side.edge(c.Side.of(corner), b)
			c.Coord = &at
		}
	}
}

// turned gives the answer for the same pair turned about machine X0 Y0, with its places in
// machine coordinates; the programs are turned with it. Question stays as it was asked, of
// the blank, but for the face zero.
func (a *Answer) turned(k Quarter) *Answer {
	out := *a
	out.FaceTurn, out.own = k, a
	out.Turned(k.Degrees())
	out.FaceCorner = k.corner(a.FaceCorner, a.Used)
	if a.BackCorner != nil {
		c := k.corner(*a.BackCorner, a.Used)
		out.BackCorner = &c
	}
	at := *a.Question.At
	p := k.Point(Point{at.X, at.Y})
	at.X, at.Y = p.X, p.Y
	out.FaceAt, out.Question.At = &at, &at
	out.Second, out.NominalZero = a.Second.Moved(k.Point), a.NominalZero.Moved(k.Point)
	out.FacePins, out.BackPins = k.pins(a.FacePins), k.pins(a.BackPins)
	out.PlugAt, out.ClockAt, out.Question.BackPin, out.Question.PlugAt = k.place(a.PlugAt), k.place(a.ClockAt), k.place(a.Question.BackPin), k.place(a.Question.PlugAt)
	out.Touches = slices.Clone(a.Touches)
	for i := range out.Touches {
		t := &out.Touches[i]
		t.Side, t.FaceCoord = k.contact(t.Side, t.FaceCoord)
		t.BackSide, t.BackCoord = k.contact(t.BackSide, t.BackCoord)
		t.KeepSide = k.Side(t.KeepSide)
	}
	out.LayUps = slices.Clone(a.LayUps)
	for i := range out.LayUps {
		out.LayUps[i].Shift = k.Point(out.LayUps[i].Shift)
	}
	out.Facts = slices.Clone(a.Facts)
	for i := range out.Facts {
		out.Facts[i].Is = k.fact(out.Facts[i].Is)
	}
	return &out
}

// Own gives the answer in a frame that is turned with its stations, in which the blank lies
// as the question has it; the answer itself where they stand straight.
func (a *Answer) Own() *Answer {
	if a.own == nil {
		return a
	}
	return a.own
}

// corner gives the near-left corner of a blank that was turned about 0,0, given the one that
// it had.
func (k Quarter) corner(c Point, b Blank) Point { return k.Point(c).Sub(k.On(b, Point{})) }

func (k Quarter) place(p *Point) *Point {
	if p == nil {
		return nil
	}
	q := k.Point(*p)
	return &q
}

func (k Quarter) pins(list []Pin) []Pin {
	list = slices.Clone(list)
	for i := range list {
		list[i].At = k.Point(list[i].At)
	}
	return list
}

// fact carries the places that a fact names.
func (k Quarter) fact(is any) any {
	switch f := is.(type) {
	case LocatorDefault:
		f.Side, f.At = k.contact(f.Side, f.At)
		return f
	case PlugAtDefault:
		p := k.Point(Point{f.X, f.Y})
		f.X, f.Y = p.X, p.Y
		return f
	case ClockPinMoves:
		p := k.Point(Point{f.X, f.Y})
		f.X, f.Y = p.X, p.Y
		return f
	case ZeroMoved:
		return ZeroMoved(k.Point(Point(f)))
	case SameEdge:
		f.Face, f.Back = k.Side(f.Face), k.Side(f.Back)
		return f
	case FenceShort:
		f.Side = k.Side(f.Side)
		return f
	case ClockFlatTurns:
		f.Face, f.Back = k.Side(f.Face), k.Side(f.Back)
		return f
	case ClockFenceMoves:
		f.Face, f.FaceAt = k.contact(f.Face, f.FaceAt)
		f.Back, f.BackAt = k.contact(f.Back, f.BackAt)
		return f
	}
	return is
}

// FacePlace gives where a place of the blank lies at the face station; p is measured from
// the blank's own near-left corner with the face up.
func (a *Answer) FacePlace(p Point) Point { return a.FaceCorner.Add(a.FaceTurn.On(a.Used, p)) }

// LyingSize is the blank's extent along X and Y of the bed.
func (a *Answer) LyingSize() (x, y decimal.Decimal) {
	b := a.FaceTurn.Blank(a.Used)
	return b.W, b.H
}

// Outline gives the blank's corners where it lies on one side, those that Blank.Corners has in
// their order, in the frame of FaceCorner or BackCorner.
func (a *Answer) Outline(back bool) (o [4]Point) {
	var lying Blank
	lying.W, lying.H = a.LyingSize()
	for i, c := range lying.Corners() {
		if o[i] = a.FaceCorner.Add(c); back {
			o[i] = a.laid(c)
		}
	}
	return o
}

// BackQuarter is by how many quarters the turned blank lies turned; ok is false where it lies askew.
func (a *Answer) BackQuarter() (k Quarter, ok bool) {
	if a.Lie == nil {
		return a.FaceTurn, true
	}
	n := a.Lie.Turn.Div(Quarter(1).Degrees())
	return Quarter(n.IntPart()+4) % 4, n.IsInteger()
}

// BackLies gives the least rectangle along the bed's axes that holds the turned blank, in the
// frame of BackCorner: its near-left corner and its extent. A touched blank may lie anyhow.
func (a *Answer) BackLies() (corner Point, x, y decimal.Decimal) {
	near := a.laid(Point{})
	far := near
	for _, p := range a.Outline(true) {
		near = Point{decimal.Min(near.X, p.X), decimal.Min(near.Y, p.Y)}
		far = Point{decimal.Max(far.X, p.X), decimal.Max(far.Y, p.Y)}
	}
	return near, far.X.Sub(near.X), far.Y.Sub(near.Y)
}

// SamePlace says that one blank is turned over at one station: the back has no dowels and
// no plug of its own, a blank of nominal size touches fence and stop where it lay, or what
// was touched lies over that place. The blank's own place may be another, as on dowels
// beside its middle.
func (a *Answer) SamePlace() bool {
	a = a.Own()
	if a.BackCorner == nil || a.FaceCorner.Equal(*a.BackCorner) {
		return true
	}
	if a.Machine != a.FaceMachine {
		return false
	}
	q := &a.Question
	switch q.Register {
	case Dowels:
		return !slices.ContainsFunc(a.BackPins, func(b Pin) bool {
			return !slices.ContainsFunc(a.FacePins, func(f Pin) bool { return f.At.Equal(b.At) })
		})
	case Plug:
		return a.PlugAt.Equal(a.FaceCorner.Add(q.Bore.At))
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
	a = a.Own()
	if a.BackCorner == nil || a.Machine != a.FaceMachine {
		return false
	}
	corner, x, y := a.BackLies()
	meet := func(face, size, back, extent decimal.Decimal) bool {
		return back.LessThan(face.Add(size)) && face.LessThan(back.Add(extent))
	}
	return meet(a.FaceCorner.X, a.Used.W, corner.X, x) && meet(a.FaceCorner.Y, a.Used.H, corner.Y, y)
}
