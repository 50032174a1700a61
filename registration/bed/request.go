package bed

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Reach is how far something goes beyond the edges of the blank as it lies. A
// negative value stays inside the blank by so much.
type Reach struct{ Left, Right, Near, Far decimal.Decimal }

// ReachOf gives the reach of a program from the least and greatest X and Y of its
// moves (program coordinates), its zero in the as-laid frame of that side, and
// the blank's W and H as it lies.
func ReachOf(least, greatest, zero registration.Point, w, h decimal.Decimal) Reach {
	return Reach{
		Left:  least.X.Add(zero.X).Neg(),
		Near:  least.Y.Add(zero.Y).Neg(),
		Right: greatest.X.Add(zero.X).Sub(w),
		Far:   greatest.Y.Add(zero.Y).Sub(h),
	}
}

// Depths is how low and how high a program's moves go, from its Z zero.
type Depths struct{ Least, Greatest decimal.Decimal }

// Program is what placement has to know of one side's program. The zero value is
// a program whose tool's centre stays over the blank, with a cutter of no width.
type Program struct {
	Zero   registration.Point  // in the as-laid frame of its side
	Reach  *Reach              // of the tool's centre; nil stays over the blank
	Radius decimal.Decimal     // of the widest cutter: its overhang beyond the reach
	Z      *decimal.Decimal    // machine Z of its Z zero, where known
	Depths *Depths             // checked against the travel where Z is known
	Offset string              // the offset wanted for the first pair; "" is the first free one
	Lies   *registration.Blank // what the blank covers on this side where it isn't Request.Blank: one that lies askew
}

// Given is a pair whose place the locators have fixed: the near-left corners of
// the blank as it lies, in machine coordinates. Where one blank is turned over in place
// the two may overlap.
type Given struct {
	Face, Back registration.Point
	InPlace    bool
}

// Request asks for pairs of stations. Lengths are in Unit.
type Request struct {
	Unit       transform.Unit
	Job        string // name of the job, by which its own stations are known again
	Pairs      int    // how many; 0 is as many as the offsets and the bed allow
	Blank      registration.Blank
	Flip       registration.Flip
	Face, Back Program
	ZGiven     bool            // the programs' Z rests on one that was given with at
	Gap        decimal.Decimal // room for hands and clamps between stations, and between a station and a taken rectangle
	Margin     Reach           // how far the fixture goes beyond the blank
	Touch      Reach           // how far beyond the blank the tool's centre goes to touch off its edges
	NoGo       []Area          // nothing may enter, neither fixture nor cutter, however high; no gap is kept to it
	Taken      []InUse         // beyond those of the machine
	AllowTurn  bool            // pairs may be turned by quarter turns
	Given      *Given          // the first pair, where the locators fix it

	step decimal.Decimal // corners are whole numbers of it: a millimetre, or a sixteenth of an inch
}

// Side names of a station.
const (
	FaceSide = "face"
	BackSide = "back"
)

var sides = [2]string{FaceSide, BackSide}

// programs are the face's and the back's.
func (q *Request) programs() [2]Program { return [2]Program{q.Face, q.Back} }

// Station is one place on the bed.
type Station struct {
	Pair   int                   `json:"pair"` // from 1
	Side   string                `json:"side"` // FaceSide or BackSide
	Offset string                `json:"offset"`
	Zero   registration.Position `json:"zero"`          // what the offset holds
	Corner registration.Point    `json:"corner"`        // near-left corner of the blank as it lies
	Turn   registration.Quarter  `json:"quarter_turns"` // its programs are turned with it

	Blank    Rect `json:"-"` // the blank
	Occupied Rect `json:"-"` // blank, fixture and swept cutter together
	Reached  Rect `json:"-"` // where the tool's centre goes: moves, blank and zero

	placed Rect // Occupied with the blank that the station was placed for, once a piece is laid on
}

// Lay puts a piece of another size onto the station's locators. Fixture and cutter go out with
// an edge that lies farther out.
func (s *Station) Lay(corner registration.Point, w, h decimal.Decimal) {
	o, b, piece := s.Occupied, s.Blank, Rect{X: corner.X, Y: corner.Y, W: w, H: h}
	out := func(v decimal.Decimal) decimal.Decimal { return decimal.Max(v, decimal.Zero) }
	left, near := out(b.X.Sub(piece.X)), out(b.Y.Sub(piece.Y))
	s.Occupied = Rect{X: o.X.Sub(left), Y: o.Y.Sub(near),
		W: o.W.Add(left).Add(out(piece.Right().Sub(b.Right()))), H: o.H.Add(near).Add(out(piece.Far().Sub(b.Far())))}
	s.Corner, s.Blank, s.placed = corner, piece, o
}

// Crowd is two stations between which the piece in hand leaves less than the gap, by their
// offsets; Left is below 0 where they overlap.
type Crowd struct {
	One, Other string
	Left, Gap  decimal.Decimal
}

// Crowds lists them, of those that were placed apart.
func (l *Layout) Crowds(gap decimal.Decimal) (list []Crowd) {
	for i, s := range l.Stations {
		for _, o := range l.Stations[:i] {
			if left := o.Occupied.apart(s.Occupied); left.LessThan(gap) && left.LessThan(o.placed.apart(s.placed)) && !o.placed.Overlaps(s.placed) {
				list = append(list, Crowd{o.Offset, s.Offset, left, gap})
			}
		}
	}
	return list
}

// Place is where a point of the blank lies in machine coordinates: p is measured from the
// near-left corner of the side that is up, before the station is turned.
func (s Station) Place(p registration.Point) registration.Point {
	b := s.Turn.Blank(registration.Blank{W: s.Blank.W, H: s.Blank.H})
	return s.Corner.Add(s.Turn.On(b, p))
}

// Layout is the answer to a Request. Lengths are in Unit, which is millimetres if
// either the machine or the request is.
type Layout struct {
	Unit     transform.Unit
	Pairs    int
	Stations []Station // face and back of pair 1, of pair 2 ...
	Left     []string  // free offsets that remain
}

// ParkFault says what is wrong with a place to park the tool, in machine coordinates in
// the layout's unit: hands are at every station while the tool stands there, so it lies
// over none of them. nil is nothing.
func (l *Layout) ParkFault(at registration.Point) *registration.Error {
	for _, s := range l.Stations {
		if o := s.Occupied; o.Holds(Rect{X: at.X, Y: at.Y}) {
			return &registration.Error{Found: fmt.Sprintf("a place to park at X%s Y%s, over the %s station of pair %d (X %s to %s, Y %s to %s)",
				at.X, at.Y, s.Side, s.Pair, o.X, o.Right(), o.Y, o.Far()),
				Expected: "a place beside every station", Hint: "hands load there while the cutter stands over it"}
		}
	}
	return nil
}

// NoFit says that the pairs asked for don't fit, by how much, and how many do. Lengths are
// in millimetres if either the machine or the request is.
type NoFit struct {
	Reason  *registration.Error
	Asked   int
	Fits    int
	Offsets int // free offsets that are missing
	// X and Y are how much more would be needed in X alone or in Y alone, nil
	// where no amount in that axis alone helps or offsets are what is missing.
	X, Y *decimal.Decimal
	// Turned says that they fit with stations turned, "" where they don't.
	Turned string
}

// Unwrap gives the plain error.
func (e *NoFit) Unwrap() error { return e.Reason }

// Error gives the reason in words.
func (e *NoFit) Error() string { return e.Reason.Error() }

// fault is one thing that may be wrong, with what is said of it then.
type fault struct {
	wrong                        bool
	about, found, expected, hint string
}

// first gives the first of the faults that is there.
func first(list []fault) error {
	for _, f := range list {
		if f.wrong {
			return &registration.Error{About: f.about, Found: f.found, Expected: f.expected, Hint: f.hint}
		}
	}
	return nil
}

// validate gives the first fault of the request.
func (q *Request) validate(m *Machine) error {
	if err := first(append(q.faults(), q.unmeasurable()...)); err != nil {
		return err
	}
	taken := Machine{Name: m.Name, Unit: m.Unit, X: m.X, Y: m.Y, Z: m.Z, Extended: m.Extended, InUse: q.Taken}
	for _, f := range taken.Faults() {
		f.About = "taken"
		return f
	}
	return q.validateOffsets(m)
}

// faults lists what may be wrong with the request's own numbers.
func (q *Request) faults() []fault {
	b, least := q.Blank, decimal.Min(q.Margin.Left, q.Margin.Right, q.Margin.Near, q.Margin.Far)
	list := []fault{
		{q.Flip != registration.FlipX && q.Flip != registration.FlipY, "flip", "no flip", "x or y", ""},
		{q.Pairs < 0, "pairs", fmt.Sprintf("%d pairs", q.Pairs), "1 or more, or max", ""},
		{!b.W.IsPositive() || !b.H.IsPositive(), "stock", "a blank of " + b.W.String() + " x " + b.H.String(), "two sizes above 0", ""},
		{q.Gap.IsNegative(), "gap", "a gap of " + q.Gap.String(), "0 or more", ""},
		{least.IsNegative(), "fixture", "a fixture margin of " + least.String(), "0 or more", ""},
		{q.Face.Radius.IsNegative() || q.Back.Radius.IsNegative(), "tool", "a cutter of negative diameter", "a diameter of 0 or more", ""},
	}
	for _, r := range q.NoGo {
		list = append(list, fault{!r.W.IsPositive() || !r.H.IsPositive(), "no-go", "a rectangle of " + r.W.String() + " x " + r.H.String(), "two sizes above 0", ""})
		if h := r.Height; h != nil {
			list = append(list, fault{!h.IsPositive(), "no-go", "a height of " + h.String(), "above 0, or none", "without one nothing passes over it"})
		}
	}
	for _, p := range q.programs() {
		if r := p.Reach; r != nil {
			list = append(list, fault{b.W.Add(r.Left).Add(r.Right).IsNegative() || b.H.Add(r.Near).Add(r.Far).IsNegative(), "program",
				"a reach whose right end lies left of its left end, or far of near", "least before greatest", ""})
		}
	}
	return list
}

// unmeasurable lists the lengths that are beyond what places are worked out with.
func (q *Request) unmeasurable() (list []fault) {
	take := func(about string, of any) {
		eachLength(of, func(v decimal.Decimal) {
			found := measurable(v)
			list = append(list, fault{found != "", about, found, measures, ""})
		})
	}
	take("stock", [2]decimal.Decimal{q.Blank.W, q.Blank.H})
	take("gap", q.Gap)
	take("fixture", q.Margin)
	take("touch-off", q.Touch)
	take("zero", q.Face.Zero)
	take("back-zero", q.Back.Zero)
	take("tool", q.Face.Radius)
	take("tool", q.Back.Radius)
	take("the face's program", q.Face.Reach)
	take("the back's program", q.Back.Reach)
	take("no-go", q.NoGo)
	take("at", q.Given)
	return list
}

// validateOffsets checks the offsets wanted for the first pair.
func (q *Request) validateOffsets(m *Machine) error {
	for _, w := range []struct{ key, name string }{{"offset", q.Face.Offset}, {"back-offset", q.Back.Offset}} {
		if w.name == "" {
			continue
		}
		if transform.OffsetNumber(w.name) == 0 {
			return &registration.Error{About: w.key, Found: fmt.Sprintf("offset %q", w.name), Expected: "G54 to G59, or G59.1 to G59.3"}
		}
		if err := m.Usable(q.Job, w.name, q.Taken...); err != nil {
			return registration.About(err, w.key)
		}
	}
	if q.Face.Offset != "" && q.Face.Offset == q.Back.Offset {
		return &registration.Error{About: "back-offset", Found: q.Back.Offset + " for the face and the back",
			Expected: "two different offsets", Hint: "leave one out: the first free one is taken"}
	}
	return nil
}
