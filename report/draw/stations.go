package draw

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// Stations draws where the blanks of the first pair stand: each large, with its
// locators, zero and numbered touch points, and the whole bed small beside them. It gives
// nil where nothing is known in machine coordinates. high is its room on paper, in mm.
func Stations(s *Scene, high float64) *Canvas {
	all := s.placed()
	if len(all) == 0 {
		return nil
	}
	blanks := all[:min(2, len(all))]
	b := blanks[0].box()
	c := fitted(high, b.x1-b.x0, b.y1-b.y0, func(em float64) *Canvas { return s.large(blanks, all, em) })
	c.Title = "Where it stands, machine coordinates"
	var parts []string
	for i := range blanks {
		b := &blanks[i]
		parts = append(parts, b.label+": zero at "+xy(registration.Point{X: b.Zero.X, Y: b.Zero.Y})+b.located())
	}
	for i, t := range s.Touches {
		parts = append(parts, t.Offset+": "+t.What+", "+t.Says(i+1))
	}
	c.Desc = capital(strings.Join(parts, "; ")) + "."
	return c
}

// On page one, in mm: the width of A4 less its margins, and letters of which leastSize is a
// little over 11 pt, the least there.
const (
	sheetWide  = 190.0
	letterTall = 4.6
	leastSize  = 0.85
)

// fitted draws a blank of w by h with what belongs to it so that its letters come out
// letterTall on paper when the drawing fills its room, high mm. The letters' height and the
// drawing's size hang on each other: from letters that are too small each round takes the
// height from the size that the last one gave, or a hundredth more, until it is enough.
func fitted(high, w, h float64, draw func(em float64) *Canvas) *Canvas {
	em := letterTall * max(w/sheetWide, h/high)
	for em < max(w, h) { // beside larger letters the blank wouldn't be seen
		e := draw(em).shown()
		need := letterTall * max((e.x1-e.x0)/sheetWide, (e.y1-e.y0)/high)
		if em >= need {
			break
		}
		em = max(need, em*1.01)
	}
	return draw(em)
}

// large draws the blanks side by side, each to the same scale, and beside them the bed with
// all blanks.
func (s *Scene) large(blanks, all []shown, em float64) *Canvas {
	c := open("places", em)
	x := 0.0
	for i := range blanks {
		b := &blanks[i]
		corner := b.box()
		s.place(c, b, x-corner.x0, -corner.y0)
		x = c.extent().x1 + 3*em
		for _, t := range b.contacts {
			if t.side == registration.Right { // its name stands there
				x += textWidth("", t.label()) * em * leastSize
			}
		}
		if i+1 < len(blanks) { // the next one's Y ordinate
			x += max(4, textWidth("label", "Y"+blanks[i+1].Zero.Y.String())*0.9-0.5) * em
		}
	}
	s.inset(c, all, x)
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
	c.edges(onMark, own) // words stand on one side of an edge
	if r := b.reach; r.W.IsPositive() {
		at := box{fl(r.X) + dx, fl(r.Y) + dy, fl(r.Right()) + dx, fl(r.Far()) + dy}
		c.rect("hidden reach", at.x0, at.y0, at.x1-at.x0, at.y1-at.y0)
	}
	for i, t := range s.Touches {
		if t.Offset == b.Offset {
			c.number(t.Name(i+1), b.touched(t, point{fl(b.Zero.X) + dx, fl(b.Zero.Y) + dy}, own), own.grown(4*c.em), leastSize)
		}
	}
	c.edgeLetters(own, s.lettersOf(b, nil))
	for _, t := range b.studs {
		t.brief = strings.HasPrefix(t.name, "dowel") // as in the turn above
		c.stud(t, fl(t.At.X)+dx, fl(t.At.Y)+dy, own, b.back(), false)
	}
	for _, t := range b.contacts {
		at := fl(t.at) + dx
		if t.side.Axis() == "Y" {
			at = fl(t.at) + dy
		}
		c.locator(t, at, own, "")
	}
	mx, _ := own.middle()
	title := words{class: "label", size: 1, lines: []string{b.label}, rank: 4}
	for _, up := range []float64{0.9, 1.9, 2.9} {
		y := own.y1 + c.em*up
		title.spots = append(title.spots, spot{mx, y, "middle"}, spot{mx - c.em*0.4, y, "end"}, spot{mx + c.em*0.4, y, "start"})
	}
	c.say(title)
	c.zero(fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy, int(b.Turn))
	c.end()
	// Ordinates of the zero, below and at the left.
	zx, zy := fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy
	c.line("thin", zx, own.y0-c.em*0.4, zx, own.y0-c.em*1.3)
	c.middled("label", zx, own.y0-c.em*1.8, 0.9, "X"+b.Zero.X.String())
	c.line("thin", own.x0-c.em*0.4, zy, own.x0-c.em*1.4, zy)
	c.text("label", "end", own.x0-c.em*1.6, zy-baseUnder*c.em*0.9, 0.9, "Y"+b.Zero.Y.String())
}

// touched is the place where the tool is held to a station with its zero and its blank at
// places: the middle of what it is centred on, or where a locator meets the blank.
func (b *shown) touched(t Touch, zero point, own box) spot {
	x, y := own.middle()
	if t.Centred {
		for axis, at := range [2]*float64{&x, &y} {
			*at = zero[axis]
			if t.Reads[axis] != nil {
				*at += fl(*t.Reads[axis])
			}
		}
		return spot{x: x, y: y}
	}
	side, _, _ := strings.Cut(t.What, " ")
	part := 0.5
	for _, c := range b.contacts {
		if c.side.String() == side { // the contact farther from the zero, clear of its arrows
			from := (zero[0] - own.x0) / (own.x1 - own.x0)
			if c.side.Axis() == "X" {
				from = (zero[1] - own.y0) / (own.y1 - own.y0)
			}
			part = slices.MaxFunc(c.touch, func(a, b float64) int { return cmp.Compare(math.Abs(a-from), math.Abs(b-from)) })
		}
	}
	switch side {
	case "left":
		x, y = own.x0, own.y0+part*(own.y1-own.y0)
	case "right":
		x, y = own.x1, own.y0+part*(own.y1-own.y0)
	case "near":
		x, y = own.x0+part*(own.x1-own.x0), own.y0
	case "far":
		x, y = own.x0+part*(own.x1-own.x0), own.y1
	}
	return spot{x: x, y: y}
}

// inset draws the whole bed small at x: where the blanks lie, and what is to be kept off,
// by name. Where nothing is, and no other blanks lie there, it is the key alone.
func (s *Scene) inset(c *Canvas, blanks []shown, x float64) {
	areas, key := s.keepOff()
	if slices.ContainsFunc(blanks, func(b shown) bool { return b.reach.W.IsPositive() }) {
		key = append(key, "dashed: cutters")
	}
	e := c.extent()
	foot := e.y0 + c.em*leastSize*lineStep*float64(len(key))
	for i, l := range key {
		c.text("", "start", x, foot-c.em*leastSize*(lineStep*float64(i)+1.1), leastSize, l)
	}
	bed := s.ground()
	if bed == nil || len(areas) == 0 && len(blanks) <= 2 {
		return
	}
	k := min((e.x1-e.x0)*0.3/(bed.x1-bed.x0), (e.y1-foot)*0.8/(bed.y1-bed.y0))
	small := func(b box) box {
		return box{x + (b.x0-bed.x0)*k, foot + (b.y0-bed.y0)*k, x + (b.x1-bed.x0)*k, foot + (b.y1-bed.y0)*k}
	}
	draw := func(class, pattern string, b box) box {
		b = small(b)
		c.fillRect(class, pattern, b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
		return b
	}
	c.group("inset")
	frame := draw("bed", "", *bed)
	c.keep(onArea, frame)
	for _, a := range areas {
		at := draw(a.class, a.pattern, a.box())
		mx, my := at.middle()
		name := words{class: "label", size: leastSize, lines: []string{a.short}, rank: 3, own: &frame, clear: true, home: &spot{x: mx, y: my}}
		if inside := (spot{mx, my, "middle"}); c.boxAt(&name, inside).within(at) {
			name.spots = append(name.spots, inside)
		}
		name.spots = append(name.spots, spot{at.x1 + c.em*0.3, my, "start"}, spot{at.x0 - c.em*0.3, my, "end"}, spot{mx, at.y0 - c.em*0.6, "middle"}, spot{mx, at.y1 + c.em*0.6, "middle"})
		c.say(name)
	}
	for i := range blanks {
		at := draw("blank", "", blanks[i].box())
		if blanks[i].back() {
			draw("over", "back", blanks[i].box())
		}
		c.keep(onMark, at)
		if mx, my := at.middle(); len(blanks) > 2 {
			c.say(words{class: "label", size: leastSize, lines: []string{itoa(blanks[i].Pair)}, rank: 2, optional: true, only: true, inside: at, own: &at, clear: true, spots: []spot{{mx, my, "middle"}}})
		}
	}
	c.end()
}

// ground is what the inset shows: the bed, or else the travel; nil where neither is known.
func (s *Scene) ground() *box {
	var r bed.Rect
	switch {
	case s.Bed != nil:
		r = s.Bed.Rect
	case s.Travel != nil:
		r = *s.Travel
	}
	if !r.W.IsPositive() || !r.H.IsPositive() {
		return nil
	}
	b := rectBox(r)
	return &b
}

// off is an area of the inset that is to be kept off, with its short name.
type off struct {
	Area
	class, pattern, short string
}

// keepOff lists what is to be kept off, and the key to it.
func (s *Scene) keepOff() (areas []off, key []string) {
	explain := func(o off, what string) {
		areas = append(areas, o)
		key = append(key, broken("", o.short+" "+what, insetKey)...)
	}
	for _, t := range s.Taken {
		if t.Area != nil {
			what, _, _ := strings.Cut(areaName("", t.Area.Name), ",")
			explain(off{*t.Area, "area taken", "taken", t.Offset}, cmp.Or(what, "taken"))
		}
	}
	for _, a := range s.NoGo {
		name, number, _ := strings.Cut(a.Name, " ")
		what := name
		if a.Height != nil {
			what += ", " + a.Height.String() + " high"
		}
		explain(off{a, "area", "nogo", name[:min(1, len(name))] + number}, what)
	}
	if len(key) > 0 {
		key = append([]string{"hatched: keep off"}, key...)
	}
	return areas, key
}

// insetKey is how wide a line of the inset's key may be, in letters' heights.
const insetKey = 13.0
