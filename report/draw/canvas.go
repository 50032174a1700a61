// Package draw draws the figures of a set-up: the turn, the bed, the stations with their
// touch points, the sides with their tool paths, the cut blank, and both sides over each
// other. Each is drawn once on a Canvas, which leaves as SVG or as PNG.
//
// Numbers written beside a line are exact; the line is rounded to what shows.
package draw

import (
	"image"
	"math"

	"flipcalc/report/letters"
)

// point is a place on a canvas: X to the right, Y away from the operator.
type point = [2]float64

// A Canvas holds one figure as shapes, in the order in which they cover each other. Its
// user unit is that of the lengths drawn; what lies farther from the operator is higher
// up. What it shows grows with what is drawn.
type Canvas struct {
	ID    string // of the figure, for example "bed"
	Title string
	Desc  string // what it shows, in words
	Sheet string // the least paper that a drawing of full size is printed on, "" for any size

	shapes  []shape
	words   []*words
	marks   []keepOff
	leaders [][2]point // of the words that have their places
	x0, y0  float64    // near-left corner of what is shown
	x1, y1  float64    // far-right corner
	em      float64    // height of the letters in user units
	scale   string     // the unit that one user unit measures on paper, "mm" or "in"; "" is any size
	paper   bool       // inks of paper on every screen: a map's bands are told apart by lightness
	settled bool       // the words have their places
}

// A shape is one mark on a canvas. Its class says how it is inked: see styles.
type shape any

type (
	segment struct {
		class    string
		from, to point
	}
	// rectangle is filled with one of patterns where that is named.
	rectangle struct {
		class, pattern string
		box
	}
	disc struct {
		class string
		at    point
		r     float64
	}
	// chain is a run of straight pieces; of an open one only places decimals show.
	chain struct {
		class  string
		points []point
		closed bool
		places int
	}
	// curve is a bent line or area, as the path of SVG and as points on it.
	curve struct {
		class, path string
		points      []point
	}
	// dots is a picture that covers a box, dot by dot.
	dots struct {
		box
		img *image.Paletted
	}
	writing struct {
		class, anchor, text string
		at                  point // the text's start, middle or end on the line it stands on
		size                float64
	}
	// group holds the shapes up to its end; data are pairs of names and values.
	group struct {
		class string
		data  []string
	}
	end struct{}
)

// open gives a canvas; em is the letters' height.
func open(id string, em float64) *Canvas {
	far := math.Inf(1)
	return &Canvas{ID: id, x0: far, y0: far, x1: -far, y1: -far, em: em}
}

// letterHeight suits a drawing of a size, words round it left out: share of its width, or
// more where the drawing is so high that it is shown smaller.
func letterHeight(w, h, share float64) float64 { return max(w*share, h*share*1.5) }

// grow makes the drawing show a point.
func (c *Canvas) grow(x, y float64) {
	c.x0, c.y0, c.x1, c.y1 = min(c.x0, x), min(c.y0, y), max(c.x1, x), max(c.y1, y)
}

func (c *Canvas) growBox(b box) {
	c.grow(b.x0, b.y0)
	c.grow(b.x1, b.y1)
}

// extent is what has been drawn so far.
func (c *Canvas) extent() box { return box{c.x0, c.y0, c.x1, c.y1} }

// shown is what the figure shows, with a rim; its words are placed first, since they may
// reach beyond the rest.
func (c *Canvas) shown() box {
	c.settle()
	return c.extent().grown(c.em * 0.3)
}

func (c *Canvas) add(s shape) { c.shapes = append(c.shapes, s) }

func (c *Canvas) group(class string, data ...string) { c.add(group{class, data}) }

func (c *Canvas) end() { c.add(end{}) }

func (c *Canvas) line(class string, x1, y1, x2, y2 float64) {
	c.grow(x1, y1)
	c.grow(x2, y2)
	c.add(segment{class, point{x1, y1}, point{x2, y2}})
}

// rect draws a rectangle from its near-left corner.
func (c *Canvas) rect(class string, x, y, w, h float64) { c.fillRect(class, "", x, y, w, h) }

// fillRect draws a rectangle filled with a pattern.
func (c *Canvas) fillRect(class, pattern string, x, y, w, h float64) {
	b := box{x, y, x + w, y + h}
	c.growBox(b)
	c.add(rectangle{class, pattern, b})
}

func (c *Canvas) circle(class string, x, y, r float64) {
	c.growBox(box{x - r, y - r, x + r, y + r})
	c.add(disc{class, point{x, y}, r})
}

func (c *Canvas) polygon(class string, points ...point) {
	for _, p := range points {
		c.grow(p[0], p[1])
	}
	c.add(chain{class: class, points: points, closed: true})
}

// polyline draws an open run of straight pieces. It doesn't make the drawing grow: a rapid
// may go far off.
func (c *Canvas) polyline(class string, points []point) {
	if len(points) < 2 {
		return
	}
	// Four figures of the drawing's width are finer than a pen.
	places := max(0, int(math.Ceil(4-math.Log10(max(c.x1-c.x0, 1e-9)))))
	c.add(chain{class: class, points: points, places: places})
}

// text writes one line of letters; anchor is start, middle or end, and size is
// in parts of the canvas' own letter height. The letters stand on y.
func (c *Canvas) text(class, anchor string, x, y, size float64, s string) {
	c.say(words{class: class, size: size, lines: []string{s}, spots: []spot{{x, y + baseUnder*c.em*size, anchor}}})
}

// middled is text whose middle lies at x, y.
func (c *Canvas) middled(class string, x, y, size float64, s string) {
	c.say(words{class: class, size: size, lines: []string{s}, spots: []spot{{x, y, "middle"}}})
}

// cuts draws the strokes of a path that cut, or its rapids, carried onto the canvas.
func (c *Canvas) cuts(class string, path *Path, rapids bool, onto func(point) point) {
	if path == nil {
		return
	}
	for _, stroke := range path.Strokes {
		if stroke.Rapid != rapids {
			continue
		}
		points := make([]point, len(stroke.Points))
		for i, p := range stroke.Points {
			points[i] = onto(p)
			if !rapids { // what cuts beside the blank shows too
				c.grow(points[i][0], points[i][1])
			}
		}
		c.polyline(class, points)
	}
}

// foot writes a scale bar and notes under everything drawn so far, in as many rows as
// its width asks for.
func (c *Canvas) foot(unit string, notes []string) {
	e := c.extent()
	y, x := e.y0-c.em*1.4, e.x0
	n := roundLength((e.x1 - e.x0) * 0.2)
	c.bar("thin", x, y, n, c.em*0.3)
	notes = append([]string{letters.Rounded(n, 4) + " " + unit}, notes...)
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

// bar is a line of a length from x to the right, with a tick at each end.
func (c *Canvas) bar(class string, x, y, length, tick float64) {
	c.line(class, x, y, x+length, y)
	for _, p := range []float64{x, x + length} {
		c.line(class, p, y-tick, p, y+tick)
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
