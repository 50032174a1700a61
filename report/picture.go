package report

import (
	"errors"
	"io"
	"math"
	"strings"

	"flipcalc/registration"
)

// ErrNoPicture says that a setup was not checked, so that there is nothing to show.
var ErrNoPicture = errors.New("report: no cut blank to draw")

// PicturePNG writes the picture of a checked blank: the face, the back as it
// lies, and the web as a map, with pins, no-go areas and numbered findings.
func PicturePNG(w io.Writer, s Setup) error {
	p, err := s.picture(pictureWide)
	if err != nil {
		return err
	}
	b := newRaster(p.w, p.h)
	p.draw(b)
	return b.write(w)
}

// PictureSVG writes the same picture as SVG.
func PictureSVG(w io.Writer, s Setup) error {
	p, err := s.picture(pictureWide)
	if err != nil {
		return err
	}
	svg, err := p.svg()
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, svg)
	return err
}

// webFigure is the picture as the sheet shows it: smaller, and without the list of
// findings, which stands beside it.
func (s *Setup) webFigure() Figure {
	p, err := s.picture(pictureSlim)
	if err != nil {
		return Figure{}
	}
	svg, err := p.svg()
	if err != nil {
		return Figure{}
	}
	return Figure{ID: "web", Title: "Face, back and the web left between them", Desc: p.desc, SVG: svg}
}

// webDrawing is the picture as a file of its own, "" where nothing was cut.
func webDrawing(s Setup) string {
	var b strings.Builder
	if PictureSVG(&b, s) != nil {
		return ""
	}
	return b.String()
}

func (p *picture) svg() (string, error) {
	b := &vector{w: p.w, h: p.h, title: p.title, desc: p.desc, dense: p.form.dense}
	p.draw(b)
	return b.svg()
}

// A board takes a picture's strokes. Its unit is the pixel of the PNG, Y down.
type board interface {
	// cells fills a rectangle with a map whose row 0 is the lowest; band gives the
	// step of each value, -1 for a hole, which is black and hatched.
	cells(x, y, w, h float64, g *Grid, band func(float64) int, inks []string)
	fill(x, y, w, h float64, ink string)
	// hatch marks what may not be entered, with lines that lean the other way than
	// those of a hole; through says that it is a hole after all.
	hatch(x, y, w, h float64, through bool)
	frame(x, y, w, h, width float64)
	line(x1, y1, x2, y2, width float64, dashed bool)
	ring(x, y, r, width float64, fill string)
	// leader leads from a place, marked by a dot, to its number.
	leader(x1, y1, x2, y2 float64)
	// text writes one line; anchor is start, middle or end, and y its foot. size 2
	// is the usual one, 1 half of it.
	text(x, y float64, size int, anchor, s string)
}

// The letters of the PNG are 7 wide and 12 high at size 1, the room between them
// and below them included.
const (
	letterWide = 7
	letterHigh = 12
)

// form is how a picture is laid out.
type form struct {
	margin, top   float64
	width, height float64 // a panel at most
	listed        bool    // with its name above and the list of findings
	dense         int     // dots of a map per unit
}

var (
	pictureWide = form{margin: 44, top: 96, width: pictureWidth, height: pictureHeight, listed: true, dense: 1}
	// Letters of 22 in 828 units are 6.8 pt high in a column of 90 mm.
	pictureSlim = form{margin: 16, top: 16, width: 390, height: 300, dense: 2}
)

// picture is a picture laid out.
type picture struct {
	s           *Setup
	form        form
	w, h        int
	title, desc string
	k           float64 // pixels per unit
	pw, ph      float64 // a panel
	views       [3]struct{ x, y float64 }
	list        []string
}

const (
	panelLabel = 66               // the two lines under a panel
	keyStep    = 2*letterHigh + 6 // a line of the key
	keyRows    = bands + 2        // the bands, uncut and cut through
	keyWide    = 300
)

func (s *Setup) picture(f form) (*picture, error) {
	d := s.Drawings
	if s.Check == nil || d == nil || d.Web == nil || d.FaceTop == nil || d.BackTop == nil || s.Answer == nil || d.Web.NX == 0 || d.Web.NY == 0 {
		return nil, ErrNoPicture
	}
	b := s.Answer.Used
	w, h := fl(b.W), fl(b.H)
	if !(w > 0 && h > 0) {
		return nil, ErrNoPicture
	}
	wide := 2*f.width + 3*f.margin
	p := &picture{s: s, form: f, w: int(wide)}
	p.k = min(f.width/w, f.height/h)
	p.pw, p.ph = max(math.Round(w*p.k), 1), max(math.Round(h*p.k), 1)
	low := f.top + p.ph + panelLabel + 38
	p.views[viewFace].x, p.views[viewFace].y = f.margin, f.top
	p.views[viewBack].x, p.views[viewBack].y = 2*f.margin+f.width, f.top
	p.views[viewWeb].x, p.views[viewWeb].y = f.margin, low
	lines := 0
	if f.listed {
		room := int((wide - p.listX() - f.margin) / (2 * letterWide))
		for i, f := range s.Check.Findings {
			p.list = append(p.list, listLines(itoa(i+1)+" "+f.Text, room)...)
		}
		if len(s.Check.Findings) == 0 {
			p.list = listLines("nothing found", room)
		}
		lines = len(p.list)*(2*letterHigh+4) + 160
	}
	p.h = int(low + max(p.ph+panelLabel, float64(lines), keyStep*(keyRows+1)+10) + f.margin)
	p.title = s.Name() + ": both sides cut in memory"
	p.desc = "Upper left the face, upper right the back as it lies, darker is deeper; below the web left between them, seen from the face, darker is thinner. Cut through is black and hatched. " + plural(len(s.Check.Findings), "finding", "findings") + "."
	for i, f := range s.Check.Findings {
		p.desc += " " + itoa(i+1) + ": " + f.Text + "."
	}
	return p, nil
}

// listLines breaks a text for the list, its further lines indented.
func listLines(text string, room int) []string {
	var out []string
	for i, l := range wrap(ascii(text), max(room-2, 12)) {
		if i > 0 {
			l = "  " + l
		}
		out = append(out, l)
	}
	return out
}

// listX is where the list of findings begins, right of the web map's key.
func (p *picture) listX() float64 { return p.keyX() + keyWide }

func (p *picture) keyX() float64 { return p.form.margin + p.pw + 36 }

func (p *picture) draw(b board) {
	s := p.s
	b.fill(0, 0, float64(p.w), float64(p.h), "#ffffff")
	t := fl(s.Answer.Used.T)
	d := s.Drawings
	depth := func(v float64) int {
		if v <= 0 {
			return -1
		}
		if t <= 0 {
			return 0
		}
		return min(max(int(math.Ceil((t-v)/t*float64(len(depthInks)-1)-hair)), 0), len(depthInks)-1)
	}
	scale, asked := s.webScale(d.Web.top())
	web := func(v float64) int {
		if t > 0 && v >= t*(1-hair) {
			return uncut
		}
		return scale.band(v)
	}
	p.panel(b, "face, as it lies", d.FaceTop, depth, depthInks, viewFace)
	p.panel(b, "back, as it lies", d.BackTop, depth, depthInks, viewBack)
	p.panel(b, "web left, seen from the face", d.Web, web, bandInks[:], viewWeb)
	p.webKey(b, p.keyX(), p.views[viewWeb].y, &scale, asked)
	if !p.form.listed {
		return
	}
	b.text(p.form.margin, 56, 2, "start", ascii(p.title)+" - "+inUnits(s.Unit))
	x, y := p.listX(), p.views[viewWeb].y
	b.text(x, y+22, 2, "start", "findings")
	b.line(x, y+32, float64(p.w)-p.form.margin, y+32, 2, false)
	for i, l := range p.list {
		b.text(x, y+64+float64(i)*(2*letterHigh+4), 2, "start", l)
	}
}

// The three views of a picture.
const (
	viewFace = iota
	viewBack
	viewWeb
)

func (p *picture) panel(b board, name string, g *Grid, step func(float64) int, inks []string, view int) {
	s := p.s
	x, y := p.views[view].x, p.views[view].y
	b.cells(x, y, p.pw, p.ph, g, step, inks)
	for _, r := range s.noGoOnBlank(view) {
		x1, y1 := max(r[0], 0)*p.k, max(r[1], 0)*p.k
		x2, y2 := min(r[2]*p.k, p.pw), min(r[3]*p.k, p.ph)
		if x1 < x2 && y1 < y2 {
			b.hatch(x+x1, y+p.ph-y2, x2-x1, y2-y1, false)
			b.frame(x+x1, y+p.ph-y2, x2-x1, y2-y1, 2)
			b.text(x+(x1+x2)/2, y+p.ph-(y1+y2)/2+8, 2, "middle", "no-go")
		}
	}
	b.frame(x, y, p.pw, p.ph, 3)
	for _, pin := range partPins(s.Answer, view == viewBack) {
		px, py := x+fl(pin.At.X)*p.k, y+p.ph-fl(pin.At.Y)*p.k
		r := max(fl(pin.Dia)/2*p.k, 4)
		b.ring(px, py, r, 2.5, "#ffffff")
		b.line(px-r-7, py, px+r+7, py, 1.5, true)
		b.line(px, py-r-7, px, py+r+7, 1.5, true)
	}
	if q := s.Answer.Question; q.Bore != nil {
		at := turnedTo(s.Answer, q.Bore.At, view == viewBack)
		b.ring(x+at[0]*p.k, y+p.ph-at[1]*p.k, max(fl(q.Bore.Dia)/2*p.k, 4), 2.5, "")
	}
	p.letters(b, x, y, view)
	p.zero(b, x, y, view)
	p.marks(b, x, y, view)
	b.text(x, y+p.ph+30, 2, "start", name)
	if view != viewWeb {
		b.text(x, y+p.ph+58, 2, "start", "darker is deeper")
		n := roundLength(fl(s.Answer.Used.W) * 0.25)
		end := x + p.pw
		b.line(end-n*p.k, y+p.ph+22, end, y+p.ph+22, 2, false)
		b.line(end-n*p.k, y+p.ph+15, end-n*p.k, y+p.ph+29, 2, false)
		b.line(end, y+p.ph+15, end, y+p.ph+29, 2, false)
		b.text(end-n*p.k-10, y+p.ph+30, 2, "end", rounded(n, 4)+" "+s.Unit.String())
	}
}

// lettersIn is how far the edges' letters stand inside the blank.
const lettersIn = 20.0

// letterSpots are where the letters of the near, right, far and left edge stand, beside
// the middle, where zeros and centre lines are.
func (p *picture) letterSpots(x, y float64) [4][2]float64 {
	return [4][2]float64{{x + p.pw*0.4, y + p.ph - lettersIn}, {x + p.pw - lettersIn, y + p.ph*0.4}, {x + p.pw*0.4, y + lettersIn}, {x + lettersIn, y + p.ph*0.4}}
}

// letters writes the edges' letters as they lie in a view.
func (p *picture) letters(b board, x, y float64, view int) {
	if min(p.pw, p.ph) < 6*lettersIn {
		return
	}
	l := edgeLetters(p.s.Answer.Question.Flip, view == viewBack, 0)
	for k, at := range p.letterSpots(x, y) {
		b.text(at[0], at[1]+9, 2, "middle", l[k])
	}
}

// zero marks X0 Y0 of the view's program with its X and Y.
func (p *picture) zero(b board, x, y float64, view int) {
	if view == viewWeb {
		return
	}
	z := p.s.Answer.FaceZero
	if view == viewBack {
		z = p.s.Answer.BackZero
	}
	zx, zy := x+fl(z.X)*p.k, y+p.ph-fl(z.Y)*p.k
	const long = 54.0
	for _, d := range [][2]float64{{1, 0}, {0, -1}} {
		ex, ey := zx+d[0]*long, zy+d[1]*long
		b.line(zx, zy, ex, ey, 3, false)
		b.line(ex, ey, ex-d[0]*12-d[1]*6, ey-d[1]*12-d[0]*6, 3, false)
		b.line(ex, ey, ex-d[0]*12+d[1]*6, ey-d[1]*12+d[0]*6, 3, false)
	}
	b.ring(zx, zy, 8, 3, "#ffffff")
	b.ring(zx, zy, 2, 3, "#000000")
	b.text(zx+long+14, zy+9, 2, "middle", "X")
	b.text(zx, zy-long-6, 2, "middle", "Y")
}

// marks numbers the findings that have a place on the view, and the least web. Each
// number stands beside its place, so that the place itself can be seen.
func (p *picture) marks(b board, x, y float64, view int) {
	s := p.s
	zx, zy := s.faceZero()
	place := func(fx, fy float64) [2]float64 {
		at := [2]float64{fx + zx, fy + zy}
		if view == viewBack {
			at = turnPlace(s.Answer, at)
		}
		// A finding off the blank is marked at its edge.
		return [2]float64{x + min(max(at[0]*p.k, 0), p.pw), y + p.ph - min(max(at[1]*p.k, 0), p.ph)}
	}
	var marks []bubble
	for i, f := range s.Check.Findings {
		if !f.HasPlace || view == viewFace && f.FaceLine == 0 && f.BackLine != 0 || view == viewBack && f.BackLine == 0 && f.FaceLine != 0 {
			continue
		}
		if f.Back == nil || view != viewBack {
			marks = append(marks, bubble{text: itoa(i + 1), at: place(f.X, f.Y)})
		}
		if f.Back != nil && view != viewFace {
			marks = append(marks, bubble{text: itoa(i + 1), at: place(f.Back.X, f.Back.Y)})
		}
	}
	frame := [4]float64{x, y, x + p.pw, y + p.ph}
	spots := p.letterSpots(x, y)
	taken := spots[:]
	if c := s.Check; view == viewWeb && c.HasWeb && c.WebMin > 0 {
		at := place(c.WebAt.X, c.WebAt.Y)
		b.ring(at[0], at[1], 15, 3, "")
		b.line(at[0]-24, at[1], at[0]-8, at[1], 3, false)
		b.line(at[0]+8, at[1], at[0]+24, at[1], 3, false)
		text := "least " + down(c.WebMin, 3)
		half := float64(len(text)*letterWide) + 4
		tx := min(max(at[0], x+half), x+p.pw-half)
		b.text(tx, at[1]-24, 2, "middle", text)
		for d := -half; d <= half; d += markRadius {
			taken = append(taken, [2]float64{tx + d, at[1] - 32})
		}
	}
	placeMarks(marks, taken, frame)
	for _, m := range marks {
		b.leader(m.at[0], m.at[1], m.to[0], m.to[1])
	}
	for _, m := range marks {
		b.ring(m.to[0], m.to[1], markRadius, 3, "#ffffff")
		b.text(m.to[0], m.to[1]+9, 2, "middle", m.text)
	}
}

// bubble is a number at a place, with the middle of its ring beside it.
type bubble struct {
	text   string
	at, to [2]float64
}

// markRadius is the radius of a number's ring, and markSpots are where it may stand
// from its place, the best first.
const markRadius = 17.0

var markSpots = func() [][2]float64 {
	var out [][2]float64
	for _, d := range []float64{44, 68, 92, 120} {
		for _, turn := range []float64{1, 3, 7, 5, 0, 2, 4, 6} { // eighths, upwards first
			sin, cos := math.Sincos(turn * math.Pi / 4)
			out = append(out, [2]float64{d * cos, -d * sin})
		}
	}
	return out
}()

// placeMarks finds a spot for each mark inside the frame (left, top, right, bottom),
// clear of what is taken, of other marks and of the places they stand for; where
// there is none it takes the first.
func placeMarks(marks []bubble, taken [][2]float64, frame [4]float64) {
	near := func(a, b [2]float64, d float64) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) < d }
	for i := range marks {
		m := &marks[i]
		crosses := func(at [2]float64) bool {
			for _, o := range marks[:i] {
				if apart(o.at, o.to, m.at, at) && apart(m.at, at, o.at, o.to) {
					return true
				}
			}
			return false
		}
		fits := func(at [2]float64) bool {
			if at[0] < frame[0]+markRadius || at[0] > frame[2]-markRadius || at[1] < frame[1]+markRadius || at[1] > frame[3]-markRadius {
				return false
			}
			for _, t := range taken {
				if near(at, t, 2*markRadius+4) {
					return false
				}
			}
			for _, o := range marks {
				if near(at, o.at, markRadius+8) {
					return false
				}
			}
			return !crosses(at)
		}
		m.to = [2]float64{m.at[0] + markSpots[0][0], m.at[1] + markSpots[0][1]}
		for _, d := range markSpots {
			if at := [2]float64{m.at[0] + d[0], m.at[1] + d[1]}; fits(at) {
				m.to = at
				break
			}
		}
		taken = append(taken, m.to)
	}
}

// apart says whether two places lie on different sides of the line through a and b.
func apart(a, b, p, q [2]float64) bool {
	side := func(r [2]float64) float64 { return (b[0]-a[0])*(r[1]-a[1]) - (b[1]-a[1])*(r[0]-a[0]) }
	return side(p)*side(q) < 0
}

// webKey is the scale of the web map, thick at the top.
func (p *picture) webKey(b board, x, y float64, e *scale, asked bool) {
	step := max(keyStep, min(p.ph/keyRows, 46))
	for i := range bands + 1 {
		at := y + step*float64(bands-i)
		b.fill(x, at, 44, step, bandInks[i])
		b.frame(x, at, 44, step, 1.5)
		b.text(x+54, at+step/2+9, 2, "start", e.key(i, asked, p.s.Unit))
	}
	at := y + step*(bands+1)
	b.hatch(x, at, 44, step, true)
	b.frame(x, at, 44, step, 1.5)
	b.text(x+54, at+step/2+9, 2, "start", "cut through")
	b.text(x, at+step+30, 2, "start", "web, "+p.s.Unit.String())
}

// faceZero is the face zero in the blank's frame: what leads from a place of the
// face program to a place on the blank.
func (s *Setup) faceZero() (x, y float64) {
	if s.Answer == nil {
		return 0, 0
	}
	return fl(s.Answer.FaceZero.X), fl(s.Answer.FaceZero.Y)
}

// turnPlace carries a place on the blank face up to where it lies back up.
func turnPlace(a *registration.Answer, at [2]float64) [2]float64 {
	switch a.Question.Flip {
	case registration.FlipY:
		at[0] = fl(a.Used.W) - at[0]
	case registration.FlipX:
		at[1] = fl(a.Used.H) - at[1]
	}
	return at
}

func turnedTo(a *registration.Answer, p registration.Point, back bool) [2]float64 {
	at := [2]float64{fl(p.X), fl(p.Y)}
	if back {
		at = turnPlace(a, at)
	}
	return at
}

// noGoOnBlank gives the no-go areas of the bed in the frame of the blank as it
// lies in a view: least X and Y, greatest X and Y.
func (s *Setup) noGoOnBlank(view int) [][4]float64 {
	a := s.Answer
	if s.Machine == nil || view == viewWeb {
		return nil
	}
	corner := a.FaceCorner
	if view == viewFace && !a.FaceMachine {
		return nil
	}
	if view == viewBack {
		if !a.Machine || a.BackCorner == nil {
			return nil
		}
		corner = *a.BackCorner
	}
	for _, st := range s.Stations {
		if st.Back == (view == viewBack) && !st.Turned {
			corner = st.Corner
			break
		}
	}
	cx, cy := fl(corner.X), fl(corner.Y)
	var out [][4]float64
	for i := range s.Machine.NoGo {
		n := &s.Machine.NoGo[i]
		x, y := fl(n.At.X)-cx, fl(n.At.Y)-cy
		out = append(out, [4]float64{x, y, x + fl(n.W), y + fl(n.H)})
	}
	return out
}
