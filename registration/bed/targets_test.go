package bed

import (
	"fmt"
	"testing"

	"flipcalc/registration"
)

// What each way of locating is touched off against, and where the spindle then
// stands, worked by hand (common practice: a zero goes by the locators, never by the
// blank's own edge where a fence or stop gives it). Blank 120 x 80, face corner at
// (10, 10), back corner at (180, 10), zeros near-left, a tool of radius 3, feeler 0.1.
func TestTargets(t *testing.T) {
	face := Station{Side: FaceSide, Corner: at(10, 10), Zero: registration.Position{X: n(10), Y: n(10)}, Blank: rect(10, 10, 120, 80)}
	back := Station{Side: BackSide, Corner: at(180, 10), Zero: registration.Position{X: n(180), Y: n(10)}, Blank: rect(180, 10, 120, 80)}
	question := registration.Question{Flip: registration.FlipY, BackZZero: registration.Bed}
	with := func(f func(*registration.Answer)) *registration.Answer {
		a := &registration.Answer{Question: question, FaceMachine: true, Machine: true}
		f(a)
		return a
	}
	plug := at(180+90, 50)
	for _, r := range []struct {
		name       string
		a          *registration.Answer
		face, back string
	}{
		{"fence near, stop left, back stop right", with(func(a *registration.Answer) {
			a.Question.Register = registration.FenceStop
			a.Touches = []registration.Touch{{Locator: "fence", Side: registration.Near, BackLocator: "fence", BackSide: registration.Near},
				{Locator: "stop", Side: registration.Left, BackLocator: "stop", BackSide: registration.Right}}
		}), "near fence Y 13.1 3.1; left stop X 13.1 3.1; top of the blank Z ? 0.1; ",
			"near fence Y 13.1 3.1; right stop X 296.9 116.9; seating plane Z ? 0.1; "},
		{"two dowels", with(func(a *registration.Answer) {
			a.Question.Register = registration.Dowels
			a.FacePins = []registration.Pin{{At: at(70, 16), Dia: n(6)}}
			a.BackPins = []registration.Pin{{At: at(240, 16), Dia: n(6)}}
		}), "dowel of 6 X 70 60; dowel of 6 Y 16 6; top of the blank Z ? 0.1; ",
			"dowel of 6 X 240 60; dowel of 6 Y 16 6; seating plane Z ? 0.1; "},
		{"a plug in a bore 30 from the left edge", with(func(a *registration.Answer) {
			a.Question.Register = registration.Plug
			a.Question.Bore = &registration.Pin{At: at(30, 40)}
			a.PlugAt = &plug
		}), "plug X 40 30; plug Y 50 40; top of the blank Z ? 0.1; ",
			"plug X 270 90; plug Y 50 40; seating plane Z ? 0.1; "},
		{"nothing locates it", with(func(*registration.Answer) {}),
			"left edge of the blank X 6.9 -3.1; near edge of the blank Y 6.9 -3.1; top of the blank Z ? 0.1; ",
			"left edge of the blank X 176.9 -3.1; near edge of the blank Y 6.9 -3.1; seating plane Z ? 0.1; "},
	} {
		for s, want := range map[*Station]string{&face: r.face, &back: r.back} {
			got := ""
			for _, target := range s.Targets(r.a) {
				touch := s.TouchOff(target, n(3), d("0.1"))
				machine := "?"
				if touch.Machine != nil {
					machine = touch.Machine.String()
				}
				got += fmt.Sprintf("%s %c %s %s; ", target.What, "XYZ"[target.Axis], machine, touch.Reads)
			}
			if got != want {
				t.Errorf("%s, %s:\ngot  %s\nwant %s", r.name, s.Side, got, want)
			}
		}
	}
	turned := face
	turned.Turn = 1
	if got := turned.Targets(with(func(*registration.Answer) {})); len(got) != 3 {
		t.Errorf("a turned station: %v", got)
	}
}

// A pair a quarter turned, on a sketch: the face's blank of 120 x 80 lies from X120 Y100 to
// X200 Y220, its own near-left corner and zero at X200 Y100; a place u, v of it at X200 - v,
// Y100 + u. The back's lies from X300. A tool of radius 3 with 0.1 of feeler stands inside.
func TestTargetsTurned(t *testing.T) {
	pin := func(x, y, dia int) registration.Pin { return registration.Pin{At: at(x, y), Dia: n(dia)} }
	for _, c := range []struct {
		name       string
		ask        func(q *registration.Question)
		face, back string
	}{
		{"fence near, stop left, back stop right", func(q *registration.Question) {
			q.Register, q.Fence.Side, q.Stop.Side, q.BackStop.Side = registration.FenceStop, registration.Near, registration.Left, registration.Right
		}, "right fence X 196.9 -3.1; near stop Y 103.1 3.1; ", "right fence X 376.9 -3.1; far stop Y 216.9 116.9; "},
		{"two dowels", func(q *registration.Question) {
			q.Register, q.Pins = registration.Dowels, []registration.Pin{pin(60, 6, 6), pin(60, 74, 5)}
		}, "dowel of 6 X 194 -6; dowel of 6 Y 160 60; dowel of 5 X 126 -74; dowel of 5 Y 160 60; ",
			"dowel of 6 X 374 -6; dowel of 6 Y 160 60; dowel of 5 X 306 -74; dowel of 5 Y 160 60; "},
		{"a plug", func(q *registration.Question) { // turned over, 90 from the left
			bore := pin(30, 40, 12)
			q.Register, q.Bore, q.PlugD, q.Round = registration.Plug, &bore, &bore.Dia, true
		}, "plug X 160 -40; plug Y 130 30; ", "plug X 340 -40; plug Y 190 90; "},
	} {
		q := registration.Question{Stock: &registration.Blank{W: n(120), H: n(80), T: n(12)}, Flip: registration.FlipY}
		c.ask(&q)
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		face := Station{Side: FaceSide, Turn: 1, Corner: at(120, 100), Zero: registration.Position{X: n(200), Y: n(100)}, Blank: rect(120, 100, 80, 120)}
		back := Station{Side: BackSide, Turn: 1, Corner: at(300, 100), Zero: registration.Position{X: n(380), Y: n(100)}, Blank: rect(300, 100, 80, 120)}
		a, err = a.At(registration.Station{Offset: "G54", Turn: 1, Zero: face.Zero, Corner: face.Corner}, registration.Station{Offset: "G55", Turn: 1, Corner: back.Corner})
		if err != nil {
			t.Fatal(err)
		}
		for s, want := range map[*Station]string{&face: c.face, &back: c.back} {
			got := ""
			for _, target := range s.Targets(a) {
				if target.Axis == 2 {
					continue
				}
				touch := s.TouchOff(target, n(3), d("0.1"))
				got += fmt.Sprintf("%s %c %s %s; ", target.What, "XY"[target.Axis], touch.Machine, touch.Reads)
			}
			if got != want {
				t.Errorf("%s, %s:\ngot  %s\nwant %s", c.name, s.Side, got, want)
			}
		}
	}
}
