package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// A job in inches is reported in inches, whatever the interpreter counts in.
func TestMirroredOfInInches(t *testing.T) {
	d := decimal.RequireFromString
	o := mirror.Options{Name: "m.nc", Unit: transform.Inch, Map: transform.Map{X: transform.Axis{Sign: 1}, Y: transform.Axis{Sign: -1, Offset: d("6")},
		Z: transform.Axis{Sign: 1}, Unit: transform.Inch}}
	var out bytes.Buffer
	r, err := mirror.Mirror(strings.NewReader("G20 G90 G17\nG0 X1 Y1 Z1\nG1 Z-0.1 F20\nX8\nG0 Z1\nM2\n"), &out, o)
	if err != nil {
		t.Fatal(err)
	}
	m := MirroredOf("m.nc", "back.nc", r, transform.Inch)
	if got := m.Map.String(); got != "x' = x, y' = 6 - y, z' = z" {
		t.Errorf("map %s", got)
	}
	if got := []Estimate{m.Before.Least[0], m.Before.Greatest[0], m.After.Least[1]}; letters.Rounded(got[0], 6) != "1" || letters.Rounded(got[1], 6) != "8" || letters.Rounded(got[2], 6) != "5" {
		t.Errorf("X from %v to %v, mirrored Y %v; want 1, 8, 5", got[0], got[1], got[2])
	}
	if letters.Rounded(m.Before.CutLength, 6) != "8.1" {
		t.Errorf("cut length %v in, want 8.1", m.Before.CutLength)
	}
}

// A blank of 120 x 80 turned like a page: a tool that stood at the near-left corner
// of the face comes to stand at the near-right one (derived, a sheet of paper
// shows it).
func TestStartOnBlank(t *testing.T) {
	page := func(name string) *registration.Answer {
		return solved(t, func(q *registration.Question) {
			q.Zero = registration.Zero{Name: name}
			q.BackZero = registration.Zero{}
		})
	}
	for _, test := range []struct {
		zero, axis, was, is string
		unit                transform.Unit
		back                bool
		want                string
	}{
		{"near-left", "X", "0", "120", transform.MM, true, "120 mm to the right of the back zero, over the blank's right edge as it then lies"},
		{"near-left", "Y", "0", "0", transform.MM, true, "level with the back zero, over the blank's near edge as it then lies"},
		{"near-left", "Y", "80", "80", transform.MM, true, "80 mm away from you from the back zero, over the blank's far edge as it then lies"},
		{"near-left", "X", "10", "110", transform.MM, true, "110 mm to the right of the back zero"},
		{"near-left", "X", "60", "60", transform.MM, true, "60 mm to the right of the back zero, over the middle between the blank's left and right edges"},
		{"near-left", "Z", "5", "5", transform.MM, true, "5 mm above the back zero"},
		{"center", "X", "60", "-60", transform.MM, true, "60 mm to the left of the back zero, over the blank's left edge as it then lies"},
		{"center", "Y", "-40", "-40", transform.MM, true, "40 mm towards you from the back zero, over the blank's near edge as it then lies"},
		// Half of 120 mm is no finite number of inches, so no inch value lies there.
		{"center", "X", "-2.3", "2.3", transform.Inch, true, "2.3 in to the right of the back zero"},
		{"near-left", "X", "0", "0", transform.MM, false, "level with the face zero, over the blank's left edge as it then lies"},
	} {
		a := page(test.zero)
		m := Mirrored{Map: a.Transform, Notes: []Note{{Is: mirror.ZeroHere{Axis: test.axis, Face: test.was, Back: test.is, Unit: test.unit}}}}
		head := "G92 calls the tool's place " + test.axis + test.was + " on the face, " + test.axis + test.is + " (" + test.unit.String() +
			") on the back: before the back starts, the tool must stand at the mirror image of the face's start, "
		if !test.back {
			m.Map = transform.Identity(transform.MM)
			head = "G92 calls the tool's place " + test.axis + test.is + " (" + test.unit.String() + "): before the start the tool must stand "
		}
		m.StartOn(a, test.back)
		if got := NoteWords(m.Notes[0], transform.MM); got != head+test.want {
			t.Errorf("%s %s%s: %q\nwant %q", test.zero, test.axis, test.was, got, head+test.want)
		}
	}
}
