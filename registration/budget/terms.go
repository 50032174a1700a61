package budget

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/fit"
)

// work is a question made ready for its terms.
type work struct {
	q     registration.Question
	o     Options
	size  registration.Blank
	w, h  float64
	facts []registration.Fact

	pegs         []peg // dowels, or plug and clocking
	clear        Value // greatest clearance of dowels or plug
	clearFrom    From
	clocking     Value // play of the plug's clocking
	clockingFrom From
	free         bool // a round part that nothing keeps from turning
	seats        []string
	// datum is where the registration holds the blank on the face and on the back,
	// both in the face's frame; sin2 the squared sine of its line's direction.
	datum [2]vec
	sin2  [2]float64
	// corner is the blank's corner at fence and stop, face and back, in the face's frame:
	// the edges there hold the blank, wherever the contacts are.
	corner [2]vec

	lie *registration.Lie // of a touched blank

	wood  *Species
	moved decimal.Decimal // greatest change of moisture, percent
	grain string
}

// side is the locator sides of one seat.
type side struct{ fence, stop registration.Side }

func newWork(q registration.Question, o Options) (*work, error) {
	w := &work{q: q, o: o}
	switch {
	case q.Measured != nil:
		w.size = *q.Measured
	case q.Stock != nil:
		w.size = *q.Stock
	default:
		return nil, &registration.Error{About: "stock", Found: "no size of the blank", Expected: "WxHxT"}
	}
	if !w.size.W.IsPositive() || !w.size.H.IsPositive() {
		return nil, &registration.Error{About: "stock",
			Found: fmt.Sprintf("a blank of %s by %s", w.size.W, w.size.H), Expected: "sizes over 0"}
	}
	if q.Flip != registration.FlipX && q.Flip != registration.FlipY {
		return nil, &registration.Error{About: "flip", Found: "no flip", Expected: "x or y"}
	}
	w.w, w.h = w.size.W.InexactFloat64(), w.size.H.InexactFloat64()
	var err error
	switch q.Register {
	case registration.Dowels:
		err = w.dowels()
	case registration.Plug:
		err = w.plug()
	case registration.FenceStop:
		err = w.fence()
	case registration.Touched:
		err = w.touched()
	default:
		err = &registration.Error{About: "register", Found: "nothing that locates the blank",
			Expected: "dowels, plug, fence or touched, since the budget depends on it"}
	}
	if err != nil {
		return nil, err
	}
	return w, w.setWood()
}

func (w *work) dowels() error {
	if len(w.q.Pins) < 2 {
		return &registration.Error{About: "pin", Found: fmt.Sprintf("%d dowels", len(w.q.Pins)),
			Expected: "at least two, on one the blank turns"}
	}
	w.seats = []string{"face", "back"}
	if w.q.DrilledFace {
		w.seats = w.seats[1:]
	}
	var far float64
	for i, p := range w.q.Pins {
		c, err := w.clearance(w.q.HoleOf(i), p.Dia, "pin")
		if err != nil {
			return err
		}
		w.pegs = append(w.pegs, peg{at: toVec(p.At), c: c.Amount.InexactFloat64()})
		if i == 0 || c.Amount.GreaterThan(w.clear.Amount) {
			w.clear = c
		}
		for j := range i {
			d := w.pegs[i].at.minus(w.pegs[j].at)
			if d.abs() > far {
				far = d.abs()
				mid := vec{(w.pegs[i].at.x + w.pegs[j].at.x) / 2, (w.pegs[i].at.y + w.pegs[j].at.y) / 2}
				w.datum = [2]vec{mid, mid}
				w.sin2 = [2]float64{d.y * d.y / (far * far), d.y * d.y / (far * far)}
			}
		}
	}
	if far == 0 {
		return &registration.Error{About: "pin", Found: "all dowels at one place", Expected: "dowels apart from each other"}
	}
	return nil
}

// clearance gives the greatest diametral clearance of a pin of nominal diameter
// dia in its hole, nil where that isn't given, never less than zero: a tight pin has no play.
func (w *work) clearance(hole *decimal.Decimal, dia decimal.Decimal, about string) (Value, error) {
	v, from := w.o.Tolerances.of(Clearance, w.q)
	w.clearFrom = from
	if from == Given {
		return v, nil
	}
	if w.q.Register == registration.Plug && w.q.Bore != nil && w.q.PlugD != nil {
		hole, dia = &w.q.Bore.Dia, *w.q.PlugD
	}
	switch {
	case hole != nil && !dia.IsZero():
		tol, _ := w.o.Tolerances.of(Hole, w.q)
		least, most := hole.Sub(tol.Amount).Sub(dia), hole.Add(tol.Amount).Sub(dia)
		w.clearFrom = Sizes
		return Value{Amount: w.loose(hole.String(), least, most)}, nil
	case w.q.Fit != "":
		f, err := fit.Parse(w.q.Fit)
		if err != nil {
			return Value{}, registration.About(err, "fit")
		}
		if dia.IsZero() {
			return Value{}, &registration.Error{About: about, Found: "fit " + f.String() + " and no diameter",
				Expected: "the nominal diameter to which the fit belongs"}
		}
		p, err := f.At(dia, w.q.Unit)
		if err != nil {
			return Value{}, registration.About(err, "fit")
		}
		if p.FromMemory {
			w.fact(registration.LevelNote, FitMemory{f.String()})
		}
		w.clearFrom = FromFit
		return Value{Amount: w.loose(f.String(), p.Min, p.Max)}, nil
	}
	return v, nil
}

// loose notes a pair that can turn out tight and gives the play that counts.
func (w *work) loose(what string, least, most decimal.Decimal) decimal.Decimal {
	if least.IsNegative() {
		w.fact(registration.LevelNote, FitTight{what, least, most})
	}
	return decimal.Max(most, decimal.Zero)
}

func (w *work) plug() error {
	if w.q.Bore == nil {
		return &registration.Error{About: "bore", Found: "no bore", Expected: "X,Y,DIA of the bore that the plug fills"}
	}
	w.seats = []string{"face", "back"}
	c, err := w.clearance(nil, w.q.Bore.Dia, "bore")
	if err != nil {
		return err
	}
	w.clear = c
	at := toVec(w.q.Bore.At)
	w.pegs = []peg{{at: at, c: c.Amount.InexactFloat64()}}
	w.datum = [2]vec{at, at}
	w.clocking, w.clockingFrom = w.o.Tolerances.of(Clocking, w.q)
	switch w.q.Clock.Kind {
	case registration.ClockPin:
		pin := toVec(w.q.Clock.Pin)
		d := pin.minus(at)
		if d.abs() == 0 {
			return &registration.Error{About: "clock", Found: "the index pin at the bore's centre",
				Expected: "a place beside the bore"}
		}
		if k := w.q.Clock; w.clockingFrom != Given && !k.Dia.IsZero() && !k.Hole.IsZero() {
			tol, _ := w.o.Tolerances.of(Hole, w.q)
			play := k.Hole.Sub(k.Dia)
			w.clocking.Amount = w.loose(k.Hole.String(), play.Sub(tol.Amount), play.Add(tol.Amount))
			w.clockingFrom = Sizes
		}
		w.clock(pin)
	case registration.ClockFlat, registration.ClockFence:
		// A fence holds the turn at one of its contacts, at worst the nearer. A flat, and a
		// fence whose side isn't known, hold it at a lever that isn't known: half the longer
		// side.
		lever, x := w.size.W, w.size.W.GreaterThanOrEqual(w.size.H)
		if s := w.q.Fence.Side; w.q.Clock.Kind == registration.ClockFence && s != registration.NoSide {
			x = alongX(s)
		}
		if !x {
			lever = w.size.H
		}
		lever = lever.Mul(decimal.New(5, -1))
		if s := w.q.Fence.Side; w.q.Clock.Kind == registration.ClockFence && s != registration.NoSide {
			if near := w.nearContact(s); near.IsPositive() {
				lever = near
			}
		}
		w.fact(registration.LevelAssumed, ClockingLever{lever})
		if l := lever.InexactFloat64(); x {
			w.clock(vec{at.x + l, at.y})
		} else {
			w.clock(vec{at.x, at.y + l})
		}
	default:
		if !w.q.Round {
			return &registration.Error{About: "clock", Found: "a plug and nothing that keeps the blank from turning",
				Expected: "pin=X,Y, flat=SIDE or fence", Hint: "give ‹round true› if its turn doesn't matter"}
		}
		w.free = true
		w.sin2 = [2]float64{0.5, 0.5} // the turn that leaves the least
	}
	return nil
}

// nearContact is how far the nearer of a fence's contacts stands from the bore, along it.
func (w *work) nearContact(side registration.Side) decimal.Decimal {
	on, _ := w.q.ContactsOn(w.size, side).Points(w.size, side, registration.NoSide)
	away := func(p registration.Point) decimal.Decimal {
		if alongX(side) {
			return p.X.Sub(w.q.Bore.At.X).Abs()
		}
		return p.Y.Sub(w.q.Bore.At.Y).Abs()
	}
	return decimal.Min(away(on[0]), away(on[1]))
}

// clock adds the place where a plug's blank is kept from turning.
func (w *work) clock(at vec) {
	d := at.minus(w.pegs[0].at)
	w.pegs = append(w.pegs, peg{at: at, c: w.clocking.number(), turnOnly: true})
	sin2 := d.y * d.y / (d.x*d.x + d.y*d.y)
	w.sin2 = [2]float64{sin2, sin2}
}

func (w *work) fence() error {
	w.seats = []string{"face", "back"}
	for i, s := range w.sides() {
		if s.fence == registration.NoSide || s.stop == registration.NoSide {
			return &registration.Error{About: "fence", Found: "a fence or a stop is missing",
				Expected: "‹fence SIDE› and ‹stop SIDE›"}
		}
		if alongX(s.fence) == alongX(s.stop) {
			return &registration.Error{About: "stop", Found: "a stop on a side parallel to the fence",
				Expected: "one on a side across it"}
		}
		back := i == 1
		for _, l := range []registration.Side{s.fence, s.stop} {
			e := l
			if back {
				e = w.q.Flip.Turned(l)
			}
			switch e {
			case registration.Right:
				w.corner[i].x = w.w
			case registration.Far:
				w.corner[i].y = w.h
			}
		}
		// Along the fence it is held at the contact beside the stop, off which the fence is
		// taken to be set, away from it where the stop touches.
		on, stop := w.q.ContactsOn(w.size, s.fence).Points(w.size, s.fence, s.stop)
		held, at := toVec(on[0]), toVec(stop)
		if s.stop == registration.Right || s.stop == registration.Far {
			held = toVec(on[1])
		}
		w.datum[i] = vec{held.x, at.y}
		if !alongX(s.fence) {
			w.datum[i], w.sin2[i] = vec{at.x, held.y}, 1
		}
		if back {
			w.datum[i] = w.over(w.datum[i])
		}
	}
	if w.q.Contacts == nil {
		c := w.q.ContactsOn(w.size, w.q.Fence.Side)
		w.fact(registration.LevelAssumed, ContactsTaken{c.Fence[0], c.Fence[1], c.Stop})
	}
	return nil
}

// over is a place of the turned blank in the face's frame.
func (w *work) over(p vec) vec {
	if w.q.Flip == registration.FlipY {
		return vec{w.w - p.x, p.y}
	}
	return vec{p.x, w.h - p.y}
}

// sides gives the locators of the face and of the back.
func (w *work) sides() [2]side {
	s := [2]side{{w.q.Fence.Side, w.q.Stop.Side}, {w.q.BackFence.Side, w.q.BackStop.Side}}
	if s[1].fence == registration.NoSide {
		s[1].fence = s[0].fence
	}
	if s[1].stop == registration.NoSide {
		s[1].stop = s[0].stop
	}
	return s
}

// alongX reports whether a fence on that side runs along X.
func alongX(s registration.Side) bool { return s == registration.Near || s == registration.Far }

// terms gives every term at p, in a fixed order.
func (w *work) terms(p vec) []Term {
	var list []Term
	add := func(name, sides, axis string, v Value, from From, r reach) {
		t := Term{Name: name, Sides: sides, Axis: axis, Value: v, From: from, Source: v.number(), X: r.x, Y: r.y, Limit: r.all}
		if t.Source != 0 {
			t.Factor = t.Limit / t.Source
		}
		list = append(list, t)
	}
	if len(w.pegs) > 0 {
		pegs := w.pegs
		if w.q.Register == registration.Plug && !w.free {
			// The clocking's own play is a term of its own.
			pegs = []peg{w.pegs[0], {at: w.pegs[1].at, turnOnly: true}}
		}
		r, _, ok := seat(pegs, p)
		if !ok { // a plug alone, under a round part: no turn counts
			c := w.pegs[0].c / 2
			r = reach{c, c, c}
		}
		for _, s := range w.seats {
			add(Clearance, s, "", w.clear, w.clearFrom, r)
		}
		if w.q.Register == registration.Plug && !w.free {
			held := []peg{{at: w.pegs[0].at}, w.pegs[1]}
			r, _, _ := seat(held, p)
			for _, s := range w.seats {
				add(Clocking, s, "", w.clocking, w.clockingFrom, r)
			}
		}
	}
	if w.lie != nil {
		w.touches(p, add)
	} else {
		w.locators(p, add)
		w.squareness(p, add)
	}
	if w.q.Register == registration.FenceStop {
		w.contacts(p, add)
	}
	v, from := w.o.Tolerances.of(Repeatability, w.q)
	for _, s := range []string{"face", "back"} {
		// Each axis comes back to its place by itself.
		d := v.number()
		add(Repeatability, s, "", v, from, reach{d, d, d * math.Sqrt2})
	}
	for i, s := range []string{"face", "back"} {
		if q := w.o.Rounding[i]; q.IsPositive() {
			add(Rounding, s, "", Value{Amount: q}, Written, even(arcRounding*q.InexactFloat64()))
		}
	}
	if w.wood != nil {
		w.movement(p, add)
	}
	return list
}

// arcRounding is how far an arc lies off, in steps of its rounded coordinates: half a step
// of its start along each axis, and twice half a tenth of a step of its centre, 1/sqrt 2 +
// 2/(10 sqrt 2). Ends lie off by less, 1/sqrt 2 (derived in mirror/plain/prove.go). Where
// what was rounded is turned and rounded again, the second error is one from the first
// result, which a turn carries as it is: the two add up, and with them their steps.
var arcRounding = 1.2 / math.Sqrt2

type adder func(name, sides, axis string, v Value, from From, r reach)

// even is a displacement in any direction.
func even(d float64) reach { return reach{d, d, d} }

// onAxis gives a displacement d along X or along Y.
func onAxis(x bool, d float64) reach {
	if x {
		return reach{x: d, all: d}
	}
	return reach{y: d, all: d}
}

// locators: where pins, plug, fence and stop stand, and how their line runs.
func (w *work) locators(p vec, add adder) {
	v, from := w.o.Tolerances.of(Locator, w.q)
	d := v.number()
	reversesX := w.q.Flip == registration.FlipY
	axis := "y"
	if reversesX {
		axis = "x"
	}
	second := w.q.BackPin != nil && w.q.Register == registration.Dowels ||
		w.q.PlugAt != nil && w.q.Register == registration.Plug
	switch {
	case w.q.Register == registration.FenceStop:
		w.fenceLocators(p, add)
		return
	case second:
		add(Locator, "face", "", v, from, even(d))
		add(Locator, "back", "", v, from, even(d))
	default:
		// One locator for both sides: along the flip line its error carries both
		// sides the same way, across it they go apart.
		add(Locator, "both", axis, v, from, onAxis(reversesX, 2*d))
	}
	if w.q.Register != registration.Dowels {
		return
	}
	l, from := w.o.Tolerances.of(PinLine, w.q)
	var spacing float64
	for i, a := range w.pegs {
		for _, b := range w.pegs[:i] {
			spacing = max(spacing, a.at.minus(b.at).abs())
		}
	}
	r := turned(p, w.datum[0], l.number()/spacing)
	if second {
		add(PinLine, "face", "", l, from, r)
		add(PinLine, "back", "", l, from, r)
	} else {
		add(PinLine, "both", "", l, from, r.times(2))
	}
}

func (w *work) fenceLocators(p vec, add adder) {
	v, from := w.o.Tolerances.of(Locator, w.q)
	d := v.number()
	s := w.sides()
	reversesX := w.q.Flip == registration.FlipY
	for _, x := range []bool{true, false} {
		axis := "y"
		if x {
			axis = "x"
		}
		face, back := w.placing(s[0], x), w.placing(s[1], x)
		one := face == back && !w.elsewhere(x)
		switch {
		case one && x == reversesX:
			add(Locator, "both", axis, v, from, onAxis(x, 2*d))
		case one: // along the flip line one locator errs alike on both sides
		default:
			add(Locator, "face", axis, v, from, onAxis(x, d))
			add(Locator, "back", axis, v, from, onAxis(x, d))
		}
	}
	l, from := w.o.Tolerances.of(FenceLine, w.q)
	if s[0].fence == s[1].fence && !w.elsewhere(!alongX(s[0].fence)) {
		// The blank turns with the fence on both sides, which in the part are
		// opposite turns: 2 angle about a point in the middle across the flip line,
		// and along it where the fence was touched off, at the face's stop.
		c := vec{w.w / 2, w.datum[0].y}
		if !reversesX {
			c = vec{w.datum[0].x, w.h / 2}
		}
		add(FenceLine, "both", "", l, from, turned(p, c, l.number()).times(2))
		return
	}
	add(FenceLine, "face", "", l, from, turned(p, w.datum[0], l.number()))
	add(FenceLine, "back", "", l, from, turned(p, w.datum[1], l.number()))
}

// placing gives the side of the locator that places the blank along X or Y.
func (w *work) placing(s side, x bool) registration.Side {
	if alongX(s.fence) == x {
		return s.stop
	}
	return s.fence
}

// elsewhere reports whether the locator that places along X or Y stands at another
// coordinate for the back, as at a second station.
func (w *work) elsewhere(x bool) bool {
	face, back := w.q.Fence, w.q.BackFence
	if alongX(w.q.Fence.Side) == x {
		face, back = w.q.Stop, w.q.BackStop
	}
	return back.Coord != nil && (face.Coord == nil || !back.Coord.Equal(*face.Coord))
}

func (w *work) squareness(p vec, add adder) {
	v, from := w.o.Tolerances.of(Square, w.q)
	face, back := skewed(p, w.datum[0], w.sin2[0]), skewed(p, w.datum[1], w.sin2[1])
	// The flip turns the back's displacement about, so that the two add.
	m := vec{face.x + back.x, face.y + back.y}
	q := v.number()
	add(Square, "both", "", v, from, reach{q * math.Abs(m.x), q * math.Abs(m.y), q * m.abs()})
}

// contacts: how the blank lies against fence and stop.
func (w *work) contacts(p vec, add adder) {
	v, from := w.o.Tolerances.of(Seating, w.q)
	e := v.number()
	s := w.sides()
	for i, name := range w.seats {
		// Each contact stands off by 0 to e. Between the fence's two, L apart, a point goes
		// at most e along its normal, outside them by o at most e (1 + o/L); along the
		// fence the stop's e and the turn e/L about its contact come together.
		on, stop := w.q.ContactsOn(w.size, s[i].fence).Points(w.size, s[i].fence, s[i].stop)
		own := p
		if i == 1 {
			own = w.over(p)
		}
		a, b, d := toVec(on[0]), toVec(on[1]), own.minus(toVec(stop))
		var r reach
		if alongX(s[i].fence) {
			l := b.x - a.x
			r = reach{x: e + e/l*math.Abs(d.y), y: e * (1 + max(a.x-own.x, own.x-b.x, 0)/l)}
		} else {
			l := b.y - a.y
			r = reach{x: e * (1 + max(a.y-own.y, own.y-b.y, 0)/l), y: e + e/l*math.Abs(d.x)}
		}
		r.all = math.Hypot(r.x, r.y)
		add(Seating, name, "", v, from, r)
	}
	size, from := w.o.Tolerances.of(Size, w.q)
	for _, x := range []bool{true, false} {
		axis := "y"
		if x {
			axis = "x"
		}
		face, back := w.placing(s[0], x), w.placing(s[1], x)
		if w.q.Flip.Turned(back) != face {
			add(Size, "both", axis, size, from, onAxis(x, size.number()))
		}
	}
	if w.q.Flip.Turned(s[1].fence) != s[0].fence {
		c, from := w.o.Tolerances.of(Corner, w.q)
		// The edge is taken to be right at the corner, and the stop's contact slides.
		k := vec{w.corner[1].x, w.datum[1].y}
		if !alongX(s[1].fence) {
			k = vec{w.datum[1].x, w.corner[1].y}
		}
		add(Corner, "both", "fence", c, from, turned(p, k, c.number()))
	}
}

func (w *work) setWood() error {
	if w.o.Wood == "" {
		if w.o.Moisture != nil {
			return &registration.Error{About: "moisture", Found: "a change of moisture and no wood", Expected: "‹wood› too"}
		}
		return nil
	}
	s, err := FindWood(w.o.Wood)
	if err != nil {
		return err
	}
	w.wood = &s
	if s.FromMemory {
		w.fact(registration.LevelNote, WoodMemory{s.Name})
	}
	w.moved = decimal.NewFromInt(2)
	if w.o.Moisture != nil {
		w.moved = w.o.Moisture.Abs()
	} else {
		w.fact(registration.LevelAssumed, MoistureTwo{w.moved})
	}
	if w.moved.GreaterThan(decimal.NewFromInt(8)) {
		w.fact(registration.LevelWarning, MoistureRange{w.moved})
	}
	switch w.o.Grain {
	case "x", "y":
		w.grain = w.o.Grain
	case "":
		w.grain = "x"
		if w.size.H.GreaterThan(w.size.W) {
			w.grain = "y"
		}
		w.fact(registration.LevelAssumed, GrainAssumed{w.grain})
	default:
		return &registration.Error{About: "grain", Found: fmt.Sprintf("%q", w.o.Grain), Expected: "x or y"}
	}
	w.pinsMove()
	return nil
}

// pinsMove warns when the wood moves the holes apart by more than their play.
func (w *work) pinsMove() {
	most, play := decimal.Zero, 0.0
	for i, a := range w.q.Pins {
		for j, b := range w.q.Pins[:i] {
			d := a.At.Y.Sub(b.At.Y)
			if w.grain == "y" {
				d = a.At.X.Sub(b.At.X)
			}
			if m := w.wood.Movement(d.Abs(), w.moved, w.o.Quartersawn); w.q.Register == registration.Dowels && m.GreaterThan(most) {
				most, play = m, (w.pegs[i].c+w.pegs[j].c)/2
			}
		}
	}
	if most.InexactFloat64() > play {
		w.fact(registration.LevelWarning, PinsMove{most})
	}
}

// movement: the wood grows or shrinks across its grain between the two sides,
// away from where the back is held.
func (w *work) movement(p vec, add adder) {
	held := w.datum[1]
	if w.q.Register == registration.FenceStop {
		held = w.corner[1]
	}
	d := p.minus(held)
	width, x := math.Abs(d.y), false
	if w.grain == "y" {
		width, x = math.Abs(d.x), true
	}
	c := w.wood.Tangential
	if w.o.Quartersawn {
		c = w.wood.Radial
	}
	v := Value{Amount: w.moved} // percent of moisture
	share := c.InexactFloat64() * v.number()
	if w.lie != nil {
		add(Wood, "both", w.grain, v, w.wood.From, w.unfixed(p, func(at vec) vec {
			if x {
				return vec{share * at.x, 0}
			}
			return vec{0, share * at.y}
		}))
		return
	}
	add(Wood, "both", w.grain, v, w.wood.From, onAxis(x, width*share))
}
