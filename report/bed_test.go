package report

import (
	"strings"
	"testing"

	"flipcalc/registration"
)

// Pins and fixture are drawn at placed stations too. A pin at (50, 10) of a blank of
// 120 x 80 with its corner at X100 Y50 stands at X150 Y60; under the blank turned
// like a page, with its corner at X240.5 Y50, at 240.5 + 120 - 50 = 310.5 (derived);
// turned about X its Y is 50 + 80 - 10 = 120.
func TestBedDrawingShowsPinsAndFixture(t *testing.T) {
	for _, test := range []struct {
		flip         registration.Flip
		backX, backY float64
	}{{registration.FlipY, 310.5, 60}, {registration.FlipX, 290.5, 120}} {
		s := markerSetup()
		s.Fixture = dp("10")
		a := *s.Answer
		a.Question.Flip, a.Question.Pins = test.flip, []registration.Pin{{At: pt("50", "10"), Dia: d("6")}}
		s.Answer = &a
		for i := range s.Stations {
			s.Stations[i].Pins = nil
		}
		drawing := BedDrawing(s)
		var pins, frames [][2]float64
		var words []string
		var top float64 // the travel gives the line from which Y is turned round
		for _, n := range nodes(t, drawing) {
			switch {
			case n.name == "rect" && n.class == "travel":
				top = n.f(t, "y") + 400
			case n.name == "circle" && n.class == "pin":
				pins = append(pins, [2]float64{n.f(t, "cx"), top - n.f(t, "cy")})
			case n.name == "rect" && n.class == "hidden fixture":
				frames = append(frames, [2]float64{n.f(t, "x"), n.f(t, "width")})
			}
		}
		if len(pins) != 2 || !near(pins[0][0], 150) || !near(pins[0][1], 60) || !near(pins[1][0], test.backX) || !near(pins[1][1], test.backY) {
			t.Errorf("flip %s: pins at %v", test.flip, pins)
		}
		if len(frames) != 2 || frames[0] != [2]float64{90, 140} || frames[1] != [2]float64{230.5, 140} {
			t.Errorf("fixtures from X, wide: %v", frames)
		}
		for _, w := range []string{"the machine&#39;s travel: X 0 to 600, Y 0 to 400", "dashed: fixture", "the fixture goes 10 beyond each blank"} {
			if !strings.Contains(drawing, w) {
				words = append(words, w)
			}
		}
		if len(words) > 0 {
			t.Errorf("the drawing doesn't say %q", words)
		}
	}
}
