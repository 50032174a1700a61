package registration

import "fmt"

// Station is one place on the bed for a blank: the offset's name, the machine
// coordinates of the side's zero, and of the blank's near-left corner as it lies.
type Station struct {
	Offset string
	Zero   Position
	Corner Point
}

// At asks the question of a again for a face and a back station whose places on
// the bed are settled: the locators of each station stand where its blank needs
// them, at the nominal size. The second zero then comes from the locators, not
// from the stations; it is an error (No) if it doesn't fall on the back station's
// zero. Coordinates given with a locator contradict a settled station and are an
// error.
func (a *Answer) At(face, back Station) (*Answer, error) {
	q := a.Question
	b := a.Used
	given := func(name string) error {
		return &Error{About: name, Found: "a machine coordinate, where the stations are placed on the bed", Expected: "one of the two",
			Hint: "leave out the coordinate, or give --at and no --pairs"}
	}
	for _, c := range []struct {
		name string
		Contact
	}{{"--fence", q.Fence}, {"--stop", q.Stop}, {"--back-fence", q.BackFence}, {"--back-stop", q.BackStop}} {
		if c.Coord != nil {
			return nil, given(c.name)
		}
	}
	if q.BackPin != nil {
		return nil, given("--back-pin")
	}
	if q.PlugAt != nil {
		return nil, given("--plug-at")
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

// SamePlace says that the turned blank lies where it lay with its face up, so that
// there is one place for both sides.
func (a *Answer) SamePlace() bool {
	return a.BackCorner == nil || a.FaceCorner.equal(*a.BackCorner)
}
