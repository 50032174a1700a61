package draw

import (
	"math"
	"strings"
	"unicode"

	"flipcalc/report/letters"
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
	spots    []spot  // tried in this order; one alone is where they stand
	rank     int     // the least is placed first
	optional bool    // left out where no spot is free
	close    bool    // the least bad of their spots, also on areas, rather than one far off
	pointed  bool    // a line leads home from every spot
	clear    bool    // no pattern behind them in their own area
	only     bool    // a spot that isn't wholly inside counts as taken
	apart    float64 // room to other words beyond the usual, in parts of the letters' height
	inside   box     // an area that they don't leave; nothing is all of the drawing
	ringed   bool    // in a ring, as the number of the place that is home, which gets a dot
	own      *box    // an area that they may cover
	home     *spot   // what they belong to: a line leads there from afar
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

// letterWidth is the most that a letter takes of the letters' height, heavy or not, in
// a wide sans serif (DejaVu Sans, the widest that such pages are shown in, from memory)
// and in the letters of a picture.
func letterWidth(r rune, heavy bool) float64 {
	w := 0.63
	switch {
	case strings.ContainsRune("mwMW@%", r):
		w = 1.03
	case strings.ContainsRune("GOQ&", r):
		w = 0.79
	case strings.ContainsRune("ijl.,:;'|!()[]If/tr ", r):
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

// textWidth is the most that a text takes, in parts of the letters' height.
func textWidth(class, s string) float64 {
	w, heavy := 0.0, bold(class)
	for _, r := range letters.Plain(s) {
		w += letterWidth(r, heavy)
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

// ringRadius is the radius of the ring round a number, in parts of the letters' size:
// two figures find room in it.
const ringRadius = 0.77

// boxAt is what the words cover at a spot.
func (c *Canvas) boxAt(w *words, s spot) box {
	wide := 0.0
	for i, l := range w.lines {
		wide = max(wide, textWidth(w.classOf(i), l))
	}
	e := c.em * w.size
	wide *= e
	if w.ringed {
		return box{s.x, s.y, s.x, s.y}.grown(ringRadius * e)
	}
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
func (c *Canvas) say(w words) {
	if len(w.lines) == 0 || len(w.lines) == 1 && w.lines[0] == "" {
		return
	}
	c.words = append(c.words, &w)
	if w.fixed() {
		c.growBox(c.boxAt(&w, w.spots[0]))
	}
}

// keep makes words stay off a place.
func (c *Canvas) keep(cost float64, b box) { c.marks = append(c.marks, keepOff{b, cost}) }

// settle gives all words their places, once: those that can't move first, then by rank.
// Then they are written over everything else, lines that lead to them first.
func (c *Canvas) settle() {
	if c.settled {
		return
	}
	c.settled = true
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
				c.leaders = append(c.leaders, [2]point{{x, y}, {x2, y2}})
			}
		}
	}
	for _, w := range c.words {
		c.lead(w)
	}
	for _, w := range c.words {
		c.write(w)
	}
}

// cost adds to a cost what it costs words to stand at a spot: infinity where they can't, or
// where it comes to most.
func (c *Canvas) cost(w *words, s spot, taken []box, leader bool, cost, most float64) float64 {
	never := math.Inf(1)
	b := c.boxAt(w, s)
	if w.inside != (box{}) && !b.within(w.inside) {
		if w.only {
			return never
		}
		cost += onMark
	}
	room := b.grown(c.em * (0.14 + w.apart))
	for _, t := range taken {
		if cost >= most || room.meets(t) {
			return never
		}
	}
	for _, m := range c.marks {
		if b.meets(m.box) && !(m.cost == onArea && (w.close || w.own != nil && m.box == *w.own)) {
			if cost += m.cost; cost >= most {
				return never
			}
		}
	}
	if !leader {
		return cost
	}
	x, y, x2, y2 := c.leaderOf(w, s)
	for _, t := range taken {
		if t.crossed(x, y, x2, y2) {
			if cost += onMark; cost >= most {
				return never
			}
		}
	}
	for _, l := range c.leaders {
		if crossing(l, [2]point{{x, y}, {x2, y2}}) {
			cost += onMark
		}
	}
	return cost
}

// choose finds the place of least cost for words.
func (c *Canvas) choose(w *words, taken []box) (spot, bool) {
	best, least := spot{}, math.Inf(1)
	try := func(s spot, cost float64, leader bool) {
		if cost >= least {
			return
		}
		if cost = c.cost(w, s, taken, leader, cost, least); cost < least {
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
			case w.ringed:
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
func (c *Canvas) leaderOf(w *words, s spot) (x, y, x2, y2 float64) {
	x2, y2 = w.home.x, w.home.y
	if w.ringed { // the ring covers what is in it
		return s.x, s.y, x2, y2
	}
	b := c.boxAt(w, s).grown(c.em * 0.15)
	return min(max(x2, b.x0), b.x1), min(max(y2, b.y0), b.y1), x2, y2
}

// crossing says whether two straight lines cross, each between its ends.
func crossing(a, b [2]point) bool {
	apart := func(l [2]point, p, q point) bool {
		side := func(r point) float64 {
			return (l[1][0]-l[0][0])*(r[1]-l[0][1]) - (l[1][1]-l[0][1])*(r[0]-l[0][0])
		}
		return side(p)*side(q) < 0
	}
	return apart(a, b[0], b[1]) && apart(b, a[0], a[1])
}

// lead draws the line from words to what they belong to. One to a numbered place has a
// rim, so that it stands out from a map.
func (c *Canvas) lead(w *words) {
	if w.gone || !w.leader {
		return
	}
	x, y, x2, y2 := c.leaderOf(w, w.placed)
	if !w.ringed {
		c.add(segment{"leader thin", point{x, y}, point{x2, y2}})
		return
	}
	for _, class := range []string{"leader rim", "leader thick"} {
		c.add(segment{class, point{x, y}, point{x2, y2}})
	}
	c.circle("find-dot", x2, y2, c.em*0.18)
}

// write adds words at their place.
func (c *Canvas) write(w *words) {
	if w.gone {
		return
	}
	at := c.boxAt(w, w.placed)
	switch {
	case w.ringed:
		c.circle("find", w.placed.x, w.placed.y, ringRadius*c.em*w.size)
	case w.clear && w.own != nil && at.meets(*w.own):
		c.add(rectangle{"clear", "", box{max(at.x0, w.own.x0), max(at.y0, w.own.y0), min(at.x1, w.own.x1), min(at.y1, w.own.y1)}})
	}
	e := c.em * w.size
	y := w.placed.y + e*(lineStep*float64(len(w.lines)-1)/2-baseUnder)
	for i, l := range w.lines {
		c.add(writing{class: w.classOf(i), anchor: w.placed.anchor, text: l, at: point{w.placed.x, y}, size: e})
		y -= e * lineStep
	}
}

// Lines is how many lines a text takes that are at most so many letters' heights wide, in
// the widest letters that it may be shown in.
func Lines(text string, wide float64) int { return len(broken("", text, wide)) }

// broken breaks a text into lines no wider than so many letters' heights, a word that is
// wider on a line of its own.
func broken(class, text string, wide float64) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(letters.Plain(text)) {
		if line != "" && textWidth(class, line+" "+word) > wide {
			lines = append(lines, line)
			line = ""
		}
		line = strings.TrimLeft(line+" "+word, " ")
	}
	return append(lines, line)
}

// folded breaks a name into at most four lines.
func folded(class, name string, wide float64) []string {
	if name == "" {
		return nil
	}
	lines := broken(class, name, wide)
	if len(lines) > 4 {
		lines = lines[:4]
		lines[3] += " .."
	}
	return lines
}
