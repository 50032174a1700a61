package report

import (
	"strings"

	"github.com/shopspring/decimal"
)

// touchPoint is one place where the tool is held to a station, numbered as on the
// drawing and in the table: the readings are those in the station's own offset.
type touchPoint struct {
	number  int
	offset  string
	what    string
	centred bool
	reads   [2]*decimal.Decimal // X and Y, nil where that axis isn't read there
}

// touchPoints numbers the readings of the first pair in X and Y, station by station.
func (s *Setup) touchPoints() (points []touchPoint) {
	for _, t := range s.TouchOffs {
		axis := strings.Index("XY", t.Axis)
		if t.Pair != 1 || axis < 0 || t.Half != 0 {
			continue
		}
		last := len(points) - 1
		if last < 0 || points[last].offset != t.Offset || points[last].what != t.What || points[last].reads[axis] != nil {
			points = append(points, touchPoint{number: len(points) + 1, offset: t.Offset, what: t.What, centred: t.Centred})
			last++
		}
		points[last].reads[axis] = t.Reads
	}
	return points
}

// says is the point's reading in words: "1 reads X60 Y6".
func (p touchPoint) says() string {
	text := itoa(p.number) + " reads"
	for axis, v := range p.reads {
		if v != nil {
			text += " " + "XY"[axis:axis+1] + v.String()
		}
	}
	return text
}

// placesFigure draws where the blanks of the first pair stand: each large, with its
// locators, zero and numbered touch points, and the whole bed small beside them.
func (s *Setup) placesFigure() Figure {
	blanks := s.placed()
	if len(blanks) > 2 {
		blanks = blanks[:2]
	}
	if len(blanks) == 0 {
		return Figure{}
	}
	c := fitted(sheetWide, placesHigh, func(em float64) *canvas { return s.places(blanks, em) })
	title := "Where it stands, machine coordinates"
	var parts []string
	for i := range blanks {
		b := &blanks[i]
		part := b.label + ": zero at X" + b.Zero.X.String() + " Y" + b.Zero.Y.String()
		for _, t := range b.studs {
			part += ", " + t.label() + " at " + xy(t.At)
		}
		for _, t := range b.contacts {
			part += ", " + t.label() + " on the " + t.side.String() + " side"
		}
		parts = append(parts, part)
	}
	for _, p := range s.touchPoints() {
		parts = append(parts, p.offset+": "+p.what+", point "+p.says())
	}
	desc := capital(strings.Join(parts, "; ")) + "."
	return Figure{ID: "places", Title: title, Desc: desc, SVG: c.svg(title, desc, false)}
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
func fitted(wide, high float64, draw func(em float64) *canvas) *canvas {
	c := draw(1)
	for range 6 {
		e := c.extent()
		c = draw(letterTall * max((e.x1-e.x0)/wide, (e.y1-e.y0)/high))
	}
	return c
}

// places draws the blanks side by side, each to the same scale.
func (s *Setup) places(blanks []shown, em float64) *canvas {
	c := openCanvas("places", em)
	x := 0.0
	for i := range blanks {
		b := blanks[i]
		dx, dy := x-b.x, -b.y
		s.place(c, &b, dx, dy)
		x = c.extent().x1 + 3*em
		if i+1 < len(blanks) {
			x += 4 * em // the next one's Y ordinates
		}
	}
	s.inset(c, blanks, x)
	return c
}

// place draws one blank moved by dx, dy.
func (s *Setup) place(c *canvas, b *shown, dx, dy float64) {
	own := box{b.x + dx, b.y + dy, b.x + b.w + dx, b.y + b.h + dy}
	c.group("place", "offset", b.Offset, "zero-x", b.Zero.X.String(), "zero-y", b.Zero.Y.String())
	c.rect("blank", own.x0, own.y0, b.w, b.h)
	if b.Back {
		c.fillRect("over", "back", own.x0, own.y0, b.w, b.h)
	}
	c.edges(onEdge, own)
	if s.Answer != nil {
		moved := *b
		moved.x, moved.y = own.x0, own.y0
		s.letters(c, &moved, nil)
	}
	for _, t := range b.studs {
		c.stud(t, fl(t.At.X)+dx, fl(t.At.Y)+dy, own, b.Back, false)
	}
	for _, t := range b.contacts {
		at := fl(t.at) + dx
		if sideLetter(t.side) == "Y" {
			at = fl(t.at) + dy
		}
		c.locator(t, at, own, "")
	}
	mx, my := own.middle()
	c.say(words{class: "label", size: 1.2, lines: []string{b.label}, rank: 2, own: &own, clear: b.Back, home: &spot{x: mx, y: my},
		spots: []spot{{mx, my, "middle"}, {mx, own.y1 - c.em, "middle"}, {mx, own.y1 + c.em*1.2, "middle"}}})
	for _, p := range s.touchPoints() {
		if p.offset == b.Offset {
			s.numbered(c, b, p, own, dx, dy)
		}
	}
	c.zero(fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy, b.Quarter)
	c.end()
	// Ordinates of the zero, below and at the left.
	zx, zy := fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy
	c.line("thin", zx, own.y0-c.em*0.4, zx, own.y0-c.em*1.6)
	c.middled("label", zx, own.y0-c.em*2.3, 1, "X"+b.Zero.X.String())
	c.line("thin", own.x0-c.em*0.4, zy, own.x0-c.em*1.4, zy)
	c.text("label", "end", own.x0-c.em*1.7, zy-baseUnder*c.em, 1, "Y"+b.Zero.Y.String())
}

// numbered draws a touch point's number beside what is touched.
func (s *Setup) numbered(c *canvas, b *shown, p touchPoint, own box, dx, dy float64) {
	mx, my := own.middle()
	r := c.em * 0.75
	x, y := mx, my
	switch side, _, _ := strings.Cut(p.what, " "); {
	case p.centred:
		x, y = fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy
		if p.reads[0] != nil {
			x += fl(*p.reads[0])
		}
		if p.reads[1] != nil {
			y += fl(*p.reads[1])
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
	c.middled("number", x, y, 0.9, itoa(p.number))
}

// inset draws the whole bed small at x: where the blanks, what is taken and what is kept
// clear lie.
func (s *Setup) inset(c *canvas, blanks []shown, x float64) {
	m := s.Machine
	if m == nil || m.Bed == nil || !m.Bed.W.IsPositive() || !m.Bed.H.IsPositive() {
		return
	}
	e := c.extent()
	bed := *m.Bed
	k := min((e.x1-e.x0)*0.25/fl(bed.W), (e.y1-e.y0)*0.8/fl(bed.H))
	at := func(px, py float64) (float64, float64) {
		return x + (px-fl(bed.At.X))*k, e.y0 + c.em*1.6 + (py-fl(bed.At.Y))*k
	}
	c.group("inset")
	x0, y0 := at(fl(bed.At.X), fl(bed.At.Y))
	c.rect("bed", x0, y0, fl(bed.W)*k, fl(bed.H)*k)
	area := func(class, fill string, a Area) {
		ax, ay := at(fl(a.At.X), fl(a.At.Y))
		c.fillRect(class, fill, ax, ay, fl(a.W)*k, fl(a.H)*k)
	}
	for _, t := range m.Taken {
		if t.Area != nil {
			area("area taken", "taken", *t.Area)
		}
	}
	for _, a := range m.NoGo {
		area("area", "nogo", a)
	}
	for i := range blanks {
		bx, by := at(blanks[i].x, blanks[i].y)
		c.rect("blank", bx, by, blanks[i].w*k, blanks[i].h*k)
	}
	c.text("small", "start", x, e.y0, 0.85, "hatched: keep off")
	c.end()
}
