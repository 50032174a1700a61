package pattern

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Index gives the index pin that clocks a blank on its plug its size, its length and
// its hole in the bed. The plug has a shoulder, so its own stud isn't drilled for.
func Index(a *registration.Answer, o Options) (*Pattern, error) {
	q := a.Question
	if q.Register != registration.Plug || q.Clock.Kind != registration.ClockPin {
		return nil, &registration.Error{About: "clock", Found: "no index pin", Expected: "pin=X,Y,DIA"}
	}
	if q.Clock.Dia.IsZero() {
		return nil, &registration.Error{About: "clock", Found: "no diameter of the index pin", Expected: "pin=X,Y,DIA, since length and hole depend on it"}
	}
	o.settle(q)
	q.Hole = nil // of the dowels
	if q.Clock.Hole.IsPositive() {
		q.Hole = []decimal.Decimal{q.Clock.Hole}
	}
	p := &Pattern{Answer: a.Own(), Turn: a.FaceTurn}
	s := site{q: q, o: o, b: a.Used}
	s.b.T = a.Uncut()
	d, err := p.dowel(s, 0, registration.Pin{At: q.Clock.Pin, Dia: q.Clock.Dia})
	if err != nil {
		return nil, err
	}
	p.Dowels = []Dowel{d}
	if err := p.apart(d.Pin.Nominal); err != nil {
		return nil, err
	}
	// A shoulder half as wide again as the bore (common practice, as fit.ForBore has it).
	shoulder := q.Bore.Dia.Mul(decimal.New(15, -1))
	off := q.Clock.Pin.Sub(q.Bore.At)
	if clear := shoulder.Add(d.Pin.Nominal).Mul(half); off.Dot(off).LessThan(clear.Mul(clear)) {
		p.fact(registration.LevelWarning, IndexUnderShoulder{shoulder})
	}
	return p, nil
}

// apart refuses holes for face and back that run into each other.
func (p *Pattern) apart(dia decimal.Decimal) error {
	a := p.Answer
	back := p.Back()
	if back == nil || a.Machine != a.FaceMachine {
		return nil
	}
	way := a.FaceCorner.Add(a.Question.Clock.Pin).Sub(back[0])
	least := dia.Mul(decimal.New(15, -1)) // half a diameter is left between them (common practice)
	if way.Dot(way).GreaterThanOrEqual(least.Mul(least)) {
		return nil
	}
	line := map[registration.Flip]string{registration.FlipX: "Y" + a.Question.Bore.At.Y.String(), registration.FlipY: "X" + a.Question.Bore.At.X.String()}[a.Question.Flip]
	return &registration.Error{About: "clock", No: true, Found: fmt.Sprintf("the index pin's holes for face and back run into each other, %s and %s apart in X and Y", way.X.Abs(), way.Y.Abs()),
		Expected: "one hole for both, or " + least.String() + " between their centres", Hint: "put the index pin at " + line + ", on the flip line through the bore"}
}
