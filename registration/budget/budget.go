// Package budget says how far the back of a part can lie off its face: every tolerance with the
// mismatch that it makes at a point of the part, summed as worst case and as expanded
// uncertainty with k = 2.
//
// Values that need a root or a turn are float64, in the question's unit. The
// place of a point is in the face's as-laid frame. X and Y are the axes as the
// face lies; a mismatch is where the back lies minus where it should, and every
// limit is to both sides.
package budget

import (
	"cmp"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Options are the things beside the question that a budget rests on.
type Options struct {
	Tolerances Tolerances
	// At is the point of the part to look at, in the face's as-laid frame. Nil
	// takes the corner of the blank where the worst case is largest.
	At *registration.Point
	// Wood names the species and Moisture the greatest change of its moisture, in
	// percent, between the two sides; nil takes 2 % as common practice. Grain is
	// "x" or "y", the way it runs; "" takes the longer side. Quartersawn takes the
	// radial coefficient.
	Wood        string
	Moisture    *decimal.Decimal
	Grain       string
	Quartersawn bool
	// Rounding is the step to which the coordinates of the face's and the back's programs
	// were rounded where they were written out, 0 where none was. A program that is rounded
	// twice, as a macro that is turned afterwards, takes the sum of both steps.
	Rounding [2]decimal.Decimal
}

// Term is one line of the budget.
type Term struct {
	Name  string // of its tolerance, or Wood
	Sides string // "face", "back", or "both" for one error that acts on both sides
	Axis  string // what it is about: "x" or "y" for a locator, "fence" or "stop" for a contact, else ""
	Value Value  // its source value as stated
	From  From
	// X, Y and Limit are the greatest mismatch along X, along Y and in all.
	X, Y, Limit float64
}

// Halved says what comes of halving the source value of the greatest term.
type Halved struct {
	Name          string
	Value         Value // the halved value
	Worst, Likely float64
}

// Result is a budget, in the question's unit.
type Result struct {
	At    registration.Point // the point looked at, in the face's as-laid frame
	Terms []Term             // the greatest Limit first
	// Worst is the sum of the limits. Likely is the expanded uncertainty with k = 2, every
	// limit taken as rectangular, but never more than Worst: with one or two great terms
	// k = 2 reaches beyond what is possible.
	Worst, Likely float64
	Halved        *Halved // nil if all terms are zero
	// Turn is the greatest angle by which one seat can turn the blank, in radians,
	// and TurnAtRim its way at the blank's corner farthest from the plug or from the
	// middle of the pins, of a round part at its rim. Zero for a fence, Free for a round part
	// without clocking.
	Turn, TurnAtRim float64
	Free            bool
	Web             Web
	Facts           []registration.Fact
}

// of draws up the budget for a question as Solve leaves it.
func of(q registration.Question, o Options) (*Result, error) {
	w, err := newWork(q, o)
	if err != nil {
		return nil, err
	}
	var at registration.Point
	if o.At != nil {
		at = *o.At
	} else {
		far := -1.0
		for _, c := range outermost(w.size, q.Round) {
			// Corners that are equal but for rounding leave the first.
			if s, _ := totals(w.terms(toVec(c))); s > far*(1+1e-9) {
				at, far = c, s
			}
		}
	}
	r := &Result{At: at, Facts: w.facts}
	r.Terms = w.terms(toVec(at))
	slices.SortStableFunc(r.Terms, func(a, b Term) int { return cmp.Compare(b.Limit, a.Limit) })
	r.Worst, r.Likely = totals(r.Terms)
	r.halve()
	r.turn(w)
	r.Web = webOf(q, o)
	return r, nil
}

// For draws up the budget for a solved question. It knows from the answer where
// each locator stands, and so which ones serve both sides.
func For(a *registration.Answer, o Options) (*Result, error) {
	a = a.Own()
	q := a.Question
	for _, t := range a.Touches {
		if q.Register != registration.FenceStop || t.CoordKnown != t.BackKnown {
			continue
		}
		face, back := t.FaceCoord, t.BackCoord
		if t.Locator == "stop" {
			q.Stop.Coord = &face
		} else {
			q.Fence.Coord = &face
		}
		if t.BackLocator == "stop" {
			q.BackStop.Coord = &back
		} else {
			q.BackFence.Coord = &back
		}
	}
	return of(q, o)
}

var half = decimal.New(5, -1)

// outermost gives the places of a part that may be worst off, in the face's as-laid
// frame: its corners, or of a round part a place at each degree of its rim. Every term
// grows with the distance from some point or line, so the worst place lies on the rim;
// between two of these it is off by at most 1 - cos 0.5 degrees, 0.004 %, more.
func outermost(b registration.Blank, round bool) (out []registration.Point) {
	if !round {
		corners := b.Corners()
		return corners[:]
	}
	for degree := range 360 {
		sin, cos := math.Sincos(float64(degree) * math.Pi / 180)
		on := func(size decimal.Decimal, v float64) decimal.Decimal {
			r := size.Mul(half)
			return r.Add(r.Mul(decimal.NewFromFloat(v)).Truncate(4))
		}
		out = append(out, registration.Point{X: on(b.W, cos), Y: on(b.H, sin)})
	}
	return out
}

func toVec(p registration.Point) vec { return vec{p.X.InexactFloat64(), p.Y.InexactFloat64()} }

// quadrature gives the root of the sum of squares: the combined standard
// uncertainty of independent contributions.
func quadrature(u ...float64) (c float64) {
	for _, v := range u {
		c = math.Hypot(c, v)
	}
	return c
}

// rectangular is the standard uncertainty of a limit within which all values are
// equally likely (GUM 4.3.7).
func rectangular(limit float64) float64 { return limit / math.Sqrt(3) }

// coverage is the factor k of the expanded uncertainty.
const coverage = 2

// totals gives what terms come to together, as Result has it.
func totals(terms []Term) (worst, likely float64) {
	for _, t := range terms {
		worst += t.Limit
		likely = quadrature(likely, coverage*rectangular(t.Limit))
	}
	return worst, min(likely, worst)
}

// halve finds the tolerance with the greatest share, all its terms together, and
// what is left when its value is halved.
func (r *Result) halve() {
	share := map[string]float64{}
	for _, t := range r.Terms {
		share[t.Name] += t.Limit
	}
	var top *Term
	for i, t := range r.Terms {
		if t.Limit > 0 && (top == nil || share[t.Name] > share[top.Name]) {
			top = &r.Terms[i]
		}
	}
	if top == nil {
		return
	}
	h := Halved{Name: top.Name, Value: Value{Amount: top.Value.Amount.Mul(half), Over: top.Value.Over}}
	terms := slices.Clone(r.Terms)
	for i := range terms {
		if terms[i].Name == top.Name {
			terms[i].Limit /= 2 // every limit is in proportion to its source value, or nearly
		}
	}
	h.Worst, h.Likely = totals(terms)
	r.Halved = &h
}

func (r *Result) turn(w *work) {
	if w.q.Register != registration.Dowels && w.q.Register != registration.Plug {
		return
	}
	if w.free {
		r.Free = true
		return
	}
	_, s, ok := seat(w.pegs, vec{})
	if !ok {
		return
	}
	r.Turn = 2 * math.Asin(min(s/2, 1))
	for _, c := range outermost(w.size, w.q.Round) {
		r.TurnAtRim = max(r.TurnAtRim, s*toVec(c).minus(w.datum[0]).abs())
	}
}
