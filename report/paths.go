package report

import "flipcalc/registration"

// PathDrawing draws the face and the back as they lie, with tool paths and zero.
func PathDrawing(s Setup) string {
	c, title, desc := s.paths()
	if c == nil {
		return ""
	}
	return c.svg(title, desc, true)
}

func (s *Setup) pathFigure() Figure {
	c, title, desc := s.paths()
	if c == nil {
		return Figure{}
	}
	return Figure{ID: "paths", Title: title, Desc: desc, SVG: c.svg(title, desc, false)}
}

func (s *Setup) paths() (c *canvas, title, desc string) {
	a, dr := s.Answer, s.Drawings
	if a == nil || dr == nil || dr.Face == nil && dr.Back == nil || a.Used.W.Sign() <= 0 {
		return nil, "", ""
	}
	w, h := fl(a.Used.W), fl(a.Used.H)
	gap := max(w*0.22, h*0.1)
	const share = 0.026
	total := 2*w + gap
	em := (total + gap) * share
	c = newCanvas("paths", -gap/2, -4.6*em, total+gap/2, h+2.4*em, share)
	s.pathPanel(c, 0, w, h, false)
	s.pathPanel(c, w+gap, w, h, true)
	// Key.
	y := -3.9 * em
	c.line("cut", 0, y, 2.4*em, y)
	c.text("small", "start", 2.9*em, y-0.3*em, 0.85, "cutting")
	c.line("rapid", 8*em, y, 10.4*em, y)
	c.text("small", "start", 10.9*em, y-0.3*em, 0.85, "rapid")
	title = "Face and back with their tool paths"
	desc = "Left the face, right the back, each as it lies and seen from above, with its program's zero, X and Y. Solid lines cut, dotted lines are rapid moves."
	if dr.Face != nil && dr.Face.Cut || dr.Back != nil && dr.Back.Cut {
		desc += " Long programs are drawn in part."
	}
	return c, title, desc
}

func (s *Setup) pathPanel(c *canvas, x, w, h float64, back bool) {
	a := s.Answer
	zero, path, name := a.FaceZero, s.Drawings.Face, "face"
	offset := a.Question.Offset
	if offset == "" {
		offset = "G54"
	}
	if back {
		zero, path, name = a.BackZero, s.Drawings.Back, "back"
		offset = ""
		if a.Second != nil {
			offset = a.Second.Offset
		}
	}
	c.group("panel", "side", sideOf(back))
	c.rect("blank", x, 0, w, h)
	zx, zy := fl(zero.X), fl(zero.Y)
	if path != nil {
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
					pts[i] = [2]float64{x + p[0] + zx, p[1] + zy}
				}
				c.polyline(class, pts)
			}
		}
	}
	for _, p := range partPins(a, back) {
		c.pin("pin", x+fl(p.At.X), fl(p.At.Y), fl(p.Dia))
	}
	c.group("zero-mark", "offset", offset)
	c.zero(x+zx, zy, 0)
	c.end()
	c.middled("label", x+w/2, -2.2*c.em, 1, name+" "+offset+", as it lies")
	c.end()
}

// partPins gives the dowels' places on the blank as it lies.
func partPins(a *registration.Answer, back bool) []registration.Pin {
	var out []registration.Pin
	for _, p := range a.Question.Pins {
		q := p
		if back {
			switch a.Question.Flip {
			case registration.FlipY:
				q.At.X = a.Used.W.Sub(p.At.X)
			case registration.FlipX:
				q.At.Y = a.Used.H.Sub(p.At.Y)
			}
		}
		out = append(out, q)
	}
	return out
}
