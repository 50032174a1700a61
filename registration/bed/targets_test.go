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
