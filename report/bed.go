package report

import (
	"fmt"
	"sort"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// BedDrawing draws the bed from above with the stations, in machine coordinates:
// the number of user units is the number of millimetres or inches, and
// y = greatest - Y. It gives "" where nothing is known in machine coordinates.
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

// shown is one blank on the bed with the zeros on it.
type shown struct {
	x, y, w, h float64
	label      string
	back       bool
	turn       int
	offset     string
	zx, zy     decimal.Decimal
	pins       []registration.Pin
	plug       []registration.Pin // the plug, and the pin that clocks it
}

// placed lists the blanks that the bed drawing shows: the stations, or else
// where the answer puts the blank.
func (s *Setup) placed() []shown {
	var out []shown
	for _, st := range s.Stations {
		label := sideOf(st.Back)
		if len(s.Stations) > 2 {
			label = itoa(st.Pair) + " " + label
		}
		out = append(out, shown{fl(st.Corner.X), fl(st.Corner.Y), fl(st.W), fl(st.H), label, st.Back, st.Quarter, st.Offset, st.Zero.X, st.Zero.Y, s.pinsAt(st), s.plugAt(st)})
	}
	a := s.Answer
	if len(out) > 0 || a == nil {
		return out
	}
	w, h := fl(a.Used.W), fl(a.Used.H)
	if a.FaceMachine && a.FaceAt != nil {
		offset := a.Question.Offset
		if offset == "" {
			offset = "G54"
		}
		out = append(out, shown{fl(a.FaceCorner.X), fl(a.FaceCorner.Y), w, h, "face", false, 0, offset, a.FaceAt.X, a.FaceAt.Y, a.FacePins, s.plugAt(Station{Corner: a.FaceCorner})})
	}
	if a.Machine && a.BackCorner != nil && a.Second != nil {
		out = append(out, shown{fl(a.BackCorner.X), fl(a.BackCorner.Y), w, h, "back", true, 0, a.Second.Offset, a.Second.X, a.Second.Y, a.BackPins, s.plugAt(Station{Back: true, Corner: *a.BackCorner})})
	}
	return out
}

// plugAt gives the plug, and its clocking pin if there is one, where they stand
// under the blank of a station. A quarter-turned station shows none.
func (s *Setup) plugAt(st Station) []registration.Pin {
	a := s.Answer
	if a == nil || a.Question.Register != registration.Plug || a.Question.Bore == nil || st.Turned {
		return nil
	}
	out := []registration.Pin{{At: s.under(st, a.Question.Bore.At), Dia: a.Question.Bore.Dia}}
	if c := a.Question.Clock; c.Kind == registration.ClockPin {
		out = append(out, registration.Pin{At: s.under(st, c.Pin), Dia: c.Dia})
	}
	return out
}

// pinsAt gives the pins where they stand under the blank of a station. A
// quarter-turned station shows none but its own.
func (s *Setup) pinsAt(st Station) []registration.Pin {
	a := s.Answer
	if len(st.Pins) > 0 || a == nil || a.Question.Register != registration.Dowels || st.Turned {
		return st.Pins
	}
	var out []registration.Pin
	for _, p := range a.Question.Pins {
		out = append(out, registration.Pin{At: s.under(st, p.At), Dia: p.Dia})
	}
	return out
}

// under says where a point of the face's as-laid frame lies at a station that isn't
// turned by a quarter.
func (s *Setup) under(st Station, p registration.Point) registration.Point {
	a := s.Answer
	if st.Back {
		switch a.Question.Flip {
		case registration.FlipY:
			p.X = a.Used.W.Sub(p.X)
		case registration.FlipX:
			p.Y = a.Used.H.Sub(p.Y)
		}
	}
	return add(st.Corner, p)
}

func fl(v decimal.Decimal) float64 { return v.InexactFloat64() }

func (s *Setup) bed() (c *canvas, title, desc string) {
	blanks := s.placed()
	if len(blanks) == 0 {
		return nil, "", ""
	}
	x0, y0, x1, y1 := blanks[0].x, blanks[0].y, blanks[0].x, blanks[0].y
	grow := func(x, y, w, h float64) {
		x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x+w), max(y1, y+h)
	}
	var margin float64
	if s.Fixture != nil {
		margin = fl(*s.Fixture)
	}
	for _, b := range blanks {
		grow(b.x-margin, b.y-margin, b.w+2*margin, b.h+2*margin)
		grow(fl(b.zx), fl(b.zy), 0, 0)
	}
	m := s.Machine
	if m != nil {
		grow(fl(m.Least[0]), fl(m.Least[1]), fl(m.Greatest[0].Sub(m.Least[0])), fl(m.Greatest[1].Sub(m.Least[1])))
		if m.Bed != nil {
			grow(fl(m.Bed.At.X), fl(m.Bed.At.Y), fl(m.Bed.W), fl(m.Bed.H))
		}
	}
	const share = 0.026
	pad := (x1 - x0) * 0.15
	right := pad * 0.45
	if m == nil {
		right = pad // room for the name of a stop
	}
	c = newCanvas("bed", x0-pad, y0-pad*0.95, x1+right, y1+pad*0.45, share)
	if m != nil {
		s.machine(c)
	} else {
		// Without a machine the drawing still needs a ground to stand on.
		c.rect("travel", x0-pad*0.2, y0-pad*0.2, x1-x0+pad*0.4, y1-y0+pad*0.4)
	}
	if margin > 0 {
		for _, b := range blanks {
			c.group("fixture-area", "margin", s.Fixture.String())
			c.rect("hidden fixture", b.x-margin, b.y-margin, b.w+2*margin, b.h+2*margin)
			c.end()
		}
		c.text("small", "middle", x0+(x1-x0)*0.45, y0-pad*0.8-c.em*0.3, 0.85, "dashed: fixture")
	}
	for i, b := range blanks {
		s.station(c, b, blanks[:i])
	}
	if len(s.Stations) <= 2 {
		s.contacts(c)
	}
	s.ordinates(c, blanks, x0, y0)
	c.scaleBar(x0, y0-pad*0.8, (x1-x0)*0.2, s.bedUnit().String())
	c.text("small", "end", x1, y0-pad*0.8-c.em*0.3, 0.85, "operator stands on this side")
	title = "The bed from above"
	var parts []string
	for _, b := range blanks {
		parts = append(parts, fmt.Sprintf("%s station %s: near-left corner at X%s Y%s, zero at X%s Y%s", b.label, b.offset, num(b.x), num(b.y), b.zx, b.zy))
	}
	if margin > 0 {
		parts = append(parts, "the fixture goes "+s.Fixture.String()+" beyond each blank")
	}
	if m != nil {
		for _, t := range m.Taken {
			if t.Area != nil {
				parts = append(parts, "taken by "+t.Offset+" at X"+t.Area.At.X.String()+" Y"+t.Area.At.Y.String())
			}
		}
		for _, n := range m.NoGo {
			parts = append(parts, "no-go at X"+n.At.X.String()+" Y"+n.At.Y.String())
		}
	}
	return c, title, "X to the right, Y away from the operator, machine coordinates. " + capital(strings.Join(parts, "; ")) + "."
}

func (s *Setup) machine(c *canvas) {
	m := s.Machine
	if m.Bed != nil {
		c.group("bed-area")
		c.rect("bed", fl(m.Bed.At.X), fl(m.Bed.At.Y), fl(m.Bed.W), fl(m.Bed.H))
		c.text("small", "start", fl(m.Bed.At.X), fl(m.Bed.At.Y)+fl(m.Bed.H)+c.em*0.5, 0.85, "bed "+m.Bed.W.String()+" x "+m.Bed.H.String())
		c.end()
	}
	w, h := m.Greatest[0].Sub(m.Least[0]), m.Greatest[1].Sub(m.Least[1])
	c.group("travel-area", "x", m.Least[0].String(), "y", m.Least[1].String(), "w", w.String(), "h", h.String())
	c.rect("travel", fl(m.Least[0]), fl(m.Least[1]), fl(w), fl(h))
	c.text("small", "end", fl(m.Greatest[0]), fl(m.Greatest[1])+c.em*0.5, 0.85, "the machine's travel: X "+m.Least[0].String()+" to "+m.Greatest[0].String()+", Y "+m.Least[1].String()+" to "+m.Greatest[1].String())
	c.end()
	for _, t := range m.Taken {
		if a := t.Area; a != nil {
			c.group("taken-area", "offset", t.Offset, "x", a.At.X.String(), "y", a.At.Y.String())
			c.fillRect("area taken", "taken", fl(a.At.X), fl(a.At.Y), fl(a.W), fl(a.H))
			c.within("label", fl(a.At.X)+fl(a.W)/2, fl(a.At.Y)+fl(a.H)/2+c.em*0.6, fl(a.W)*1.2, t.Offset+" taken")
			c.within("small", fl(a.At.X)+fl(a.W)/2, fl(a.At.Y)+fl(a.H)/2-c.em*0.6, fl(a.W), a.Name)
			c.end()
		}
	}
	for i := range m.NoGo {
		a := &m.NoGo[i]
		c.group("nogo-area", "x", a.At.X.String(), "y", a.At.Y.String())
		c.fillRect("area", "nogo", fl(a.At.X), fl(a.At.Y), fl(a.W), fl(a.H))
		c.within("label", fl(a.At.X)+fl(a.W)/2, fl(a.At.Y)+fl(a.H)/2+c.em*0.55, fl(a.W)*1.2, "no-go")
		c.within("small", fl(a.At.X)+fl(a.W)/2, fl(a.At.Y)+fl(a.H)/2-c.em*0.55, fl(a.W), a.Name)
		c.end()
	}
}

// station draws one blank with its letters, pins, offset and zero. Where another
// blank lies in the same place already, only the label is added.
func (s *Setup) station(c *canvas, b shown, before []shown) {
	again, zeroAgain := false, false
	for _, o := range before {
		again = again || o.x == b.x && o.y == b.y && o.w == b.w && o.h == b.h
		zeroAgain = zeroAgain || o.zx.Equal(b.zx) && o.zy.Equal(b.zy)
	}
	side := "face"
	if b.back {
		side = "back"
	}
	c.group("station", "side", side, "offset", b.offset, "zero-x", b.zx.String(), "zero-y", b.zy.String())
	if !again {
		c.rect("blank", b.x, b.y, b.w, b.h)
		if b.back {
			c.fillRect("over", "back", b.x, b.y, b.w, b.h)
		}
		if s.Answer != nil {
			s.letters(c, b)
		}
	}
	for _, p := range append(b.plug, b.pins...) {
		if !again {
			c.pin("pin", fl(p.At.X), fl(p.At.Y), fl(p.Dia))
		}
	}
	label := b.label + " " + b.offset
	y := b.y + b.h*0.55 + c.em*0.7
	if b.h < 8*c.em || b.w < c.em*float64(len(label)) { // no room inside
		y = b.y + b.h + c.em*0.9
		if s.Fixture != nil {
			y += fl(*s.Fixture)
		}
	}
	if again {
		y -= c.em * 1.5
	}
	c.middled("label", b.x+b.w/2, y, 1, label)
	if !zeroAgain {
		c.group("zero-mark", "offset", b.offset)
		c.zero(fl(b.zx), fl(b.zy), b.turn)
		c.end()
	}
	c.end()
}

// letters writes the edges' letters inside a blank as they lie there.
func (s *Setup) letters(c *canvas, b shown) {
	l := edgeLetters(s.Answer.Question.Flip, b.back, b.turn)
	in := c.em * 0.75
	if min(b.w, b.h) < 10*c.em {
		return
	}
	c.middled("letter", b.x+b.w/2, b.y+in, 0.85, l[0])
	c.middled("letter", b.x+b.w-in, b.y+b.h/2, 0.85, l[1])
	c.middled("letter", b.x+b.w/2, b.y+b.h-in, 0.85, l[2])
	c.middled("letter", b.x+in, b.y+b.h/2, 0.85, l[3])
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

// contacts draws fence and stop where they touch the blank.
func (s *Setup) contacts(c *canvas) {
	a := s.Answer
	if a == nil {
		return
	}
	for _, t := range a.Touches {
		if t.CoordKnown && a.FaceMachine {
			locator(c, t.Locator, t.Side, fl(t.FaceCoord), fl(a.FaceCorner.X), fl(a.FaceCorner.Y), fl(a.Used.W), fl(a.Used.H))
		}
		if t.BackKnown && a.Machine && a.BackCorner != nil && !t.Shared {
			name := t.BackLocator
			if name == "" {
				name = t.Locator
			}
			locator(c, name, t.BackSide, fl(t.BackCoord), fl(a.BackCorner.X), fl(a.BackCorner.Y), fl(a.Used.W), fl(a.Used.H))
		}
	}
}

// locator draws a fence (two contacts) or a stop (one) along the side of a blank
// whose near-left corner is (x, y).
func locator(c *canvas, name string, side registration.Side, at, x, y, w, h float64) {
	places := []float64{0.5}
	if name == "fence" {
		places = []float64{0.15, 0.85}
	}
	c.group("locator", "name", name, "side", side.String(), "at", num(at))
	off := c.em * 0.9
	switch side {
	case registration.Near, registration.Far:
		dy := 1.0
		if side == registration.Far {
			dy = -1
		}
		for _, p := range places {
			c.contact(x+w*p, at, 0, dy)
		}
		c.line("fence", x+w*places[0]-off, at-dy*off, x+w*places[len(places)-1]+off, at-dy*off)
		c.middled("small", x+w*0.3, at-dy*(off+c.em*0.8), 0.85, name)
	case registration.Left, registration.Right:
		dx, anchor := 1.0, "end"
		if side == registration.Right {
			dx, anchor = -1, "start"
		}
		for _, p := range places {
			c.contact(at, y+h*p, dx, 0)
		}
		c.line("fence", at-dx*off, y+h*places[0]-off, at-dx*off, y+h*places[len(places)-1]+off)
		c.text("small", anchor, at-dx*(off+c.em*0.4), y+h*places[0]-c.em*0.3, 0.85, name)
	}
	c.end()
}

// ordinates writes the machine X and Y of the zeros along the near and left
// margin, as ordinate dimensions. One that would stand on another is left out.
func (s *Setup) ordinates(c *canvas, blanks []shown, x0, y0 float64) {
	xs, ys := map[string]decimal.Decimal{}, map[string]decimal.Decimal{}
	for _, b := range blanks {
		xs[b.zx.String()], ys[b.zy.String()] = b.zx, b.zy
	}
	nearest := func(v decimal.Decimal, alongX bool) float64 {
		best := 0.0
		first := true
		for _, b := range blanks {
			if alongX && b.zx.Equal(v) && (first || fl(b.zy) < best) {
				best, first = fl(b.zy), false
			}
			if !alongX && b.zy.Equal(v) && (first || fl(b.zx) < best) {
				best, first = fl(b.zx), false
			}
		}
		return best
	}
	last := -1e300
	for _, v := range sorted(xs) {
		x := fl(v)
		c.line("thin", x, y0-c.em*1.1, x, nearest(v, true)-c.em*0.6)
		if x-last > c.em*0.65*float64(len(v.String())+2) {
			c.middled("small", x, y0-c.em*1.8, 0.85, "X"+v.String())
			last = x
		}
	}
	last = -1e300
	for _, v := range sorted(ys) {
		y := fl(v)
		c.line("thin", x0-c.em*0.6, y, nearest(v, false)-c.em*0.6, y)
		if y-last > c.em*1.2 {
			c.text("small", "end", x0-c.em*0.9, y-c.em*0.3, 0.85, "Y"+v.String())
			last = y
		}
	}
}

func sorted(m map[string]decimal.Decimal) []decimal.Decimal {
	out := make([]decimal.Decimal, 0, len(m))
	for _, v := range m {
		out = append(out, v)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].LessThan(out[j]) })
	return out
}
