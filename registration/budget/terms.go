package budget

import (
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

func newWork(q registration.Question, o Options) (*work, error) {
	w := &work{q: q, o: o, size: *q.Stock}
	if q.Measured != nil {
		w.size = *q.Measured
	}
	w.w, w.h = w.size.W.InexactFloat64(), w.size.H.InexactFloat64()
	var err error
	switch q.Register {
	case registration.Dowels:
		err = w.dowels()
	case registration.Plug:
		err = w.plug()
	case registration.FenceStop:
		w.fence()
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

// dowels gives what holds a blank on its dowels.
func (w *work) dowels() error {
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

// over carries a place from the face to the turned blank, or back, each from its near-left corner.
func (w *work) over(p vec) vec {
	if w.q.Flip == registration.FlipY {
		return vec{w.w - p.x, p.y}
	}
	return vec{p.x, w.h - p.y}
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
		add(Locator, "both", axis(reversesX), v, from, onAxis(reversesX, 2*d))
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

func (w *work) squareness(p vec, add adder) {
	v, from := w.o.Tolerances.of(Square, w.q)
	face, back := skewed(p, w.datum[0], w.sin2[0]), skewed(p, w.datum[1], w.sin2[1])
	// The flip turns the back's displacement about, so that the two add.
	m := vec{face.x + back.x, face.y + back.y}
	q := v.number()
	add(Square, "both", "", v, from, reach{q * math.Abs(m.x), q * math.Abs(m.y), q * m.abs()})
}
