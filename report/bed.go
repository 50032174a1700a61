package report

import (
	"fmt"
	"sort"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// BedDrawing draws the bed from above with the stations, in machine coordinates:
// the number of user units is the number of millimetres or inches, and SVG's y is -Y.
// It gives "" where nothing is known in machine coordinates.
func BedDrawing(s Setup) string {
	c, title, desc := s.bed()
	if c == nil {
		return ""
	}
	return c.svg(title, desc, true)
}

func (s *Setup) bedFigure() Figure {
	c, title, desc := s.bed()
	if c == nil {
		return Figure{}
	}
	return Figure{ID: "bed", Title: title, Desc: desc, SVG: c.svg(title, desc, false)}
}

// shown is one blank on the bed with its zero and what locates it.
type shown struct {
	Station
	x, y, w, h float64
	label      string
	studs      []stud
	contacts   []standing
}

func (b *shown) box() box { return box{b.x, b.y, b.x + b.w, b.y + b.h} }

// same reports whether two blanks lie in one place.
func (b *shown) same(o *shown) bool { return b.box() == o.box() && b.Quarter == o.Quarter }

// stud is a round thing that a blank sits on: a dowel, a plug, a index pin.
type stud struct {
	registration.Pin
	name string
	bore bool // the hole alone is known, not what stands in it
}

func (t stud) label() string {
	switch {
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

func (t standing) label() string { return t.name + " " + sideLetter(t.side) + t.at.String() }

// sideLetter is the axis along which a locator on a side is set.
func sideLetter(s registration.Side) string {
	if s == registration.Near || s == registration.Far {
		return "Y"
	}
	return "X"
}

// placed lists the blanks that the bed drawing shows: the stations, or else
// where the answer puts the blank.
func (s *Setup) placed() []shown {
	stations := s.Stations
	if a := s.Answer; len(stations) == 0 && a != nil {
		if a.FaceMachine && a.FaceAt != nil {
			stations = append(stations, Station{Pair: 1, Offset: faceOffset(a), Zero: *a.FaceAt, Corner: a.FaceCorner, W: a.Used.W, H: a.Used.H, Pins: a.FacePins})
		}
		if a.Machine && a.BackCorner != nil && a.Second != nil {
			stations = append(stations, Station{Pair: 1, Back: true, Offset: a.Second.Offset, Zero: registration.Position{X: a.Second.X, Y: a.Second.Y, Z: a.Second.Z},
				Corner: *a.BackCorner, W: a.Used.W, H: a.Used.H, Pins: a.BackPins})
		}
	}
	var out []shown
	for _, st := range stations {
		label := sideOf(st.Back) + " " + st.Offset
		if len(stations) > 2 {
			label = itoa(st.Pair) + " " + label
		}
		out = append(out, shown{st, fl(st.Corner.X), fl(st.Corner.Y), fl(st.W), fl(st.H), label, s.studsAt(st), s.contactsAt(st)})
	}
	return out
}

// studsAt gives the dowels or the plug, and its index pin if there is one, where
// they stand under the blank of a station.
func (s *Setup) studsAt(st Station) []stud {
	var out []stud
	for i, p := range st.Pins {
		out = append(out, stud{Pin: p, name: "pin " + itoa(i+1)})
	}
	if len(out) > 0 || s.Answer == nil {
		return out
	}
	out = partStuds(s.Answer, st.Back)
	for i := range out {
		out[i].At = s.on(st, out[i].At)
	}
	return out
}

// pinsAt gives the dowels where they stand under the blank of a station.
func (s *Setup) pinsAt(st Station) []registration.Pin {
	if a := s.Answer; len(st.Pins) == 0 && (a == nil || a.Question.Register != registration.Dowels) {
		return nil
	}
	return pinsOnly(s.studsAt(st))
}

// partPins gives the dowels' places on the blank as it lies.
func partPins(a *registration.Answer, back bool) []registration.Pin {
	if a.Question.Register == registration.Plug {
		return nil
	}
	return pinsOnly(partStuds(a, back))
}

func pinsOnly(studs []stud) []registration.Pin {
	var out []registration.Pin
	for _, t := range studs {
		out = append(out, t.Pin)
	}
	return out
}

// partStuds gives the dowels or the plug under the blank, in the as-laid frame of a side.
func partStuds(a *registration.Answer, back bool) []stud {
	q := &a.Question
	var out []stud
	switch {
	case q.Register == registration.Plug && q.Bore != nil:
		t := stud{Pin: *q.Bore, name: "bore", bore: true}
		if q.PlugD != nil {
			t = stud{Pin: registration.Pin{At: q.Bore.At, Dia: *q.PlugD}, name: "plug"}
		}
		out = append(out, t)
		if q.Clock.Kind == registration.ClockPin {
			out = append(out, stud{Pin: registration.Pin{At: q.Clock.Pin, Dia: q.Clock.Dia}, name: indexPin})
		}
	case q.Register != registration.Plug:
		for i, p := range q.Pins {
			out = append(out, stud{Pin: p, name: "pin " + itoa(i+1)})
		}
	}
	for i := range out {
		if p := &out[i].At; back {
			switch q.Flip {
			case registration.FlipY:
				p.X = a.Used.W.Sub(p.X)
			case registration.FlipX:
				p.Y = a.Used.H.Sub(p.Y)
			}
		}
	}
	return out
}

// on says where a point of a side's as-laid frame lies at a station, whose blank may be
// turned by quarters counter-clockwise.
func (s *Setup) on(st Station, p registration.Point) registration.Point {
	w, h := s.Answer.Used.W, s.Answer.Used.H
	for range st.Quarter {
		p.X, p.Y = h.Sub(p.Y), p.X
		w, h = h, w
	}
	return add(st.Corner, p)
}

// quarterOn is the side that a side of a blank becomes after a quarter turn
// counter-clockwise.
var quarterOn = map[registration.Side]registration.Side{
	registration.Near: registration.Right, registration.Right: registration.Far, registration.Far: registration.Left, registration.Left: registration.Near}

// contactsAt gives fence and stop of a station: they stand to its blank as the answer
// has them stand to the first pair's.
func (s *Setup) contactsAt(st Station) []standing {
	a := s.Answer
	if a == nil || a.BackCorner == nil {
		return nil
	}
	var out []standing
	for _, t := range a.Touches {
		c, corner := standing{name: t.Locator, side: t.Side, at: t.FaceCoord}, a.FaceCorner
		fence := a.Question.Fence.Side
		known := t.CoordKnown == a.FaceMachine
		if st.Back {
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
		for range st.Quarter {
			if sideLetter(c.side) == "X" { // what was near is right then
				turned := make([]float64, len(c.touch))
				for i, f := range c.touch {
					turned[len(turned)-1-i] = 1 - f
				}
				c.touch = turned
			}
			c.side = quarterOn[c.side]
		}
		c.at = s.on(st, p).X
		if sideLetter(c.side) == "Y" {
			c.at = s.on(st, p).Y
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
		if sideLetter(c.side) == "Y" {
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

func (s *Setup) bed() (c *canvas, title, desc string) {
	blanks := s.placed()
	if len(blanks) == 0 {
		return nil, "", ""
	}
	var margin float64
	if s.Fixture != nil {
		margin = fl(*s.Fixture)
	}
	all := openCanvas("bed", 0) // for its extent
	for i := range blanks {
		b := blanks[i].box().grown(margin)
		all.grow(b.x0, b.y0)
		all.grow(b.x1, b.y1)
		all.grow(fl(blanks[i].Zero.X), fl(blanks[i].Zero.Y))
	}
	m := s.Machine
	if m != nil {
		if m.travels() {
			all.grow(fl(m.Least[0]), fl(m.Least[1]))
			all.grow(fl(m.Greatest[0]), fl(m.Greatest[1]))
		}
		for _, a := range m.NoGo {
			all.grow(fl(a.At.X), fl(a.At.Y))
			all.grow(fl(a.At.X.Add(a.W)), fl(a.At.Y.Add(a.H)))
		}
		if m.Bed != nil {
			all.grow(fl(m.Bed.At.X), fl(m.Bed.At.Y))
			all.grow(fl(m.Bed.At.X.Add(m.Bed.W)), fl(m.Bed.At.Y.Add(m.Bed.H)))
		}
	}
	size := all.extent()
	c = openCanvas("bed", letterHeight(size.x1-size.x0, size.y1-size.y0, 0.031))
	if m != nil {
		s.machine(c)
	}
	if margin > 0 {
		for i := range blanks {
			b := blanks[i].box().grown(margin)
			c.group("fixture-area", "margin", s.Fixture.String())
			c.rect("hidden fixture", b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
			c.edges(onThin, b)
			c.end()
		}
	}
	for i := range blanks {
		s.station(c, blanks, i, margin)
	}
	s.ordinates(c, blanks)
	notes := []string{"operator stands on this side"}
	if margin > 0 {
		notes = append(notes, "dashed: fixture")
	}
	c.foot(s.bedUnit().String(), notes)
	title = "The bed from above"
	var parts []string
	for i := range blanks {
		b := &blanks[i]
		part := fmt.Sprintf("%s: near-left corner at X%s Y%s, zero at X%s Y%s", b.label, num(b.x), num(b.y), b.Zero.X, b.Zero.Y)
		for _, t := range b.studs {
			part += ", " + t.label() + " at " + xy(t.At)
		}
		for _, t := range b.contacts {
			part += ", " + t.label() + " on the " + t.side.String() + " side"
		}
		parts = append(parts, part)
	}
	if margin > 0 {
		parts = append(parts, "the fixture goes "+s.Fixture.String()+" beyond each blank")
	}
	if m != nil {
		for _, t := range m.Taken {
			if t.Area != nil {
				parts = append(parts, t.Offset+" taken"+areaName(", ", t.Area.Name)+" at X"+t.Area.At.X.String()+" Y"+t.Area.At.Y.String())
			}
		}
		for _, n := range m.NoGo {
			part := strings.TrimRight(n.Name, " 0123456789") + " at X" + n.At.X.String() + " Y" + n.At.Y.String()
			if n.Height != nil {
				part += ", " + n.Height.String() + " high"
			}
			parts = append(parts, part)
		}
	}
	return c, title, "X to the right, Y away from the operator, machine coordinates. " + capital(strings.Join(parts, "; ")) + "."
}

func (s *Setup) machine(c *canvas) {
	m := s.Machine
	if m.Bed != nil {
		c.group("bed-area")
		c.rect("bed", fl(m.Bed.At.X), fl(m.Bed.At.Y), fl(m.Bed.W), fl(m.Bed.H))
		b := box{fl(m.Bed.At.X), fl(m.Bed.At.Y), fl(m.Bed.At.X.Add(m.Bed.W)), fl(m.Bed.At.Y.Add(m.Bed.H))}
		c.edges(onEdge, b)
		c.frameName(b, "start", "bed "+m.Bed.W.String()+" x "+m.Bed.H.String())
		c.end()
	}
	if m.travels() {
		w, h := m.Greatest[0].Sub(m.Least[0]), m.Greatest[1].Sub(m.Least[1])
		c.group("travel-area", "x", m.Least[0].String(), "y", m.Least[1].String(), "w", w.String(), "h", h.String())
		c.rect("travel", fl(m.Least[0]), fl(m.Least[1]), fl(w), fl(h))
		b := box{fl(m.Least[0]), fl(m.Least[1]), fl(m.Greatest[0]), fl(m.Greatest[1])}
		c.edges(onEdge, b)
		c.frameName(b, "end", "the machine's travel: X "+m.Least[0].String()+" to "+m.Greatest[0].String()+", Y "+m.Least[1].String()+" to "+m.Greatest[1].String())
		c.end()
	}
	for _, t := range m.Taken {
		if a := t.Area; a != nil {
			c.group("taken-area", "offset", t.Offset, "x", a.At.X.String(), "y", a.At.Y.String())
			c.fillRect("area taken", "taken", fl(a.At.X), fl(a.At.Y), fl(a.W), fl(a.H))
			c.areaWords(a, t.Offset+" taken", areaName("", a.Name), false)
			c.end()
		}
	}
	for i := range m.NoGo {
		a := &m.NoGo[i]
		c.group("nogo-area", "x", a.At.X.String(), "y", a.At.Y.String())
		c.fillRect("area", "nogo", fl(a.At.X), fl(a.At.Y), fl(a.W), fl(a.H))
		c.areaWords(a, a.Name, "", len(m.NoGo) > mostNamed)
		c.end()
	}
}

// areaName gives the name of an area behind words that lead to it; the name of a flag
// says nothing of what stands there.
func areaName(lead, name string) string {
	if name == "" || strings.HasPrefix(name, "--") {
		return ""
	}
	return lead + name
}

// frameName names a frame at its far edge, outside, at the left (start) or right (end).
func (c *canvas) frameName(b box, anchor, name string) {
	x, other, with := b.x0, b.x1, "end"
	if anchor == "end" {
		x, other, with = b.x1, b.x0, "start"
	}
	over, under := b.y1+c.em*0.8, b.y1-c.em*0.8
	c.say(words{class: "small", size: 0.85, lines: []string{name}, rank: 1, spots: []spot{{x, over, anchor}, {other, over, with}, {x, over + c.em*1.2, anchor}, {x, under, anchor}}})
}

// mostNamed is how many no-go areas are all named, by a line where they have no room. The
// lines to more would cover the bed: then only those that have room inside are.
const mostNamed = 24

// areaWords names an area inside it where there is room; otherwise with a line to it, or
// not at all where the name is optional.
func (c *canvas) areaWords(a *Area, label, name string, optional bool) {
	const size = 0.85
	b := box{fl(a.At.X), fl(a.At.Y), fl(a.At.X.Add(a.W)), fl(a.At.Y.Add(a.H))}
	c.keep(onArea, b)
	c.edges(onEdge, b)
	x, y := b.middle()
	w := words{class: "label", rest: "small", size: size, rank: 2, optional: optional, only: optional, inside: b, own: &b, home: &spot{x: x, y: y}, spots: []spot{{x, y, "middle"}}}
	for _, letters := range []int{32, 24, 18, 12, 9} {
		w.lines = append([]string{label}, folded(name, letters)...)
		if c.boxAt(&w, w.spots[0]).within(b.grown(-c.em * 0.1)) {
			break
		}
		w.lines = append([]string{label}, folded(name, 24)...)
	}
	c.say(w)
}

// edges keeps words off the four edges of a box.
func (c *canvas) edges(cost float64, b box) {
	t := c.em * 0.05
	for _, e := range []box{{b.x0, b.y0, b.x1, b.y0}, {b.x0, b.y1, b.x1, b.y1}, {b.x0, b.y0, b.x0, b.y1}, {b.x1, b.y0, b.x1, b.y1}} {
		c.keep(cost, e.grown(t))
	}
}

// station draws one blank with its letters, locators, offset and zero. Where another
// blank lies in the same place, the first one drawn carries the words of both.
func (s *Setup) station(c *canvas, blanks []shown, i int, margin float64) {
	b := &blanks[i]
	first, zeroAgain, label := true, false, b.label
	var over *shown // the other side's blank in the same place
	for k := range blanks {
		o := &blanks[k]
		if k == i {
			continue
		}
		zeroAgain = zeroAgain || k < i && o.Zero.X.Equal(b.Zero.X) && o.Zero.Y.Equal(b.Zero.Y)
		if o.same(b) {
			first = first && k > i
			over = o
			label += " / " + o.label
		}
	}
	c.group("station", "side", sideOf(b.Back), "offset", b.Offset, "pair", itoa(b.Pair), "zero-x", b.Zero.X.String(), "zero-y", b.Zero.Y.String())
	own := b.box()
	if first {
		c.rect("blank", b.x, b.y, b.w, b.h)
		if b.Back {
			c.fillRect("over", "back", b.x, b.y, b.w, b.h)
		}
		c.keep(onArea, own)
		c.edges(onEdge, own)
		if s.Answer != nil {
			s.letters(c, b, over)
		}
	}
	for _, t := range b.studs {
		if over != nil && !first && hasStud(over.studs, t) {
			continue
		}
		c.stud(t, fl(t.At.X), fl(t.At.Y), own, b.Back && over == nil, b.Pair > 1)
	}
	for _, t := range b.contacts {
		if over != nil && !first && hasStanding(over.contacts, t) {
			continue
		}
		c.locator(t, fl(t.at), own, s.servesWords(blanks, b, t))
	}
	if first {
		x, y := own.middle()
		out := margin + c.em*0.9
		w := words{class: "label", size: 1, lines: []string{label}, rank: 2, own: &own, clear: b.Back, home: &spot{x: x, y: y}}
		for _, f := range []float64{0.55, 0.68, 0.36, 0.8, 0.22} {
			w.spots = append(w.spots, spot{x, b.y + b.h*f, "middle"})
		}
		w.spots = append(w.spots, spot{x, own.y1 + out, "middle"}, spot{own.x0, own.y1 + out, "start"}, spot{x, own.y0 - out, "middle"},
			spot{own.x1 + out, y, "start"}, spot{own.x0 - out, y, "end"}, spot{x, own.y1 + out + c.em*1.2, "middle"})
		c.say(w)
	}
	if !zeroAgain {
		c.group("zero-mark", "offset", b.Offset)
		c.zero(fl(b.Zero.X), fl(b.Zero.Y), b.Quarter)
		c.end()
	}
	c.end()
}

// hasStud reports whether something stands in a stud's place; on pins that serve both
// sides another hole goes onto it.
func hasStud(list []stud, t stud) bool {
	for _, o := range list {
		if o.At.X.Equal(t.At.X) && o.At.Y.Equal(t.At.Y) {
			return true
		}
	}
	return false
}

func hasStanding(list []standing, t standing) bool {
	for _, o := range list {
		if o.name == t.name && o.side == t.side && o.at.Equal(t.at) {
			return true
		}
	}
	return false
}

// servesWords says which side a contact is for where face and back lie on one place.
func (s *Setup) servesWords(blanks []shown, b *shown, t standing) string {
	for k := range blanks {
		if o := &blanks[k]; o.Back != b.Back && o.box().meets(b.box()) {
			if hasStanding(o.contacts, t) {
				return ", face and back"
			}
			return ", " + sideOf(b.Back)
		}
	}
	return ""
}

// stud draws a dowel, a plug or a index pin to scale at (x, y), with its name and diameter;
// dotted clears the pattern behind the words, spare leaves them out where there is no room.
func (c *canvas) stud(t stud, x, y float64, own box, dotted, spare bool) {
	r := fl(t.Dia) / 2
	class := "pin"
	if t.bore {
		class = "hidden bore"
	}
	c.group("stud", "name", t.name)
	c.pin(class, x, y, 2*r)
	d := r + c.em*0.35
	k := d * 0.75
	w := words{class: "small", size: 0.85, lines: []string{t.label()}, rank: 3, optional: spare, clear: dotted, own: &own, home: &spot{x: x, y: y}}
	for _, far := range []float64{0, c.em * 0.8} {
		w.spots = append(w.spots, spot{x + d + far, y, "start"}, spot{x - d - far, y, "end"},
			spot{x + k, y + k + c.em*0.4 + far, "start"}, spot{x + k, y - k - c.em*0.4 - far, "start"}, spot{x - k, y + k + c.em*0.4 + far, "end"}, spot{x - k, y - k - c.em*0.4 - far, "end"},
			spot{x, y + d + c.em*0.5 + far, "middle"}, spot{x, y - d - c.em*0.5 - far, "middle"})
	}
	c.say(w)
	c.end()
}

// letters writes the edges' letters inside a blank as they lie there. Where face and
// back lie on one place, both letters of an edge stand there.
func (s *Setup) letters(c *canvas, b, over *shown) {
	if min(b.w, b.h) < 6*c.em {
		return
	}
	flip := s.Answer.Question.Flip
	l := edgeLetters(flip, b.Back, b.Quarter)
	var other [4]string
	if over != nil {
		other = edgeLetters(flip, over.Back, over.Quarter)
	}
	own := b.box()
	in := c.em * 0.75
	for k, at := range [4][3]spot{
		{{b.x + b.w/2, b.y + in, "middle"}, {b.x + b.w*0.35, b.y + in, "middle"}, {b.x + b.w*0.65, b.y + in, "middle"}},
		{{b.x + b.w - in*0.6, b.y + b.h/2, "end"}, {b.x + b.w - in*0.6, b.y + b.h*0.35, "end"}, {b.x + b.w - in*0.6, b.y + b.h*0.65, "end"}},
		{{b.x + b.w/2, b.y + b.h - in, "middle"}, {b.x + b.w*0.35, b.y + b.h - in, "middle"}, {b.x + b.w*0.65, b.y + b.h - in, "middle"}},
		{{b.x + in*0.6, b.y + b.h/2, "start"}, {b.x + in*0.6, b.y + b.h*0.35, "start"}, {b.x + in*0.6, b.y + b.h*0.65, "start"}},
	} {
		name := l[k]
		if other[k] != "" && other[k] != name {
			name += ", " + sideOf(over.Back) + " " + other[k]
		}
		c.say(words{class: "letter", size: 0.85, lines: []string{name}, rank: 1, optional: true, only: true, inside: own, own: &own, spots: at[:]})
	}
}

// edgeLetters gives the letters at the near, right, far and left of a blank as
// it lies. Face up they are A, B, C, D in this order.
func edgeLetters(f registration.Flip, back bool, quarter int) [4]string {
	l := [4]string{"A", "B", "C", "D"}
	if back {
		switch f {
		case registration.FlipY:
			l[1], l[3] = l[3], l[1]
		case registration.FlipX:
			l[0], l[2] = l[2], l[0]
		}
	}
	var out [4]string
	for i := range l { // a quarter turn counter-clockwise brings the near edge to the right
		out[(i+quarter%4+4)%4] = l[i]
	}
	return out
}

// locator draws a fence (two contacts) or a stop (one) along the side of a blank, at its
// coordinate on the canvas.
func (c *canvas) locator(t standing, at float64, b box, serves string) {
	places := t.touch
	c.group("locator", "name", t.name, "side", t.side.String(), "at", t.at.String())
	off := c.em * 0.9
	w := words{class: "small", size: 0.85, lines: []string{t.label() + serves}, rank: 3}
	switch t.side {
	case registration.Near, registration.Far:
		dy := 1.0
		if t.side == registration.Far {
			dy = -1
		}
		x, wide := b.x0, b.x1-b.x0
		for _, p := range places {
			c.contact(x+wide*p, at, 0, dy)
		}
		y, x1, x2 := at-dy*off, x+wide*places[0]-off, x+wide*places[len(places)-1]+off
		c.line("fence", x1, y, x2, y)
		c.keep(onMark, box{x1, y, x2, y}.grown(c.em*0.1))
		w.home = &spot{x: (x1 + x2) / 2, y: y}
		for _, far := range []float64{0.8, 1.9} {
			y := y - dy*far*c.em
			w.spots = append(w.spots, spot{(x1 + x2) / 2, y, "middle"}, spot{x1, y, "start"}, spot{x2, y, "end"}, spot{x2 + c.em*0.4, y + dy*far*c.em, "start"})
		}
	case registration.Left, registration.Right:
		dx, anchor := 1.0, "end"
		if t.side == registration.Right {
			dx, anchor = -1, "start"
		}
		y, high := b.y0, b.y1-b.y0
		for _, p := range places {
			c.contact(at, y+high*p, dx, 0)
		}
		x, y1, y2 := at-dx*off, y+high*places[0]-off, y+high*places[len(places)-1]+off
		c.line("fence", x, y1, x, y2)
		c.keep(onMark, box{x, y1, x, y2}.grown(c.em*0.1))
		w.home = &spot{x: x, y: (y1 + y2) / 2}
		for _, p := range []float64{0.5, 0.85, 0.15} {
			w.spots = append(w.spots, spot{x - dx*c.em*0.4, y1 + (y2-y1)*p, anchor})
		}
		w.spots = append(w.spots, spot{x, y2 + c.em*0.7, anchor}, spot{x, y1 - c.em*0.7, anchor}, spot{x, y2 + c.em*0.7, "middle"}, spot{x, y1 - c.em*0.7, "middle"})
	}
	c.say(w)
	c.end()
}

// ordinates writes the machine X and Y of the zeros along the near and left margin, as
// ordinate dimensions. Where two would stand on each other, one steps aside.
func (s *Setup) ordinates(c *canvas, blanks []shown) {
	e, at := c.extent(), c.em*0.85
	// The nearest zero of each ordinate, where its line ends.
	xs, ys := map[string][2]decimal.Decimal{}, map[string][2]decimal.Decimal{}
	note := func(m map[string][2]decimal.Decimal, v, other decimal.Decimal) {
		if o, ok := m[v.String()]; !ok || other.LessThan(o[1]) {
			m[v.String()] = [2]decimal.Decimal{v, other}
		}
	}
	for i := range blanks {
		z := blanks[i].Zero
		note(xs, z.X, z.Y)
		note(ys, z.Y, z.X)
	}
	thin := func(x1, y1, x2, y2 float64) {
		c.line("thin", x1, y1, x2, y2)
		c.keep(onThin, box{min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)})
	}
	free := e.x0 - 1e3*c.em
	for _, o := range sorted(xs) {
		x, to := fl(o[0]), fl(o[1])-c.em*0.6
		label := "X" + o[0].String()
		half := textWidth("small", label) * at / 2
		tx := max(x, free+half)
		thin(x, e.y0-c.em*0.5, x, max(to, e.y0-c.em*0.5))
		thin(x, e.y0-c.em*0.5, x, e.y0-c.em*0.9)
		thin(x, e.y0-c.em*0.9, tx, e.y0-c.em*1.5)
		c.middled("small", tx, e.y0-c.em*2.1, 0.85, label)
		free = tx + half + c.em*0.5
	}
	free = e.y0 - 1e3*c.em
	for _, o := range sorted(ys) {
		y, to := fl(o[0]), fl(o[1])-c.em*0.6
		ty := max(y, free)
		thin(e.x0-c.em*0.3, y, max(to, e.x0-c.em*0.3), y)
		thin(e.x0-c.em*0.8, ty, e.x0-c.em*0.3, y)
		c.text("small", "end", e.x0-c.em*1, ty-baseUnder*at, 0.85, "Y"+o[0].String())
		free = ty + c.em*1.2
	}
}

func sorted(m map[string][2]decimal.Decimal) [][2]decimal.Decimal {
	out := make([][2]decimal.Decimal, 0, len(m))
	for _, v := range m {
		out = append(out, v)
	}
	sort.Slice(out, func(i, j int) bool { return out[i][0].LessThan(out[j][0]) })
	return out
}
