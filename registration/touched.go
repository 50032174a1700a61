package registration

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Spot is one touch of the turned blank: what was touched, and where the spindle's axis
// stood then, in machine coordinates. Edge names an edge as the blank now lies; NoSide is
// a hole's centre. Hole is its place from the blank's near-left corner with the face up,
// or with Cut the face program's own X and Y, for a hole which that program made.
type Spot struct {
	Edge Side
	Hole Point
	Cut  bool
	At   Point
	// Planned says that it is still to be touched, so that At isn't known.
	Planned bool
}

// spotForm is how a touch is written.
const spotForm = "U,V@X,Y or face=X,Y@X,Y for a hole's centre, or near, far, left or right@X,Y for an edge"

// ParseSpot reads U,V@X,Y, face=X,Y@X,Y or EDGE@X,Y, lengths in u; without the @ and what
// follows it is a touch that is planned.
func ParseSpot(s string, u transform.Unit) (Spot, error) {
	what, at, read := strings.Cut(s, "@")
	t := Spot{Planned: !read}
	var err error
	if read {
		if t.At, err = ParsePoint(at, u); err != nil {
			return Spot{}, err
		}
	}
	if place, cut := strings.CutPrefix(word(what), "face="); cut || strings.Contains(what, ",") {
		t.Cut = cut
		t.Hole, err = ParsePoint(place, u)
		return t, err
	}
	if t.Edge, err = ParseSide(what); err != nil {
		return Spot{}, unknown(s, spotForm)
	}
	return t, nil
}

// String writes what ParseSpot reads.
func (t Spot) String() string {
	if t.Planned {
		return t.Name()
	}
	return t.Name() + "@" + t.At.String()
}

// Name is what was touched, as ParseSpot reads it.
func (t Spot) Name() string {
	switch {
	case t.Edge != NoSide:
		return t.Edge.String()
	case t.Cut:
		return "face=" + t.Hole.String()
	}
	return t.Hole.String()
}

// Place is a touch with where the spindle's axis stands over the turned blank, from its
// near-left corner as it lies.
type Place struct {
	Spot Spot
	On   Point
}

// ToTouch reports whether the turned blank is still to be touched, so that its place isn't
// known.
func (a *Answer) ToTouch() bool { return a.Question.Register == Touched && a.Lie == nil }

// Lie is how a touched blank lies with its back up, in machine coordinates. Angles and
// what follows from them are floats until they are rounded: turns to 0.00001 degrees,
// places to 0.0001 mm or 0.00001 in. Over 1 m that turn is under 0.0001 mm.
type Lie struct {
	// Turn is by how much the back program must be turned about the back zero, in
	// degrees, counter-clockwise, over -180 to 180. Where the turn that was found lies
	// within Error of a quarter turn, it is that quarter turn exactly.
	Turn decimal.Decimal `json:"-"`
	// Askew is the turn that was found, and Error its limit to both sides.
	Askew   decimal.Decimal `json:"turn_found"`
	Error   decimal.Decimal `json:"turn_limit"`
	Touches []Leftover      `json:"touches"`
	// Spare says that there is a touch to spare, so that the touches check each other.
	Spare bool `json:"-"`
	// W and H are the size that touches of opposite edges imply, nil without them.
	W *decimal.Decimal `json:"w,omitempty"`
	H *decimal.Decimal `json:"h,omitempty"`
	// BlindSide says that the touches can't show which side is up, BlindEnd that they
	// can't show a blank that lies turned end for end.
	BlindSide bool `json:"side_not_shown"`
	BlindEnd  bool `json:"end_not_shown"`
	// Causes are the errors that the touches can have, each independent of the others.
	Causes []Cause `json:"-"`

	corner vector // L2
	turn   float64
	unit   transform.Unit
	fit    *rigid
}

// Leftover is how far one touch lies off the blank as it was found to lie: off the
// hole's centre, or across the edge's line. Limit is how far its slack explains.
type Leftover struct {
	Spot  Spot            `json:"touch"`
	By    decimal.Decimal `json:"left"`
	Limit decimal.Decimal `json:"limit"`
}

// Lie finds how the touched blank lies: its second derivation is in the tests.
func (q *Question) Lie(b Blank) (*Lie, error) {
	t, err := q.touching(b)
	if err != nil {
		return nil, err
	}
	rows := t.equations(true, -1)
	r := t.solve(rows)
	if !r.rank3 {
		return nil, missing(rows)
	}
	r.turn = math.Remainder(r.turn, 2*math.Pi)
	if len(t.holes) < len(q.Touched) && math.Abs(r.turn) >= math.Pi/4 {
		return nil, &Error{About: aboutTouched, Found: "edges, and a blank turned by " + degrees(r.turn).Round(1).String() + " degrees",
			Expected: "less than 45 degrees with edges", Hint: "turn the blank nearer to square, or touch holes alone"}
	}
	if err := t.within(r); err != nil {
		return nil, err
	}
	list := t.causes(r)
	if err := t.turnedOver(r, list); err != nil {
		return nil, err
	}
	l := &Lie{Spare: len(rows) > 3, unit: q.Unit, fit: r}
	if err := t.compare(l, r, list); err != nil {
		return nil, err
	}
	off := r.turnError(list)
	if off > 1 { // radians: places that all but coincide
		return nil, missing(rows)
	}
	if err := t.steady(r, off, l.sizes(b)); err != nil {
		return nil, err
	}
	l.Askew, l.Error = degrees(r.turn).Round(turnPlaces), degrees(off).RoundCeil(turnPlaces)
	for _, c := range list {
		l.Causes = append(l.Causes, r.effect(c))
	}
	t.blind(l)

	l.Turn = l.Askew
	quarter := l.Askew.Div(decimal.New(90, 0)).Round(0).Mul(decimal.New(90, 0))
	if rest := l.Askew.Sub(quarter); rest.Abs().Cmp(l.Error) <= 0 {
		l.Turn = quarter
		if !rest.IsZero() {
			// A turn about the middle of the touches, which the corner was found for.
			at := r.middle()
			turn := rest.InexactFloat64() * math.Pi / 180
			l.Causes = append(l.Causes, Cause{CauseTurn, turn * at.y, -turn * at.x, turn})
		}
	}
	if l.Turn.Equal(decimal.New(-180, 0)) {
		l.Turn = l.Turn.Neg()
	}
	r.hold(l.Turn.InexactFloat64() * math.Pi / 180)
	l.corner, l.turn = r.corner, r.turn
	return l, nil
}

// At gives the machine place of a point of the turned blank, from its near-left corner,
// rounded once.
func (l *Lie) At(p Point) Point {
	v := vectorOf(p).rotated(l.turn).plus(l.corner)
	n := placesOf(l.unit)
	return Point{decimal.NewFromFloat(v.x).Round(n), decimal.NewFromFloat(v.y).Round(n)}
}

// planned counts the touches that are still to be made.
func (q *Question) planned() (n int) {
	for _, s := range q.Touched {
		if s.Planned {
			n++
		}
	}
	return n
}

// plan answers before the blank is touched: where on it, and whether the touches will fix
// its shift and turn well enough. Touches of one edge stand as far apart as a tenth of it
// from its ends allows.
func (q *Question) plan(a *Answer, b Blank) error {
	if n := q.planned(); n < len(q.Touched) {
		for i, s := range q.Touched {
			if s.Planned {
				return &Error{About: aboutTouched, Found: fmt.Sprintf("touch %d, %s, has no place yet", i+1, s), Expected: "the spindle's place, @X,Y, behind each touch or behind none"}
			}
		}
	}
	straight := *q
	straight.Touched = slices.Clone(q.Touched)
	t, err := straight.touching(b)
	if err != nil {
		return err
	}
	on, of := map[Side]int{}, map[Side]int{}
	for _, s := range q.Touched {
		of[s.Edge]++
	}
	for i := range straight.Touched {
		s := &straight.Touched[i]
		s.Planned = false
		if s.Edge == NoSide {
			p := q.Flip.TurnedPoint(t.place(*s), b)
			s.At = p
			a.Spots = append(a.Spots, Place{*s, p})
			continue
		}
		share := 0.5
		if n := of[s.Edge]; n > 1 {
			share = 0.1 + 0.8*float64(on[s.Edge])/float64(n-1)
		}
		on[s.Edge]++
		_, c, _ := t.edge(s.Edge)
		at := vector{share * t.w, c}
		if s.Edge.acrossX() {
			at = vector{c, share * t.h}
		}
		s.At = Point{decimal.NewFromFloat(at.x).Round(6), decimal.NewFromFloat(at.y).Round(6)}
		a.Spots = append(a.Spots, Place{*s, s.At})
	}
	rows := t.equations(true, -1)
	r := t.solve(rows)
	if !r.rank3 {
		return missing(rows)
	}
	if err := t.steady(r, r.turnError(t.causes(r)), nil); err != nil {
		return err
	}
	q.corners(a)
	a.add(LevelWarning, TouchFirst{len(q.Touched)})
	return nil
}

// touched answers for a blank that lies anywhere.
func (q *Question) touched(a *Answer, b Blank) error {
	if q.planned() > 0 {
		return q.plan(a, b)
	}
	l, err := q.Lie(b)
	if err != nil {
		return err
	}
	q.corners(a)
	a.Lie, a.Machine = l, true
	for _, s := range q.Touched {
		p := vectorOf(s.At).minus(l.corner).rotated(-l.turn)
		n := placesOf(q.Unit)
		a.Spots = append(a.Spots, Place{s, Point{decimal.NewFromFloat(p.x).Round(n), decimal.NewFromFloat(p.y).Round(n)}})
	}
	corner := l.At(Point{})
	a.BackCorner = &corner
	q.remarkLie(a, b)
	return nil
}

// sizes are those that touches of opposite edges imply, with what was taken.
func (l *Lie) sizes(b Blank) (list []SizeImplied) {
	if l.W != nil {
		list = append(list, SizeImplied{"W", *l.W, b.W})
	}
	if l.H != nil {
		list = append(list, SizeImplied{"H", *l.H, b.H})
	}
	return list
}

// explains reports whether the errors of blank and touches can make an implied size.
func (k *Slack) explains(s SizeImplied) bool {
	return s.Implied.Sub(s.Taken).Abs().LessThanOrEqual(k.Size.Add(k.Feature.Add(k.Touch).Mul(decimal.New(2, 0))))
}

// remarkLie adds the facts of a touched blank.
func (q *Question) remarkLie(a *Answer, b Blank) {
	l := a.Lie
	edges := len(q.Touched) > 0
	for _, left := range l.Touches {
		edges = edges && left.Spot.Edge != NoSide
	}
	a.add(LevelNote, TurnKnown{l.Askew, l.Error, l.Turn})
	end := l.Turn.Abs().Cmp(decimal.New(90, 0)) > 0
	if end {
		a.add(LevelWarning, EndForEnd{})
	}
	if rest := l.Turn.Abs(); !rest.IsZero() && !rest.Equal(decimal.New(180, 0)) {
		if end {
			rest = rest.Sub(decimal.New(180, 0)).Abs()
		}
		a.add(LevelWarning, LiesTurned{l.Turn, l.Error, rest})
	}
	for _, s := range l.sizes(b) {
		level := LevelNote
		if q.Slack != nil && !q.Slack.explains(s) {
			level = LevelWarning
		}
		a.add(level, s)
	}
	if edges {
		a.add(LevelWarning, EdgesAlone{})
	}
	switch {
	case l.BlindSide && l.BlindEnd:
		a.add(LevelCaution, TouchBlind{[]string{"side", "end"}})
	case l.BlindSide:
		a.add(LevelCaution, TouchBlind{[]string{"side"}})
	case l.BlindEnd:
		a.add(LevelCaution, TouchBlind{[]string{"end"}})
	}
}
