package report

import (
	"fmt"
	"math"
	"strings"
	"unicode"
)

// box is a rectangle of a drawing, Y away from the operator.
type box struct{ x0, y0, x1, y1 float64 }

// meets reports whether two boxes have an area in common.
func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

// within reports whether b lies in o.
func (b box) within(o box) bool {
	return b.x0 >= o.x0 && b.y0 >= o.y0 && b.x1 <= o.x1 && b.y1 <= o.y1
}

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

func (b box) middle() (x, y float64) { return (b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2 }

// crossed reports whether the straight line from (x, y) to (x2, y2) enters the box.
func (b box) crossed(x, y, x2, y2 float64) bool {
	if max(x, x2) <= b.x0 || min(x, x2) >= b.x1 || max(y, y2) <= b.y0 || min(y, y2) >= b.y1 {
		return false
	}
	from, to := 0.0, 1.0
	for _, a := range [2][4]float64{{x, x2 - x, b.x0, b.x1}, {y, y2 - y, b.y0, b.y1}} {
		if a[1] == 0 {
			if a[0] <= a[2] || a[0] >= a[3] {
				return false
			}
			continue
		}
		t1, t2 := (a[2]-a[0])/a[1], (a[3]-a[0])/a[1]
		from, to = max(from, min(t1, t2)), min(to, max(t1, t2))
	}
	return from < to
}

// What it costs words to lie on something, against one step down in their own list of
// places. Words never lie on words.
const (
	onMark = 9.0 // a pin, a zero, a contact, an arrow: what is covered can't be read
	onArea = 3.0 // an area that isn't their own, so that they seem to name it
	onEdge = 1.2 // an outline; the words have a clear rim
	onThin = 0.4 // a dimension or centre line
	inTurn = 0.35
)

// keepOff is something drawn that words keep clear of.
type keepOff struct {
	box  box
	cost float64
}

// spot is a place for words: the middle of their height, and at x their start, middle
// or end.
type spot struct {
	x, y   float64
	anchor string
}

// words are one or more lines of letters that are given their place when everything
// else is drawn.
type words struct {
	class    string
	rest     string  // class of the lines after the first, where it is another
	size     float64 // in parts of the canvas' letter height
	lines    []string
	spots    []spot // tried in this order; one alone is where they stand
	rank     int    // the least is placed first
	optional bool   // left out where no spot is free
	close    bool   // the least bad of their spots, also on areas, rather than one far off
	pointed  bool   // a line leads home from every spot
	clear    bool   // no pattern behind them in their own area
	only     bool   // a spot that isn't wholly inside counts as taken
	inside   box    // with only
	own      *box   // an area that they may cover
	home     *spot  // what they belong to: a line leads there from afar
	placed   spot
	leader   bool
	gone     bool
}

// fixed are words that stay where they were put.
func (w *words) fixed() bool { return len(w.spots) == 1 && w.home == nil && !w.optional }

// classOf is the class of a line.
func (w *words) classOf(line int) string {
	if line > 0 && w.rest != "" {
		return w.rest
	}
	return w.class
}

// bold reports whether a class is set in heavy letters.
func bold(class string) bool { return class == "label" || class == "letter" || class == "axis" }

// letterWidth is the most that a letter takes of the letters' height, heavy or not, in
// a wide sans serif (DejaVu Sans, the widest that such pages are shown in, from memory).
func letterWidth(r rune, heavy bool) float64 {
	w := 0.63
	switch {
	case strings.ContainsRune("mwMW@%", r):
		w = 0.98
	case strings.ContainsRune("ijl.,:;'|!()[]If/t-r ", r):
		w = 0.42
	case unicode.IsUpper(r):
		w = 0.73
	case r > 0x2e80:
		w = 1
	}
	if heavy {
		w *= 1.12
	}
	return w
}

func textWidth(class, s string) float64 {
	w := 0.0
	for _, r := range plain(s) {
		w += letterWidth(r, bold(class))
	}
	return w
}

// Lines of letters: their distance, and how far they reach over and under the middle,
// in parts of the size.
const (
	lineStep  = 1.2
	halfTall  = 0.56
	baseUnder = 0.35 // from the middle of the letters to the line that they stand on
)

// boxAt is what the words cover at a spot.
func (c *canvas) boxAt(w *words, s spot) box {
	wide := 0.0
	for i, l := range w.lines {
		wide = max(wide, textWidth(w.classOf(i), l))
	}
	e := c.em * w.size
	wide *= e
	tall := e * (halfTall + lineStep*float64(len(w.lines)-1)/2)
	b := box{s.x - wide/2, s.y - tall, s.x + wide/2, s.y + tall}
	switch s.anchor {
	case "start":
		b.x0, b.x1 = s.x, s.x+wide
	case "end":
		b.x0, b.x1 = s.x-wide, s.x
	}
	return b
}

// say adds words. They are written over everything that is drawn.
func (c *canvas) say(w words) {
	if len(w.lines) == 0 || len(w.lines) == 1 && w.lines[0] == "" {
		return
	}
	c.words = append(c.words, &w)
	if w.fixed() {
		c.growBox(c.boxAt(&w, w.spots[0]))
	}
}

func (c *canvas) growBox(b box) {
	c.grow(b.x0, b.y0)
	c.grow(b.x1, b.y1)
}

// keep makes words stay off a place.
func (c *canvas) keep(cost float64, b box) { c.marks = append(c.marks, keepOff{b, cost}) }

// place gives all words their places: those that can't move first, then by rank.
func (c *canvas) place() {
	var taken []box
	put := func(w *words, s spot) {
		w.placed = s
		b := c.boxAt(w, s)
		taken = append(taken, b)
		c.growBox(b)
	}
	for _, w := range c.words {
		if w.fixed() {
			put(w, w.spots[0])
		}
	}
	last := 0
	for _, w := range c.words {
		last = max(last, w.rank)
	}
	for rank := 0; rank <= last; rank++ {
		for _, w := range c.words {
			if w.fixed() || w.rank != rank {
				continue
			}
			s, ok := c.choose(w, taken)
			if !ok {
				w.gone = true
				continue
			}
			put(w, s)
			if w.leader {
				x, y, x2, y2 := c.leaderOf(w, s)
				c.keep(onThin, box{min(x, x2), min(y, y2), max(x, x2), max(y, y2)})
			}
		}
	}
}

// choose finds the place of least cost for words.
func (c *canvas) choose(w *words, taken []box) (spot, bool) {
	best, least := spot{}, math.Inf(1)
	try := func(s spot, cost float64, leader bool) {
		if cost >= least {
			return
		}
		b := c.boxAt(w, s)
		if w.only && !b.within(w.inside) {
			return
		}
		room := b.grown(c.em * 0.14)
		for _, t := range taken {
			if room.meets(t) {
				return
			}
		}
		for _, m := range c.marks {
			if b.meets(m.box) && !(m.cost == onArea && (w.close || w.own != nil && m.box == *w.own)) {
				if cost += m.cost; cost >= least {
					return
				}
			}
		}
		if leader {
			x, y, x2, y2 := c.leaderOf(w, s)
			for _, t := range taken {
				if t.crossed(x, y, x2, y2) {
					if cost += onMark; cost >= least {
						return
					}
				}
			}
		}
		if cost < least {
			best, least, w.leader = s, cost, leader
		}
	}
	for i, s := range w.spots {
		try(s, inTurn*float64(i), w.pointed)
	}
	if w.optional || least < onArea || w.close && !math.IsInf(least, 1) {
		return best, !math.IsInf(least, 1)
	}
	// Nothing near is free: look round about, ever farther away.
	from := w.spots[0]
	if w.home != nil {
		from = *w.home
	}
	for r := 2.0; r < 400 && least > 2+0.3*r; r++ {
		for k := range 24 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 24)
			s := spot{from.x + cos*r*0.7*c.em, from.y + sin*r*0.7*c.em, "middle"}
			switch {
			case cos > 0.3:
				s.anchor = "start"
			case cos < -0.3:
				s.anchor = "end"
			}
			try(s, 2+0.3*r, w.home != nil)
		}
	}
	return best, !math.IsInf(least, 1)
}

// leaderOf is the line that leads from words at s to what they belong to.
func (c *canvas) leaderOf(w *words, s spot) (x, y, x2, y2 float64) {
	b := c.boxAt(w, s).grown(c.em * 0.15)
	x2, y2 = w.home.x, w.home.y
	return min(max(x2, b.x0), b.x1), min(max(y2, b.y0), b.y1), x2, y2
}

// lettered writes words at their place as SVG.
func (c *canvas) lettered(w *words) string {
	if w.gone {
		return ""
	}
	var b strings.Builder
	if w.leader {
		x, y, x2, y2 := c.leaderOf(w, w.placed)
		fmt.Fprintf(&b, `<line class="leader thin" x1="%s" y1="%s" x2="%s" y2="%s"/>`+"\n", num(x), num(c.y(y)), num(x2), num(c.y(y2)))
	}
	if at := c.boxAt(w, w.placed); w.clear && w.own != nil && at.meets(*w.own) {
		at = box{max(at.x0, w.own.x0), max(at.y0, w.own.y0), min(at.x1, w.own.x1), min(at.y1, w.own.y1)}
		fmt.Fprintf(&b, `<rect class="clear" x="%s" y="%s" width="%s" height="%s"/>`+"\n", num(at.x0), num(c.y(at.y1)), num(at.x1-at.x0), num(at.y1-at.y0))
	}
	e := c.em * w.size
	y := w.placed.y + e*(lineStep*float64(len(w.lines)-1)/2-baseUnder)
	for i, l := range w.lines {
		fmt.Fprintf(&b, `<text class="%s" text-anchor="%s" x="%s" y="%s" font-size="%s">%s</text>`+"\n", w.classOf(i), w.placed.anchor, num(w.placed.x), num(c.y(y)), num(e), esc(l))
		y -= e * lineStep
	}
	return b.String()
}

// folded breaks a name into lines of about so many letters, at most four.
func folded(s string, letters int) []string {
	lines := wrap(plain(s), letters)
	if len(lines) > 4 {
		lines = lines[:4]
		lines[3] += " .."
	}
	return lines
}
