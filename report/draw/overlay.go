package draw

import (
	"strings"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// Overlay draws both sides at full size over each other, as the face lies, to be
// printed, laid on the blank and held against the light: what the back cuts is carried back
// through the turn. One user unit is one unit of the scene, on paper too; Sheet names the
// least paper that holds it. It gives nil where no program is known.
func Overlay(s *Scene) (c *Canvas) {
	if _, _, ok := s.blank(); !ok || s.Face == nil && s.Back == nil {
		return nil
	}
	sizes := papers[s.Unit]
	per := 1.0
	if s.Unit == transform.Inch {
		per = transform.MMPerInch
	}
	fits := func(p paper) bool {
		b := c.shown()
		return p.holds((b.x1-b.x0)*per, (b.y1-b.y0)*per)
	}
	for _, p := range sizes {
		if c != nil && !fits(p) {
			continue
		}
		if c = s.overlay(p.name); fits(p) { // its words count too
			return c
		}
	}
	return s.overlay("paper larger than " + sizes[len(sizes)-1].name)
}

// overlay draws the overlay, to be printed on a sheet.
func (s *Scene) overlay(sheet string) *Canvas {
	w, h, _ := s.blank()
	unit, check := s.Unit.String(), 50.0
	em := 3.5 // mm, the letters of a drawing to be read in the hand (ISO 3098-1, from memory)
	if unit == "in" {
		check, em = 2, em/transform.MMPerInch
	}
	c := open("overlay", em)
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
	for _, t := range partStuds(s.Answer, false) {
		c.stud(t, fl(t.At.X), fl(t.At.Y), own, false, false)
	}
	c.edgeLetters(own, EdgeLetters(s.Answer.Question.Flip, false, 0))
	for _, back := range []bool{false, true} {
		at := s.onFace(point{}, back)
		c.group("zero-mark", "offset", s.offsetOf(back))
		x, y := axes(0)
		if back { // its axes as they point through the turned blank
			x, y = turnedAxes(s.Answer.Question.Flip, x, y)
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
	s.overlayKey(c, check, sheet)
	c.scale, c.Sheet = unit, sheet
	c.Title = s.Name + ": both sides over each other, full size"
	blank := s.Answer.Used
	size := blank.W.String() + " x " + blank.H.String()
	if !blank.T.IsZero() {
		size += " x " + blank.T.String()
	}
	c.Desc = "The blank " + size + " " + unit + ", face up. Solid lines are cut from the face, dashed ones from the back, carried back through the turn."
	if s.Face != nil && s.Face.Cut || s.Back != nil && s.Back.Cut {
		c.Desc += " Long programs are drawn in part."
	}
	return c
}

// overlayKey says what the lines are, and has the line that shows whether the print has its
// size on the sheet that it needs.
func (s *Scene) overlayKey(c *Canvas, check float64, sheet string) {
	left, y := c.x0, c.y0-1.6*c.em
	for _, k := range []struct {
		class, text string
		there       bool
	}{{"cut", "face, cut", s.Face != nil}, {"cut through-back", "back, cut, seen through the blank", s.Back != nil}} {
		if !k.there {
			continue
		}
		c.key(k.class, k.text, left, y, 3*c.em)
		y -= 1.5 * c.em
	}
	c.group("print-scale")
	c.bar("thick", left, y, check, c.em*0.6)
	c.end()
	for _, text := range []string{
		"Print at 100 % on " + sheet + ". This line must measure " + letters.Rounded(check, 0) + " " + s.Unit.String() + ".",
		"Lay it on the face: A near, B right, C far, D left.",
	} {
		y -= 1.5 * c.em
		c.say(words{class: "small", size: 0.85, lines: []string{text}, spots: []spot{{left, y, "start"}}})
	}
}

// overlaid draws what one side cuts, in the frame of the blank face up: lines, and a
// circle where the tool goes straight down and up again.
func (s *Scene) overlaid(c *Canvas, back bool) {
	path := s.pathOf(back)
	if path == nil {
		return
	}
	class := "cut"
	if back {
		class = "cut through-back"
	}
	c.cuts(class, path, false, func(p point) point { return s.onFace(p, back) })
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
func (s *Scene) onFace(p point, back bool) point {
	zero := s.zeroOf(back)
	at := point{p[0] + zero[0], p[1] + zero[1]}
	if back {
		at = s.turned(at)
	}
	return at
}

// turnedAxes gives the axes of the back as they lie on the face.
func turnedAxes(f registration.Flip, x, y point) (tx, ty point) {
	if f == registration.FlipX {
		return x, point{-y[0], -y[1]}
	}
	return point{-x[0], -x[1]}, y
}
