package draw

import (
	"math"

	"flipcalc/registration"
)

// arrow draws a straight arrow with a filled head.
func (c *Canvas) arrow(class string, x1, y1, x2, y2 float64) {
	dx, dy := x2-x1, y2-y1
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	dx, dy = dx/n, dy/n
	h := c.em * 0.7
	bx, by := x2-dx*h, y2-dy*h
	c.line(class, x1, y1, bx, by)
	c.keep(onMark, box{min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)}.grown(h*0.3))
	c.polygon(class+" solid", point{x2, y2}, point{bx - dy*h*0.3, by + dx*h*0.3}, point{bx + dy*h*0.3, by - dx*h*0.3})
}

// zero draws the mark of a program's zero, a circle with two opposite quarters
// filled, and its X and Y arrows. turn is the quarter turns of the program's
// axes, counter-clockwise.
func (c *Canvas) zero(x, y float64, turn int) {
	ax, ay := axes(turn)
	c.zeroAlong(x, y, ax, ay)
}

// zeroAlong is zero with its axes along ax and ay.
func (c *Canvas) zeroAlong(x, y float64, ax, ay point) {
	for i, a := range [2]point{ax, ay} {
		tip := point{x + a[0]*zeroLong*c.em, y + a[1]*zeroLong*c.em}
		other := [2]point{ay, ax}[i]
		// Beyond the arrow's head, else beside it, outside first.
		beyond, beside := c.em*0.8, c.em*0.8
		spots := []spot{{tip[0] + a[0]*beyond, tip[1] + a[1]*beyond, "middle"}}
		for _, back := range []float64{0.3, 1.1} {
			for _, side := range []float64{-beside, beside} {
				spots = append(spots, spot{tip[0] - a[0]*back*c.em + other[0]*side, tip[1] - a[1]*back*c.em + other[1]*side, "middle"})
			}
		}
		c.say(words{class: "axis", size: 0.85, lines: []string{"XY"[i : i+1]}, spots: spots, close: true})
	}
	c.zeroMark(x, y, ax, ay)
}

// zeroLong is the length of a zero's arrows in parts of the letters' height.
const zeroLong = 2.2

// zeroMark is the mark with its arrows, the axes not named.
func (c *Canvas) zeroMark(x, y float64, ax, ay point) {
	r := c.em * 0.45
	for _, a := range [2]point{ax, ay} {
		c.arrow("zero-arrow", x, y, x+a[0]*zeroLong*c.em, y+a[1]*zeroLong*c.em)
	}
	c.circle("zero-ring", x, y, r)
	c.keep(onMark, box{x - r, y - r, x + r, y + r})
	for _, s := range []float64{1, -1} {
		quarter := []point{{x, y}}
		for i := range 9 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 8)
			quarter = append(quarter, point{x + s*r*cos, y + s*r*sin})
		}
		c.add(curve{"zero-fill", "M" + pair(x, y) + "L" + pair(x+s*r, y) + "A" + num(r) + " " + num(r) + " 0 0 0 " + pair(x, y+s*r) + "Z", quarter})
	}
}

// axes gives the directions of X and Y after quarter turns counter-clockwise.
func axes(turn int) (x, y point) {
	switch ((turn % 4) + 4) % 4 {
	case 1:
		return point{0, 1}, point{-1, 0}
	case 2:
		return point{-1, 0}, point{0, -1}
	case 3:
		return point{0, -1}, point{1, 0}
	}
	return point{1, 0}, point{0, 1}
}

// pin draws a dowel to scale with its centre lines; the lines alone where its
// diameter isn't known.
func (c *Canvas) pin(class string, x, y, dia float64) {
	r := max(dia/2, 0)
	if r > 0 {
		c.circle(class, x, y, r)
	}
	e := r + c.em*0.35
	c.line("centre", x-e, y, x+e, y)
	c.line("centre", x, y-e, x, y+e)
	k := max(r, c.em*0.2)
	c.keep(onMark, box{x - k, y - k, x + k, y + k})
}

// contact draws the mark of a locating contact, a triangle with its point on
// the blank's edge; (dx, dy) points from the locator to the blank.
func (c *Canvas) contact(x, y, dx, dy float64) {
	h, w := c.em*0.9, c.em*0.45
	c.keep(onMark, box{min(x, x-dx*h) - math.Abs(dy)*w, min(y, y-dy*h) - math.Abs(dx)*w, max(x, x-dx*h) + math.Abs(dy)*w, max(y, y-dy*h) + math.Abs(dx)*w})
	c.polygon("contact", point{x, y}, point{x - dx*h - dy*w, y - dy*h + dx*w}, point{x - dx*h + dy*w, y - dy*h - dx*w})
}

// stud draws a dowel, a plug or an index pin to scale at (x, y), with its name and diameter;
// dotted clears the pattern behind the words, spare leaves them out where there is no room.
func (c *Canvas) stud(t stud, x, y float64, own box, dotted, spare bool) {
	r := fl(t.Dia) / 2
	class := "pin"
	if t.bore {
		class = "hidden bore"
	}
	c.group("stud", "name", t.name)
	c.pin(class, x, y, 2*r)
	d := r + c.em*0.35
	k := d * 0.75
	w := words{size: 0.85, lines: []string{t.label()}, rank: 3, optional: spare, clear: dotted, own: &own, home: &spot{x: x, y: y}}
	for _, far := range []float64{0, c.em * 0.8} {
		w.spots = append(w.spots, spot{x + d + far, y, "start"}, spot{x - d - far, y, "end"},
			spot{x + k, y + k + c.em*0.4 + far, "start"}, spot{x + k, y - k - c.em*0.4 - far, "start"}, spot{x - k, y + k + c.em*0.4 + far, "end"}, spot{x - k, y - k - c.em*0.4 - far, "end"},
			spot{x, y + d + c.em*0.5 + far, "middle"}, spot{x, y - d - c.em*0.5 - far, "middle"})
	}
	c.say(w)
	c.end()
}

// locator draws a fence (two contacts) or a stop (one) along the side of a blank, at its
// coordinate on the canvas, with its name.
func (c *Canvas) locator(t standing, at float64, b box, name string) {
	places := t.touch
	c.group("locator", "name", t.name, "side", t.side.String(), "at", t.at.String())
	off := c.em * 0.9
	w := words{size: 0.85, lines: []string{name}, rank: 3}
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

// edgeLetters writes the letters of a blank's edges inside it, as they lie there; where
// face and back lie on one place, both letters of an edge.
func (c *Canvas) edgeLetters(own box, names [4]string) {
	w, h := own.x1-own.x0, own.y1-own.y0
	if min(w, h) < 6*c.em {
		return
	}
	in := c.em * 0.75
	for k, name := range names {
		letter := words{class: "letter", size: 0.85, lines: []string{name}, rank: 1, optional: true, only: true, apart: 1, inside: own, own: &own}
		for _, part := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			letter.spots = append(letter.spots, [4]spot{
				{own.x0 + w*part, own.y0 + in, "middle"},
				{own.x1 - in*0.6, own.y0 + h*part, "end"},
				{own.x0 + w*part, own.y1 - in, "middle"},
				{own.x0 + in*0.6, own.y0 + h*part, "start"},
			}[k])
		}
		c.say(letter)
	}
}

// EdgeLetters gives the letters at the near, right, far and left of a blank as
// it lies. Face up they are A, B, C, D in this order.
func EdgeLetters(f registration.Flip, back bool, quarter int) [4]string {
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

// edges keeps words off the four edges of a box.
func (c *Canvas) edges(cost float64, b box) {
	t := c.em * 0.05
	for _, e := range []box{{b.x0, b.y0, b.x1, b.y0}, {b.x0, b.y1, b.x1, b.y1}, {b.x0, b.y0, b.x0, b.y1}, {b.x1, b.y0, b.x1, b.y1}} {
		c.keep(cost, e.grown(t))
	}
}
