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
)

// SheetTurn is the turn as page one shows it, with letters that read there, high mm on
// paper: what makes the piece in hand known again, and the edges that change places, as the
// blank lies at its stations.
func SheetTurn(s *Scene, high float64) *Canvas {
	w, h, ok := s.blank()
	if !ok {
		return nil
	}
	c, _ := fitted(high, w, h, s.sheetTurn)
	return c
}

// quarters are the quarter turns in which all blanks lie, 0 where they differ.
func (s *Scene) quarters() registration.Quarter {
	for _, st := range s.Stations {
		if st.Turn != s.Stations[0].Turn {
			return 0
		}
	}
	if len(s.Stations) == 0 {
		return 0
	}
	return s.Stations[0].Turn
}

func (s *Scene) sheetTurn(em float64) *Canvas {
	w, h, _ := s.blank()
	c := open("turn", em)
	thick, k := fl(s.Answer.Used.T), s.quarters()
	if thick <= 0 {
		thick = min(w, h) / 8
	}
	if k%2 != 0 {
		w, h = h, w
	}
	page := (s.Answer.Question.Flip == registration.FlipY) == (k%2 == 0) // else away from the operator
	face, back := EdgeLetters(s.Answer.Question.Flip, false, int(k)), EdgeLetters(s.Answer.Question.Flip, true, int(k))
	up := face[3]
	under, strip := 1.2*em, box{0, 0, thick, max(h-2.2*em, h/2)} // standing on edge
	if !page {
		up = face[0]
		under, strip = 2.1*em, box{0, (h - thick) / 2, max(w*0.6, 2*em), (h + thick) / 2}
	}
	names := [3]string{"1 FACE up", "2 " + up + " up", "3 BACK up"}
	// A step's name is centered under it; an edge's letter stands beside it.
	x := 0.0
	for i, wide := range [3]float64{w, strip.x1, w} {
		room := max(wide, textWidth("letter", names[i])*em)
		mx := x + room/2
		b := box{mx - w/2, 0, mx + w/2, h}
		c.group("panel", "side", [3]string{"face", "edge", "back"}[i])
		switch i {
		case 0:
			s.lying(c, b, false, page, face)
		case 1:
			b = box{mx - wide/2, strip.y0, mx + wide/2, strip.y1}
			c.onEdge(b, up)
			if page {
				c.arch(mx, b.y1+0.5*em, max(wide, 2.5*em), true)
			} else {
				c.arch(b.x1-0.5*em, h/2, max(h*0.34, thick/2+1.5*em), false)
			}
		case 2:
			s.lying(c, b, true, page, back)
		}
		c.middled("label", mx, -under, 0.95, names[i])
		c.end()
		x += room + 4.5*em
	}
	s.entitle(c)
	return c
}

// lying draws the blank with its face or back up: its cuts and holes, and the letters of
// the edges that change places.
func (s *Scene) lying(c *Canvas, b box, back, page bool, letters [4]string) {
	c.rect("blank", b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
	c.edges(onEdge, b)
	s.turnCuts(c, b, back, s.quarters())
	mx, my := b.middle()
	if page {
		c.middled("letter", b.x1+c.em, my, 1, letters[1])
		c.middled("letter", b.x0-c.em, my, 1, letters[3])
		return
	}
	c.middled("letter", mx, b.y0-0.8*c.em, 1, letters[0])
	c.middled("letter", mx, b.y1+0.8*c.em, 1, letters[2])
}

// onEdge draws the blank standing on edge, with the letter of the edge that is up.
func (c *Canvas) onEdge(b box, letter string) {
	c.rect("blank", b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
	c.edges(onEdge, b)
	x, y := b.middle()
	// On the edge itself: beside it the letter would stand where it comes to lie.
	c.say(words{class: "letter", size: 1, lines: []string{letter}, ringed: true, spots: []spot{{x, y, "middle"}}})
}

// entitle says what the turn shows.
func (s *Scene) entitle(c *Canvas) {
	f := s.Answer.Question.Flip
	c.Title = "The turn: flip " + f.String()
	near, right, far, left := "near", "left", "far", "right"
	if f == registration.FlipX {
		near, right, far, left = "far", "right", "near", "left"
	}
	c.Desc = "Face up the edges are A near, B right, C far, D left; turned over they are A " + near + ", B " + right + ", C " + far + ", D " + left + "."
}

// Turn draws the flip in three steps, the blank to scale; nil where no blank is known.
func Turn(s *Scene, on Screen) *Canvas {
	if _, _, ok := s.blank(); !ok {
		return nil
	}
	l := s.layOut(on)
	c := open("turn", l.em)
	if on == Slim {
		c.ID = "turn-slim"
	}
	s.turnPanel(c, l.at[0], false, l.names[0])
	s.turnEdge(c, l.at[1], l.room[1], l.thick, l.names[1])
	s.turnPanel(c, l.at[2], true, l.names[2])
	for i, p := range l.at[:2] {
		next := l.at[i+1]
		if l.below {
			x := l.room[0][0] * 0.12
			c.arrow("turn", x, p[1]-l.under-c.em*0.5, x, next[1]+l.room[i+1][1]+c.em*2.4)
			continue
		}
		x, y := p[0]+l.room[i][0], l.room[0][1]*0.2
		c.arrow("turn", x+(next[0]-x)*0.36, y, x+(next[0]-x)*0.64, y)
	}
	s.entitle(c)
	return c
}

// turnLayout is where the three steps of the turn stand: side by side, or one below the
// other where that gives larger drawings, for a long blank or a narrow screen.
type turnLayout struct {
	below bool
	thick float64     // of the blank standing on edge
	room  [3]point    // that each step takes
	names [3][]string // of the steps, in lines
	at    [3]point    // near-left corner of each
	em    float64
	under float64 // room under a step for a letter and its name
}

func (s *Scene) layOut(on Screen) turnLayout {
	w, h, _ := s.blank()
	l := turnLayout{thick: fl(s.Answer.Used.T), room: [3]point{{w, h}, {w, h}, {w, h}}}
	slim, f := on == Slim, s.Answer.Question.Flip
	if l.thick <= 0 {
		l.thick = min(w, h) / 8
	}
	gap := max(w, h) * 0.42
	l.below = w > 3*h || slim && w > 0.7*h
	switch {
	case f == registration.FlipY:
		l.room[1][0] = max(l.thick, w*0.3)
	case l.below:
		l.room[1][1] = max(l.thick, h*0.3)
	}
	l.em = l.letters(slim, gap)
	l.names = [3][]string{{"1  as it lies, face up"}, {"2  half turned, D up"}, {"3  turned, back up"}}
	if f == registration.FlipX {
		l.names[1][0] = "2  half turned, A up"
	}
	if slim && !l.below {
		for i, n := range l.names {
			head, rest, _ := strings.Cut(n[0], ", ")
			l.names[i] = []string{head + ",", rest}
		}
	}
	l.under = l.em * (3.6 + lineStep*float64(len(l.names[0])-1))
	l.place(gap)
	return l
}

// letters is the letters' height that suits the space which the three steps take.
func (l *turnLayout) letters(slim bool, gap float64) float64 {
	share := 0.022
	if slim {
		share = 0.042
	}
	w, h := l.room[0][0], l.room[0][1]
	long, across := 2*w+l.room[1][0]+2*gap, h
	if l.below {
		long, across = w*1.3, 2*h+l.room[1][1]+gap
	}
	switch {
	case slim:
		return long * share // a narrow screen slides up and down
	case l.below:
		return max(long*0.03, across*0.04)
	}
	return letterHeight(long, across, share)
}

// place puts the steps at least so far apart that their names and letters find room.
func (l *turnLayout) place(gap float64) {
	if l.below {
		down := 0.0
		for i, r := range l.room {
			down -= r[1]
			l.at[i] = point{(l.room[0][0] - r[0]) / 2, down}
			down -= l.under + l.em*4.2
		}
		return
	}
	name := 0.0
	for _, lines := range l.names {
		for _, text := range lines {
			name = max(name, textWidth("", text)*l.em)
		}
	}
	right := 0.0
	for i, r := range l.room {
		if i > 0 {
			right += max(gap, 5*l.em, (name-r[0])/2+max(0, name-l.room[i-1][0])/2+2*l.em)
		}
		l.at[i] = point{right, 0}
		right += r[0]
	}
}

// turnPanel draws the blank lying with its face or back up, near-left corner at p.
func (s *Scene) turnPanel(c *Canvas, p point, back bool, name []string) {
	w, h, _ := s.blank()
	b := box{p[0], p[1], p[0] + w, p[1] + h}
	mx, my := b.middle()
	c.group("panel", "side", sideOf(back))
	c.rect("blank", b.x0, b.y0, w, h)
	if back {
		c.fillRect("over", "back", b.x0, b.y0, w, h)
	}
	c.edges(onEdge, b)
	s.turnCuts(c, b, back, 0)
	f := s.Answer.Question.Flip
	if f == registration.FlipY {
		c.line("centre", mx, b.y0-c.em*0.5, mx, b.y1+c.em*0.5)
		c.keep(onThin, box{mx, b.y0, mx, b.y1})
	} else {
		c.line("centre", b.x0-c.em*0.5, my, b.x1+c.em*0.5, my)
		c.keep(onThin, box{b.x0, my, b.x1, my})
	}
	c.lettersRound(b, EdgeLetters(f, back, 0), 1.1)
	zero := s.zeroOf(back)
	zx, zy := b.x0+zero[0], b.y0+zero[1]
	c.sideWords(b, strings.ToUpper(sideOf(back)), s.offsetOf(back), back)
	if back {
		s.zeroUnderneath(c, b)
	}
	c.zero(zx, zy, 0)
	c.panelName(mx, b.y0-c.em*2.5, name)
	c.end()
}

// lettersRound writes the letters of a blank's edges outside it, so far beside their middles
// and out of the axes' way.
func (c *Canvas) lettersRound(b box, names [4]string, out float64) {
	mx, my := b.middle()
	for i, l := range names {
		x, y := [4]float64{mx, b.x1 + c.em*out, mx, b.x0 - c.em*out}[i], [4]float64{b.y0 - c.em*(out+0.1), my, b.y1 + c.em*(out+0.1), my}[i]
		dx, dy := [4]float64{0, 1, 0, -1}[i]*c.em, [4]float64{-1, 0, 1, 0}[i]*c.em
		letter := words{class: "letter", size: 1, lines: []string{l}, rank: 1, close: true}
		for _, t := range []point{{0, 0}, {0, 1.2}, {0, -1.2}, {0, 2}, {0, -2}, {2.8, 0}, {2.8, 2}} {
			letter.spots = append(letter.spots, spot{x + t[0]*dx + t[1]*dy, y + t[0]*dy + t[1]*dx, "middle"})
		}
		c.say(letter)
	}
}

// sideWords writes a side's name and its offset inside its blank or over it.
func (c *Canvas) sideWords(b box, side, offset string, back bool) {
	mx, _ := b.middle()
	w, h := b.x1-b.x0, b.y1-b.y0
	for i, t := range []struct {
		text string
		size float64
		x    float64
	}{{side, 1.1, 0.27}, {offset, 0.95, 0.73}} {
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
}

// zeroUnderneath shows where the face's zero has come to lie under the turned blank.
func (s *Scene) zeroUnderneath(c *Canvas, b box) {
	zero := s.zeroOf(true)
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

// turnCuts draws what makes the piece in hand known again: the cuts of the side that is
// up, and the holes of its locators, on a blank that lies turned in a box.
func (s *Scene) turnCuts(c *Canvas, b box, back bool, turn registration.Quarter) {
	w, h, _ := s.blank()
	on := func(x, y float64) (float64, float64) {
		switch (turn%4 + 4) % 4 {
		case 1: // counter-clockwise: the near edge comes to the right
			x, y = h-y, x
		case 2:
			x, y = w-x, h-y
		case 3:
			x, y = y, w-x
		}
		return b.x0 + x, b.y0 + y
	}
	zero := s.zeroOf(back)
	c.cuts("cut faint", s.pathOf(back), false, func(p point) point {
		x, y := on(zero[0]+p[0], zero[1]+p[1])
		return point{x, y}
	})
	if back {
		for i, p := range s.Answer.Spots {
			x, y := on(fl(p.On.X), fl(p.On.Y))
			c.number(itoa(i+1), spot{x: x, y: y}, b, leastSize)
		}
	}
	for _, t := range partStuds(s.Answer, back) {
		x, y := on(fl(t.At.X), fl(t.At.Y))
		c.pin("pin", x, y, fl(t.Dia))
		if t.Dia.IsZero() {
			continue
		}
		d := fl(t.Dia)/2 + c.em*0.4
		w := words{class: "small", size: 0.9, lines: []string{"Ø" + t.Dia.String()}, rank: 3, optional: true, own: &b, clear: back,
			spots: []spot{{x + d, y, "start"}, {x - d, y, "end"}, {x + d, y + c.em*0.8, "start"}, {x + d, y - c.em*0.8, "start"}}}
		c.say(w)
	}
}

// panelName writes a panel's name below it, its first line at y.
func (c *Canvas) panelName(x, y float64, name []string) {
	for i, l := range name {
		c.middled("", x, y-c.em*lineStep*float64(i), 0.9, l)
	}
}

// turnEdge draws the blank half turned, standing on edge in a room with its near-left
// corner at p, and the way it goes.
func (s *Scene) turnEdge(c *Canvas, p, room [2]float64, thick float64, name []string) {
	mx, my := p[0]+room[0]/2, p[1]+room[1]/2
	c.group("panel", "side", "edge")
	if s.Answer.Question.Flip == registration.FlipY {
		c.middled("letter", mx, p[1]-c.em*1.2, 1, "A")
		c.middled("letter", mx, p[1]+room[1]+c.em*1.2, 1, "C")
		c.onEdge(box{mx - thick/2, p[1], mx + thick/2, p[1] + room[1]}, "D")
		c.arch(mx, p[1]+room[1]+c.em*1.2, max(room[0]*0.42, c.em)+c.em*1.2, true)
	} else {
		c.middled("letter", p[0]-c.em*1.1, my, 1, "D")
		c.middled("letter", p[0]+room[0]+c.em*1.1, my, 1, "B")
		c.onEdge(box{p[0], my - thick/2, p[0] + room[0], my + thick/2}, "A")
		c.arch(p[0]+room[0]*0.75, my, max(room[1]*0.34, thick/2+c.em*1.5), false)
	}
	c.panelName(mx, p[1]-c.em*2.5, name)
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
