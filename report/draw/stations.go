package draw

import (
	"strings"

	"flipcalc/registration"
)

// Stations draws where the blanks of the first pair stand: each large, with its
// locators, zero and numbered touch points, and the whole bed small beside them. It gives
// nil where nothing is known in machine coordinates.
func Stations(s *Scene) *Canvas {
	blanks := s.placed()
	if len(blanks) > 2 {
		blanks = blanks[:2]
	}
	if len(blanks) == 0 {
		return nil
	}
	c := fitted(sheetWide, placesHigh, func(em float64) *Canvas { return s.large(blanks, em) })
	c.Title = "Where it stands, machine coordinates"
	var parts []string
	for i := range blanks {
		b := &blanks[i]
		parts = append(parts, b.label+": zero at "+xy(registration.Point{X: b.Zero.X, Y: b.Zero.Y})+b.located())
	}
	for i, t := range s.Touches {
		parts = append(parts, t.Offset+": "+t.What+", point "+t.Says(i+1))
	}
	c.Desc = capital(strings.Join(parts, "; ")) + "."
	return c
}

// Room for a drawing on page one, in mm: the width of A4 less its margins, and heights
// that leave the rest of the page its place on Letter, the shorter sheet.
const (
	sheetWide  = 190.0
	placesHigh = 54.0
	turnHigh   = 56.0
	letterTall = 5.0 // mm: letters of 0.8 of this are a little over 11 pt, the least on page one
)

// fitted draws something so that its letters come out letterTall high on paper when the
// drawing fills its room. The letters' height and the drawing's size hang on each other;
// each round takes the height from the size that the last one gave.
func fitted(wide, high float64, draw func(em float64) *Canvas) *Canvas {
	c := draw(1)
	for range 6 {
		e := c.extent()
		c = draw(letterTall * max((e.x1-e.x0)/wide, (e.y1-e.y0)/high))
	}
	return c
}

// large draws the blanks side by side, each to the same scale.
func (s *Scene) large(blanks []shown, em float64) *Canvas {
	c := open("places", em)
	x := 0.0
	for i := range blanks {
		b := &blanks[i]
		corner := b.box()
		s.place(c, b, x-corner.x0, -corner.y0)
		x = c.extent().x1 + 3*em
		if i+1 < len(blanks) {
			x += 4 * em // the next one's Y ordinates
		}
	}
	s.inset(c, blanks, x)
	return c
}

// place draws one blank moved by dx, dy.
func (s *Scene) place(c *Canvas, b *shown, dx, dy float64) {
	own := b.box()
	own = box{own.x0 + dx, own.y0 + dy, own.x1 + dx, own.y1 + dy}
	c.group("place", "offset", b.Offset, "zero-x", b.Zero.X.String(), "zero-y", b.Zero.Y.String())
	c.rect("blank", own.x0, own.y0, own.x1-own.x0, own.y1-own.y0)
	if b.back() {
		c.fillRect("over", "back", own.x0, own.y0, own.x1-own.x0, own.y1-own.y0)
	}
	c.edges(onEdge, own)
	c.edgeLetters(own, s.lettersOf(b, nil))
	for _, t := range b.studs {
		c.stud(t, fl(t.At.X)+dx, fl(t.At.Y)+dy, own, b.back(), false)
	}
	for _, t := range b.contacts {
		at := fl(t.at) + dx
		if t.side.Axis() == "Y" {
			at = fl(t.at) + dy
		}
		c.locator(t, at, own, "")
	}
	mx, my := own.middle()
	c.say(words{class: "label", size: 1.2, lines: []string{b.label}, rank: 2, own: &own, clear: b.back(), home: &spot{x: mx, y: my},
		spots: []spot{{mx, my, "middle"}, {mx, own.y1 - c.em, "middle"}, {mx, own.y1 + c.em*1.2, "middle"}}})
	for i, t := range s.Touches {
		if t.Offset == b.Offset {
			c.numbered(i+1, t, point{fl(b.Zero.X) + dx, fl(b.Zero.Y) + dy}, own)
		}
	}
	c.zero(fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy, b.quarter())
	c.end()
	// Ordinates of the zero, below and at the left.
	zx, zy := fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy
	c.line("thin", zx, own.y0-c.em*0.4, zx, own.y0-c.em*1.6)
	c.middled("label", zx, own.y0-c.em*2.3, 1, "X"+b.Zero.X.String())
	c.line("thin", own.x0-c.em*0.4, zy, own.x0-c.em*1.4, zy)
	c.text("label", "end", own.x0-c.em*1.7, zy-baseUnder*c.em, 1, "Y"+b.Zero.Y.String())
}

// numbered draws a touch point's number beside what is touched at a station with its zero
// at a place.
func (c *Canvas) numbered(number int, t Touch, zero point, own box) {
	mx, my := own.middle()
	r := c.em * 0.75
	x, y := mx, my
	switch side, _, _ := strings.Cut(t.What, " "); {
	case t.Centred:
		x, y = zero[0], zero[1]
		if t.Reads[0] != nil {
			x += fl(*t.Reads[0])
		}
		if t.Reads[1] != nil {
			y += fl(*t.Reads[1])
		}
		toward := 1.0
		if x > mx {
			toward = -1
		}
		x += toward * c.em * 2.2
	case side == "left":
		x = own.x0 + 1.5*r
	case side == "right":
		x = own.x1 - 1.5*r
	case side == "near":
		y = own.y0 + 1.5*r
	case side == "far":
		y = own.y1 - 1.5*r
	}
	c.circle("number-dot", x, y, r)
	c.keep(onMark, box{x - r, y - r, x + r, y + r})
	c.middled("number", x, y, 0.9, itoa(number))
}

// inset draws the whole bed small at x: where the blanks, what is taken and what is kept
// clear lie.
func (s *Scene) inset(c *Canvas, blanks []shown, x float64) {
	if s.Bed == nil || !s.Bed.W.IsPositive() || !s.Bed.H.IsPositive() {
		return
	}
	e, bed := c.extent(), s.Bed.box()
	k := min((e.x1-e.x0)*0.25/(bed.x1-bed.x0), (e.y1-e.y0)*0.8/(bed.y1-bed.y0))
	small := func(class, pattern string, b box) {
		c.fillRect(class, pattern, x+(b.x0-bed.x0)*k, e.y0+c.em*1.6+(b.y0-bed.y0)*k, (b.x1-b.x0)*k, (b.y1-b.y0)*k)
	}
	c.group("inset")
	small("bed", "", bed)
	for _, t := range s.Taken {
		if t.Area != nil {
			small("area taken", "taken", t.Area.box())
		}
	}
	for _, a := range s.NoGo {
		small("area", "nogo", a.box())
	}
	for i := range blanks {
		small("blank", "", blanks[i].box())
	}
	c.text("small", "start", x, e.y0, 0.85, "hatched: keep off")
	c.end()
}
