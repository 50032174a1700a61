// Package pattern proposes where dowels go in a blank, which standard pins they
// are and how deep their holes, so that the blank comes back over the same pins
// after it is turned over and goes on in no wrong way.
//
// Places are in the face's as-laid frame, from the blank's near-left corner. All
// lengths are exact decimals in the question's unit. Pins stand in the bed and
// end inside the blank; holes go through the blank, since either side may be
// down.
package pattern

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
)

// Style is a kind of pattern.
type Style string

// The two styles. Both are foolproof: no wrong lay-up fits.
const (
	// Line is two pins of different diameters on the flip line.
	Line Style = "line"
	// Pair is two equal pins either side of the flip line and a third on it, off
	// the middle of the blank.
	Pair Style = "pair"
)

// Options are the things beside the question that a pattern rests on.
type Options struct {
	// Margin is the width of the strip of waste round the blank in which the holes
	// must lie; nil takes the strip that the pins need.
	Margin *decimal.Decimal
	// Style "" takes Line where its pins stand at least half as far apart as
	// those of Pair.
	Style Style
	// Standard of the pins. ISO 8734 in millimetres and ASME B18.8.2 in inches
	// unless Chosen.
	Standard fit.Standard
	Chosen   bool
	// Diameters of the pins, nominal: two for Line, one for Pair; nil takes the
	// largest that fit, up to 8 mm or 5/16 in (common practice in wood).
	Diameters []decimal.Decimal
	// Spoilboard is how deep a pin may go into the bed; zero is not said, and leaves
	// the pins without a length.
	Spoilboard decimal.Decimal
	// Over is the greatest depth that a program of either side cuts over a pin.
	Over decimal.Decimal
	// Clear reports whether no program of either side cuts deeper than Over within a
	// radius of a place on the blank, face up; nil where the cuts aren't known.
	Clear func(at registration.Point, radius decimal.Decimal) bool
}

// settle fills in the standard that is taken where none was chosen.
func (o *Options) settle(q registration.Question) {
	if !o.Chosen {
		o.Standard = fit.ISO8734
		if q.Unit == transform.Inch {
			o.Standard = fit.B18_8_2
		}
	}
}

// Dowel is one pin with its holes.
type Dowel struct {
	At     registration.Point
	Pin    fit.Pin
	Length decimal.Decimal // as ordered; zero without a Spoilboard
	// InBlank and InBed are the pin's nominal lengths in the two, which are
	// together its Length. Tolerance is how much longer or shorter a pin can be.
	InBlank, InBed, Tolerance decimal.Decimal
	// Hole is the diameter to bore through the blank, nominal, and Play the
	// clearance with its limits. The bed's hole has the pin's nominal diameter.
	Hole decimal.Decimal
	Play fit.Play
}

// Height is how high the pin's end can stand over the bed's surface: it may be longer
// than ordered. It is zero where the pin has no length.
func (d Dowel) Height() decimal.Decimal { return d.InBlank.Add(d.Tolerance) }

// Pattern is a set of dowels with what they are for.
type Pattern struct {
	Style   Style // "" for pins that were given
	Dowels  []Dowel
	Spacing decimal.Decimal // between the two pins farthest apart, rounded to the sixth decimal
	Strip   decimal.Decimal // the width of the strip round the blank that the holes take
	// Answer is the question with these pins solved: its lay-ups and its verdict.
	Answer *registration.Answer
	Turn   registration.Quarter // of the stations, with which the drilling programs are turned
	Facts  []registration.Fact
}

// byUnit is one length, in millimetres or in inches.
type byUnit struct{ metric, inch string }

func (b byUnit) in(u transform.Unit) decimal.Decimal {
	if u == transform.Inch {
		return decimal.RequireFromString(b.inch)
	}
	return decimal.RequireFromString(b.metric)
}

var (
	// greatest is the thickest pin that is proposed (common practice in wood).
	greatest = byUnit{"8", "0.3125"}
	// apart is the least difference of two diameters on the flip line: more than
	// twice the push of a hand in wood, 0.25 mm or 0.01 in, with the play.
	apart = byUnit{"1", "0.0625"}
	// under is how far a pin's end stays below the top and below any cut over it.
	under = byUnit{"0.5", "0.02"}
	// grain is the step of a hole's depth in the bed.
	grain = byUnit{"0.5", "0.015625"}
)

var (
	half  = decimal.New(5, -1)
	three = decimal.NewFromInt(3)
)

// At gives the pattern for one pair's answer.
func At(a *registration.Answer, o Options) (*Pattern, error) {
	p, err := Propose(a.Own().Question, o)
	if err != nil {
		return nil, err
	}
	p.Turn = a.FaceTurn
	return p, nil
}

// Propose places pins for a question's blank and flip and says what they are. If
// the question has pins, their places and diameters stay, and they get their
// lengths and holes.
func Propose(q registration.Question, o Options) (*Pattern, error) {
	p := &Pattern{}
	q.Register = registration.Dowels
	o.settle(q)
	b, err := check(q, o)
	if err != nil {
		return nil, err
	}
	if len(q.Pins) == 0 {
		if holesOfTwo(q, o) && o.Diameters[1].GreaterThan(o.Diameters[0]) {
			q.Hole = []decimal.Decimal{q.Hole[1], q.Hole[0]} // the thicker pin stands first
		}
		if q.Pins, err = p.place(q, b, o); err != nil {
			return nil, err
		}
	} else {
		p.given(q, b, o)
	}
	if o.Clear != nil {
		q.Clear = func(at registration.Point, radius decimal.Decimal) bool { return o.Clear(at, radius.Add(Wall(q.Unit))) }
	}
	if p.Answer, err = registration.Solve(q); err != nil {
		return nil, err
	}
	for i, pin := range q.Pins {
		d, err := p.dowel(q, b, o, i, pin)
		if err != nil {
			return nil, err
		}
		p.Dowels = append(p.Dowels, d)
	}
	p.classes(q, o)
	if f, ok := AsDrilled(q); ok {
		p.Facts = append(p.Facts, f)
	}
	p.spacing()
	return p, nil
}

// check refuses questions without an answer and gives the blank.
func check(q registration.Question, o Options) (registration.Blank, error) {
	var b registration.Blank
	switch {
	case q.Measured != nil:
		b = *q.Measured
	case q.Stock != nil:
		b = *q.Stock
	default:
		return b, &registration.Error{About: "stock", Found: "no size of the blank", Expected: "WxHxT"}
	}
	if !b.W.IsPositive() || !b.H.IsPositive() || !b.T.IsPositive() {
		return b, &registration.Error{About: "stock", Found: fmt.Sprintf("a blank of %s by %s by %s", b.W, b.H, b.T), Expected: "sizes over 0"}
	}
	if q.Flip != registration.FlipX && q.Flip != registration.FlipY {
		return b, &registration.Error{About: "flip", Found: "missing", Expected: "x or y"}
	}
	if o.Standard.Unit() != q.Unit {
		return b, &registration.Error{About: "standard", Found: fmt.Sprintf("dowels of %s with lengths in %s", o.Standard, q.Unit),
			Expected: "a standard in the same unit", Hint: "or the other ‹units›"}
	}
	for _, c := range []struct {
		flag string
		v    decimal.Decimal
	}{{"over", o.Over}, {"spoilboard", o.Spoilboard}} {
		if c.v.IsNegative() {
			return b, &registration.Error{About: c.flag, Found: c.v.String(), Expected: "0 or more"}
		}
	}
	if o.Margin != nil && !o.Margin.IsPositive() {
		return b, &registration.Error{About: "margin", Found: o.Margin.String(), Expected: "a width over 0"}
	}
	if q.Fit != "" && len(q.Hole) > 0 {
		return b, &registration.Error{About: "hole", Found: "a hole and a fit", Expected: "one of the two"}
	}
	if len(q.Hole) > 1 && len(q.Pins) == 0 && !holesOfTwo(q, o) {
		return b, &registration.Error{About: "hole", Found: fmt.Sprintf("%d holes and no dowels", len(q.Hole)), Expected: "a ‹pin› or a ‹diameter› for each, in the same order"}
	}
	return b, nil
}

// holesOfTwo reports whether two diameters are asked for with a hole for each.
func holesOfTwo(q registration.Question, o Options) bool {
	return len(q.Hole) == 2 && len(o.Diameters) == 2
}

// inset is how far a hole's centre lies from the edge: one diameter, so that half
// a diameter of wood is left (common practice).
func inset(dia decimal.Decimal) decimal.Decimal { return dia }

// strip is the width of waste that the hole of a pin takes.
func strip(q registration.Question, o Options, dia decimal.Decimal) decimal.Decimal {
	return inset(dia).Add(holeFor(q, o, dia).Mul(half))
}

// holeFor is the diameter of the hole that a pin to be proposed gets: the one that is
// given for it, or its own.
func holeFor(q registration.Question, o Options, dia decimal.Decimal) decimal.Decimal {
	switch {
	case holesOfTwo(q, o): // the thicker pin's stands first
		if dia.Equal(decimal.Max(o.Diameters[0], o.Diameters[1:]...)) {
			return q.Hole[0]
		}
		return q.Hole[1]
	case len(q.Hole) == 1:
		return q.Hole[0]
	}
	return dia
}

// place finds style, diameters and places.
func (p *Pattern) place(q registration.Question, b registration.Blank, o Options) ([]registration.Pin, error) {
	if o.Style != "" && o.Style != Line && o.Style != Pair {
		return nil, &registration.Error{About: "pattern", Found: fmt.Sprintf("%q", string(o.Style)), Expected: "line or pair"}
	}
	along, across := b.H, b.W // the flip line's length, and the size across it
	if q.Flip == registration.FlipX {
		along, across = b.W, b.H
	}
	styles := []Style{Pair}
	switch {
	case o.Style != "":
		styles[0] = o.Style
	case holesOfTwo(q, o):
		styles[0] = Line
	case len(o.Diameters) == 1 || len(q.Hole) > 0: // one diameter, so different ones can't tell the ends apart
	case len(o.Diameters) == 2:
		styles[0] = Line
	case along.Mul(decimal.NewFromInt(2)).GreaterThanOrEqual(across):
		styles = []Style{Line, Pair}
	default:
		styles = []Style{Pair, Line}
	}
	if o.Clear == nil {
		styles = styles[:1]
	}
	for _, try := range tries(styles, o) {
		for thinner := greatest.in(q.Unit).Add(greatest.in(q.Unit)); ; {
			dia, err := diameters(q, b, o, try.style, thinner)
			if err != nil {
				if o.Clear == nil || thinner.GreaterThan(greatest.in(q.Unit)) && len(styles) == 1 {
					return nil, err // not for want of a clear place
				}
				break
			}
			places, err := spots(q, o, try, dia, along, across, b)
			if err != nil && o.Clear == nil {
				return nil, err
			}
			if err == nil && places != nil {
				p.Style = try.style
				for _, d := range dia {
					p.Strip = decimal.Max(p.Strip, strip(q, o, d))
				}
				if o.Margin == nil {
					p.fact(registration.LevelAssumed, MarginAssumed{p.Strip})
				}
				return places, nil
			}
			if thinner = dia[0]; len(o.Diameters) > 0 || len(q.Hole) > 0 {
				break
			}
		}
	}
	return nil, &registration.Error{About: "margin", No: true, Found: "no place in the waste is clear of the cuts of both sides",
		Expected: fmt.Sprintf("%s %s of wood between a hole and every cut", Wall(q.Unit), q.Unit),
		Hint:     "leave more waste and give its width as ‹margin›, or use thinner dowels, the other flip, or a fence and stop"}
}

// try is a style, with the flip line in the blank's middle or aside of it.
type try struct {
	style Style
	aside bool
}

// tries lists what is tried in order: thinner pins in the middle come before a flip
// line aside of it, which shifts the turned blank by twice as much.
func tries(styles []Style, o Options) (list []try) {
	for _, s := range styles {
		list = append(list, try{style: s})
	}
	if o.Clear != nil && slices.Contains(styles, Line) {
		list = append(list, try{Line, true})
	}
	return list
}

// Wall is the least wood between a dowel's hole and a cut of either side: 1 mm or
// 0.04 in, for a cutter that runs out and a hole that is drilled wide (common practice).
func Wall(u transform.Unit) decimal.Decimal { return byUnit{"1", "0.04"}.in(u) }

// spots finds the places of pins of a style, those that stand farthest apart first;
// nil where none is clear.
func spots(q registration.Question, o Options, t try, dia []decimal.Decimal, along, across decimal.Decimal, b registration.Blank) ([]registration.Pin, error) {
	step := byUnit{"1", "0.0625"}.in(q.Unit)
	// (a, l): a across the flip line, l along it.
	at := func(a, l decimal.Decimal, d decimal.Decimal) registration.Pin {
		if q.Flip == registration.FlipX {
			a, l = l, a
		}
		return registration.Pin{At: registration.Point{X: a, Y: l}, Dia: d}
	}
	clear := func(pins ...registration.Pin) bool {
		return o.Clear == nil || !slices.ContainsFunc(pins, func(p registration.Pin) bool {
			return !o.Clear(p.At, holeFor(q, o, p.Dia).Mul(half).Add(Wall(q.Unit)))
		})
	}
	// insets are how far a hole's centre may lie from an edge inside the waste.
	insets := func(d decimal.Decimal) (list []decimal.Decimal) {
		most := inset(d)
		if o.Margin != nil && o.Clear != nil {
			most = decimal.Max(most, o.Margin.Sub(holeFor(q, o, d).Mul(half)))
		}
		for e := inset(d); e.LessThanOrEqual(most); e = e.Add(step) {
			list = append(list, e)
		}
		return list
	}
	// about lists places on either side of the middle of a length, the nearest first.
	about := func(length, d decimal.Decimal) (list []decimal.Decimal) {
		middle := length.Mul(half)
		list = append(list, middle)
		for k := step; o.Clear != nil && middle.Sub(k).GreaterThanOrEqual(inset(d)); k = k.Add(step) {
			list = append(list, middle.Sub(k), middle.Add(k))
		}
		return list
	}
	if t.style == Line {
		lines := []decimal.Decimal{across.Mul(half)}
		if t.aside {
			lines = about(across, dia[0])[1:]
		}
		if span := along.Sub(inset(dia[0])).Sub(inset(dia[1])); span.LessThan(dia[0].Mul(three)) {
			return nil, tooSmall(b, span, dia[0])
		}
		for _, m := range lines {
			for _, first := range insets(dia[0]) {
				if !clear(at(m, first, dia[0])) {
					continue
				}
				for _, last := range insets(dia[1]) {
					last = along.Sub(last)
					if pin := at(m, last, dia[1]); clear(pin) && last.Sub(first).GreaterThanOrEqual(dia[0].Mul(three)) {
						return []registration.Pin{at(m, first, dia[0]), pin}, nil
					}
				}
			}
		}
		return nil, nil
	}
	d := dia[0]
	if spacing := across.Sub(inset(d)).Sub(inset(d)); spacing.LessThan(d.Mul(three)) {
		return nil, tooSmall(b, spacing, d)
	}
	// The third pin tells the ends of the flip line apart: it must lie off the
	// line's middle by more than the play, and not over the pair's join.
	if along.Mul(half).Sub(inset(d)).LessThan(d) {
		return nil, tooSmall(b, along.Mul(half).Sub(inset(d)), d)
	}
	for _, e := range insets(d) {
		if across.Sub(e).Sub(e).LessThan(d.Mul(three)) {
			break
		}
		for _, l := range about(along, d) {
			left, right := at(e, l, d), at(across.Sub(e), l, d)
			if !clear(left, right) {
				continue
			}
			for _, i := range insets(d) {
				for _, third := range []decimal.Decimal{i, along.Sub(i)} {
					if pin := at(across.Mul(half), third, d); third.Sub(l).Abs().GreaterThanOrEqual(d) && clear(pin) {
						return []registration.Pin{left, right, pin}, nil
					}
				}
			}
		}
	}
	return nil, nil
}

func tooSmall(b registration.Blank, spacing, dia decimal.Decimal) error {
	return &registration.Error{About: "stock", No: true,
		Found:    fmt.Sprintf("dowels of %s would be only %s apart on a blank of %s by %s", dia, spacing, b.W, b.H),
		Expected: "at least three diameters",
		Hint:     "use thinner dowels, the other flip, or a fence and stop"}
}

// diameters chooses or checks the pins' diameters, the thicker first; what it chooses is
// thinner than given.
func diameters(q registration.Question, b registration.Blank, o Options, style Style, thinner decimal.Decimal) ([]decimal.Decimal, error) {
	n := 2
	if style == Pair {
		n = 1
	}
	if len(q.Hole) > 0 && style == Line && !holesOfTwo(q, o) {
		return nil, &registration.Error{About: "hole", Found: fmt.Sprintf("one hole of %s for two diameters", q.Hole[0]),
			Expected: "a ‹fit›, or a ‹hole› and a ‹diameter› for each of the two, or three dowels of one diameter"}
	}
	if len(o.Diameters) > 0 {
		return givenDiameters(q, b, o, n)
	}
	var list []decimal.Decimal
	const more = "use more waste, a thicker blank, less depth over the dowels, or a fence and stop"
	why, flag, hint := "", "margin", more
	pins := fit.Pins(o.Standard)
	if len(q.Hole) > 0 {
		pins = slices.DeleteFunc(pins, func(p fit.Pin) bool { return !p.Registers().Holds(q.Hole[0]) })
		if len(pins) == 0 {
			return nil, noneRegisters(q.Hole[0], o.Standard)
		}
	}
	for i := len(pins) - 1; i >= 0 && len(list) < n; i-- {
		d := pins[i].Nominal
		switch {
		case d.GreaterThanOrEqual(thinner):
		case d.GreaterThan(greatest.in(q.Unit)):
			if len(q.Hole) > 0 {
				why, flag = fmt.Sprintf("a hole of %s is for a dowel of %s, and none thicker than %s is proposed", q.Hole[0], pins[i].Label, greatest.in(q.Unit)), "hole"
				hint = fmt.Sprintf("for it give ‹diameter %s›", d)
			}
		default:
			if w, about := unfit(q, b, o, pins[i]); w != "" {
				why, flag, hint = w, about, more
				continue
			}
			if len(list) == 0 || list[0].Sub(d).GreaterThanOrEqual(apart.in(q.Unit)) {
				list = append(list, d)
			}
		}
	}
	if len(list) < n {
		if why == "" {
			why = "no two diameters far enough apart"
		}
		return nil, &registration.Error{About: flag, No: true, Found: why,
			Expected: fmt.Sprintf("room for standard dowels (%s)", o.Standard),
			Hint:     hint}
	}
	return list, nil
}

// noneRegisters says that no pin of a standard registers in a hole, and what would.
func noneRegisters(hole decimal.Decimal, s fit.Standard) error {
	e := &registration.Error{About: "hole", No: true,
		Found:    fmt.Sprintf("no dowel of %s registers in a hole of %s", s, hole),
		Expected: fmt.Sprintf("a dowel with a clearance of 0 to %s", fit.GreatestPlay(s.Unit()))}
	var below, above *fit.Pin
	for _, p := range fit.Pins(s) {
		if p.Size.Upper.GreaterThan(hole) {
			above = &p
			break
		}
		below = &p
	}
	var right []string
	add := func(p *fit.Pin) {
		l := p.Registers()
		right = append(right, fmt.Sprintf("a dowel of %s takes a hole of %s to %s", p.Label, l.Lower, l.Upper))
	}
	if above != nil {
		add(above)
	}
	if below != nil {
		e.Found += fmt.Sprintf(": the thickest that goes in, %s, has a clearance of %s to %s", below.Label, hole.Sub(below.Size.Upper), hole.Sub(below.Size.Lower))
		add(below)
	}
	for o := fit.ISO8734; o <= fit.B18_8_2; o++ {
		for _, p := range fit.Pins(o) {
			if o.Unit() == s.Unit() && p.Registers().Holds(hole) {
				right = append(right, fmt.Sprintf("‹standard %s› has a dowel of %s for this hole", o.Key(), p.Label))
			}
		}
	}
	e.Hint = strings.Join(right, "; ")
	return e
}

// unfit says why a pin can't stand in the blank, or "", and the flag that it rests
// on.
func unfit(q registration.Question, b registration.Blank, o Options, pin fit.Pin) (why, flag string) {
	d := pin.Nominal
	if room := room(q, b, o); room.LessThan(d) {
		switch {
		case o.Over.GreaterThan(q.Skimmed):
			return fmt.Sprintf("a dowel of %s has only %s of the blank to stand in, under a cut of %s", d, decimal.Max(room, decimal.Zero), o.Over), "over"
		case q.Skimmed.IsPositive():
			return fmt.Sprintf("a dowel of %s has only %s of the blank to stand in, once %s are skimmed off", d, decimal.Max(room, decimal.Zero), q.Skimmed), "skimmed"
		}
		return fmt.Sprintf("a dowel of %s has only %s of the blank to stand in", d, decimal.Max(room, decimal.Zero)), "stock"
	}
	if w := strip(q, o, d); o.Margin != nil && o.Margin.LessThan(w) {
		return fmt.Sprintf("a dowel of %s takes a strip of %s, the margin is %s", d, w, o.Margin), "margin"
	}
	if o.Spoilboard.IsPositive() {
		if _, _, _, _, ok := cutLength(q, b, o, pin); !ok {
			return fmt.Sprintf("no standard length suits a dowel of %s with %s of room in the blank and %s in the bed", d, room(q, b, o), o.Spoilboard), "spoilboard"
		}
	}
	return "", ""
}

// room is the greatest length of a pin inside the blank: its end stays below the
// top and below any cut over it.
func room(q registration.Question, b registration.Blank, o Options) decimal.Decimal {
	over := decimal.Max(o.Over, q.Skimmed)
	return b.T.Sub(over).Sub(under.in(q.Unit))
}

func givenDiameters(q registration.Question, b registration.Blank, o Options, n int) ([]decimal.Decimal, error) {
	if len(o.Diameters) != n {
		return nil, &registration.Error{About: "diameter", Found: fmt.Sprintf("%d diameters", len(o.Diameters)),
			Expected: map[int]string{1: "one for dowels either side of the flip line", 2: "two different ones on the flip line"}[n]}
	}
	list := append([]decimal.Decimal{}, o.Diameters...)
	if n == 2 && list[1].GreaterThan(list[0]) {
		list[0], list[1] = list[1], list[0]
	}
	if n == 2 && list[0].Sub(list[1]).LessThan(apart.in(q.Unit)) {
		return nil, &registration.Error{About: "diameter", No: true, Found: fmt.Sprintf("%s and %s", o.Diameters[0], o.Diameters[1]),
			Expected: fmt.Sprintf("a difference of at least %s, so that the thicker dowel can't be pushed into the thinner one's hole", apart.in(q.Unit))}
	}
	for _, d := range list {
		pin, err := fit.Lookup(o.Standard, d)
		if err != nil {
			return nil, registration.About(err, "diameter")
		}
		if w, _ := unfit(q, b, o, pin); w != "" {
			return nil, &registration.Error{About: "diameter", No: true, Found: w, Expected: "a thinner dowel"}
		}
	}
	return list, nil
}

// given looks where given pins lie against the margin.
func (p *Pattern) given(q registration.Question, b registration.Blank, o Options) {
	for i, pin := range q.Pins {
		r := pin.Dia.Mul(half)
		if hole := q.HoleOf(i); hole != nil {
			r = decimal.Max(r, hole.Mul(half))
		}
		depth := b.Inset(pin.At).Add(r)
		p.Strip = decimal.Max(p.Strip, depth)
		if o.Margin != nil && depth.GreaterThan(*o.Margin) {
			p.fact(registration.LevelWarning, OutsideMargin{i + 1, depth.Sub(*o.Margin)})
		}
		if o.Clear != nil && !o.Clear(pin.At, r) {
			p.fact(registration.LevelWarning, PinUnderCut{i + 1})
		}
	}
}

// spacing finds the greatest distance between two pins.
func (p *Pattern) spacing() {
	var most decimal.Decimal
	for i, a := range p.Dowels {
		for _, b := range p.Dowels[:i] {
			dx, dy := a.At.X.Sub(b.At.X), a.At.Y.Sub(b.At.Y)
			most = decimal.Max(most, dx.Mul(dx).Add(dy.Mul(dy)))
		}
	}
	if s, err := most.SqrtRound(6); err == nil {
		p.Spacing = s
	}
}
