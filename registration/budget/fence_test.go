package budget

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// fenceErrors is one draw for fence and stop.
type fenceErrors struct {
	locator [4]float64    // by side: how far each locator stands inwards of its place
	lean    [2]float64    // by fence: the face's, and the back's if it is another one
	square  float64       // of the axes
	gap     [2][3]float64 // by seat: at the fence's two contacts and at the stop
	size    vec           // W and H of the blank against nominal
	corner  float64       // the back's fence edge against the face's
	repeat  [2]vec
}

const noSide, leftSide, rightSide, nearSide, farSide = registration.NoSide, registration.Left, registration.Right,
	registration.Near, registration.Far

// fenceShop is a blank W x H that lies at the same place of the bed both times.
type fenceShop struct {
	w, h float64
	flip registration.Flip
	side [2][2]registration.Side // face and back: fence, stop
	on   [2][2]vec               // where the fence's contacts touch, by seat, and the stop's
	stop [2]vec
}

// touch puts the contacts where the question has them.
func (f *fenceShop) touch(q registration.Question) {
	for i, s := range f.side {
		on, stop := q.ContactsOn(*q.Stock, s[0]).Points(*q.Stock, s[0], s[1])
		f.on[i], f.stop[i] = [2]vec{toVec(on[0]), toVec(on[1])}, toVec(stop)
	}
}

// inward is the direction from a locator into the blank.
func inward(s registration.Side) vec {
	return map[registration.Side]vec{leftSide: {1, 0}, rightSide: {-1, 0}, nearSide: {0, 1}, farSide: {0, -1}}[s]
}

func dot(a, b vec) float64 { return a.x*b.x + a.y*b.y }

// place gives the corner where fence and stop meet, and the fence's other end.
func (f fenceShop) place(fence, stop registration.Side) (corner, end vec) {
	for _, s := range []registration.Side{fence, stop} {
		switch s {
		case rightSide:
			corner.x = f.w
		case farSide:
			corner.y = f.h
		}
	}
	end = corner
	if fence == nearSide || fence == farSide {
		end.x = f.w - corner.x
	} else {
		end.y = f.h - corner.y
	}
	return corner, end
}

func (f fenceShop) over(v vec) vec {
	if f.flip == registration.FlipY {
		return vec{f.w - v.x, v.y}
	}
	return vec{v.x, f.h - v.y}
}

// seat gives the small motion of the laid blank, by statics: two contacts at the
// fence and one at the stop. edge says how far the blank's own edge at a side
// lies outwards of its nominal place at a point.
func (f fenceShop) seat(seat int, e fenceErrors, edge func(s registration.Side, at vec) float64) sheet {
	fence, stop := f.side[seat][0], f.side[seat][1]
	// The contact beside the stop, off which the fence was set.
	beside := func(i int) vec {
		if s := f.side[i][1]; s == rightSide || s == farSide {
			return f.on[i][1]
		}
		return f.on[i][0]
	}
	pivot, angle := beside(0), e.lean[0]
	if fence != f.side[0][0] {
		pivot, angle = beside(seat), e.lean[1]
	}
	k, end := f.on[seat][0], f.on[seat][1]
	n := inward(fence)
	// Where the fence stands at a point along it, inwards of its nominal place.
	at := func(p vec) float64 {
		d := p.minus(pivot)
		turned := vec{-angle * d.y, angle * d.x}
		skew := lean(p, e.square).minus(p)
		return e.locator[fence-1] + dot(turned, n) + dot(skew, n)
	}
	in0 := at(k) + e.gap[seat][0] + edge(fence, k)
	in1 := at(end) + e.gap[seat][1] + edge(fence, end)
	arm := end.minus(k)
	quarter := vec{-arm.y, arm.x}
	a := (in1 - in0) / dot(quarter, n)
	m := inward(stop)
	sp := f.stop[seat]
	d := sp.minus(k)
	sIn := e.locator[stop-1] + dot(lean(sp, e.square).minus(sp), m) + e.gap[seat][2] + edge(stop, sp) - a*dot(vec{-d.y, d.x}, m)
	return sheet{a: a, c: k, move: vec{n.x*in0 + m.x*sIn, n.y*in0 + m.y*sIn}}
}

func (f fenceShop) cut(p vec, e fenceErrors) vec {
	backCorner, _ := f.place(f.side[1][0], f.side[1][1])
	var got [2]vec
	for i := range got {
		edge := func(s registration.Side, at vec) float64 {
			own := s
			if i == 1 {
				own = f.flip.Turned(s)
			}
			var out float64
			switch own {
			case rightSide:
				out = e.size.x
			case farSide:
				out = e.size.y
			}
			if i == 1 && s == f.side[1][0] && own != f.side[0][0] {
				d := at.minus(backCorner)
				out += e.corner * (d.x + d.y)
			}
			return out
		}
		cmd := p
		if i == 1 {
			cmd = f.over(p)
		}
		land := lean(cmd, e.square)
		got[i] = f.seat(i, e, edge).take(vec{land.x + e.repeat[i].x, land.y + e.repeat[i].y})
	}
	// Turned back, the blank is measured from its own near-left corner: a longer
	// blank's right edge comes to lie at W + dW.
	b := got[1]
	if f.flip == registration.FlipY {
		b.x = f.w - b.x
	} else {
		b.y = f.h - b.y
	}
	return vec{b.x - got[0].x, b.y - got[0].y}
}

// Every combination of flip, fence and stop on both sides, every error alone at
// its limits: the mismatch reaches the budget's limit and doesn't pass it.
func TestEachFenceTerm(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	all4 := func(v float64) (l [4]float64) {
		for i := range l {
			l[i] = v * sign(rng)
		}
		return l
	}
	terms := []struct {
		tol   string
		reach float64
		draw  func() fenceErrors
	}{
		{"locator=0.05", 0.99, func() fenceErrors { return fenceErrors{locator: all4(0.05)} }},
		{"fence-line=0.1/300", 0.99, func() fenceErrors {
			return fenceErrors{lean: [2]float64{sign(rng) * 0.1 / 300, sign(rng) * 0.1 / 300}}
		}},
		{"square=0.1/300", 0.99, func() fenceErrors { return fenceErrors{square: sign(rng) * 0.1 / 300} }},
		{"size=0.2", 0.99, func() fenceErrors { return fenceErrors{size: vec{0.2 * sign(rng), 0.2 * sign(rng)}} }},
		{"corner=0.1/300", 0.99, func() fenceErrors { return fenceErrors{corner: sign(rng) * 0.1 / 300} }},
		{"repeatability=0.02", 0.99, func() fenceErrors {
			return fenceErrors{repeat: [2]vec{{0.02 * sign(rng), 0.02 * sign(rng)}, {0.02 * sign(rng), 0.02 * sign(rng)}}}
		}},
		{"seating=0.03", 0.45, func() fenceErrors {
			var e fenceErrors
			for i := range e.gap {
				for j := range e.gap[i] {
					e.gap[i][j] = 0.03 * float64(rng.IntN(2))
				}
			}
			return e
		}},
	}
	combinations := 0
	for _, flip := range []registration.Flip{registration.FlipX, registration.FlipY} {
		for _, fence := range []registration.Side{nearSide, farSide, leftSide, rightSide} {
			for _, stop := range []registration.Side{nearSide, farSide, leftSide, rightSide} {
				if alongX(fence) == alongX(stop) {
					continue
				}
				for _, backFence := range []registration.Side{noSide, fence.Opposite()} {
					for _, backStop := range []registration.Side{noSide, stop.Opposite()} {
						combinations++
						q := registration.Question{
							Stock: &registration.Blank{W: dec("140"), H: dec("90"), T: dec("19")}, Flip: flip,
							Register: registration.FenceStop,
							Fence:    registration.Contact{Side: fence}, Stop: registration.Contact{Side: stop},
							BackFence: registration.Contact{Side: backFence}, BackStop: registration.Contact{Side: backStop},
						}
						shop := fenceShop{w: 140, h: 90, flip: flip, side: [2][2]registration.Side{{fence, stop}, {fence, stop}}}
						if backFence != noSide {
							shop.side[1][0] = backFence
						}
						if backStop != noSide {
							shop.side[1][1] = backStop
						}
						if backFence != noSide { // and with contacts that were said
							q.Contacts = &registration.Contacts{Fence: [2]decimal.Decimal{dec("7.5"), dec("81")}, Stop: dec("12")}
						}
						shop.touch(q)
						for _, p := range []vec{{0, 0}, {140, 0}, {0, 90}, {140, 90}, {31, 64}} {
							at := registration.Point{X: dec(fmt.Sprint(p.x)), Y: dec(fmt.Sprint(p.y))}
							for _, term := range terms {
								r, err := of(q, Options{At: &at, Tolerances: only(t, transform.MM, term.tol)})
								if err != nil {
									t.Fatal(err)
								}
								var x, y, most float64
								for range 150 {
									m := shop.cut(p, term.draw())
									x, y, most = max(x, math.Abs(m.x)), max(y, math.Abs(m.y)), max(most, m.abs())
								}
								const slack = 2e-4 // of second order: 0.2 mm of size times an angle of 1e-3
								name := fmt.Sprintf("flip %v, face %v, back %v, %s at %v", flip, shop.side[0], shop.side[1], term.tol, p)
								if x > worstX(r)+slack || y > worstY(r)+slack || most > r.Worst+slack {
									t.Errorf("%s: %.5f %.5f %.5f beyond %.5f %.5f %.5f", name, x, y, most, worstX(r), worstY(r), r.Worst)
								}
								if x < term.reach*worstX(r)-slack || y < term.reach*worstY(r)-slack {
									t.Errorf("%s: reaches %.5f %.5f of %.5f %.5f", name, x, y, worstX(r), worstY(r))
								}
							}
						}
					}
				}
			}
		}
	}
	if combinations != 64 {
		t.Errorf("%d combinations", combinations)
	}
}
