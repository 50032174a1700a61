package report

import (
	"math"

	"flipcalc/registration"
)

// TurnDrawing draws the flip in three steps, the blank to scale.
func TurnDrawing(s Setup) string {
	c, title, desc := s.turn()
	if c == nil {
		return ""
	}
	return c.svg(title, desc, true)
}

func (s *Setup) turnFigure() Figure {
	c, title, desc := s.turn()
	if c == nil {
		return Figure{}
	}
	return Figure{ID: "turn", Title: title, Desc: desc, SVG: c.svg(title, desc, false)}
}

func (s *Setup) turn() (c *canvas, title, desc string) {
	a := s.Answer
	if a == nil || a.Used.W.Sign() <= 0 || a.Used.H.Sign() <= 0 {
		return nil, "", ""
	}
	f := a.Question.Flip
	w, h := fl(a.Used.W), fl(a.Used.H)
	thick := fl(a.Used.T)
	if thick <= 0 {
		thick = min(w, h) / 8
	}
	// Three panels, each as wide as the blank but for the middle one of flip y.
	gap := max(w, h) * 0.42
	mid := w
	if f == registration.FlipY {
		mid = max(thick, w*0.3)
	}
	total := 2*w + mid + 2*gap
	const share = 0.022
	const side = 1.9                         // letters of room for an edge's letter beside the panels
	em := total * share / (1 - 2*side*share) // so that em is share of the whole width
	c = newCanvas("turn", -side*em, -4.2*em, total+side*em, h+4.4*em, share)
	x2, x3 := w+gap, w+gap+mid+gap

	s.turnPanel(c, 0, w, h, false, "1  as it lies, face up")
	s.turnEdge(c, x2, mid, w, h, thick)
	s.turnPanel(c, x3, w, h, true, "3  turned, back up")
	for _, x := range []float64{w, x2 + mid} {
		if f == registration.FlipY && x == x2+mid || f == registration.FlipX || x == w {
			c.arrow("turn", x+gap*0.3, h*0.2, x+gap*0.7, h*0.2)
		}
	}
	title = "The turn: flip " + f.String()
	desc = capital(FlipWords(f)) + ". Face up the edges are A near, B right, C far, D left. " + turnCheck(f)
	return c, title, desc
}

// turnPanel draws the blank lying with its face or back up, near-left corner at
// (x, 0).
func (s *Setup) turnPanel(c *canvas, x, w, h float64, back bool, name string) {
	a := s.Answer
	f := a.Question.Flip
	c.group("panel", "side", sideOf(back))
	c.rect("blank", x, 0, w, h)
	word := "FACE"
	if back {
		c.fillRect("over", "back", x, 0, w, h)
		word = "BACK"
	}
	if f == registration.FlipY {
		c.line("centre", x+w/2, -c.em*0.8, x+w/2, h+c.em*0.8)
	} else {
		c.line("centre", x-c.em*0.8, h/2, x+w+c.em*0.8, h/2)
	}
	l := edgeLetters(f, back, 0)
	c.middled("letter", x+w/2, -c.em*1.3, 1.1, l[0])
	c.middled("letter", x+w+c.em, h/2, 1.1, l[1])
	c.middled("letter", x+w/2, h+c.em*1.3, 1.1, l[2])
	c.middled("letter", x-c.em, h/2, 1.1, l[3])
	c.middled("label", x+w*0.27, h*0.8, 1.1, word)
	zero := a.FaceZero
	offset := a.Question.Offset
	if offset == "" {
		offset = "G54"
	}
	if back {
		zero = a.BackZero
		offset = ""
		if a.Second != nil {
			offset = a.Second.Offset
		}
		// Where the face's zero has come to lie, underneath.
		ux, uy := fl(a.FaceZero.X), fl(a.FaceZero.Y)
		if f == registration.FlipY {
			ux = w - ux
		} else {
			uy = h - uy
		}
		c.circle("hidden", x+ux, uy, c.em*0.6)
		anchor, tx, ty := "start", x+ux+c.em*0.9, uy+c.em*0.4
		if ux > w/2 {
			anchor, tx = "end", x+ux-c.em*0.9
		}
		if uy > h/2 {
			ty = uy - c.em*1.1
		}
		face := a.Question.Offset
		if face == "" {
			face = "G54"
		}
		if math.Hypot(ux-fl(zero.X), uy-fl(zero.Y)) > 3*c.em {
			words := face + " is underneath"
			room := c.em * 0.8 * letterShare * float64(len(words))
			left := tx
			if anchor == "end" {
				left -= room
			}
			// No dots behind the words.
			c.rect("clear", left-c.em*0.2, ty-c.em*0.3, room+c.em*0.4, c.em*1.15)
			c.text("small", anchor, tx, ty, 0.8, words)
		}
	}
	c.zero(x+fl(zero.X), fl(zero.Y), 0)
	c.middled("label", x+w*0.73, h*0.8, 0.95, offset)
	c.middled("", x+w/2, -c.em*3.1, 1, name)
	c.end()
}

// turnEdge draws the blank half turned, standing on edge, and the way it goes.
func (s *Setup) turnEdge(c *canvas, x, room, w, h, thick float64) {
	f := s.Answer.Question.Flip
	c.group("panel", "side", "edge")
	if f == registration.FlipY {
		cx := x + room/2
		c.rect("blank", cx-thick/2, 0, thick, h)
		c.middled("letter", cx, -c.em*1.3, 1.1, "A")
		c.middled("letter", cx, h+c.em*1.3, 1.1, "C")
		c.middled("letter", cx, h/2, 1.1, "D")
		c.arch(cx, h+c.em*2.2, room*0.42+c.em, true)
		c.middled("", cx, -c.em*3.1, 1, "2  half turned, D up")
	} else {
		cy := h / 2
		c.rect("blank", x, cy-thick/2, room, thick)
		c.middled("letter", x-c.em, cy, 1.1, "D")
		c.middled("letter", x+room+c.em, cy, 1.1, "B")
		c.middled("letter", x+room/2, cy, 1.1, "A")
		c.arch(x+room*0.75, cy, h*0.34, false)
		c.middled("", x+room/2, -c.em*3.1, 1, "2  half turned, A up")
	}
	c.end()
}

// arch draws a bent arrow: over to the right (flip y) or over to the far side.
func (c *canvas) arch(x, y, r float64, right bool) {
	if right {
		c.raw(`<path class="turn" d="M%s %sQ%s %s %s %s"/>`+"\n", num(x-r), num(c.y(y)), num(x), num(c.y(y+c.em*2)), num(x+r), num(c.y(y)))
		c.polygon("turn solid", [2]float64{x + r + c.em*0.35, y - c.em*0.35}, [2]float64{x + r - c.em*0.55, y + c.em*0.02}, [2]float64{x + r - c.em*0.05, y + c.em*0.55})
		return
	}
	c.raw(`<path class="turn" d="M%s %sQ%s %s %s %s"/>`+"\n", num(x), num(c.y(y-r)), num(x+c.em*2.4), num(c.y(y)), num(x), num(c.y(y+r)))
	c.polygon("turn solid", [2]float64{x - c.em*0.35, y + r + c.em*0.35}, [2]float64{x + c.em*0.02, y + r - c.em*0.55}, [2]float64{x + c.em*0.55, y + r - c.em*0.05})
}
