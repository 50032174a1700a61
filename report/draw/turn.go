package draw

import (
	"math"
	"strings"

	"flipcalc/registration"
)

// Screen is where a drawing of the turn is seen: on a wide screen or in a file, or on a
// narrow screen, with larger letters.
type Screen int

const (
	Wide Screen = iota
	Slim
	sheet // page one of the sheet, where the letters' height is given
)

// Turn draws the flip in three steps, the blank to scale; nil where no blank is known.
func Turn(s *Scene, on Screen) *Canvas { return s.turn(on, 0) }

// SheetTurn is the turn with letters that read on page one.
func SheetTurn(s *Scene) *Canvas {
	if _, _, ok := s.blank(); !ok {
		return nil
	}
	return fitted(sheetWide, turnHigh, func(em float64) *Canvas { return s.turn(sheet, em) })
}

// turn draws the three steps side by side, or one below the other where that gives
// larger drawings: for a long blank, or for a narrow screen. The letters have a height, 0
// for one that suits the drawing.
func (s *Scene) turn(on Screen, em float64) *Canvas {
	w, h, ok := s.blank()
	if !ok {
		return nil
	}
	a := s.Answer
	slim := on == Slim
	f := a.Question.Flip
	thick := fl(a.Used.T)
	if thick <= 0 {
		thick = min(w, h) / 8
	}
	gap := max(w, h) * 0.42
	if on == sheet {
		gap = max(w, h) * 0.2
	}
	below := on != sheet && w > 3*h || slim && w > 0.7*h
	mid := point{w, h} // room of the half-turned blank
	switch {
	case f == registration.FlipY:
		mid[0] = max(thick, w*0.3)
	case below:
		mid[1] = max(thick, h*0.3)
	}
	id := "turn"
	if slim {
		id = "turn-slim"
	}
	// The letters' height, from the space that the three take.
	long, across := 2*w+mid[0]+2*gap, h
	if below {
		long, across = w*1.3, 2*h+mid[1]+gap
	}
	share := 0.022
	if slim {
		share = 0.042
	}
	switch {
	case em > 0:
	case !slim && !below:
		em = letterHeight(long, across, share)
	case slim:
		em = long * share // a narrow screen slides up and down
	case below:
		em = max(long*0.03, across*0.04)
	}
	c := open(id, em)
	names := [3][]string{{"1  as it lies, face up"}, {"2  half turned, D up"}, {"3  turned, back up"}}
	if f == registration.FlipX {
		names[1][0] = "2  half turned, A up"
	}
	if slim && !below {
		for i := range names {
			head, rest, _ := strings.Cut(names[i][0], ", ")
			names[i] = []string{head + ",", rest}
		}
	}
	// Corners of the three: at least so far apart that names and letters find room.
	room := 0.0
	for _, n := range names {
		for _, l := range n {
			room = max(room, textWidth("", l)*em)
		}
	}
	under := em * (3.6 + lineStep*float64(len(names[0])-1)) // letter and name
	var at [3][2]float64
	if below {
		down := 0.0
		for i, high := range []float64{h, mid[1], h} {
			down -= high
			at[i] = point{(w - []float64{w, mid[0], w}[i]) / 2, down}
			down -= under + em*4.2
		}
	} else {
		right := 0.0
		for i, wide := range []float64{w, mid[0], w} {
			if i > 0 {
				right += max(gap, 5*em, (room-wide)/2+max(0, room-[]float64{w, mid[0]}[i-1])/2+2*em)
			}
			at[i] = point{right, 0}
			right += wide
		}
	}
	s.turnPanel(c, on, at[0], w, h, false, names[0])
	s.turnEdge(c, at[1], mid, thick, names[1])
	s.turnPanel(c, on, at[2], w, h, true, names[2])
	for i, p := range at[:2] {
		next, wide := at[i+1], []float64{w, mid[0]}[i]
		if below {
			y, y2 := p[1]-under-em*0.5, next[1]+[]float64{mid[1], h}[i]+em*2.4
			c.arrow("turn", w*0.12, y, w*0.12, y2)
			continue
		}
		x, x2 := p[0]+wide, next[0]
		y := h * 0.2
		c.arrow("turn", x+(x2-x)*0.36, y, x+(x2-x)*0.64, y)
	}
	c.Title = "The turn: flip " + f.String()
	near, right, far, left := "near", "left", "far", "right"
	if f == registration.FlipX {
		near, right, far, left = "far", "right", "near", "left"
	}
	c.Desc = "Face up the edges are A near, B right, C far, D left; turned over they are A " + near + ", B " + right + ", C " + far + ", D " + left + "."
	return c
}

// turnPanel draws the blank lying with its face or back up, near-left corner at p.
func (s *Scene) turnPanel(c *Canvas, on Screen, p [2]float64, w, h float64, back bool, name []string) {
	a := s.Answer
	f := a.Question.Flip
	b := box{p[0], p[1], p[0] + w, p[1] + h}
	mx, my := b.middle()
	c.group("panel", "side", sideOf(back))
	c.rect("blank", b.x0, b.y0, w, h)
	word, zero, offset := "FACE", s.zeroOf(back), s.offsetOf(back)
	if on == sheet {
		offset = "" // it stands over the drawing
	}
	if back {
		c.fillRect("over", "back", b.x0, b.y0, w, h)
		word = "BACK"
	}
	c.edges(onEdge, b)
	s.turnCuts(c, b, back)
	if f == registration.FlipY {
		c.line("centre", mx, b.y0-c.em*0.8, mx, b.y1+c.em*0.8)
		c.keep(onThin, box{mx, b.y0, mx, b.y1})
	} else {
		c.line("centre", b.x0-c.em*0.8, my, b.x1+c.em*0.8, my)
		c.keep(onThin, box{b.x0, my, b.x1, my})
	}
	for i, l := range EdgeLetters(f, back, 0) {
		// Beside the middle of the edge, out of the axes' way.
		x, y := [4]float64{mx, b.x1 + c.em*1.1, mx, b.x0 - c.em*1.1}[i], [4]float64{b.y0 - c.em*1.3, my, b.y1 + c.em*1.3, my}[i]
		dx, dy := [4]float64{0, 1, 0, -1}[i]*c.em, [4]float64{-1, 0, 1, 0}[i]*c.em
		letter := words{class: "letter", size: 1.1, lines: []string{l}, rank: 1, close: true}
		for _, t := range []point{{0, 0}, {0, 1.2}, {0, -1.2}, {0, 2}, {0, -2}, {2.8, 0}, {2.8, 2}} {
			letter.spots = append(letter.spots, spot{x + t[0]*dx + t[1]*dy, y + t[0]*dy + t[1]*dx, "middle"})
		}
		c.say(letter)
	}
	// The side's name and its offset, inside or over the blank.
	for i, t := range []struct {
		text string
		size float64
		x    float64
	}{{word, 1.1, 0.27}, {offset, 0.95, 0.73}} {
		words := words{class: "label", size: t.size, lines: []string{t.text}, rank: 1, own: &b, clear: back}
		for _, p := range []point{{t.x, 0.8}, {t.x, 0.64}, {t.x, 0.36}, {t.x, 0.2}, {0.5, 0.86}, {0.5, 0.74}, {0.5, 0.3}, {0.5, 0.16}} {
			if at := (spot{b.x0 + w*p[0], b.y0 + h*p[1], "middle"}); c.boxAt(&words, at).within(b) {
				words.spots = append(words.spots, at)
			}
		}
		for _, up := range []float64{b.y1 + c.em*1.3, b.y1 + c.em*2.6} {
			words.spots = append(words.spots, spot{b.x0 + w*t.x, up, "middle"}, spot{mx + c.em*float64(2*i-1)*1.2, up, []string{"end", "start"}[i]})
		}
		c.say(words)
	}
	if back && on != sheet {
		// Where the face's zero has come to lie, underneath.
		u := s.turned(s.zeroOf(false))
		ux, uy, r := b.x0+u[0], b.y0+u[1], c.em*0.6
		c.circle("hidden", ux, uy, r)
		if math.Hypot(ux-b.x0-zero[0], uy-b.y0-zero[1]) > 1.5*c.em {
			c.keep(onMark, box{ux - r, uy - r, ux + r, uy + r})
		}
		words := words{class: "small", size: 0.9, optional: true, lines: []string{"face zero,", "underneath"}, rank: 2, own: &b, clear: true, home: &spot{x: ux, y: uy}}
		for _, up := range []float64{1.2, -1.2, 0} {
			words.spots = append(words.spots, spot{ux - c.em*0.9, uy + c.em*up, "end"}, spot{ux + c.em*0.9, uy + c.em*up, "start"})
		}
		words.spots = append(words.spots, spot{ux, uy + c.em*1.9, "middle"}, spot{ux, uy - c.em*1.9, "middle"})
		c.say(words)
	}
	c.zero(b.x0+zero[0], b.y0+zero[1], 0)
	c.panelName(mx, b.y0-c.em*3.1, name)
	c.end()
}

// turnCuts draws what makes the piece in hand known again: the cuts of the side that is
// up, and the holes of its locators.
func (s *Scene) turnCuts(c *Canvas, b box, back bool) {
	zero := s.zeroOf(back)
	c.cuts("cut faint", s.pathOf(back), false, func(p point) point { return point{b.x0 + zero[0] + p[0], b.y0 + zero[1] + p[1]} })
	if back {
		for i, p := range s.Answer.Spots {
			c.number(itoa(i+1), spot{x: b.x0 + fl(p.On.X), y: b.y0 + fl(p.On.Y)}, b)
		}
	}
	for _, t := range partStuds(s.Answer, back) {
		x, y := b.x0+fl(t.At.X), b.y0+fl(t.At.Y)
		c.pin("pin", x, y, fl(t.Dia))
		if !t.Dia.IsZero() {
			d := fl(t.Dia)/2 + c.em*0.4
			c.say(words{class: "small", size: 0.9, lines: []string{"Ø" + t.Dia.String()}, rank: 3, optional: true, own: &b, clear: back,
				spots: []spot{{x + d, y, "start"}, {x - d, y, "end"}, {x + d, y + c.em*0.8, "start"}, {x + d, y - c.em*0.8, "start"}}})
		}
	}
}

// panelName writes a panel's name below it, its first line at y.
func (c *Canvas) panelName(x, y float64, name []string) {
	for i, l := range name {
		c.middled("", x, y-c.em*lineStep*float64(i), 1, l)
	}
}

// turnEdge draws the blank half turned, standing on edge in a room with its near-left
// corner at p, and the way it goes.
func (s *Scene) turnEdge(c *Canvas, p, room [2]float64, thick float64, name []string) {
	mx, my := p[0]+room[0]/2, p[1]+room[1]/2
	c.group("panel", "side", "edge")
	edge := func(b box, letter string) {
		c.rect("blank", b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
		c.edges(onEdge, b)
		x, y := b.middle()
		w := words{class: "letter", size: 1.1, lines: []string{letter}, rank: 1, own: &b, home: &spot{x: x, y: y}, spots: []spot{{x, y, "middle"}}}
		if !c.boxAt(&w, w.spots[0]).within(b) { // beside it, with a line to it
			w.pointed = true
			w.spots = []spot{{b.x1 + c.em*1.6, y, "start"}, {x, b.y0 - c.em*1.4, "middle"}, {b.x0 - c.em*1.6, y, "end"}}
			if b.x1-b.x0 > b.y1-b.y0 {
				w.spots = w.spots[1:2]
			}
		}
		c.say(w)
	}
	if s.Answer.Question.Flip == registration.FlipY {
		c.middled("letter", mx, p[1]-c.em*1.3, 1.1, "A")
		c.middled("letter", mx, p[1]+room[1]+c.em*1.3, 1.1, "C")
		edge(box{mx - thick/2, p[1], mx + thick/2, p[1] + room[1]}, "D")
		c.arch(mx, p[1]+room[1]+c.em*2.2, max(room[0]*0.42, c.em)+c.em, true)
	} else {
		c.middled("letter", p[0]-c.em*1.1, my, 1.1, "D")
		c.middled("letter", p[0]+room[0]+c.em*1.1, my, 1.1, "B")
		edge(box{p[0], my - thick/2, p[0] + room[0], my + thick/2}, "A")
		c.arch(p[0]+room[0]*0.75, my, max(room[1]*0.34, thick/2+c.em*1.5), false)
	}
	c.panelName(mx, p[1]-c.em*3.1, name)
	c.end()
}

// arch draws a bent arrow: over to the right (flip y) or over to the far side.
func (c *Canvas) arch(x, y, r float64, right bool) {
	if right {
		c.grow(x, y+c.em*1.2)
		c.bend("turn", point{x - r, y}, point{x, y + c.em*2}, point{x + r, y})
		c.polygon("turn solid", point{x + r + c.em*0.35, y - c.em*0.35}, point{x + r - c.em*0.55, y + c.em*0.02}, point{x + r - c.em*0.05, y + c.em*0.55})
		c.keep(onMark, box{x - r, y - c.em*0.4, x + r + c.em*0.4, y + c.em*1.2})
		return
	}
	c.grow(x, y-r)
	c.bend("turn", point{x, y - r}, point{x + c.em*2.4, y}, point{x, y + r})
	c.polygon("turn solid", point{x - c.em*0.35, y + r + c.em*0.35}, point{x + c.em*0.02, y + r - c.em*0.55}, point{x + c.em*0.55, y + r - c.em*0.05})
	c.keep(onMark, box{x - c.em*0.4, y - r, x + c.em*1.3, y + r + c.em*0.4})
}

// bend draws a line bent by one control point: a parabola.
func (c *Canvas) bend(class string, from, control, to point) {
	const pieces = 16
	var points []point
	for i := range pieces + 1 {
		t := float64(i) / pieces
		var p point
		for k := range p {
			p[k] = (1-t)*(1-t)*from[k] + 2*t*(1-t)*control[k] + t*t*to[k]
		}
		points = append(points, p)
	}
	c.add(curve{class, "M" + pair(from[0], from[1]) + "Q" + pair(control[0], control[1]) + " " + pair(to[0], to[1]), points})
}
