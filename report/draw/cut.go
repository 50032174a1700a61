package draw

import (
	"math"
	"strings"

	"flipcalc/registration"
	"flipcalc/report/letters"
)

// CutWide and CutHigh are the most dots that a map of a side has.
const (
	CutWide = 740
	CutHigh = 520
)

// form is how the figure of a cut blank is laid out, in dots of a picture.
type form struct {
	gap           float64 // between the views
	width, height float64 // a view at most
	listed        bool    // with its name above and the list of findings
	dense         float64 // dots of a map per dot of the picture
}

var (
	// alone is the figure as a file of its own.
	alone = form{gap: 44, width: CutWide, height: CutHigh, listed: true, dense: 1}
	// inSheet is smaller and without the list, which stands beside it. Letters of 22 in
	// 828 dots are 6.8 pt high in a column of 90 mm.
	inSheet = form{gap: 40, width: 378, height: 300, dense: 2}
)

const (
	letterDots = 22.0 // the letters' height
	labelDots  = 66.0 // the two lines under a view
	keyDots    = 300.0
	keyRows    = bands + 2 // the bands, uncut and cut through
)

// blankViews are the cut blank laid out: user units are the blank's.
type blankViews struct {
	*Canvas
	s     *Scene
	form  form
	dot   float64  // a picture's dot in user units
	w, h  float64  // the blank
	views [3]point // near-left corner of each
}

// The three views of a cut blank.
const (
	viewFace = iota
	viewBack
	viewWeb
)

// CutBlank draws the blank that was cut in memory: the face, the back as it lies, and the
// web between them as a map, with pins, no-go areas and numbered findings, which are listed
// beside it. It gives nil where nothing was cut.
func CutBlank(s *Scene) *Canvas { return s.cut(alone) }

// SheetCutBlank is the same, smaller and without the list of findings, for a sheet that
// has them in a table.
func SheetCutBlank(s *Scene) *Canvas { return s.cut(inSheet) }

// CutDots is how many dots of a picture a user unit of CutBlank takes.
func CutDots(s *Scene) float64 {
	w, h, _ := s.blank()
	return alone.dots(w, h)
}

// dots is the scale at which the blank fits a view.
func (f form) dots(w, h float64) float64 { return min(f.width/w, f.height/h) }

func (s *Scene) cut(f form) *Canvas {
	w, h, ok := s.blank()
	if d := s.Cut; !ok || d == nil || d.Web == nil || d.FaceTop == nil || d.BackTop == nil || d.Web.NX == 0 || d.Web.NY == 0 {
		return nil
	}
	dot := 1 / f.dots(w, h)
	v := &blankViews{Canvas: open("web", letterDots*dot), s: s, form: f, dot: dot, w: w, h: h}
	v.paper = true
	v.views[viewBack] = point{(f.width + f.gap) * dot, 0}
	v.views[viewWeb] = point{0, -h - (labelDots+38)*dot}
	v.Title = "Face, back and the web left between them"
	v.Desc = "Upper left the face, upper right the back as it lies, darker is deeper; below the web left between them, seen from the face, darker is thinner. Cut through is black and hatched."
	v.draw()
	return v.Canvas
}

func (v *blankViews) draw() {
	s, d := v.s, v.s.Cut
	t := fl(s.Answer.Used.T)
	depth := func(z float64) int {
		if z <= 0 {
			return -1
		}
		if t <= 0 {
			return 0
		}
		return min(max(int(math.Ceil((t-z)/t*float64(len(depthInks)-1)-hair)), 0), len(depthInks)-1)
	}
	scale, asked := webScale(d.Asked, d.Web.top())
	web := func(z float64) int {
		if t > 0 && z >= t*(1-hair) {
			return uncut
		}
		return scale.band(z)
	}
	v.view("face, as it lies", d.FaceTop, depth, depthInks, viewFace)
	v.view("back, as it lies", d.BackTop, depth, depthInks, viewBack)
	v.view("web left, seen from the face", d.Web, web, bandInks[:], viewWeb)
	v.webKey(&scale, asked)
	v.grow((2*v.form.width+v.form.gap)*v.dot, 0)
	if v.form.listed {
		v.list()
	}
}

// list writes the figure's name above it and the findings beside the web.
func (v *blankViews) list() {
	v.Title = v.s.Name + ": both sides cut in memory"
	v.text("label", "start", 0, v.h+2.1*v.em, 1.1, v.Title+", lengths in "+v.s.Unit.String())
	x, right := v.keyX()+keyDots*v.dot, v.x1
	y := v.views[viewWeb][1] + v.h - v.em
	v.text("label", "start", x, y, 1, "findings")
	v.line("thick", x, y-0.5*v.em, right, y-0.5*v.em)
	y -= 2 * v.em
	texts := []string{"nothing found"}
	if findings := v.s.Cut.Findings; len(findings) > 0 {
		texts = nil
		for i, f := range findings {
			texts = append(texts, itoa(i+1)+"  "+f.Text)
		}
	}
	for _, text := range texts {
		for i, line := range broken("", text, (right-x)/v.em-1) {
			v.text("", "start", x+float64(min(i, 1))*v.em, y, 1, line)
			y -= 1.3 * v.em
		}
	}
	if len(v.s.Cut.Findings) > 0 {
		v.Desc += " " + capital(strings.Join(texts, ". ")) + "."
	}
}

// view draws one view of the blank: its map with what is known of places on it.
func (v *blankViews) view(name string, g *Grid, step func(float64) int, inks []string, which int) {
	s := v.s
	x, y := v.views[which][0], v.views[which][1]
	own := box{x, y, x + v.w, y + v.h}
	v.group("view", "name", name)
	v.cells(own, g, step, inks)
	for _, a := range s.noGoOnBlank(which) {
		a = box{x + max(a.x0, 0), y + max(a.y0, 0), x + min(a.x1, v.w), y + min(a.y1, v.h)}
		if a.x0 < a.x1 && a.y0 < a.y1 {
			v.fillRect("area", "nogo", a.x0, a.y0, a.x1-a.x0, a.y1-a.y0)
			v.areaWords(a, "no-go", "", false)
		}
	}
	v.rect("thick", own.x0, own.y0, v.w, v.h)
	v.edges(onEdge, own)
	for _, t := range partStuds(s.Answer, which == viewBack) {
		class := "pin"
		if s.Answer.Question.Register == registration.Plug { // what was cut there shows
			class = "thick"
		}
		v.circle("rim", x+fl(t.At.X), y+fl(t.At.Y), fl(t.Dia)/2)
		v.pin(class, x+fl(t.At.X), y+fl(t.At.Y), fl(t.Dia))
	}
	v.lettersRound(own, EdgeLetters(s.Answer.Question.Flip, which == viewBack, 0), 0.65) // off the cuts
	if which != viewWeb {
		zero := s.zeroOf(which == viewBack)
		v.zero(x+zero[0], y+zero[1], 0)
	}
	v.findings(own, which)
	v.text("", "start", x, y-30*v.dot, 1, name)
	if d := s.Cut; which == viewWeb && d.Least > 0 {
		v.text("label", "start", x, y-58*v.dot, 1, "least "+letters.Down(d.Least, 3)+", ringed")
	}
	if which != viewWeb {
		v.text("", "start", x, y-58*v.dot, 1, "darker is deeper")
		n := roundLength(v.w * 0.25)
		v.bar("thick", own.x1-n, y-22*v.dot, n, 7*v.dot)
		v.text("", "end", own.x1-n-10*v.dot, y-30*v.dot, 1, letters.Rounded(n, 4)+" "+s.Unit.String())
	}
	v.end()
}

// cells fills a box with a map. Row 0 of the grid lies at the foot; step gives the ink of
// each value, -1 for a hole, which is black and hatched.
func (v *blankViews) cells(b box, g *Grid, step func(float64) int, inks []string) {
	size := func(long float64) int { return max(1, int(math.Round(long/v.dot*v.form.dense))) }
	v.growBox(b)
	v.add(dots{b, inkedMap(g, size(b.x1-b.x0), size(b.y1-b.y0), int(mapRule*v.form.dense), step, inks)})
}

// findings numbers the findings that have a place on a view, and marks the least web. Each
// number stands beside its place, so that the place itself can be seen.
func (v *blankViews) findings(own box, which int) {
	zero, d := v.s.zeroOf(false), v.s.Cut
	place := func(p point) spot {
		at := point{p[0] + zero[0], p[1] + zero[1]}
		if which == viewBack {
			at = v.s.turned(at)
		}
		// A finding off the blank is marked at its edge.
		return spot{x: own.x0 + min(max(at[0], 0), v.w), y: own.y0 + min(max(at[1], 0), v.h)}
	}
	if which == viewWeb && d.Least > 0 {
		v.least(place(d.LeastAt))
	}
	for i, f := range d.Findings {
		var at []point
		if f.Face != nil && (which == viewFace && f.OnFace || which == viewBack && f.OnBack && f.Back == nil || which == viewWeb) {
			at = append(at, *f.Face)
		}
		if f.Back != nil && which != viewFace {
			at = append(at, *f.Back)
		}
		for _, p := range at {
			v.number(itoa(i+1), place(p), own, 1)
		}
	}
}

// number puts a number beside a place, inside a box where there is room.
func (c *Canvas) number(text string, home spot, inside box, size float64) {
	c.keep(onMark, box{home.x, home.y, home.x, home.y}.grown(0.35*c.em))
	w := words{class: "found", size: size, lines: []string{text}, rank: 1, ringed: true, pointed: true, own: &inside, inside: inside, home: &home}
	for _, far := range []float64{1.6, 2.2, 3} {
		for _, eighth := range []float64{1, 3, 7, 5, 0, 2, 4, 6} { // towards the middle first
			sin, cos := math.Sincos(eighth * math.Pi / 4)
			if _, y := inside.middle(); home.y > y+c.em {
				sin = -sin
			}
			w.spots = append(w.spots, spot{home.x + far*c.em*cos, home.y + far*c.em*sin, "middle"})
		}
	}
	c.say(w)
}

// least marks the least web.
func (v *blankViews) least(at spot) {
	r, out := 0.7*v.em, 1.1*v.em
	for _, class := range []string{"rim", "thick"} {
		v.circle(class, at.x, at.y, r)
		v.line(class, at.x-out, at.y, at.x-r/2, at.y)
		v.line(class, at.x+r/2, at.y, at.x+out, at.y)
	}
	v.keep(onMark, box{at.x, at.y, at.x, at.y}.grown(r))
}

func (v *blankViews) keyX() float64 { return v.w + 36*v.dot }

// webKey is the scale of the web map, thick at the top.
func (v *blankViews) webKey(e *scale, asked bool) {
	step := max(30*v.dot, min(v.h/keyRows, 46*v.dot))
	x, wide := v.keyX(), 44*v.dot
	top := v.views[viewWeb][1] + v.h
	row := func(i int, value float32, text string) {
		b := box{x, top - step*float64(i+1), x + wide, top - step*float64(i)}
		v.cells(b, &Grid{NX: 1, NY: 1, V: []float32{value}}, func(z float64) int { return int(z) }, bandInks[:])
		v.rect("thick", b.x0, b.y0, wide, step)
		v.say(words{lines: []string{text}, size: 1, spots: []spot{{b.x1 + 10*v.dot, b.y0 + step/2, "start"}}})
	}
	for i := range bands + 1 {
		row(bands-i, float32(i), e.key(i, asked, v.s.Unit))
	}
	row(bands+1, -1, "cut through")
	v.text("", "start", x, top-step*(bands+2)-30*v.dot, 1, "web, "+v.s.Unit.String())
}

// noGoOnBlank gives the no-go areas of the bed in the frame of the blank as it
// lies in a view.
func (s *Scene) noGoOnBlank(view int) (areas []box) {
	if view == viewWeb {
		return nil
	}
	turn, square := s.Answer.FaceTurn, true
	if view == viewBack {
		turn, square = s.Answer.BackQuarter()
	}
	for _, st := range s.Stations {
		if st.Side != sideOf(view == viewBack) || !square {
			continue
		}
		for _, n := range s.NoGo {
			n.X, n.Y = n.X.Sub(st.Corner.X), n.Y.Sub(st.Corner.Y)
			areas = append(areas, rectBox(n.Rect.Turned(turn.Back(), registration.Blank{W: st.Blank.W, H: st.Blank.H})))
		}
		break
	}
	return areas
}
