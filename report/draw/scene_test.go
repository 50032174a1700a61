package draw

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func dp(s string) *decimal.Decimal { v := d(s); return &v }

func pt(x, y string) registration.Point { return registration.Point{X: d(x), Y: d(y)} }

func near(a, b float64) bool { return math.Abs(a-b) < 1e-5 }

// blank120 is a row marker.
func blank120() *registration.Blank {
	return &registration.Blank{W: d("120"), H: d("80"), T: d("12")}
}

func solved(t *testing.T, q registration.Question) *registration.Answer {
	t.Helper()
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// station is a blank of a size with its near-left corner and zero in one place.
func station(pair int, side, offset string, corner registration.Point, w, h string) bed.Station {
	return bed.Station{Pair: pair, Side: side, Offset: offset, Zero: registration.Position{X: corner.X, Y: corner.Y}, Corner: corner,
		Blank: bed.Rect{X: corner.X, Y: corner.Y, W: d(w), H: d(h)}}
}

func area(name, x, y, w, h string) Area {
	return Area{Area: bed.Area{Rect: bed.Rect{X: d(x), Y: d(y), W: d(w), H: d(h)}}, Name: name}
}

func taken(offset, name, x, y, w, h string) Taken {
	a := area(name, x, y, w, h)
	return Taken{Offset: offset, Area: &a}
}

// marker is a row marker of 120 x 80 x 12 on two dowels of 6 and 8 mm on the flip line
// u = 60, at two stations of a small router.
func marker(t *testing.T) *Scene {
	t.Helper()
	q := registration.Question{Stock: blank120(), Flip: registration.FlipY, Zero: registration.Zero{Name: "near-left"},
		Offset: "G54", BackOffset: "G55", At: &registration.Position{X: d("100"), Y: d("50"), Z: dp("-30")},
		Register: registration.Dowels, Pins: []registration.Pin{{At: pt("60", "10"), Dia: d("6")}, {At: pt("60", "70"), Dia: d("8")}}, Fit: "H7/m6"}
	return &Scene{Name: "Row marker", Answer: solved(t, q),
		Stations: []bed.Station{station(1, bed.FaceSide, "G54", pt("100", "50"), "120", "80"), station(1, bed.BackSide, "G55", pt("240.5", "50"), "120", "80")},
		Travel:   &bed.Rect{W: d("600"), H: d("400")},
		NoGo:     []Area{area("probe", "560", "0", "40", "60")},
		Taken:    []Taken{taken("G57", "vice", "420", "250", "150", "120"), {Offset: "G59"}},
	}
}

// stop is a 140 x 90 x 19 board on a near fence, with the stop on the left for the face
// and on the right for the back, at machine X50 Y60.
func stop(t *testing.T) *Scene {
	t.Helper()
	return onePlace(solved(t, registration.Question{Stock: &registration.Blank{W: d("140"), H: d("90"), T: d("19")}, Flip: registration.FlipY,
		Zero: registration.Zero{Name: "near-left"}, Offset: "G54", BackOffset: "G55", At: &registration.Position{X: d("50"), Y: d("60"), Z: dp("-20")},
		Register: registration.FenceStop, Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		BackStop: registration.Contact{Side: registration.Right}}))
}

// onePlace is a blank where the answer has it.
func onePlace(a *registration.Answer) *Scene { return &Scene{Answer: a, Stations: bed.Alone(a)} }

// checked is the marker cut in memory: a pocket in the face, a step all round the back, a
// hole right through, a finding at a pin, one of both sides and one without a place.
func checked(t *testing.T) *Scene {
	s := marker(t)
	grid := func(height func(x, y float64) float64) *Grid {
		g := &Grid{NX: 240, NY: 160, Cell: 0.5}
		for j := range g.NY {
			for i := range g.NX {
				g.V = append(g.V, float32(height((float64(i)+.5)*.5, (float64(j)+.5)*.5)))
			}
		}
		return g
	}
	face := func(x, y float64) float64 {
		switch r := math.Hypot(x-80, y-40); {
		case math.Hypot(x-105, y-65) < 4:
			return 0
		case math.Abs(x-30) < 10 && math.Abs(y-40) < 16:
			return 8
		case r < 15:
			return 3.4 + r/4
		}
		return 12
	}
	back := func(x, _ float64) float64 {
		if x < 6 || x > 114 {
			return 6
		}
		return 12
	}
	s.Cut = &Cut{Web: grid(face), FaceTop: grid(face), BackTop: grid(back), Asked: 2, Least: 3.4, LeastAt: point{80, 40}, Findings: []Finding{
		{Text: "face: the cutter runs 1.5 mm into pin 1, 3 mm below its top", Face: &point{60, 10}, OnFace: true},
		{Text: "broken through: face and back meet, overlap 1 mm, hole of 50 mm2", Face: &point{105, 65}, OnFace: true, OnBack: true},
		{Text: "back: leaves the travel of X by 3 mm at 600 mm", OnBack: true},
	}}
	s.NoGo = append(s.NoGo, area("clamp", "90", "95", "25", "20"))
	return s
}
