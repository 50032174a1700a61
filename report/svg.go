package report

import (
	"fmt"
	"math"
	"strings"
)

// A canvas collects one drawing. Its user unit is the setup's unit of length,
// X to the right; Y is turned round on the way in, so that what lies farther
// from the operator is drawn higher up.
type canvas struct {
	id     string
	body   strings.Builder
	x0, y0 float64 // near-left corner of what is shown
	x1, y1 float64 // far-right corner
	em     float64 // height of the letters in user units
}

// newCanvas shows x0..x1 and y0..y1. share is the letters' height as a part of
// the drawing's width.
func newCanvas(id string, x0, y0, x1, y1, share float64) *canvas {
	return &canvas{id: id, x0: x0, y0: y0, x1: x1, y1: y1, em: (x1 - x0) * share}
}

// letterShare is a letter's width as a part of its height: the most that a line of
// words and figures takes on average in a wide sans serif.
const letterShare = 0.64

// num writes a coordinate; six decimals are far below what a drawing can show.
func num(v float64) string { return rounded(v, 6) }

// y turns a distance from the operator into SVG's downward Y.
func (c *canvas) y(v float64) float64 { return c.y1 - v }

func (c *canvas) raw(format string, a ...any) { fmt.Fprintf(&c.body, format, a...) }

func (c *canvas) group(class string, data ...string) {
	c.raw("<g class=%q", class)
	for i := 0; i+1 < len(data); i += 2 {
		c.raw(` data-%s="%s"`, data[i], esc(data[i+1]))
	}
	c.raw(">\n")
}

func (c *canvas) end() { c.raw("</g>\n") }

func (c *canvas) line(class string, x1, y1, x2, y2 float64) {
	c.raw(`<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`+"\n", class, num(x1), num(c.y(y1)), num(x2), num(c.y(y2)))
}

// rect draws a rectangle from its near-left corner.
func (c *canvas) rect(class string, x, y, w, h float64) {
	c.raw(`<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`+"\n", class, num(x), num(c.y(y+h)), num(w), num(h))
}

func (c *canvas) fillRect(class, fill string, x, y, w, h float64) {
	c.raw(`<rect class="%s" fill="url(#%s-%s)" x="%s" y="%s" width="%s" height="%s"/>`+"\n", class, c.id, fill, num(x), num(c.y(y+h)), num(w), num(h))
}

func (c *canvas) circle(class string, x, y, r float64) {
	c.raw(`<circle class="%s" cx="%s" cy="%s" r="%s"/>`+"\n", class, num(x), num(c.y(y)), num(r))
}

func (c *canvas) polygon(class string, points ...[2]float64) {
	c.raw(`<polygon class="%s" points="`, class)
	for i, p := range points {
		if i > 0 {
			c.raw(" ")
		}
		c.raw("%s,%s", num(p[0]), num(c.y(p[1])))
	}
	c.raw(`"/>` + "\n")
}

// polyline draws an open run of straight pieces, rounded to what shows.
func (c *canvas) polyline(class string, points [][2]float64) {
	if len(points) < 2 {
		return
	}
	places := max(0, int(math.Ceil(4-math.Log10(max(c.x1-c.x0, 1e-9)))))
	c.raw(`<polyline class="%s" points="`, class)
	last := ""
	for i, p := range points {
		s := rounded(p[0], places) + "," + rounded(c.y(p[1]), places)
		if s == last {
			continue
		}
		if i > 0 {
			c.raw(" ")
		}
		c.raw("%s", s)
		last = s
	}
	c.raw(`"/>` + "\n")
}

// text writes one line of letters; anchor is start, middle or end, and size is
// in parts of the canvas' own letter height. The letters stand on y.
func (c *canvas) text(class, anchor string, x, y, size float64, s string) {
	if s == "" {
		return
	}
	c.raw(`<text class="%s" text-anchor="%s" x="%s" y="%s" font-size="%s">%s</text>`+"\n", class, anchor, num(x), num(c.y(y)), num(c.em*size), esc(s))
}

// middled is text whose middle lies at x, y.
func (c *canvas) middled(class string, x, y, size float64, s string) {
	c.text(class, "middle", x, y-0.35*c.em*size, size, s)
}

// within is middled text that is made small enough for a width, and cut where
// that would be too small to read.
func (c *canvas) within(class string, x, y, width float64, s string) {
	const wide, least = 0.62, 0.7 // of a letter against its height; of the size
	letters := []rune(plain(s))
	size := min(0.9, width/(c.em*wide*float64(max(len(letters), 1))))
	if size < least {
		size = least
		room := int(width / (c.em * wide * size))
		if room < 4 {
			return
		}
		letters = append(letters[:min(room-2, len(letters))], '.', '.')
	}
	c.middled(class, x, y, size, string(letters))
}

// arrow draws a straight arrow with a filled head.
func (c *canvas) arrow(class string, x1, y1, x2, y2 float64) {
	dx, dy := x2-x1, y2-y1
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	dx, dy = dx/n, dy/n
	h := c.em * 0.7
	bx, by := x2-dx*h, y2-dy*h
	c.line(class, x1, y1, bx, by)
	c.polygon(class+" solid", [2]float64{x2, y2}, [2]float64{bx - dy*h*0.3, by + dx*h*0.3}, [2]float64{bx + dy*h*0.3, by - dx*h*0.3})
}

// zero draws the mark of a program's zero, a circle with two opposite quarters
// filled, and its X and Y arrows. turn is the quarter turns of the program's
// axes, counter-clockwise.
func (c *canvas) zero(x, y float64, turn int) {
	r := c.em * 0.45
	ax, ay := axes(turn)
	long := c.em * 2.6
	c.arrow("zero-arrow", x, y, x+ax[0]*long, y+ax[1]*long)
	c.arrow("zero-arrow", x, y, x+ay[0]*long, y+ay[1]*long)
	c.middled("axis", x+ax[0]*(long+c.em*0.5), y+ax[1]*(long+c.em*0.5), 0.85, "X")
	c.middled("axis", x+ay[0]*(long+c.em*0.5), y+ay[1]*(long+c.em*0.5), 0.85, "Y")
	c.circle("zero-ring", x, y, r)
	for _, s := range []float64{1, -1} {
		c.raw(`<path class="zero-fill" d="M%s %sL%s %sA%s %s 0 0 0 %s %sZ"/>`+"\n",
			num(x), num(c.y(y)), num(x+s*r), num(c.y(y)), num(r), num(r), num(x), num(c.y(y+s*r)))
	}
}

// axes gives the directions of X and Y after quarter turns counter-clockwise.
func axes(turn int) (x, y [2]float64) {
	switch ((turn % 4) + 4) % 4 {
	case 1:
		return [2]float64{0, 1}, [2]float64{-1, 0}
	case 2:
		return [2]float64{-1, 0}, [2]float64{0, -1}
	case 3:
		return [2]float64{0, -1}, [2]float64{1, 0}
	}
	return [2]float64{1, 0}, [2]float64{0, 1}
}

// pin draws a dowel to scale with its centre lines.
func (c *canvas) pin(class string, x, y, dia float64) {
	r := dia / 2
	if r <= 0 {
		r = c.em * 0.3
	}
	c.circle(class, x, y, r)
	e := r + c.em*0.35
	c.line("centre", x-e, y, x+e, y)
	c.line("centre", x, y-e, x, y+e)
}

// contact draws the mark of a locating contact, a triangle with its point on
// the blank's edge; (dx, dy) points from the locator to the blank.
func (c *canvas) contact(x, y, dx, dy float64) {
	h, w := c.em*0.9, c.em*0.45
	c.polygon("contact", [2]float64{x, y}, [2]float64{x - dx*h - dy*w, y - dy*h + dx*w}, [2]float64{x - dx*h + dy*w, y - dy*h - dx*w})
}

// scaleBar draws a bar of a round length at (x, y).
func (c *canvas) scaleBar(x, y, most float64, unit string) {
	n := roundLength(most)
	c.line("thin", x, y, x+n, y)
	for _, p := range []float64{x, x + n} {
		c.line("thin", p, y-c.em*0.3, p, y+c.em*0.3)
	}
	c.text("small", "start", x+n+c.em*0.4, y-c.em*0.3, 0.85, rounded(n, 4)+" "+unit)
}

// roundLength is the greatest 1, 2 or 5 times a power of ten up to most.
func roundLength(most float64) float64 {
	if most <= 0 {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(most)))
	for _, m := range []float64{5, 2} {
		if m*p <= most {
			return m * p
		}
	}
	return p
}

// hatch is a pattern of lines at an angle in degrees, step apart.
func (c *canvas) hatch(name string, angle, step float64, class string) string {
	return fmt.Sprintf(`<pattern id="%s-%s" patternUnits="userSpaceOnUse" width="%s" height="%s" patternTransform="rotate(%s)"><line class="%s" x1="0" y1="0" x2="0" y2="%s"/></pattern>`,
		c.id, name, num(step), num(step), num(angle), class, num(step))
}

// dots is a pattern of dots, step apart.
func (c *canvas) dots(name string, step float64, class string) string {
	return fmt.Sprintf(`<pattern id="%s-%s" patternUnits="userSpaceOnUse" width="%s" height="%s"><circle class="%s" cx="%s" cy="%s" r="%s"/></pattern>`,
		c.id, name, num(step), num(step), class, num(step/2), num(step/2), num(step*0.14))
}

// svg closes the drawing. Standing alone it brings its own style and name space.
func (c *canvas) svg(title, desc string, standalone bool) string {
	var b strings.Builder
	w, h := c.x1-c.x0, c.y1-c.y0
	ns := ""
	if standalone {
		ns = ` xmlns="http://www.w3.org/2000/svg" width="` + num(960) + `" height="` + rounded(960*h/w, 0) + `"`
	}
	fmt.Fprintf(&b, `<svg%s class="drawing" viewBox="%s 0 %s %s" role="img" aria-labelledby="%s-title %s-desc">`+"\n", ns, num(c.x0), num(w), num(h), c.id, c.id)
	fmt.Fprintf(&b, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", c.id, esc(title), c.id, esc(desc))
	if standalone {
		b.WriteString("<style>\n" + drawingColors + drawingStyle + "</style>\n")
		fmt.Fprintf(&b, `<rect class="ground" x="%s" y="0" width="%s" height="%s"/>`+"\n", num(c.x0), num(w), num(h))
	}
	e := c.em
	b.WriteString("<defs>" + c.hatch("nogo", 45, e*0.5, "hatch") + c.hatch("taken", -45, e*0.9, "hatch") + c.dots("back", e*0.8, "dot") + c.hatch("hole", 0, e*0.28, "hatch") + "</defs>\n")
	b.WriteString(c.body.String())
	b.WriteString("</svg>\n")
	return b.String()
}

// esc makes text safe in HTML and XML, without control characters.
func esc(s string) string {
	return escapes.Replace(plain(s))
}

var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// drawingColors are the inks, for light and dark grounds. Nothing is said by a
// colour alone: every line kind has its own weight or dash, every area its
// pattern and label.
const drawingColors = `:root{--ink:#16202b;--soft:#5a6672;--paper:#fff;--tint:#eef3f6;--mark:#9a3412;--route:#0b5c8a}
@media (prefers-color-scheme:dark){:root{--ink:#e7ecf0;--soft:#a3afba;--paper:#14191e;--tint:#232c35;--mark:#f4a261;--route:#7cc4ee}}
@media print{:root{--ink:#000;--soft:#444;--paper:#fff;--tint:#f1f4f6;--mark:#7a2a0d;--route:#0b4a70}}
`

// drawingStyle gives the line kinds of drafting practice: thick outlines, thin
// dimension lines, dashes for what is hidden, chains for centre lines.
const drawingStyle = `.drawing{font-family:ui-sans-serif,system-ui,sans-serif}
.drawing .ground{fill:var(--paper)}
.drawing line,.drawing polyline,.drawing rect,.drawing circle,.drawing polygon,.drawing path{vector-effect:non-scaling-stroke;stroke-linejoin:round}
.drawing .thin{stroke:var(--soft);stroke-width:.8;fill:none}
.drawing .thick{stroke:var(--ink);stroke-width:2;fill:none}
.drawing .blank{stroke:var(--ink);stroke-width:2;fill:var(--tint)}
.drawing .over{stroke:none}
.drawing .bed{stroke:var(--ink);stroke-width:1.2;fill:none}
.drawing .travel{stroke:var(--soft);stroke-width:1;fill:none;stroke-dasharray:12 3 2 3 2 3}
.drawing .area{stroke:var(--soft);stroke-width:1.2}
.drawing .taken{stroke-dasharray:5 3}
.drawing .hatch{stroke:var(--soft);stroke-width:.7}
.drawing .dot{fill:var(--soft)}
.drawing .centre{stroke:var(--soft);stroke-width:.7;stroke-dasharray:7 2 1.5 2;fill:none}
.drawing .clear{fill:var(--tint);stroke:none}
.drawing .hidden{stroke:var(--ink);stroke-width:.9;stroke-dasharray:4 2.5;fill:none}
.drawing .pin{stroke:var(--ink);stroke-width:1.4;fill:var(--paper)}
.drawing .contact{fill:var(--ink);stroke:none}
.drawing .fence{stroke:var(--ink);stroke-width:3.2;fill:none}
.drawing .zero-arrow{stroke:var(--mark);stroke-width:1.4;fill:none}
.drawing .zero-arrow.solid{fill:var(--mark);stroke:none}
.drawing .zero-ring{stroke:var(--mark);stroke-width:1.4;fill:var(--paper)}
.drawing .zero-fill{fill:var(--mark);stroke:none}
.drawing .turn{stroke:var(--ink);stroke-width:1.4;fill:none}
.drawing .turn.solid{fill:var(--ink);stroke:none}
.drawing .cut{stroke:var(--route);stroke-width:1.3;fill:none;stroke-linecap:round}
.drawing .rapid{stroke:var(--soft);stroke-width:.7;stroke-dasharray:2 3;fill:none}
.drawing text{fill:var(--ink);paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round;vector-effect:non-scaling-stroke}
.drawing .small{fill:var(--soft)}
.drawing .axis{fill:var(--mark);font-weight:600}
.drawing .letter{font-weight:700}
.drawing .label{font-weight:600}
.drawing .find{fill:var(--paper);stroke:var(--ink);stroke-width:1.4}
`
