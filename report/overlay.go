package report

import (
	"strings"

	"flipcalc/registration"
)

// OverlayDrawing draws both sides at full size over each other, as the face lies, to be
// printed, laid on the blank and held against the light: what the back cuts is carried back
// through the turn. One user unit is one unit of the setup, on paper too. It gives "" where
// no program is known.
func OverlayDrawing(s Setup) string {
	a, d := s.Answer, s.Drawings
	if a == nil || d == nil || d.Face == nil && d.Back == nil || a.Used.W.Sign() <= 0 || a.Used.H.Sign() <= 0 {
		return ""
	}
	w, h := fl(a.Used.W), fl(a.Used.H)
	unit, check := s.Unit.String(), 50.0
	em := 3.5 // mm, the letters of a drawing to be read in the hand (ISO 3098-1, from memory)
	if unit == "in" {
		check, em = 2, em/25.4
	}
	c := openCanvas("overlay", em)
	own := box{0, 0, w, h}
	c.group("blank-outline")
	c.rect("thick", 0, 0, w, h)
	c.end()
	c.edges(onEdge, own)
	for _, back := range []bool{false, true} {
		c.group("side", "side", sideOf(back))
		s.overlaid(c, back)
		c.end()
	}
	for _, t := range partStuds(a, false) {
		c.stud(t, fl(t.At.X), fl(t.At.Y), own, false, false)
	}
	s.letters(c, &shown{w: w, h: h}, nil)
	for _, back := range []bool{false, true} {
		at := s.zeroOnFace(back)
		c.group("zero-mark", "offset", s.offsetOf(back))
		x, y := axes(0)
		if back { // its axes as they point through the turned blank
			x, y = turnedAxes(a.Question.Flip, x, y)
		}
		c.zeroAlong(at[0], at[1], x, y)
		w := words{class: "small", size: 0.85, lines: []string{strings.TrimSpace(sideOf(back) + " " + s.offsetOf(back))}, home: &spot{x: at[0], y: at[1]}}
		for _, far := range []float64{0.9, 1.8} {
			d := far * c.em
			w.spots = append(w.spots, spot{at[0] - d, at[1] - d, "end"}, spot{at[0] + d, at[1] - d, "start"}, spot{at[0] + d, at[1] + d, "start"}, spot{at[0] - d, at[1] + d, "end"})
		}
		c.say(w)
		c.end()
	}
	// What the lines are, and the scale that shows whether the print has its size.
	left, y := c.x0, c.y0-1.6*c.em
	for _, k := range []struct {
		class, text string
		there       bool
	}{{"cut", "face, cut", d.Face != nil}, {"cut through-back", "back, cut, seen through the blank", d.Back != nil}} {
		if !k.there {
			continue
		}
		c.line(k.class, left, y, left+3*c.em, y)
		c.say(words{class: "small", size: 0.85, lines: []string{k.text}, spots: []spot{{left + 3.5*c.em, y, "start"}}})
		y -= 1.5 * c.em
	}
	c.group("print-scale")
	c.line("thick", left, y, left+check, y)
	for _, x := range []float64{left, left + check} {
		c.line("thick", x, y-c.em*0.6, x, y+c.em*0.6)
	}
	c.end()
	for _, text := range []string{
		"Print at 100 %. This line must measure " + rounded(check, 0) + " " + unit + ".",
		"Lay it on the face: A near, B right, C far, D left.",
	} {
		y -= 1.5 * c.em
		c.say(words{class: "small", size: 0.85, lines: []string{text}, spots: []spot{{left, y, "start"}}})
	}
	c.scale = unit
	title := s.Name() + ": both sides over each other, full size"
	desc := "The blank " + size(a.Used) + " " + unit + ", face up. Solid lines are cut from the face, dashed ones from the back, carried back through the turn."
	if d.Face != nil && d.Face.Cut || d.Back != nil && d.Back.Cut {
		desc += " Long programs are drawn in part."
	}
	return c.svg(title, desc, true)
}

// overlaid draws what one side cuts, in the frame of the blank face up: lines, and a
// circle where the tool goes straight down and up again.
func (s *Setup) overlaid(c *canvas, back bool) {
	path := s.pathOf(back)
	if path == nil {
		return
	}
	class := "cut"
	if back {
		class = "cut through-back"
	}
	for _, st := range path.Strokes {
		if st.Rapid {
			continue
		}
		pts := make([][2]float64, len(st.Points))
		for i, p := range st.Points {
			pts[i] = s.onFace(p, back)
			c.grow(pts[i][0], pts[i][1])
		}
		c.polyline(class, pts)
	}
	r := c.em * 0.3
	if back { // both rings of a hole drilled from both sides are seen
		r = c.em * 0.45
	}
	for _, p := range path.Plunges {
		at := s.onFace(p, back)
		c.circle(class, at[0], at[1], r)
	}
}

// onFace carries a place of a side's program to the blank as its face lies.
func (s *Setup) onFace(p [2]float64, back bool) [2]float64 {
	zero := s.Answer.FaceZero
	if back {
		zero = s.Answer.BackZero
	}
	at := [2]float64{p[0] + fl(zero.X), p[1] + fl(zero.Y)}
	if back {
		at = turnPlace(s.Answer, at)
	}
	return at
}

func (s *Setup) zeroOnFace(back bool) [2]float64 { return s.onFace([2]float64{}, back) }

// turnedAxes gives the axes of the back as they lie on the face.
func turnedAxes(f registration.Flip, x, y [2]float64) (tx, ty [2]float64) {
	if f == registration.FlipX {
		return x, [2]float64{-y[0], -y[1]}
	}
	return [2]float64{-x[0], -x[1]}, y
}
