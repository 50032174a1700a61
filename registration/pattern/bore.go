package pattern

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Bore is one hole as a program drills it: its centre, the Z where its material
// begins and the Z of its bottom, in the coordinates of that program.
type Bore struct {
	X, Y, Surface, Bottom decimal.Decimal
	// Top is the Z of the top of a blank that lies there, over which a drill is
	// clear of whatever holds one.
	Top   decimal.Decimal
	Dia   decimal.Decimal // of the drill: the hole's nominal diameter
	Dowel int             // its place in Dowels
}

// Where says what a drilling program goes through.
type Where uint8

// The drilling programs.
const (
	// Blank is the holes through the blank, face up.
	Blank Where = iota
	// Bed is the pins' holes in the bed of the face station, without a blank.
	Bed
	// Through is both in one go, through the blank into the bed.
	Through
	// BackBed is the pins' holes in the bed of a second station, in the frame of
	// the second zero.
	BackBed
)

// Bores gives the holes of one program. Blank, Bed and Through are in the
// face program's frame, so that the same zero serves. beyond is how far a drill
// goes out under the blank, for its point or a clean edge; holes in the bed take
// the pin's length in it, and no more.
func (p *Pattern) Bores(where Where, beyond decimal.Decimal) ([]Bore, error) {
	a := p.Answer
	q := a.Question
	if beyond.IsNegative() {
		return nil, &registration.Error{About: "beyond", Found: beyond.String(), Expected: "0 or more"}
	}
	// The bed's Z, and the blank's as it lies there before anything is cut.
	t := a.Uncut()
	zero := q.ZZero
	back := p.Back()
	if where == BackBed {
		if a.Second == nil || back == nil {
			return nil, &registration.Error{About: "back-pin", Found: "no second station", Expected: "‹back-pin X,Y›",
				Hint: "the same dowels serve both sides"}
		}
		t, zero = a.Used.T, q.BackZZero
	}
	bed := decimal.Zero
	if zero == registration.Top {
		bed = t.Neg()
	}
	top := bed.Add(t)
	var list []Bore
	for i, d := range p.Dowels {
		at := d.At.Sub(a.FaceZero)
		b := Bore{Top: top, Dowel: i, Dia: d.Pin.Nominal}
		if where != Blank && !d.InBed.IsPositive() {
			name, _ := called(q, i)
			return nil, &registration.Error{About: "spoilboard", Found: name + " has no depth in the bed",
				Expected: "how deep it may go into the bed"}
		}
		switch where {
		case Blank:
			b.Surface, b.Bottom, b.Dia = top, bed.Sub(beyond), d.Hole
		case Bed:
			b.Surface, b.Bottom = bed, bed.Sub(d.InBed)
		case Through:
			b.Surface, b.Bottom, b.Dia = top, bed.Sub(d.InBed), d.Hole
		case BackBed:
			at = back[i].Sub(a.Second.At())
			b.Surface, b.Bottom = bed, bed.Sub(d.InBed)
		default:
			return nil, &registration.Error{About: "drill", Found: fmt.Sprint(uint8(where)), Expected: "blank, bed, through or back-bed"}
		}
		at = p.Turn.Point(at)
		b.X, b.Y = at.X, at.Y
		list = append(list, b)
	}
	return list, nil
}

// Back gives where the pins stand for the back, in the frame of the second zero; nil
// where the places for the face serve both sides.
func (p *Pattern) Back() (places []registration.Point) {
	a := p.Answer
	switch {
	case a.ClockAt != nil:
		if a.ClockMoves() {
			places = append(places, *a.ClockAt)
		}
	case a.Question.BackPin != nil:
		for _, pin := range a.BackPins {
			places = append(places, pin.At)
		}
	}
	return places
}
