package draw

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

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
	var c *Canvas
	for _, few := range []bool{false, true} { // where all has no room, the zeros' coordinates alone
		var reads bool
		c, reads = fitted(sheetWide, high, b.x1-b.x0, b.y1-b.y0, func(em float64) *Canvas { return s.large(blanks, all, em, few) })
		if reads {
			break
		}
	}
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
// letterTall on paper when the drawing fills its room, in mm, and says whether they do. The
// letters' height and the drawing's size hang on each other: from letters that are too small
// each round takes the height from the size that the last one gave, or a hundredth more,
// until it is enough.
func fitted(wide, high, w, h float64, draw func(em float64) *Canvas) (c *Canvas, reads bool) {
	for em := letterTall * max(w/wide, h/high); ; {
		c = draw(em)
		e := c.shown()
		need := letterTall * max((e.x1-e.x0)/wide, (e.y1-e.y0)/high)
		if em >= need || em >= max(w, h)/2 { // beside larger letters the blank wouldn't be seen
			return c, em >= need
		}
		em = max(need, em*1.01)
	}
}

// large draws the blanks side by side, each to the same scale, and beside them the bed with
// all blanks.
func (s *Scene) large(blanks, all []shown, em float64, few bool) *Canvas {
	c := open("places", em)
	x := 0.0
	var before ordinates
	for i := range blanks {
		b := &blanks[i]
		o := ordinatesOf(few, *b)
		if i > 0 { // what stands beside the last one serves this one too
			o.left, o.right = o.besides(before.left, o.left), o.besides(before.right, o.right)
			x += em
		}
		before = o
		x += max(o.wide(o.left), 1) * em
		if textWidth("label", b.label)*1.1*em > b.box().x1-b.box().x0 { // its words stand beside it
			x += 3 * em
		}
		s.place(c, b, o, few, x-b.box().x0, -b.box().y0)
		x = c.extent().x1
	}
	s.inset(c, all, x+1.5*em)
	return c
}

// place draws one blank moved by dx, dy, with the machine coordinates of its zero and of
// what locates it.
func (s *Scene) place(c *Canvas, b *shown, o ordinates, few bool, dx, dy float64) {
	own := b.box()
	own = box{own.x0 + dx, own.y0 + dy, own.x1 + dx, own.y1 + dy}
	c.group("place", "offset", b.Offset, "zero-x", b.Zero.X.String(), "zero-y", b.Zero.Y.String())
	c.rect("blank", own.x0, own.y0, own.x1-own.x0, own.y1-own.y0)
	c.edges(onMark, own) // words stand on one side of an edge
	if r := b.reach; r.W.IsPositive() {
		at := box{fl(r.X) + dx, fl(r.Y) + dy, fl(r.Right()) + dx, fl(r.Far()) + dy}
		c.rect("hidden reach", at.x0, at.y0, at.x1-at.x0, at.y1-at.y0)
	}
	o.draw(c, own, dx, dy)
	for i, t := range s.Touches {
		if t.Offset == b.Offset {
			c.number(t.Name(i+1), b.touched(t, point{fl(b.Zero.X) + dx, fl(b.Zero.Y) + dy}, own), own.grown(4*c.em), leastSize)
		}
	}
	if b.Turn != 0 {
		c.edgeLetters(own, s.lettersOf(b, nil))
	}
	for _, t := range b.studs {
		t.brief = strings.HasPrefix(t.name, "dowel") // as in the turn above
		c.stud(t, fl(t.At.X)+dx, fl(t.At.Y)+dy, own, false, few)
	}
	for _, t := range b.contacts {
		at := fl(t.at) + dx
		if t.side.Axis() == "Y" {
			at = fl(t.at) + dy
		}
		c.locator(t, at, own, t.name)
	}
	mx, my := own.middle()
	title := words{class: "label", size: 1.1, lines: []string{b.label}, own: &own, close: true}
	if b.bare != "" {
		title.lines = append(title.lines, b.bare)
	}
	for _, y := range []float64{my, my + c.em, my - c.em} {
		if at := (spot{mx, y, "middle"}); c.boxAt(&title, at).within(own) {
			title.spots = append(title.spots, at)
		}
	}
	title.spots = append(title.spots, spot{mx, own.y1 + c.em*0.9, "middle"}, spot{mx, own.y1 + c.em*2.9, "middle"})
	c.say(title)
	zx, zy := fl(b.Zero.X)+dx, fl(b.Zero.Y)+dy
	if b.Turn != 0 {
		c.zero(zx, zy, int(b.Turn))
	} else {
		c.zeroMark(zx, zy, point{1, 0}, point{0, 1})
	}
	c.end()
}

// ordinates are the machine coordinates written round a blank, or round the whole bed: X
// below it, Y of zeros and fences at the left, Y of dowels at the right.
type ordinates struct{ below, left, right []ordinate }

// ordinate is one of them, with the place that its line comes from.
type ordinate struct {
	text string
	from registration.Point
}

// ordinatesOf lists those of blanks, each coordinate once, or few, those of the zeros.
func ordinatesOf(few bool, blanks ...shown) (o ordinates) {
	add := func(list *[]ordinate, axis string, v decimal.Decimal, from registration.Point) {
		text := axis + v.String()
		same := func(o ordinate) bool { return o.text == text }
		if !slices.ContainsFunc(o.left, same) && !slices.ContainsFunc(*list, same) {
			*list = append(*list, ordinate{text, from})
		}
	}
	for _, b := range blanks {
		zero := registration.Point{X: b.Zero.X, Y: b.Zero.Y}
		add(&o.below, "X", zero.X, zero)
		add(&o.left, "Y", zero.Y, zero)
		if few {
			continue
		}
		for _, t := range b.studs {
			add(&o.below, "X", t.At.X, t.At)
			add(&o.right, "Y", t.At.Y, t.At)
		}
		for _, t := range b.contacts {
			at := registration.Point{X: b.Blank.X, Y: b.Blank.Y}
			if t.side.Axis() == "X" {
				at.X = t.at
				add(&o.below, "X", t.at, at)
			} else {
				at.Y = t.at
				add(&o.left, "Y", t.at, at)
			}
		}
	}
	slices.SortFunc(o.below, func(a, b ordinate) int { return a.from.X.Cmp(b.from.X) })
	for _, list := range [][]ordinate{o.left, o.right} {
		slices.SortFunc(list, func(a, b ordinate) int { return a.from.Y.Cmp(b.from.Y) })
	}
	return o
}

// besides leaves out what is written already.
func (o ordinates) besides(written, list []ordinate) (out []ordinate) {
	for _, l := range list {
		if !slices.ContainsFunc(written, func(o ordinate) bool { return o.text == l.text }) {
			out = append(out, l)
		}
	}
	return out
}

// ordinateSize is the size of their letters, ordinateLine how far their lines reach out.
const (
	ordinateSize = 0.9
	ordinateLine = 0.9
)

// wide is the room of ordinates beside a blank, in letters' heights.
func (o ordinates) wide(list []ordinate) (w float64) {
	for _, l := range list {
		w = max(w, textWidth("", l.text)*ordinateSize+ordinateLine+0.3)
	}
	return w
}

// draw writes them round a box, where one has no room beside the next a row farther out.
func (o ordinates) draw(c *Canvas, own box, dx, dy float64) {
	rows := []float64{} // how far each row is taken
	for _, l := range o.below {
		x, half := fl(l.from.X)+dx, textWidth("", l.text)*ordinateSize*c.em/2
		row := 0
		for row < len(rows) && x-half < rows[row]+0.3*c.em {
			row++
		}
		if row == len(rows) {
			rows = append(rows, 0)
		}
		rows[row] = x + half
		y := own.y0 - c.em*(ordinateLine+0.9+1.1*float64(row)) // clear of a fence
		c.line("thin", x, fl(l.from.Y)+dy, x, y+c.em*0.55)
		c.keep(onThin, box{x, y, x, own.y0})
		c.middled("", x, y, ordinateSize, l.text)
	}
	side := func(list []ordinate, edge, out float64, anchor string) {
		free := math.Inf(-1)
		for _, l := range list {
			y := fl(l.from.Y) + dy
			at := max(y, free)
			free = at + 1.15*c.em
			x := edge + out*c.em*ordinateLine
			c.line("thin", fl(l.from.X)+dx, y, x, y)
			c.text("", anchor, x+out*c.em*0.3, at, ordinateSize, l.text)
		}
	}
	side(o.left, own.x0, -1, "end")
	side(o.right, own.x1, 1, "start")
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

// inset draws the whole bed small at x: where the blanks lie, and what is to be kept off.
// Where nothing is, and no other blanks lie there, there is none.
func (s *Scene) inset(c *Canvas, blanks []shown, x float64) {
	areas := s.keepOff()
	bed := s.ground()
	if bed == nil || len(areas) == 0 && len(blanks) <= 2 {
		return
	}
	e := c.extent()
	k := min((e.x1-e.x0)*0.5/(bed.x1-bed.x0), (e.y1-e.y0)/(bed.y1-bed.y0))
	small := func(b box) box {
		return box{x + (b.x0-bed.x0)*k, e.y0 + (b.y0-bed.y0)*k, x + (b.x1-bed.x0)*k, e.y0 + (b.y1-bed.y0)*k}
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
		at := draw("area", a.pattern, a.box())
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

// off is an area of the inset that is to be kept off, with its short name and what it is.
type off struct {
	Area
	pattern, short, what string
}

// keepOff lists what is to be kept off.
func (s *Scene) keepOff() (areas []off) {
	for _, t := range s.Taken {
		if t.Area != nil {
			what, _, _ := strings.Cut(areaName("", t.Area.Name), ",")
			areas = append(areas, off{*t.Area, "taken", t.Offset, cmp.Or(what, "taken")})
		}
	}
	for _, a := range s.NoGo {
		name, number, _ := strings.Cut(a.Name, " ")
		what := name
		if a.Height != nil {
			what += ", " + a.Height.String() + " high"
		}
		areas = append(areas, off{a, "nogo", name[:min(1, len(name))] + number, what})
	}
	return areas
}

// StationsKey is the key to the figure of the stations, "" where it needs none.
func StationsKey(s *Scene) string {
	var parts, names []string
	if slices.ContainsFunc(s.Reach, func(r bed.Rect) bool { return r.W.IsPositive() }) {
		parts = append(parts, "Dashed: where cutters go.")
	}
	for _, a := range s.keepOff() {
		names = append(names, a.short+" "+a.what)
	}
	if len(names) > 0 && s.ground() != nil {
		parts = append(parts, "Small: the whole bed; hatched: keep off ("+strings.Join(names, "; ")+").")
	}
	return strings.Join(parts, " ")
}
