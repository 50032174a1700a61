package draw

import "strings"

// Sides draws face and back as they lie, with tool paths and zero; nil where no program
// is known.
func Sides(s *Scene) *Canvas {
	if s.Face == nil && s.Back == nil {
		return nil
	}
	return s.sides(false, true)
}

// Side draws one side of the blank alone; nil where there is no program for it.
func Side(s *Scene, back bool) *Canvas {
	if s.pathOf(back) == nil {
		return nil
	}
	return s.sides(back)
}

// sides draws the sides side by side, a long blank's one below the other.
func (s *Scene) sides(backs ...bool) *Canvas {
	w, h, ok := s.blank()
	if !ok {
		return nil
	}
	below := w > 3*h
	over := s.overhang(w, h)
	gap := max(w*0.22, h*0.1, over)
	n := float64(len(backs))
	wide, high := n*w+(n-1)*gap, h
	if below {
		wide, high = w, n*h
	}
	c := open("paths", letterHeight(wide, high, 0.028))
	if len(backs) == 1 {
		c.ID = "path-" + sideOf(backs[0])
	}
	for i, back := range backs {
		// Room for the axes between the sides, and for the names under them.
		x, y := max(w+max(gap, 5*c.em), (textWidth("label", s.sideName(back))+1.5)*c.em)*float64(i), 0.0
		if below {
			x, y = 0, -(h+over+6.5*c.em)*float64(i)
		}
		s.side(c, box{x, y, x + w, y + h}, back)
	}
	y := c.y0 - 1.0*c.em
	for i, class := range []string{"cut", "rapid"} {
		c.key(class, []string{"cutting", "rapid"}[i], float64(i)*8*c.em, y, 2.4*c.em)
	}
	c.Title = "Face and back with their tool paths"
	c.Desc = "Left the face, right the back, each"
	switch {
	case len(backs) == 1:
		c.Title = "The " + sideOf(backs[0]) + " with its tool paths"
		c.Desc = capital(sideOf(backs[0])) + " up,"
	case below:
		c.Desc = "Above the face, below the back, each"
	}
	c.Desc += " as it lies and seen from above, with its program's zero, X and Y. Solid lines cut, dotted lines are rapid moves."
	for _, back := range backs {
		if p := s.pathOf(back); p != nil && p.Cut {
			c.Desc += " Long programs are drawn in part."
			break
		}
	}
	return c
}

// key explains a line.
func (c *Canvas) key(class, text string, x, y, long float64) {
	c.line(class, x, y, x+long, y)
	c.say(words{class: "small", size: 0.85, lines: []string{text}, spots: []spot{{x + long + c.em*0.5, y, "start"}}})
}

func (s *Scene) sideName(back bool) string {
	return strings.TrimSpace(sideOf(back)+" "+s.offsetOf(back)) + ", as it lies"
}

// overhang is the room that cuts beside the blank ask for between the two sides.
func (s *Scene) overhang(w, h float64) float64 {
	far := 0.0
	for _, back := range []bool{false, true} {
		p, zero := s.pathOf(back), s.zeroOf(back)
		if p == nil {
			continue
		}
		for _, st := range p.Strokes {
			for _, at := range st.Points {
				if x, y := at[0]+zero[0], at[1]+zero[1]; !st.Rapid {
					far = max(far, -x, x-w, -y, y-h)
				}
			}
		}
	}
	return 2 * far
}

// side draws one side at a place.
func (s *Scene) side(c *Canvas, own box, back bool) {
	zero := s.zeroOf(back)
	x, y := own.x0+zero[0], own.y0+zero[1]
	c.group("panel", "side", sideOf(back))
	c.rect("blank", own.x0, own.y0, own.x1-own.x0, own.y1-own.y0)
	c.keep(onArea, own)
	c.edges(onEdge, own)
	onto := func(p point) point { return point{x + p[0], y + p[1]} }
	c.cuts("rapid", s.pathOf(back), true, onto)
	c.cuts("cut", s.pathOf(back), false, onto)
	for _, t := range partStuds(s.Answer, back) {
		c.stud(t, own.x0+fl(t.At.X), own.y0+fl(t.At.Y), own, false, false)
	}
	c.group("zero-mark", "offset", s.offsetOf(back))
	c.zero(x, y, 0)
	c.end()
	mx, _ := own.middle()
	c.middled("label", mx, own.y0-2.6*c.em, 1, s.sideName(back))
	c.end()
}
