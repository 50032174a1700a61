package draw

import (
	"math"

	"flipcalc/registration"
)

// Screen is where a drawing of the turn is seen: in a file, or on a narrow screen, with
// larger letters.
type Screen int

const (
	Wide Screen = iota
	Slim
)

// slimWide is the width of a narrow screen, in mm of which letterTall are read there: its
// letters come out a thirtieth of it.
const slimWide = 30 * letterTall

// SheetTurn is the turn as page one shows it, with letters that read there, high mm on
// paper: what makes the piece in hand known again, and the edges that change places, as the
// blank lies at its stations.
func SheetTurn(s *Scene, high float64) *Canvas { return s.fittedTurn(sheetWide, high, false) }

// Turn draws the flip in three steps, the blank to scale, in a file with zeros and offsets
// too; nil where no blank is known.
func Turn(s *Scene, on Screen) *Canvas {
	if on == Wide {
		return s.fittedTurn(sheetWide, sheetWide, true)
	}
	c := s.fittedTurn(slimWide, math.Inf(1), false) // a narrow screen slides up and down
	if c != nil {
		c.ID = "turn-slim"
	}
	return c
}

// fittedTurn is the turn as it fits a room, in mm; zeros says that the programs' are shown.
func (s *Scene) fittedTurn(wide, high float64, zeros bool) *Canvas {
	w, h, ok := s.blank()
	if !ok {
		return nil
	}
	c, _ := fitted(wide, high, w, h, func(em float64) *Canvas { return s.turn(em, zeros) })
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

func (s *Scene) turn(em float64, zeros bool) *Canvas {
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
	apart := 4.5 * em
	if zeros {
		under, apart = 2.5*em, 6.5*em
		for i, back := range []bool{false, true} {
			if offset := s.offsetOf(back); offset != "" {
				names[2*i] += ", " + offset
			}
		}
	}
	// A step's name is centered under it; an edge's letter stands beside it.
	x := 0.0
	for i, wide := range [3]float64{w, strip.x1, w} {
		room := max(wide, textWidth("letter", names[i])*em)
		mx := x + room/2
		b := box{mx - w/2, 0, mx + w/2, h}
		c.group("panel", "side", [3]string{"face", "edge", "back"}[i])
		switch i {
		case 0:
			s.lying(c, b, false, page, zeros, face)
		case 1:
			b = box{mx - wide/2, strip.y0, mx + wide/2, strip.y1}
			c.onEdge(b, up)
			if page {
				c.arch(mx, b.y1+0.5*em, max(wide, 2.5*em), true)
			} else {
				c.arch(b.x1-0.5*em, h/2, max(h*0.34, thick/2+1.5*em), false)
			}
		case 2:
			s.lying(c, b, true, page, zeros, back)
		}
		c.middled("label", mx, -under, 0.95, names[i])
		c.end()
		x += room + apart
	}
	s.entitle(c)
	return c
}

// lying draws the blank with its face or back up: its cuts and holes, and the letters of
// the edges that change places, or with its zeros those of all.
func (s *Scene) lying(c *Canvas, b box, back, page, zeros bool, letters [4]string) {
	c.rect("blank", b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
	c.edges(onEdge, b)
	s.turnCuts(c, b, back)
	mx, my := b.middle()
	switch {
	case zeros:
		c.lettersRound(b, letters, 1.1)
		s.lyingZeros(c, b, back)
	case page:
		c.middled("letter", b.x1+c.em, my, 1, letters[1])
		c.middled("letter", b.x0-c.em, my, 1, letters[3])
	default:
		c.middled("letter", mx, b.y0-0.8*c.em, 1, letters[0])
		c.middled("letter", mx, b.y1+0.8*c.em, 1, letters[2])
	}
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

// lyingZeros marks the zero of the side that is up on a blank that lies in a box, and where
// the face's zero has come to lie under the turned blank.
func (s *Scene) lyingZeros(c *Canvas, b box, back bool) {
	on := s.onLying(b)
	at := on(s.zeroOf(back))
	if back {
		under, r := on(s.turned(s.zeroOf(false))), c.em*0.6
		c.circle("hidden", under[0], under[1], r)
		if math.Hypot(under[0]-at[0], under[1]-at[1]) > 1.5*c.em {
			c.keep(onMark, box{under[0] - r, under[1] - r, under[0] + r, under[1] + r})
		}
		words := words{class: "small", size: 0.9, optional: true, lines: []string{"face zero,", "underneath"}, rank: 2, own: &b, home: &spot{x: under[0], y: under[1]}}
		for _, up := range []float64{1.2, -1.2, 0} {
			words.spots = append(words.spots, spot{under[0] - c.em*0.9, under[1] + c.em*up, "end"}, spot{under[0] + c.em*0.9, under[1] + c.em*up, "start"})
		}
		words.spots = append(words.spots, spot{under[0], under[1] + c.em*1.9, "middle"}, spot{under[0], under[1] - c.em*1.9, "middle"})
		c.say(words)
	}
	c.zero(at[0], at[1], int(s.quarters()))
}

// onLying carries a place on the blank to where it is on one that lies in a box, as at its
// stations.
func (s *Scene) onLying(b box) func(point) point {
	return func(p point) point {
		switch s.quarters() {
		case 1: // counter-clockwise: the near edge comes to the right
			return point{b.x1 - p[1], b.y0 + p[0]}
		case 2:
			return point{b.x1 - p[0], b.y1 - p[1]}
		case 3:
			return point{b.x0 + p[1], b.y1 - p[0]}
		}
		return point{b.x0 + p[0], b.y0 + p[1]}
	}
}

// turnCuts draws what makes the piece in hand known again: the cuts of the side that is
// up, and the holes of its locators, on a blank that lies in a box.
func (s *Scene) turnCuts(c *Canvas, b box, back bool) {
	on, zero := s.onLying(b), s.zeroOf(back)
	c.cuts("cut faint", s.pathOf(back), false, func(p point) point { return on(point{zero[0] + p[0], zero[1] + p[1]}) })
	if back {
		for i, p := range s.Answer.Spots {
			at := on(point{fl(p.On.X), fl(p.On.Y)})
			c.number(itoa(i+1), spot{x: at[0], y: at[1]}, b, leastSize)
		}
	}
	for _, t := range partStuds(s.Answer, back) {
		at := on(point{fl(t.At.X), fl(t.At.Y)})
		x, y := at[0], at[1]
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
