package report

import (
	"strings"

	"flipcalc/registration"
)

// PathDrawing draws the face and the back as they lie, with tool paths and zero.
func PathDrawing(s Setup) string { return s.pathsAlone(false, true) }

// SideDrawing draws one side of the blank alone, as it lies, with its tool paths and
// zero. It gives "" where there is no program for that side.
func SideDrawing(s Setup, back bool) string {
	if d := s.Drawings; d == nil || back && d.Back == nil || !back && d.Face == nil {
		return ""
	}
	return s.pathsAlone(back)
}

func (s *Setup) pathsAlone(backs ...bool) string {
	c, title, desc := s.paths(backs...)
	if c == nil {
		return ""
	}
	return c.svg(title, desc, true)
}

func (s *Setup) pathFigure() Figure {
	c, title, desc := s.paths(false, true)
	if c == nil {
		return Figure{}
	}
	return Figure{ID: "paths", Title: title, Desc: desc, SVG: c.svg(title, desc, false)}
}

// paths draws the sides side by side, a long blank's one below the other.
func (s *Setup) paths(backs ...bool) (c *canvas, title, desc string) {
	a, dr := s.Answer, s.Drawings
	if a == nil || dr == nil || dr.Face == nil && dr.Back == nil || a.Used.W.Sign() <= 0 || a.Used.H.Sign() <= 0 {
		return nil, "", ""
	}
	w, h := fl(a.Used.W), fl(a.Used.H)
	below := w > 3*h
	over := s.overhang(w, h)
	gap := max(w*0.22, h*0.1, over)
	n := float64(len(backs))
	wide, high := n*w+(n-1)*gap, h
	if below {
		wide, high = w, n*h
	}
	c = openCanvas("paths", letterHeight(wide, high, 0.028))
	if len(backs) == 1 {
		c.id = "path-" + sideOf(backs[0])
	}
	for i, back := range backs {
		// Room for the axes between the sides, and for the names under them.
		x, y := max(w+max(gap, 5*c.em), (textWidth("label", s.sideName(back))+1.5)*c.em)*float64(i), 0.0
		if below {
			x, y = 0, -(h+over+6.5*c.em)*float64(i)
		}
		s.pathPanel(c, x, y, w, h, back)
	}
	// Key.
	y := c.y0 - 1.0*c.em
	for i, t := range []string{"cutting", "rapid"} {
		x := float64(i) * 8 * c.em
		c.line([]string{"cut", "rapid"}[i], x, y, x+2.4*c.em, y)
		c.say(words{class: "small", size: 0.85, lines: []string{t}, spots: []spot{{x + 2.9*c.em, y, "start"}}})
	}
	title = "Face and back with their tool paths"
	desc = "Left the face, right the back, each"
	switch {
	case len(backs) == 1:
		title = "The " + sideOf(backs[0]) + " with its tool paths"
		desc = capital(sideOf(backs[0])) + " up,"
	case below:
		desc = "Above the face, below the back, each"
	}
	desc += " as it lies and seen from above, with its program's zero, X and Y. Solid lines cut, dotted lines are rapid moves."
	for _, back := range backs {
		if p := s.pathOf(back); p != nil && p.Cut {
			desc += " Long programs are drawn in part."
			break
		}
	}
	return c, title, desc
}

// offsetOf is the offset of a side's program, "" where none is known.
func (s *Setup) offsetOf(back bool) string {
	switch {
	case !back:
		return faceOffset(s.Answer)
	case s.Answer.Second != nil:
		return s.Answer.Second.Offset
	}
	return ""
}

func (s *Setup) sideName(back bool) string {
	return strings.TrimSpace(sideOf(back)+" "+s.offsetOf(back)) + ", as it lies"
}

// overhang is the room that cuts beside the blank ask for between the two sides.
func (s *Setup) overhang(w, h float64) float64 {
	far := 0.0
	for i, p := range []*Path{s.Drawings.Face, s.Drawings.Back} {
		if p == nil {
			continue
		}
		zero := [2]registration.Point{s.Answer.FaceZero, s.Answer.BackZero}[i]
		for _, st := range p.Strokes {
			for _, at := range st.Points {
				if x, y := at[0]+fl(zero.X), at[1]+fl(zero.Y); !st.Rapid {
					far = max(far, -x, x-w, -y, y-h)
				}
			}
		}
	}
	return 2 * far
}

func (s *Setup) pathOf(back bool) *Path {
	if back {
		return s.Drawings.Back
	}
	return s.Drawings.Face
}

func (s *Setup) pathPanel(c *canvas, x, y, w, h float64, back bool) {
	a := s.Answer
	zero := a.FaceZero
	if back {
		zero = a.BackZero
	}
	c.group("panel", "side", sideOf(back))
	c.rect("blank", x, y, w, h)
	own := box{x, y, x + w, y + h}
	c.keep(onArea, own)
	c.edges(onEdge, own)
	zx, zy := fl(zero.X), fl(zero.Y)
	if path := s.pathOf(back); path != nil {
		// Rapids first, so that cuts lie on top.
		for _, rapid := range []bool{true, false} {
			class := "cut"
			if rapid {
				class = "rapid"
			}
			for _, st := range path.Strokes {
				if st.Rapid != rapid {
					continue
				}
				pts := make([][2]float64, len(st.Points))
				for i, p := range st.Points {
					pts[i] = [2]float64{x + p[0] + zx, y + p[1] + zy}
					if !rapid { // what cuts beside the blank shows too
						c.grow(pts[i][0], pts[i][1])
					}
				}
				c.polyline(class, pts)
			}
		}
	}
	for _, t := range partStuds(a, back) {
		c.stud(t, x+fl(t.At.X), y+fl(t.At.Y), own, false, false)
	}
	c.group("zero-mark", "offset", s.offsetOf(back))
	c.zero(x+zx, y+zy, 0)
	c.end()
	c.middled("label", x+w/2, y-2.6*c.em, 1, s.sideName(back))
	c.end()
}
