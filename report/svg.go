package report

import (
	"fmt"
	"math"
	"strings"
)

// A canvas collects one drawing. Its user unit is the setup's unit of length,
// X to the right; Y is turned round on the way in, so that what lies farther
// from the operator is drawn higher up. What it shows grows with what is drawn.
type canvas struct {
	id     string
	body   strings.Builder
	words  []*words
	marks  []keepOff
	top    float64 // the Y that is SVG's 0
	x0, y0 float64 // near-left corner of what is shown
	x1, y1 float64 // far-right corner
	em     float64 // height of the letters in user units
	scale  string  // the unit that one user unit measures on paper, "mm" or "in"; "" is any size
}

// openCanvas shows what is drawn on it, with SVG's y = -Y. em is the letters' height.
func openCanvas(id string, em float64) *canvas {
	far := math.Inf(1)
	return &canvas{id: id, x0: far, y0: far, x1: -far, y1: -far, em: em}
}

// letterHeight suits a drawing of a size, words round it left out: share of its width, or
// more where the drawing is so high that it is shown smaller.
func letterHeight(w, h, share float64) float64 { return max(w*share, h*share*1.5) }

// grow makes the drawing show a point.
func (c *canvas) grow(x, y float64) {
	c.x0, c.y0, c.x1, c.y1 = min(c.x0, x), min(c.y0, y), max(c.x1, x), max(c.y1, y)
}

// extent is what has been drawn so far.
func (c *canvas) extent() box { return box{c.x0, c.y0, c.x1, c.y1} }

// num writes a coordinate; six decimals are far below what a drawing can show.
func num(v float64) string { return rounded(v, 6) }

// y turns a distance from the operator into SVG's downward Y.
func (c *canvas) y(v float64) float64 { return c.top - v }

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
	c.grow(x1, y1)
	c.grow(x2, y2)
	c.raw(`<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`+"\n", class, num(x1), num(c.y(y1)), num(x2), num(c.y(y2)))
}

// rect draws a rectangle from its near-left corner.
func (c *canvas) rect(class string, x, y, w, h float64) {
	c.grow(x, y)
	c.grow(x+w, y+h)
	c.raw(`<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`+"\n", class, num(x), num(c.y(y+h)), num(w), num(h))
}

func (c *canvas) fillRect(class, fill string, x, y, w, h float64) {
	c.raw(`<rect class="%s" fill="url(#%s-%s)" x="%s" y="%s" width="%s" height="%s"/>`+"\n", class, c.id, fill, num(x), num(c.y(y+h)), num(w), num(h))
}

func (c *canvas) circle(class string, x, y, r float64) {
	c.grow(x-r, y-r)
	c.grow(x+r, y+r)
	c.raw(`<circle class="%s" cx="%s" cy="%s" r="%s"/>`+"\n", class, num(x), num(c.y(y)), num(r))
}

func (c *canvas) polygon(class string, points ...[2]float64) {
	c.raw(`<polygon class="%s" points="`, class)
	for i, p := range points {
		if i > 0 {
			c.raw(" ")
		}
		c.grow(p[0], p[1])
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
	c.say(words{class: class, size: size, lines: []string{s}, spots: []spot{{x, y + baseUnder*c.em*size, anchor}}})
}

// middled is text whose middle lies at x, y.
func (c *canvas) middled(class string, x, y, size float64, s string) {
	c.say(words{class: class, size: size, lines: []string{s}, spots: []spot{{x, y, "middle"}}})
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
	c.keep(onMark, box{min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)}.grown(h*0.3))
	c.polygon(class+" solid", [2]float64{x2, y2}, [2]float64{bx - dy*h*0.3, by + dx*h*0.3}, [2]float64{bx + dy*h*0.3, by - dx*h*0.3})
}

// zero draws the mark of a program's zero, a circle with two opposite quarters
// filled, and its X and Y arrows. turn is the quarter turns of the program's
// axes, counter-clockwise.
func (c *canvas) zero(x, y float64, turn int) {
	ax, ay := axes(turn)
	c.zeroAlong(x, y, ax, ay)
}

// zeroAlong is zero with its axes along ax and ay.
func (c *canvas) zeroAlong(x, y float64, ax, ay [2]float64) {
	r := c.em * 0.45
	long := c.em * 2.6
	for i, a := range [2][2]float64{ax, ay} {
		tip := [2]float64{x + a[0]*long, y + a[1]*long}
		c.arrow("zero-arrow", x, y, tip[0], tip[1])
		other := [2][2]float64{ay, ax}[i]
		// Beyond the arrow's head, else beside it, outside first.
		beyond, beside := c.em*0.8, c.em*0.8
		spots := []spot{{tip[0] + a[0]*beyond, tip[1] + a[1]*beyond, "middle"}}
		for _, back := range []float64{0.3, 1.1} {
			for _, side := range []float64{-beside, beside} {
				spots = append(spots, spot{tip[0] - a[0]*back*c.em + other[0]*side, tip[1] - a[1]*back*c.em + other[1]*side, "middle"})
			}
		}
		c.say(words{class: "axis", size: 0.85, lines: []string{"XY"[i : i+1]}, spots: spots, close: true})
	}
	c.circle("zero-ring", x, y, r)
	c.keep(onMark, box{x - r, y - r, x + r, y + r})
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

// pin draws a dowel to scale with its centre lines; the lines alone where its
// diameter isn't known.
func (c *canvas) pin(class string, x, y, dia float64) {
	r := max(dia/2, 0)
	if r > 0 {
		c.circle(class, x, y, r)
	}
	e := r + c.em*0.35
	c.line("centre", x-e, y, x+e, y)
	c.line("centre", x, y-e, x, y+e)
	k := max(r, c.em*0.2)
	c.keep(onMark, box{x - k, y - k, x + k, y + k})
}

// contact draws the mark of a locating contact, a triangle with its point on
// the blank's edge; (dx, dy) points from the locator to the blank.
func (c *canvas) contact(x, y, dx, dy float64) {
	h, w := c.em*0.9, c.em*0.45
	c.keep(onMark, box{min(x, x-dx*h) - math.Abs(dy)*w, min(y, y-dy*h) - math.Abs(dx)*w, max(x, x-dx*h) + math.Abs(dy)*w, max(y, y-dy*h) + math.Abs(dx)*w})
	c.polygon("contact", [2]float64{x, y}, [2]float64{x - dx*h - dy*w, y - dy*h + dx*w}, [2]float64{x - dx*h + dy*w, y - dy*h - dx*w})
}

// foot writes a scale bar and notes under everything drawn so far, in as many rows as
// its width asks for.
func (c *canvas) foot(unit string, notes []string) {
	e := c.extent()
	y, x := e.y0-c.em*1.4, e.x0
	n := roundLength((e.x1 - e.x0) * 0.2)
	c.line("thin", x, y, x+n, y)
	for _, p := range []float64{x, x + n} {
		c.line("thin", p, y-c.em*0.3, p, y+c.em*0.3)
	}
	notes = append([]string{rounded(n, 4) + " " + unit}, notes...)
	x += n + c.em*0.4
	for i, t := range notes {
		w := textWidth("small", t) * c.em * 0.85
		if i > 0 && x+w > e.x1 {
			x, y = e.x0, y-c.em*1.4
		}
		c.middled("small", x+w/2, y, 0.85, t)
		x += w + c.em*1.5
	}
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
	c.place()
	var b strings.Builder
	rim := c.em * 0.3
	x, y := c.x0-rim, c.y(c.y1)-rim
	w, h := c.x1-c.x0+2*rim, c.y1-c.y0+2*rim
	ns := ""
	if standalone {
		ns = ` xmlns="http://www.w3.org/2000/svg" width="` + num(960) + `" height="` + rounded(960*h/w, 0) + `"`
	}
	if c.scale != "" {
		ns = ` xmlns="http://www.w3.org/2000/svg" width="` + num(w) + c.scale + `" height="` + num(h) + c.scale + `"`
	}
	fmt.Fprintf(&b, `<svg%s class="drawing" viewBox="%s %s %s %s" role="img" aria-labelledby="%s-title %s-desc">`+"\n", ns, num(x), num(y), num(w), num(h), c.id, c.id)
	fmt.Fprintf(&b, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", c.id, esc(title), c.id, esc(desc))
	if standalone {
		b.WriteString("<style>\n" + drawingColors + drawingStyle + "</style>\n")
		fmt.Fprintf(&b, `<rect class="ground" x="%s" y="%s" width="%s" height="%s"/>`+"\n", num(x), num(y), num(w), num(h))
	}
	e := c.em
	b.WriteString("<defs>" + c.hatch("nogo", 45, e*0.5, "hatch") + c.hatch("taken", -45, e*0.9, "hatch") + c.dots("back", e*0.8, "dot") + c.hatch("hole", 0, e*0.28, "hatch") + "</defs>\n")
	b.WriteString(c.body.String())
	for _, w := range c.words {
		b.WriteString(c.lettered(w))
	}
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
.drawing .cut.through-back{stroke:var(--mark);stroke-dasharray:5 2.5}
.drawing .cut.faint{stroke-width:.7;opacity:.75}
.drawing .number-dot{fill:var(--ink);stroke:none}
.drawing text.number{fill:var(--paper);stroke:none;font-weight:700}
.drawing .rapid{stroke:var(--soft);stroke-width:.7;stroke-dasharray:2 3;fill:none}
.drawing text{fill:var(--ink);paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round;vector-effect:non-scaling-stroke}
.drawing .small{fill:var(--soft)}
.drawing .axis{fill:var(--mark);font-weight:600}
.drawing .letter{font-weight:700}
.drawing .label{font-weight:600}
.drawing .find{fill:var(--paper);stroke:var(--ink);stroke-width:1.4}
`
