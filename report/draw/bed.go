package draw

import (
	"fmt"
	"slices"
	"strings"
)

// Bed draws the bed from above with the stations, in machine coordinates; nil where
// nothing is known in them. SVG's y is -Y.
func Bed(s *Scene) *Canvas {
	blanks := s.placed()
	if len(blanks) == 0 {
		return nil
	}
	var margin float64
	if s.Fixture != nil {
		margin = fl(*s.Fixture)
	}
	all := open("bed", 0) // for its extent
	for i := range blanks {
		all.growBox(blanks[i].box().grown(margin))
		all.grow(fl(blanks[i].Zero.X), fl(blanks[i].Zero.Y))
	}
	if s.Travel != nil {
		all.growBox(rectBox(*s.Travel))
	}
	for _, a := range s.NoGo {
		all.growBox(a.box())
	}
	if s.Bed != nil {
		all.growBox(s.Bed.box())
	}
	size := all.extent()
	c := open("bed", letterHeight(size.x1-size.x0, size.y1-size.y0, 0.031))
	s.machine(c)
	if margin > 0 {
		for i := range blanks {
			b := blanks[i].box().grown(margin)
			c.group("fixture-area", "margin", s.Fixture.String())
			c.rect("hidden fixture", b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
			c.edges(onThin, b)
			c.end()
		}
	}
	for i := range blanks {
		s.station(c, blanks, i, margin)
	}
	ordinatesOf(true, blanks...).draw(c, c.extent(), 0, 0)
	notes := []string{"operator stands on this side"}
	if margin > 0 {
		notes = append(notes, "dashed: fixture")
	}
	c.foot(s.BedUnit.String(), notes)
	c.Title = "The bed from above"
	c.Desc = "X to the right, Y away from the operator, machine coordinates. " + capital(strings.Join(s.bedParts(blanks), "; ")) + "."
	return c
}

// bedParts says what stands where.
func (s *Scene) bedParts(blanks []shown) (parts []string) {
	for i := range blanks {
		b := &blanks[i]
		corner := b.box()
		parts = append(parts, fmt.Sprintf("%s: near-left corner at X%s Y%s, zero at X%s Y%s%s", b.label, num(corner.x0), num(corner.y0), b.Zero.X, b.Zero.Y, b.located()))
	}
	if s.Fixture != nil && s.Fixture.IsPositive() {
		parts = append(parts, "the fixture goes "+s.Fixture.String()+" beyond each blank")
	}
	for _, t := range s.Taken {
		if t.Area != nil {
			parts = append(parts, t.Offset+" taken"+areaName(", ", t.Area.Name)+" at X"+t.Area.X.String()+" Y"+t.Area.Y.String())
		}
	}
	for _, n := range s.NoGo {
		part := strings.TrimRight(n.Name, " 0123456789") + " at X" + n.X.String() + " Y" + n.Y.String()
		if n.Height != nil {
			part += ", " + n.Height.String() + " high"
		}
		parts = append(parts, part)
	}
	return parts
}

// located says what locates a blank, and where.
func (b *shown) located() (text string) {
	if b.bare != "" {
		text = ", " + b.bare
	}
	for _, t := range b.studs {
		text += ", " + t.label() + " at " + xy(t.At)
	}
	for _, t := range b.contacts {
		text += ", " + t.label() + " on the " + t.side.String() + " side"
	}
	return text
}

// machine draws the bed, the machine's travel, and what stands there already.
func (s *Scene) machine(c *Canvas) {
	if s.Bed != nil {
		b := s.Bed.box()
		c.group("bed-area")
		c.rect("bed", b.x0, b.y0, fl(s.Bed.W), fl(s.Bed.H))
		c.edges(onEdge, b)
		c.frameName(b, "start", "bed "+s.Bed.W.String()+" x "+s.Bed.H.String())
		c.end()
	}
	if t := s.Travel; t != nil {
		b := rectBox(*t)
		c.group("travel-area", "x", t.X.String(), "y", t.Y.String(), "w", t.W.String(), "h", t.H.String())
		c.rect("travel", b.x0, b.y0, fl(t.W), fl(t.H))
		c.edges(onEdge, b)
		c.frameName(b, "end", "the machine's travel: X "+t.X.String()+" to "+t.Right().String()+", Y "+t.Y.String()+" to "+t.Far().String())
		c.end()
	}
	for _, t := range s.Taken {
		if a := t.Area; a != nil {
			c.group("taken-area", "offset", t.Offset, "x", a.X.String(), "y", a.Y.String())
			c.fillRect("area taken", "taken", fl(a.X), fl(a.Y), fl(a.W), fl(a.H))
			c.areaWords(a.box(), t.Offset+" taken", areaName("", a.Name), false)
			c.end()
		}
	}
	for _, a := range s.NoGo {
		c.group("nogo-area", "x", a.X.String(), "y", a.Y.String())
		c.fillRect("area", "nogo", fl(a.X), fl(a.Y), fl(a.W), fl(a.H))
		c.areaWords(a.box(), a.Name, "", len(s.NoGo) > mostNamed)
		c.end()
	}
}

// areaName gives the name of an area behind words that lead to it; the name of a flag
// says nothing of what stands there.
func areaName(lead, name string) string {
	if name == "" || strings.HasPrefix(name, "--") {
		return ""
	}
	return lead + name
}

// frameName names a frame at its far edge, outside, at the left (start) or right (end).
func (c *Canvas) frameName(b box, anchor, name string) {
	x, other, with := b.x0, b.x1, "end"
	if anchor == "end" {
		x, other, with = b.x1, b.x0, "start"
	}
	over, under := b.y1+c.em*0.8, b.y1-c.em*0.8
	c.say(words{class: "small", size: 0.85, lines: []string{name}, rank: 1, spots: []spot{{x, over, anchor}, {other, over, with}, {x, over + c.em*1.2, anchor}, {x, under, anchor}}})
}

// mostNamed is how many no-go areas are all named, by a line where they have no room. The
// lines to more would cover the bed: then only those that have room inside are.
const mostNamed = 24

// areaWords names an area inside it where there is room; otherwise with a line to it, or
// not at all where the name is optional.
func (c *Canvas) areaWords(b box, label, name string, optional bool) {
	const size = 0.85
	c.keep(onArea, b)
	c.edges(onEdge, b)
	x, y := b.middle()
	w := words{class: "label", rest: "small", size: size, rank: 2, optional: optional, only: optional, inside: b, own: &b, home: &spot{x: x, y: y}, spots: []spot{{x, y, "middle"}}}
	for _, wide := range []float64{18, 14, 10, 7, 5} {
		w.lines = append([]string{label}, folded("small", name, wide)...)
		if c.boxAt(&w, w.spots[0]).within(b.grown(-c.em * 0.1)) {
			break
		}
		w.lines = append([]string{label}, folded("small", name, 14)...)
	}
	c.say(w)
}

// station draws one blank with its letters, locators, offset and zero. Where another
// blank lies in the same place, the first one drawn carries the words of both.
func (s *Scene) station(c *Canvas, blanks []shown, i int, margin float64) {
	b := &blanks[i]
	first, zeroAgain, label := true, false, b.label
	var over *shown // the other side's blank in the same place
	for k := range blanks {
		o := &blanks[k]
		if k == i {
			continue
		}
		zeroAgain = zeroAgain || k < i && o.Zero.X.Equal(b.Zero.X) && o.Zero.Y.Equal(b.Zero.Y)
		if o.same(b) {
			first = first && k > i
			over = o
			label += " / " + o.label
		}
	}
	c.group("station", "side", b.Side, "offset", b.Offset, "pair", itoa(b.Pair), "zero-x", b.Zero.X.String(), "zero-y", b.Zero.Y.String())
	own := b.box()
	if first {
		c.rect("blank", own.x0, own.y0, own.x1-own.x0, own.y1-own.y0)
		if b.back() {
			c.fillRect("over", "back", own.x0, own.y0, own.x1-own.x0, own.y1-own.y0)
		}
		c.keep(onArea, own)
		c.edges(onEdge, own)
		c.edgeLetters(own, s.lettersOf(b, over))
	}
	for _, t := range b.studs {
		if slices.ContainsFunc(blanks[:i], func(o shown) bool { return hasStud(o.studs, t) }) {
			continue // one dowel, on which both sides lie
		}
		c.stud(t, fl(t.At.X), fl(t.At.Y), own, b.back() && over == nil, b.Pair > 1)
	}
	for _, t := range b.contacts {
		if over != nil && !first && hasStanding(over.contacts, t) {
			continue
		}
		c.locator(t, fl(t.at), own, t.label()+s.servesWords(blanks, b, t))
	}
	if first {
		x, y := own.middle()
		out := margin + c.em*0.9
		w := words{class: "label", size: 1, lines: []string{label}, rank: 2, own: &own, clear: b.back(), home: &spot{x: x, y: y}}
		for _, f := range []float64{0.55, 0.68, 0.36, 0.8, 0.22} {
			w.spots = append(w.spots, spot{x, own.y0 + (own.y1-own.y0)*f, "middle"})
		}
		w.spots = append(w.spots, spot{x, own.y1 + out, "middle"}, spot{own.x0, own.y1 + out, "start"}, spot{x, own.y0 - out, "middle"},
			spot{own.x1 + out, y, "start"}, spot{own.x0 - out, y, "end"}, spot{x, own.y1 + out + c.em*1.2, "middle"})
		w.spots = slices.DeleteFunc(w.spots, func(p spot) bool {
			return slices.ContainsFunc(blanks, func(o shown) bool { return !o.same(b) && (box{p.x, p.y, p.x, p.y}).meets(o.box()) })
		})
		c.say(w)
	}
	if !zeroAgain {
		c.group("zero-mark", "offset", b.Offset)
		c.zero(fl(b.Zero.X), fl(b.Zero.Y), int(b.Turn))
		c.end()
	}
	c.end()
}

// lettersOf are the letters of a blank's edges, with those of the other side's blank where
// that lies in the same place.
func (s *Scene) lettersOf(b, over *shown) (names [4]string) {
	if s.Answer == nil {
		return names
	}
	flip := s.Answer.Question.Flip
	names = EdgeLetters(flip, b.back(), int(b.Turn))
	if over == nil {
		return names
	}
	for k, other := range EdgeLetters(flip, over.back(), int(over.Turn)) {
		if other != names[k] {
			names[k] += ", " + over.Side + " " + other
		}
	}
	return names
}

// hasStud reports whether something stands in a stud's place; on pins that serve both
// sides another hole goes onto it.
func hasStud(list []stud, t stud) bool {
	for _, o := range list {
		if o.At.X.Equal(t.At.X) && o.At.Y.Equal(t.At.Y) {
			return true
		}
	}
	return false
}

func hasStanding(list []standing, t standing) bool {
	for _, o := range list {
		if o.name == t.name && o.side == t.side && o.at.Equal(t.at) {
			return true
		}
	}
	return false
}

// servesWords says which side a contact is for where face and back lie on one place.
func (s *Scene) servesWords(blanks []shown, b *shown, t standing) string {
	for k := range blanks {
		if o := &blanks[k]; o.back() != b.back() && o.box().meets(b.box()) {
			if hasStanding(o.contacts, t) {
				return ", face and back"
			}
			return ", " + b.Side
		}
	}
	return ""
}
