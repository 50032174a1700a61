package draw

import (
	"fmt"
	"testing"

	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// pointsInMM are the points of a page in a millimetre: a point is 1/72 in (CSS Values 3,
// 5.2, from memory).
const pointsInMM = 72 / 25.4

// On page one no letter of a figure is under 11 pt, whatever the blank's shape, on the
// room that page one has at most and at least.
func TestSheetFiguresAreReadable(t *testing.T) {
	everyBlank(t, func(name string, s *Scene) {
		s.Touches = touchesOf(s)
		for _, r := range []struct {
			figure string
			c      *Canvas
			high   float64
		}{{"turn", SheetTurn(s, 32), 32}, {"turn", SheetTurn(s, 54), 54}, {"stations", Stations(s, 44), 44}, {"stations", Stations(s, 60), 60}} {
			if r.c == nil {
				continue
			}
			e := r.c.shown()
			onPaper := min(sheetWide/(e.x1-e.x0), r.high/(e.y1-e.y0)) * pointsInMM
			for _, l := range r.c.lines() {
				if pt := l.size * onPaper; pt < 11 {
					t.Errorf("%s, %s: %q is %.1f pt high at %g mm", name, r.figure, l.text, pt, r.high)
					break
				}
			}
		}
	})
}

// touchesOf gives each of the first pair's stations a touch centred on each of its dowels
// or on its plug, or at its near fence.
func touchesOf(s *Scene) (out []Touch) {
	blanks := s.placed()
	for i := range blanks[:min(2, len(blanks))] {
		b := &blanks[i]
		for _, t := range b.studs {
			x, y := t.At.X.Sub(b.Zero.X), t.At.Y.Sub(b.Zero.Y)
			touch := Touch{Offset: b.Offset, What: t.name, Centred: true}
			touch.Reads[0], touch.Reads[1] = &x, &y
			out = append(out, touch)
		}
		if len(b.contacts) > 0 {
			out = append(out, Touch{Offset: b.Offset, What: b.contacts[0].side.String() + " fence"})
		}
	}
	return out
}

// The line from a touch point's name ends exactly at what is touched: in the middle of a
// dowel or plug, on the blank's edge where a fence or stop meets it.
func TestTouchPointsAreWhereTheyAreTouched(t *testing.T) {
	s := marker(t)
	s.Touches = touchesOf(s)
	c := Stations(s, 52)
	c.settle()
	var dots, pins []disc
	for _, shape := range c.shapes {
		if d, ok := shape.(disc); ok {
			switch d.class {
			case "find-dot":
				dots = append(dots, d)
			case "pin":
				pins = append(pins, d)
			}
		}
	}
	if len(dots) != 4 || len(pins) != 4 {
		t.Fatalf("%d points, %d dowels", len(dots), len(pins))
	}
	for i, d := range dots {
		if !near(d.at[0], pins[i].at[0]) || !near(d.at[1], pins[i].at[1]) {
			t.Errorf("P%d ends at %v, the dowel stands at %v", i+1, d.at, pins[i].at)
		}
	}
	names := map[string]bool{}
	for _, l := range c.lines() {
		names[l.text] = true
	}
	for i := range dots {
		if !names[fmt.Sprint("P", i+1)] {
			t.Errorf("no P%d", i+1)
		}
	}
	fence := stop(t)
	b := fence.placed()
	own := box{0, 0, 140, 90}
	for _, k := range []struct {
		what     string
		x, y     float64
		farthest bool
	}{{"left stop", 0, -1, false}, {"near fence", -1, 0, true}} {
		at := b[0].touched(Touch{What: k.what}, point{0, 0}, own)
		if k.x >= 0 && at.x != k.x || k.y >= 0 && at.y != k.y || k.farthest && at.x <= 70 {
			t.Errorf("%s is touched at %g, %g", k.what, at.x, at.y)
		}
	}
	if at := (&shown{Station: station(1, bed.BackSide, "G55", registration.Point{}, "140", "90")}).touched(Touch{What: "far edge"}, point{0, 0}, own); at.x != 70 || at.y != 90 {
		t.Errorf("a far edge without a contact is touched at %g, %g", at.x, at.y)
	}
}

// A blank that is turned over in place is drawn twice, and the second says so.
func TestSamePlaceIsSaid(t *testing.T) {
	said := map[string]bool{}
	everyBlank(t, func(_ string, s *Scene) {
		if len(s.Stations) != 2 {
			return
		}
		all := s.placed()
		same := s.Stations[0].Corner.X.Equal(s.Stations[1].Corner.X) && s.Stations[0].Corner.Y.Equal(s.Stations[1].Corner.Y)
		if got := all[1].bare == "same place"; got != same || all[0].bare == "same place" {
			t.Errorf("same %v, said %v", same, got)
		}
		said[all[1].bare] = true
	})
	if !said["same place"] || !said[""] {
		t.Errorf("%v", said)
	}
}
