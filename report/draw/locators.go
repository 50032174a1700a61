package draw

import (
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

// shown is one blank on the bed with its zero and what locates it.
type shown struct {
	bed.Station
	label    string
	bare     string // that no stud stands there yet
	studs    []stud
	contacts []standing
	reach    bed.Rect // of its cutters; empty is unknown
}

func (b *shown) box() box { return rectBox(b.Blank) }

func (b *shown) back() bool { return b.Side == bed.BackSide }

// same reports whether two blanks lie in one place.
func (b *shown) same(o *shown) bool { return b.box() == o.box() && b.Turn == o.Turn }

// stud is a round thing that a blank sits on: a dowel, a plug, an index pin.
type stud struct {
	registration.Pin
	name string
	bore bool // the hole alone is known, not what stands in it
	// brief has the diameter alone say which it is.
	brief bool
}

func (t stud) label() string {
	switch {
	case t.brief && !t.Dia.IsZero():
		return "Ø" + t.Dia.String()
	case !t.Dia.IsZero():
		return t.name + " Ø" + t.Dia.String()
	case t.name == indexPin:
		return t.name + ", dia not given"
	}
	return t.name
}

const indexPin = "index pin"

// standing is a fence or a stop as it stands at a station, in machine coordinates.
type standing struct {
	name string
	side registration.Side
	at   decimal.Decimal
	// touch are the places along the side, from the blank's left or near end, as parts of
	// its length there.
	touch []float64
}

func (t standing) label() string { return t.name + " " + t.side.Axis() + t.at.String() }

// placed lists the blanks at their stations.
func (s *Scene) placed() (out []shown) {
	for i, st := range s.Stations {
		label := st.Side + " " + st.Offset
		if len(s.Stations) > 2 {
			label = itoa(st.Pair) + " " + label
		}
		b := shown{Station: st, label: label, contacts: s.contactsAt(st)}
		if st.Side == bed.FaceSide && s.Later != "" {
			b.bare = "no " + s.Later + " yet"
		} else {
			b.studs = s.studsAt(st)
		}
		if i == 1 && len(s.Stations) == 2 && st.Corner.X.Equal(s.Stations[0].Corner.X) && st.Corner.Y.Equal(s.Stations[0].Corner.Y) {
			b.bare = "same place"
		}
		if i < len(s.Reach) {
			b.reach = s.Reach[i]
		}
		out = append(out, b)
	}
	return out
}

// studsAt gives the dowels or the plug, and its index pin if there is one, where
// they stand under the blank of a station.
func (s *Scene) studsAt(st bed.Station) []stud {
	if s.Answer == nil {
		return nil
	}
	out := partStuds(s.Answer, st.Side == bed.BackSide)
	for i := range out {
		if plug := s.Answer.Question.PlugD; out[i].bore && plug != nil {
			out[i].name, out[i].Dia, out[i].bore = "plug", *plug, false
		}
		out[i].At = st.Place(out[i].At)
	}
	return out
}

// pinStuds names dowels.
func pinStuds(pins []registration.Pin) []stud {
	var out []stud
	for i, p := range pins {
		out = append(out, stud{Pin: p, name: "dowel " + itoa(i+1)})
	}
	return out
}

// partStuds gives the dowels, or the bore and the index pin, under the blank, in the as-laid
// frame of a side.
func partStuds(a *registration.Answer, back bool) []stud {
	q := &a.Question
	var out []stud
	switch {
	case q.Register == registration.Plug && q.Bore != nil:
		out = append(out, stud{Pin: *q.Bore, name: "bore", bore: true})
		if q.Clock.Kind == registration.ClockPin {
			out = append(out, stud{Pin: registration.Pin{At: q.Clock.Pin, Dia: q.Clock.Dia}, name: indexPin})
		}
	case q.Register != registration.Plug:
		out = pinStuds(q.Pins)
	}
	for i := range out {
		if back {
			out[i].At = q.Flip.TurnedPoint(out[i].At, a.Used)
		}
	}
	return out
}

// contactsAt gives fence and stop of a station: they stand to its blank as the answer
// has them stand to the first pair's.
func (s *Scene) contactsAt(st bed.Station) []standing {
	if s.Answer == nil || s.Answer.BackCorner == nil {
		return nil
	}
	a := s.Answer.Own()
	var out []standing
	for _, t := range a.Touches {
		c, corner := standing{name: t.Locator, side: t.Side, at: t.FaceCoord}, a.FaceCorner
		fence := a.Question.Fence.Side
		known := t.CoordKnown == a.FaceMachine
		if st.Side == bed.BackSide {
			c, corner, known = standing{name: t.BackLocator, side: t.BackSide, at: t.BackCoord}, *a.BackCorner, t.BackKnown == a.Machine
			fence = a.Question.BackFence.Side
			if c.name == "" {
				c.name = t.Locator
			}
		}
		if !known || c.side == registration.NoSide {
			continue
		}
		// The place in the as-laid frame; the other coordinate doesn't matter.
		p := registration.Point{X: c.at.Sub(corner.X), Y: c.at.Sub(corner.Y)}
		c.touch = touchParts(a, fence, c)
		for range st.Turn {
			if c.side = registration.Quarter(1).Side(c.side); c.side.Axis() == "Y" { // near to far is right to left then
				turned := make([]float64, len(c.touch))
				for i, f := range c.touch {
					turned[len(turned)-1-i] = 1 - f
				}
				c.touch = turned
			}
		}
		c.at = st.Place(p).X
		if c.side.Axis() == "Y" {
			c.at = st.Place(p).Y
		}
		out = append(out, c)
	}
	return out
}

// touchParts are where a fence or stop touches, as parts of the blank's edge there.
func touchParts(a *registration.Answer, fence registration.Side, c standing) []float64 {
	b := a.Used
	on, stop := a.Question.ContactsOn(b, fence).Points(b, fence, c.side)
	part := func(p registration.Point) float64 {
		if c.side.Axis() == "Y" {
			return fl(p.X) / fl(b.W)
		}
		return fl(p.Y) / fl(b.H)
	}
	if c.name == "fence" {
		return []float64{part(on[0]), part(on[1])}
	}
	return []float64{part(stop)}
}

func fl(v decimal.Decimal) float64 { return v.InexactFloat64() }

// How places, names and sides are written is said in letters.
var (
	itoa    = strconv.Itoa
	xy      = letters.XY
	capital = letters.Capital
	sideOf  = letters.Side
)
