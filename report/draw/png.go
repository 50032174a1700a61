package draw

import (
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strconv"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"flipcalc/report/letters"
)

// PNG writes the figure in dots, so many to the user unit, with a map's dots one to one
// where they are as many. Line widths are in dots.
func (c *Canvas) PNG(w io.Writer, perUnit float64) error {
	view := c.shown()
	p := &plate{scale: perUnit, left: view.x0, top: view.y1, em: c.em, inks: screens[0].inks}
	if c.paper {
		p.inks = mapInks
	}
	p.img = image.NewRGBA(image.Rect(0, 0, int(math.Ceil((view.x1-view.x0)*perUnit)), int(math.Ceil((view.y1-view.y0)*perUnit))))
	p.shape(rectangle{"ground", "", view})
	for _, s := range c.shapes {
		if err := p.shape(s); err != nil {
			return err
		}
	}
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	return e.Encode(w, p.img)
}

// A plate is a figure in dots, Y downwards.
type plate struct {
	img       *image.RGBA
	inks      inks
	scale     float64 // dots per user unit
	left, top float64 // the user's place of dot 0,0
	em        float64
	faces     map[faceKey]font.Face
	areas     vector.Rasterizer // its memory serves all shapes
}

func (p *plate) at(q point) point {
	return point{(q[0] - p.left) * p.scale, (p.top - q[1]) * p.scale}
}

func (p *plate) all(points []point) []point {
	out := make([]point, len(points))
	for i, q := range points {
		out[i] = p.at(q)
	}
	return out
}

// ink gives a colour by its name.
func (p *plate) ink(name string) *image.Uniform { return image.NewUniform(inkOf(p.inks[name])) }

// inkOf reads "#rrggbb".
func inkOf(s string) color.RGBA {
	v, err := strconv.ParseUint(s[1:], 16, 32)
	if err != nil {
		panic("draw: no ink " + s)
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}

// shape inks one shape.
func (p *plate) shape(s shape) error {
	switch s := s.(type) {
	case segment:
		p.inked(s.class, "", []point{s.from, s.to}, false)
	case rectangle:
		p.inked(s.class, s.pattern, []point{{s.x0, s.y0}, {s.x1, s.y0}, {s.x1, s.y1}, {s.x0, s.y1}}, true)
	case disc:
		p.inked(s.class, "", round(s.at, s.r, pieces(s.r*p.scale)), true)
	case chain:
		p.inked(s.class, "", s.points, s.closed)
	case curve:
		p.inked(s.class, "", s.points, false)
	case dots:
		p.dots(s)
	case writing:
		return p.text(s)
	}
	return nil
}

// pieces is how many straight pieces stand for a circle of r dots, so that none is farther
// from it than a tenth of a dot: over a piece's angle a that is r (1 - cos(a/2)), about
// r a^2/8.
func pieces(r float64) int { return max(12, int(math.Ceil(2*math.Pi/math.Sqrt(0.8/max(r, 1))))) }

// inked fills an outline and draws its line, as its class says.
func (p *plate) inked(class, filling string, points []point, closed bool) {
	s := styled(styles, class)
	points = p.all(points)
	for _, f := range patterns {
		if f.name == filling {
			p.fill(p.pattern(f), points)
		}
	}
	if filling == "" && s.fill != "" && s.fill != "none" {
		p.fill(p.ink(s.fill), points)
	}
	if s.stroke == "" || s.stroke == "none" {
		return
	}
	if closed {
		points = append(points, points[0])
	}
	for _, piece := range dashed(points, s.dash) {
		p.stroke(p.ink(s.stroke), piece, s.width)
	}
}

// fill inks the inside of outlines; where they lie over each other they count once if
// they all run the same way round.
func (p *plate) fill(ink image.Image, outlines ...[]point) {
	far := math.Inf(1)
	b := box{far, far, -far, -far}
	for _, o := range outlines {
		for _, q := range o {
			b = box{min(b.x0, q[0]), min(b.y0, q[1]), max(b.x1, q[0]), max(b.y1, q[1])}
		}
	}
	size := p.img.Bounds().Size()
	b = box{max(b.x0, 0), max(b.y0, 0), min(b.x1, float64(size.X)), min(b.y1, float64(size.Y))}
	if !(b.x0 < b.x1 && b.y0 < b.y1) {
		return
	}
	area := image.Rect(int(b.x0), int(b.y0), int(math.Ceil(b.x1)), int(math.Ceil(b.y1)))
	r := &p.areas
	r.Reset(area.Dx(), area.Dy())
	for _, o := range outlines {
		for i, q := range o {
			x, y := float32(q[0]-float64(area.Min.X)), float32(q[1]-float64(area.Min.Y))
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	r.Draw(p.img, area, ink, area.Min)
}

// stroke draws a run of straight pieces with square ends and a round join where it turns
// sharply.
func (p *plate) stroke(ink image.Image, points []point, width float64) {
	var outlines [][]point
	h := width / 2
	var last point // the direction of the piece before
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := math.Hypot(b[0]-a[0], b[1]-a[1])
		if n == 0 {
			continue
		}
		way := point{(b[0] - a[0]) / n, (b[1] - a[1]) / n}
		dx, dy := way[0]*h, way[1]*h
		outlines = append(outlines, []point{{a[0] - dy, a[1] + dx}, {a[0] + dy, a[1] - dx}, {b[0] + dy, b[1] - dx}, {b[0] - dy, b[1] + dx}})
		// Under 15 degrees the gap on the outer side is a thirtieth of the line's width.
		if last != (point{}) && last[0]*way[0]+last[1]*way[1] < math.Cos(15*math.Pi/180) {
			outlines = append(outlines, round(a, h, 8))
		}
		last = way
	}
	p.fill(ink, outlines...)
}

// round gives n points on a circle.
func round(at point, r float64, n int) []point {
	points := make([]point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points[i] = point{at[0] + r*cos, at[1] + r*sin}
	}
	return points
}

// dashed cuts a run of straight pieces into dashes; lengths are those of dash and gap in
// turn, none is a full line.
func dashed(points []point, lengths []float64) [][]point {
	if len(lengths) == 0 {
		return [][]point{points}
	}
	var out [][]point
	dash := []point{points[0]}
	k, left := 0, lengths[0]
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		long := math.Hypot(b[0]-a[0], b[1]-a[1])
		for gone := 0.0; gone < long; {
			step := min(left, long-gone)
			gone, left = gone+step, left-step
			q := point{a[0] + (b[0]-a[0])*gone/long, a[1] + (b[1]-a[1])*gone/long}
			dash = append(dash, q)
			if left > 0 {
				continue
			}
			if k%2 == 0 {
				out = append(out, dash)
			}
			k++
			left, dash = lengths[k%len(lengths)], []point{q}
		}
	}
	if k%2 == 0 {
		out = append(out, dash)
	}
	return out
}

// dots sets a picture in, dot by dot where it has as many as the place.
func (p *plate) dots(d dots) {
	at := p.at(point{d.x0, d.y1})
	x, y := int(math.Round(at[0])), int(math.Round(at[1]))
	w, h := int(math.Round((d.x1-d.x0)*p.scale)), int(math.Round((d.y1-d.y0)*p.scale))
	size := d.img.Bounds().Size()
	inks := make([]color.RGBA, len(d.img.Palette))
	for k, ink := range d.img.Palette {
		inks[k] = color.RGBAModel.Convert(ink).(color.RGBA)
	}
	for j := range h {
		row := d.img.Pix[j*size.Y/h*d.img.Stride:]
		for i := range w {
			p.img.SetRGBA(x+i, y+j, inks[row[i*size.X/w]])
		}
	}
}

// repeated is a pattern without bounds, in dots.
type repeated struct {
	pattern
	ink  color.Color
	step float64
	line float64 // width of its lines
}

func (p *plate) pattern(f pattern) image.Image {
	class := "hatch"
	if f.dotty {
		class = "dot"
	}
	s := styled(styles, class)
	ink := s.stroke
	if f.dotty {
		ink = s.fill
	}
	return repeated{f, inkOf(p.inks[ink]), f.step * p.em * p.scale, max(1, s.width)}
}

func (r repeated) ColorModel() color.Model { return color.RGBAModel }

func (r repeated) Bounds() image.Rectangle { return image.Rect(-1e9, -1e9, 1e9, 1e9) }

func (r repeated) At(x, y int) color.Color {
	u, v := float64(x)+0.5, float64(y)+0.5
	within := func(a float64) float64 { return a - math.Floor(a/r.step)*r.step }
	inside := false
	if r.dotty {
		inside = math.Hypot(within(u)-r.step/2, within(v)-r.step/2) < r.step*dotRadius
	} else {
		sin, cos := math.Sincos(r.angle * math.Pi / 180)
		inside = within(u*cos+v*sin) < r.line
	}
	if inside {
		return r.ink
	}
	return color.Transparent
}

// Letters of the Go fonts, which are read when the first picture is written.
var (
	usual = sync.OnceValues(func() (*opentype.Font, error) { return opentype.Parse(goregular.TTF) })
	heavy = sync.OnceValues(func() (*opentype.Font, error) { return opentype.Parse(gobold.TTF) })
)

type faceKey struct {
	bold bool
	size float64
}

// face gives letters of a height in dots.
func (p *plate) face(k faceKey) (font.Face, error) {
	if f := p.faces[k]; f != nil {
		return f, nil
	}
	read := usual
	if k.bold {
		read = heavy
	}
	f, err := read()
	if err != nil {
		return nil, err
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: k.size, DPI: 72})
	if err != nil {
		return nil, err
	}
	if p.faces == nil {
		p.faces = map[faceKey]font.Face{}
	}
	p.faces[k] = face
	return face, nil
}

// text writes letters, with a rim of paper so that they read on any ground.
func (p *plate) text(w writing) error {
	s := styled(lettering, w.class)
	face, err := p.face(faceKey{s.bold > 0, w.size * p.scale})
	if err != nil {
		return err
	}
	text := letters.Plain(w.text)
	at := p.at(w.at)
	wide := float64(font.MeasureString(face, text)) / 64
	switch w.anchor {
	case "middle":
		at[0] -= wide / 2
	case "end":
		at[0] -= wide
	}
	put := func(ink image.Image, dx, dy float64) {
		d := font.Drawer{Dst: p.img, Src: ink, Face: face, Dot: fixed.Point26_6{X: fixed.Int26_6((at[0] + dx) * 64), Y: fixed.Int26_6((at[1] + dy) * 64)}}
		d.DrawString(text)
	}
	if s.stroke != "none" {
		for k := range 12 {
			sin, cos := math.Sincos(math.Pi / 6 * float64(k))
			put(p.ink(s.stroke), s.width/2*cos, s.width/2*sin)
		}
	}
	put(p.ink(s.fill), 0, 0)
	return nil
}
