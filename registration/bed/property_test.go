package bed

import (
	"math/rand/v2"
	"slices"
	"testing"

	"flipcalc/registration"
)

// drawn is a bed in whole millimetres with things on it, and a request for one to three pairs.
func drawn(rng *rand.Rand) (*Machine, Request) {
	m := router()
	x, y := rng.IntN(200)-100, rng.IntN(200)-100
	w, h := 250+rng.IntN(350), 150+rng.IntN(300)
	m.X, m.Y = Range{n(x), n(x + w)}, Range{n(y), n(y + h)}
	b := rect(x+rng.IntN(20), y+rng.IntN(20), w-40, h-40)
	m.Bed, m.Home = &b, &registration.Point{X: n(x + rng.IntN(w)), Y: n(y + rng.IntN(h))}
	on := func() Rect { return rect(x+rng.IntN(w), y+rng.IntN(h), 1+rng.IntN(60), 1+rng.IntN(60)) }
	taken := on()
	m.InUse = []InUse{{Offset: "G57", Rect: &taken}}
	q := markers(1 + rng.IntN(3))
	q.NoGo = []Area{{Rect: on()}}
	q.Blank.W, q.Blank.H = n(40+rng.IntN(80)), n(30+rng.IntN(60))
	q.Flip, q.Gap = registration.FlipX+registration.Flip(rng.IntN(2)), n(rng.IntN(30))
	q.Margin = Reach{Left: n(rng.IntN(9)), Right: n(rng.IntN(9)), Near: n(rng.IntN(9)), Far: n(rng.IntN(9))}
	q.Face = Program{Reach: &Reach{Left: n(rng.IntN(20) - 10), Far: n(rng.IntN(20) - 10)}, Radius: n(rng.IntN(6)), Zero: at(rng.IntN(40), rng.IntN(30))}
	return m, q
}

// carried is the same bed and request with every place on the bed taken elsewhere.
func carried(m Machine, q Request, place func(registration.Point) registration.Point, area func(Rect) Rect) (*Machine, Request) {
	travel := area(m.travelRect())
	m.X, m.Y = Range{travel.X, travel.Right()}, Range{travel.Y, travel.Far()}
	b, home, taken := area(*m.Bed), place(*m.Home), area(*m.InUse[0].Rect)
	m.Bed, m.Home, m.InUse = &b, &home, []InUse{{Offset: m.InUse[0].Offset, Rect: &taken}}
	q.NoGo = []Area{{Rect: area(q.NoGo[0].Rect)}}
	return &m, q
}

// Where machine zero lies is nobody's business: a bed that lies dx, dy elsewhere gets the same
// pairs dx, dy elsewhere, or none for the same reason.
func TestBedElsewhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 31))
	placed := 0
	for range 60 {
		m, q := drawn(rng)
		by := at(rng.IntN(2000)-1000, rng.IntN(2000)-1000)
		there, asked := carried(*m, q, by.Add, func(r Rect) Rect { return Rect{X: r.X.Add(by.X), Y: r.Y.Add(by.Y), W: r.W, H: r.H} })
		l, err := Place(m, q)
		k, err2 := Place(there, asked)
		if (err == nil) != (err2 == nil) || err != nil && err.Error() != err2.Error() {
			t.Errorf("%v, moved by %s: %v", err, by, err2)
		}
		if err != nil {
			continue
		}
		placed++
		for i := range l.Stations {
			s := &l.Stations[i]
			s.Corner = s.Corner.Add(by)
			s.Zero.X, s.Zero.Y = s.Zero.X.Add(by.X), s.Zero.Y.Add(by.Y)
			if z := k.Stations[i].Zero; !z.X.Equal(s.Zero.X) || !z.Y.Equal(s.Zero.Y) {
				t.Errorf("moved by %s: zero %s, want %s", by, z, s.Zero)
			}
		}
		if got, want := corners(k), corners(l); !slices.Equal(got, want) {
			t.Errorf("moved by %s: %q, want %q", by, got, want)
		}
	}
	if placed < 20 || placed > 56 {
		t.Errorf("%d of 60 were placed: they show too little", placed)
	}
}

// Seen in a glass a bed takes as many pairs: left and right change places, or near and far,
// and with them what reaches beyond a blank.
func TestBedInAGlass(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 31))
	for range 60 {
		m, q := drawn(rng)
		for _, axis := range []int{0, 1} {
			turn := func(r Rect) Rect {
				if axis == 0 {
					r.X = r.Right().Neg()
				} else {
					r.Y = r.Far().Neg()
				}
				return r
			}
			there, asked := carried(*m, q, func(p registration.Point) registration.Point {
				r := turn(Rect{X: p.X, Y: p.Y})
				return registration.Point{X: r.X, Y: r.Y}
			}, turn)
			swap := func(r Reach) Reach {
				if axis == 0 {
					return Reach{Left: r.Right, Right: r.Left, Near: r.Near, Far: r.Far}
				}
				return Reach{Left: r.Left, Right: r.Right, Near: r.Far, Far: r.Near}
			}
			reach := swap(*q.Face.Reach)
			asked.Margin, asked.Face.Reach = swap(q.Margin), &reach
			for _, p := range []*Program{&asked.Face, &asked.Back} {
				flip := registration.FlipY
				if axis == 1 {
					flip = registration.FlipX
				}
				p.Zero = flip.TurnedPoint(p.Zero, q.Blank)
			}
			_, err := Place(m, q)
			_, err2 := Place(there, asked)
			if (err == nil) != (err2 == nil) {
				t.Errorf("%v, in the glass across axis %d: %v", err, axis, err2)
			}
		}
	}
}
