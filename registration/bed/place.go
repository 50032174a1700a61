package bed

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// looks is how many places a search may look at, some 20 ns each.
const looks = 1_000_000

// Place puts as many pairs on the bed as asked: each a face and a back station
// side by side or one behind the other, their corners level and on whole steps. Blank
// and fixture lie on the bed; blank, zero, touch-off and every move of both programs
// inside the travel; fixtures and the swept cutter clear of no-go and taken rectangles
// and of each other. Most pairs come first, then fewest turned pairs, then face and
// back in one order in every pair.
//
// A turned pair is turned as a whole. Half a turn leaves the blanks as much room as they
// have; it helps where programs or fixtures reach farther beyond one edge than beyond the
// opposite one, and the bed ends, or something stands, on that side.
//
// Errors are *registration.Error for a bad question and *NoFit where the pairs
// don't fit.
func Place(m *Machine, request Request) (*Layout, error) {
	mach, q, err := checked(m, request)
	if err != nil {
		return nil, err
	}
	h := newHall(mach, q)
	var given []pair
	if q.Given != nil {
		p, err := h.given(q)
		if err != nil {
			return nil, err
		}
		given = append(given, p)
	}
	free := mach.Free(q.Job, q.Taken...)
	turned := 0
	if q.AllowTurn {
		turned = len(free)
	}
	want := len(free) / 2
	if q.Pairs > 0 {
		want = min(want, q.Pairs)
	}
	var found []pair
	if want == len(given) {
		found = given
	}
	for n := want; n > len(given) && found == nil; n-- {
		if f := h.best(n-len(given), turned); f != nil {
			found = append(slices.Clone(given), f...)
		} else if n == len(given)+1 {
			found = given
		}
	}
	if len(found) > want {
		found = found[:want]
	}
	if len(found) == 0 || len(found) < q.Pairs {
		h.budget /= 10
		return nil, h.noFit(mach, q, len(found), len(given), len(free), turned)
	}
	slices.SortStableFunc(found[len(given):], func(p, q pair) int {
		return cmp.Or(cmp.Compare(p.home, q.home), cmp.Compare(p.corner[0][1], q.corner[0][1]), cmp.Compare(p.corner[0][0], q.corner[0][0]))
	})
	return h.layout(q, found, free), nil
}

// checked gives machine and request in one unit, if they hold no fault and the programs'
// heights fit the travel.
func checked(m *Machine, request Request) (*Machine, *Request, error) {
	mach, q := common(m, request)
	if faults := mach.Faults(); len(faults) > 0 {
		return nil, nil, faults[0]
	}
	if err := q.validate(mach); err != nil {
		return nil, nil, err
	}
	return mach, q, q.depthsFit(mach)
}

// One places one station, at which the blank is turned over: it gives the near-left corner
// of the blank with its face up, nearest to home and on whole steps; the turned blank's
// lies by turned from there. Where it can't stand the error says so with No.
func One(m *Machine, request Request, turned registration.Point) (registration.Point, error) {
	mach, q, err := checked(m, request)
	if err != nil {
		return turned, err
	}
	h := newHall(mach, q)
	by := lengths(turned, into(request.Unit, q.Unit))
	d := [2]int64{scale(by.X), scale(by.Y)}
	k, back := h.kinds[0][0], h.kinds[0][1]
	k.body, k.swept, k.reach = k.body.cover(back.body.at(d)), k.swept.cover(back.swept.at(d)), k.reach.cover(back.reach.at(d))
	at, ok := h.one(&k)
	if !ok {
		return turned, &registration.Error{About: "at", No: true, Found: "the blank finds no place on the bed",
			Expected: "room inside bed and travel, clear of what stands there", Hint: "less gap or fixture, or say its place with at = \"X,Y\""}
	}
	return lengths(registration.Point{X: unscale(at[0]), Y: unscale(at[1])}, into(q.Unit, request.Unit)), nil
}

// layout writes the found pairs out and gives each station its offset.
func (h *hall) layout(q *Request, found []pair, free []string) *Layout {
	l := &Layout{Unit: q.Unit, Pairs: len(found)}
	for _, w := range []string{q.Face.Offset, q.Back.Offset} {
		free = slices.DeleteFunc(slices.Clone(free), func(name string) bool { return name == w })
	}
	for i, p := range found {
		for side, prog := range q.programs() {
			k := &h.kinds[p.turn][side]
			c := p.corner[side]
			z := p.turn.On(q.Blank, prog.Zero)
			s := Station{Pair: i + 1, Side: sides[side], Turn: p.turn, Offset: prog.Offset,
				Corner:   registration.Point{X: unscale(c[0]), Y: unscale(c[1])},
				Blank:    k.blank.at(c).rect(),
				Occupied: k.swept.at(c).rect(),
				Reached:  k.reach.at(c).rect(),
			}
			s.Zero = registration.Position{X: s.Corner.X.Add(z.X), Y: s.Corner.Y.Add(z.Y), Z: prog.Z}
			if i > 0 || s.Offset == "" {
				s.Offset, free = free[0], free[1:]
			}
			l.Stations = append(l.Stations, s)
		}
	}
	l.Left = free
	return l
}

// given checks the pair that the locators have fixed and clears the bed around it.
func (h *hall) given(q *Request) (pair, error) {
	g := q.Given
	face, back := [2]int64{scale(g.Face.X), scale(g.Face.Y)}, [2]int64{scale(g.Back.X), scale(g.Back.Y)}
	for s, c := range [][2]int64{face, back} {
		if err := h.whyNot(&h.kinds[0][s], c, sides[s]); err != nil {
			return pair{}, err
		}
	}
	f, b := h.kinds[0][0].swept.at(face), h.kinds[0][1].swept.at(back)
	if !g.InPlace && face != back && f.near(b, 0) {
		return pair{}, &registration.Error{About: "back-offset", No: true, Found: "face and back station overlap: " + f.rect().String() + " and " + b.rect().String(),
			Expected: "two stations apart, or one and the same place", Hint: "move the back's locators, or say pairs = 0 where one blank is turned over in place"}
	}
	p := h.place(0, face, back)
	h.things = append(h.things, thing{f, h.gap}, thing{b, h.gap})
	return p, nil
}

// whyNot says what is in the way of a station at a fixed place.
func (h *hall) whyNot(k *kind, c [2]int64, side string) error {
	no := func(found, expected, hint string) error {
		return &registration.Error{About: "at", No: true, Found: found, Expected: expected, Hint: hint}
	}
	for _, w := range []struct {
		what   string
		in, is box
		name   string
	}{{"blank and fixture", h.bed, k.body.at(c), "the bed"}, {"moves, blank and zero", h.travel, k.reach.at(c), "the travel"}} {
		for a := range 2 {
			axis := string("XY"[a])
			below := ""
			if w.in.lo[a] == 0 { // the key travel counts from 0
				below = "; if " + axis + " runs below 0, give its least and greatest in a machine file"
			}
			for _, end := range []struct {
				out, is, in   int64
				to, way, more string
			}{{w.in.lo[a] - w.is.lo[a], w.is.lo[a], w.in.lo[a], "from", [2]string{"right", "away"}[a], below},
				{w.is.hi[a] - w.in.hi[a], w.is.hi[a], w.in.hi[a], "to", [2]string{"left", "nearer"}[a], ""}} {
				if end.out > 0 {
					return no(fmt.Sprintf("%s of the %s station reach %s%s", w.what, side, axis, unscale(end.is)),
						fmt.Sprintf("%s, %s %s%s", w.name, end.to, axis, unscale(end.in)), "move it "+unscale(end.out).String()+" "+end.way+end.more)
				}
			}
		}
	}
	s := k.swept.at(c)
	for i, o := range h.things {
		if s.near(o.box, 0) {
			return no(fmt.Sprintf("the %s station occupies %s", side, s.rect()), "clear of the "+[]string{"no-go", "taken"}[b2i(i >= h.fixed)]+" rectangle "+o.rect().String(), "")
		}
	}
	return nil
}

// noFit says how much is missing.
func (h *hall) noFit(m *Machine, q *Request, fits, given, free, turned int) error {
	e := &NoFit{Reason: &registration.Error{About: "pairs", No: true}, Asked: max(q.Pairs, 1), Fits: fits}
	all := transform.OffsetNames(m.Extended)
	e.Reason.Found = fmt.Sprintf("%s don't fit", count(e.Asked, "pair"))
	if e.Asked == 1 {
		e.Reason.Found = "not one pair fits"
	}
	most := "the most that fit: " + count(fits, "pair")
	if fits == 0 {
		most = ""
	}
	if missing := 2*e.Asked - free; missing > 0 {
		e.Offsets = missing
		e.Reason.Found = fmt.Sprintf("%s: %s of %d free, %s", e.Reason.Found, count(free, "offset"), len(all), "each pair takes two")
		e.Reason.Expected = fmt.Sprintf("%d more", missing)
		cure := "where the control has G59.1 to G59.3, say extended = true: nine in all"
		if m.Extended {
			cure = "free one in the machine file: nine are all there are"
		}
		e.Reason.Hint = joined(most, cure)
		return e
	}
	n := e.Asked - given
	e.Reason.Expected = cmp.Or(strings.Join(e.room(h, m, n, turned), " or "), "a larger bed in X and in Y, or fewer things on it")
	if *h.cut && fits > 0 {
		most = "the most that the search found: " + count(fits, "pair")
	}
	if !q.AllowTurn && h.fits(n, n) {
		e.Turned = "‹allow-turn true› makes room for " + count(e.Asked, "pair")
	}
	e.Reason.Hint = joined(most, e.Turned)
	return e
}

// room fills in how much more n pairs need in X or in Y alone, and says it.
func (e *NoFit) room(h *hall, m *Machine, n, turned int) (ways []string) {
	for a, more := range []**decimal.Decimal{&e.X, &e.Y} {
		d := h.short(n, turned, a)
		if d < 0 {
			continue
		}
		bed, travel := h.limits(n, turned, a, d)
		v := unscale(d)
		*more = &v
		what := "bed and travel"
		switch {
		case !travel:
			what = "bed"
		case !bed, m.Bed == nil:
			what = "travel"
		}
		ways = append(ways, fmt.Sprintf("%s more %s in %s", v, what, string("XY"[a])))
	}
	return ways
}

// joined joins what there is of two hints.
func joined(a, b string) string {
	return strings.Join(slices.DeleteFunc([]string{a, b}, func(s string) bool { return s == "" }), "; ")
}

// limits tells whether the bed, the travel or both have to grow by d at their
// greatest end of an axis so that n pairs fit.
func (h *hall) limits(n, turned, axis int, d int64) (bed, travel bool) {
	g := *h
	g.bed.hi[axis] += d
	if g.fits(n, turned) {
		return true, false
	}
	g = *h
	g.travel.hi[axis] += d
	return !g.fits(n, turned), true
}

// newHall scales the question to whole numbers.
func newHall(m *Machine, q *Request) *hall {
	h := &hall{bed: boxOf(m.bedRect()), travel: boxOf(m.travelRect()), gap: scale(q.Gap), step: scale(q.step), budget: looks, cut: new(bool)}
	home := m.home()
	h.home = [2]int64{scale(home.X), scale(home.Y)}
	for _, r := range q.NoGo {
		h.things = append(h.things, thing{boxOf(r.Rect), 0})
	}
	h.fixed = len(h.things)
	for _, u := range append(m.Others(q.Job), q.Taken...) {
		if u.Rect != nil {
			h.things = append(h.things, thing{boxOf(*u.Rect), h.gap})
		}
	}
	for _, t := range []registration.Quarter{0, 2, 1, 3} { // half a turn leaves a program its every word
		h.kinds[t] = [2]kind{q.kind(q.Face, t), q.kind(q.Back, t)}
		same := func(o registration.Quarter) bool { return h.kinds[o] == h.kinds[t] && (o-t)%2 == 0 }
		if !slices.ContainsFunc(h.turns, same) {
			h.turns = append(h.turns, t)
		}
	}
	h.over = b2i(q.Flip == registration.FlipX)
	return h
}

// kind gives one side's station that is turned.
func (q *Request) kind(p Program, t registration.Quarter) (k kind) {
	reach := Reach{}
	if p.Reach != nil {
		reach = *p.Reach
	}
	over := Reach{Left: p.Radius.Add(reach.Left), Right: p.Radius.Add(reach.Right), Near: p.Radius.Add(reach.Near), Far: p.Radius.Add(reach.Far)}
	b := q.Blank
	if p.Lies != nil {
		b = *p.Lies
	}
	zero := t.On(b, p.Zero)
	b = t.Blank(b)
	k.blank.hi = [2]int64{scale(b.W), scale(b.H)}
	k.body = q.Margin.turned(t).around(k.blank)
	k.swept = k.body.cover(over.turned(t).around(k.blank))
	z := [2]int64{scale(zero.X), scale(zero.Y)}
	k.reach = k.blank.cover(reach.turned(t).around(k.blank)).cover(q.Touch.around(k.blank)).cover(box{lo: z, hi: z})
	return k
}

// turned gives the reach of a thing that is turned: by each quarter what was right is far,
// and what was far is left.
func (r Reach) turned(t registration.Quarter) Reach {
	for range t {
		r = Reach{Left: r.Far, Near: r.Left, Right: r.Near, Far: r.Right}
	}
	return r
}

// around grows b by r.
func (r Reach) around(b box) box {
	b.lo[0] -= scale(r.Left)
	b.lo[1] -= scale(r.Near)
	b.hi[0] += scale(r.Right)
	b.hi[1] += scale(r.Far)
	return b
}

// depthsFit checks the programs' heights against the travel in Z. The fault lies in the
// zero where that was given, else in what the machine can reach.
func (q *Request) depthsFit(m *Machine) error {
	for side, p := range q.programs() {
		if p.Z == nil || p.Depths == nil {
			continue
		}
		about, zero, cure := "travel.z", "", ""
		if q.ZGiven {
			about, zero, cure = "at", fmt.Sprintf(", its zero at Z%s", p.Z), "correct the Z of ‹at›, "
		}
		low, high := p.Z.Add(p.Depths.Least), p.Z.Add(p.Depths.Greatest)
		for _, end := range []struct {
			out, at, limit      decimal.Decimal
			move, to, way, cure string
		}{{m.Z.Least.Sub(low), low, m.Z.Least, "lowest", "least", "low", "raise the work, or use a tool with less stick-out"},
			{high.Sub(m.Z.Greatest), high, m.Z.Greatest, "highest", "most", "high", "lower the work, or the program's safe height"}} {
			if end.out.IsPositive() {
				return &registration.Error{About: about, No: true, Found: fmt.Sprintf("the %s program's %s move at machine Z%s%s", sides[side], end.move, end.at, zero),
					Expected: "at " + end.to + " Z" + end.limit.String(), Hint: end.out.String() + " too " + end.way + ": " + cure + end.cure}
			}
		}
	}
	return nil
}

// Scaled lengths count half billionths of the unit, so that half of any length
// with 9 decimals is whole.
var half = decimal.New(2, places)

func scale(v decimal.Decimal) int64 { return v.Mul(half).IntPart() }

// unscale gives the length again, without trailing zeros.
func unscale(v int64) decimal.Decimal {
	return decimal.RequireFromString(decimal.New(v*5, -places-1).String())
}

func boxOf(r Rect) box {
	return box{lo: [2]int64{scale(r.X), scale(r.Y)}, hi: [2]int64{scale(r.Right()), scale(r.Far())}}
}

// rect gives b as a rectangle.
func (b box) rect() Rect {
	return Rect{X: unscale(b.lo[0]), Y: unscale(b.lo[1]), W: unscale(b.hi[0] - b.lo[0]), H: unscale(b.hi[1] - b.lo[1])}
}

// common gives copies of machine and request in one unit: millimetres unless both
// are in inches. An inch is 25.4 mm exactly, so nothing is rounded.
func common(m *Machine, q Request) (*Machine, *Request) {
	mach, step := *m, decimal.New(1, 0)
	if q.Unit == transform.Inch {
		step = decimal.New(625, -4) // a sixteenth
	}
	q.step = step
	if mach.Unit == q.Unit {
		return &mach, &q
	}
	mm := into(transform.Inch, transform.MM)
	if mach.Unit == transform.Inch {
		mach = lengths(mach, mm)
		mach.Unit = transform.MM
	} else {
		q = lengths(q, mm)
		q.Unit, q.step = transform.MM, mm(step)
	}
	return &mach, &q
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
