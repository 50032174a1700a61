// Package pattern proposes where dowels go in a blank, which standard pins they
// are and how deep their holes, so that the blank comes back over the same pins
// after it is turned over and goes on in no wrong way.
//
// Places are in the face's as-laid frame, from the blank's near-left corner. All
// lengths are exact decimals in the question's unit. Pins stand in the bed and
// end inside the blank; holes go through the blank, since either side may be
// down.
package pattern

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
)

// Style is a kind of pattern.
type Style string

// The two styles. Both are foolproof: no wrong lay-up fits.
const (
	// Line is two pins of different diameters on the flip line.
	Line Style = "line"
	// Pair is two equal pins either side of the flip line and a third on it, off
	// the middle of the blank.
	Pair Style = "pair"
)

// Options are the things beside the question that a pattern rests on.
type Options struct {
	// Margin is the width of the strip of waste round the blank in which the holes
	// must lie; nil takes the strip that the pins need.
	Margin *decimal.Decimal
	// Style "" takes Line where its pins stand at least half as far apart as
	// those of Pair.
	Style Style
	// Standard of the pins. ISO 8734 in millimetres and ASME B18.8.2 in inches
	// unless Chosen.
	Standard fit.Standard
	Chosen   bool
	// Diameters of the pins, nominal: two for Line, one for Pair; nil takes the
	// largest that fit, up to 8 mm or 5/16 in (common practice in wood).
	Diameters []decimal.Decimal
	// Spoilboard is how deep a pin may go into the bed; zero is not said, and leaves
	// the pins without a length.
	Spoilboard decimal.Decimal
	// Over is the greatest depth that a program of either side cuts over a pin.
	Over decimal.Decimal
	// Clear reports whether no program of either side cuts deeper than Over within a
	// radius of a place on the blank, face up; nil where the cuts aren't known.
	Clear func(at registration.Point, radius decimal.Decimal) bool
}

// settle fills in the standard that is taken where none was chosen.
func (o *Options) settle(q registration.Question) {
	if !o.Chosen {
		o.Standard = fit.ISO8734
		if q.Unit == transform.Inch {
			o.Standard = fit.B18_8_2
		}
	}
}

// Dowel is one pin with its holes.
type Dowel struct {
	At     registration.Point
	Pin    fit.Pin
	Length decimal.Decimal // as ordered; zero without a Spoilboard
	// InBlank and InBed are the pin's nominal lengths in the two, which are
	// together its Length. Tolerance is how much longer or shorter a pin can be.
	InBlank, InBed, Tolerance decimal.Decimal
	// Hole is the diameter to bore through the blank, nominal, and Play the
	// clearance with its limits. The bed's hole has the pin's nominal diameter.
	Hole decimal.Decimal
	Play fit.Play
}

// Height is how high the pin's end can stand over the bed's surface: it may be longer
// than ordered. It is zero where the pin has no length.
func (d Dowel) Height() decimal.Decimal { return d.InBlank.Add(d.Tolerance) }

// Pattern is a set of dowels with what they are for.
type Pattern struct {
	Style   Style // "" for pins that were given
	Dowels  []Dowel
	Spacing decimal.Decimal // between the two pins farthest apart, rounded to the sixth decimal
	Strip   decimal.Decimal // the width of the strip round the blank that the holes take
	// Answer is the question with these pins solved: its lay-ups and its verdict.
	Answer *registration.Answer
	Turn   registration.Quarter // of the stations, with which the drilling programs are turned
	Facts  []registration.Fact
}

// byUnit is one length, in millimetres or in inches.
type byUnit struct{ metric, inch string }

func (b byUnit) in(u transform.Unit) decimal.Decimal {
	if u == transform.Inch {
		return decimal.RequireFromString(b.inch)
	}
	return decimal.RequireFromString(b.metric)
}

var (
	// greatest is the thickest pin that is proposed (common practice in wood).
	greatest = byUnit{"8", "0.3125"}
	// apart is the least difference of two diameters on the flip line: more than
	// twice the push of a hand in wood, 0.25 mm or 0.01 in, with the play.
	apart = byUnit{"1", "0.0625"}
	// under is how far a pin's end stays below the top and below any cut over it.
	under = byUnit{"0.5", "0.02"}
	// grain is the step of a hole's depth in the bed.
	grain = byUnit{"0.5", "0.015625"}
)

var (
	half  = decimal.New(5, -1)
	two   = decimal.NewFromInt(2)
	three = decimal.NewFromInt(3)
)

// At gives the pattern for one pair's answer. The second zero is the answer's, which
// corrections may have moved: the bed's holes stay where they are.
func At(a *registration.Answer, o Options) (*Pattern, error) {
	p, err := Propose(a.Own().Question, o)
	if err != nil {
		return nil, err
	}
	p.Answer.Second, p.Turn = a.Own().Second, a.FaceTurn
	return p, nil
}

// Propose places pins for a question's blank and flip and says what they are. If
// the question has pins, their places and diameters stay, and they get their
// lengths and holes.
func Propose(q registration.Question, o Options) (*Pattern, error) {
	p := &Pattern{}
	q.Register = registration.Dowels
	o.settle(q)
	s, err := siteOf(q, o)
	if err != nil {
		return nil, err
	}
	if len(q.Pins) == 0 {
		if s.holesOfTwo() && o.Diameters[1].GreaterThan(o.Diameters[0]) {
			q.Hole = []decimal.Decimal{q.Hole[1], q.Hole[0]} // the thicker dowel stands first
			s.q = q
		}
		if q.Pins, err = p.place(s); err != nil {
			return nil, err
		}
		s.q = q
	} else {
		p.given(s)
	}
	if o.Clear != nil {
		q.Clear = func(at registration.Point, radius decimal.Decimal) bool { return o.Clear(at, radius.Add(Wall(q.Unit))) }
	}
	if p.Answer, err = registration.Solve(q); err != nil {
		return nil, err
	}
	for i, pin := range q.Pins {
		d, err := p.dowel(s, i, pin)
		if err != nil {
			return nil, err
		}
		p.Dowels = append(p.Dowels, d)
	}
	p.classes(q, o.Standard)
	if f, ok := AsDrilled(q); ok {
		p.Facts = append(p.Facts, f)
	}
	p.spacing()
	return p, nil
}

// spacing finds the greatest distance between two pins.
func (p *Pattern) spacing() {
	var most decimal.Decimal
	for i, a := range p.Dowels {
		for _, b := range p.Dowels[:i] {
			d := a.At.Sub(b.At)
			most = decimal.Max(most, d.Dot(d))
		}
	}
	if s, err := most.SqrtRound(6); err == nil {
		p.Spacing = s
	}
}
