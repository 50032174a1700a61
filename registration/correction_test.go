package registration

import (
	"errors"
	"testing"

	"flipcalc/mirror/transform"
)

func TestParseCorrection(t *testing.T) {
	const form = ", expected DX,DY or PAIR:DX,DY, such as -0.12,0.05"
	const turns = ", expected DX,DY turned DEGREES, such as -0.12,0.05 turned -0.1"
	for _, c := range []struct {
		in, want string // as it is written again; or the refusal
		pair     int    // 0 where it is refused
		x, y     string
		turn     string
	}{
		{"-0.12,0.05", "-0.12,0.05", 1, "-0.12", "0.05", "0"},
		{"1:0.3,0", "0.3,0", 1, "0.3", "0", "0"}, // the first pair needs no number
		{" 2 :0.3,0", "2:0.3,0", 2, "0.3", "0", "0"},
		{"3:0,0 turned -0.1", "3:0,0 turned -0.1", 3, "0", "0", "-0.1"},
		{"1/64in,0 turned 180", "0.396875,0 turned 180", 1, "0.396875", "0", "180"}, // 25.4 / 64
		{"0:1,2", `"0" before the colon, expected the number of a pair, from 1`, 0, "", "", ""},
		{"-1:1,2", `"-1" before the colon, expected the number of a pair, from 1`, 0, "", "", ""},
		{"x:1,2", `"x" before the colon, expected the number of a pair, from 1`, 0, "", "", ""},
		{"0.3", `"0.3"` + form, 0, "", "", ""},
		{"0.3,a", `"0.3,a"` + form, 0, "", "", ""},
		{"1,2 turned 180.1", `"1,2 turned 180.1"` + turns, 0, "", "", ""},
		{"1,2 turned left", `"1,2 turned left"` + turns, 0, "", "", ""},
		{"1,2 turned 0.0000000001", `"1,2 turned 0.0000000001"` + turns, 0, "", "", ""},
	} {
		got, err := ParseCorrection(c.in, transform.MM)
		switch {
		case c.pair == 0:
			var e *Error
			if !errors.As(err, &e) || err.Error() != c.want {
				t.Errorf("%q: got %v, want %s", c.in, err, c.want)
			}
		case err != nil || got.Pair != c.pair || !got.Shift.Equal(Point{d(c.x), d(c.y)}) || !got.Turn.Equal(d(c.turn)) || got.String() != c.want:
			t.Errorf("%q: got %+v, %v, written %s, want %s", c.in, got, err, got, c.want)
		}
	}
}

// A pair's rounds add up (0.1 + 0.05, -0.2 + 0, 0 + 0.25 by hand), another's don't count,
// and the answer that was corrected stays as it was. (5, 5) is 7.07 long: over 5 mm, a warning.
func TestCorrected(t *testing.T) {
	q := board()
	z := d("-20")
	q.At = &Position{X: d("50"), Y: d("60"), Z: &z}
	q.Measured = &Blank{d("141"), d("90"), d("19")}
	a, err := Solve(q)
	if err != nil || a.NominalZero == nil {
		t.Fatalf("%v, nominal zero %v", err, a)
	}
	rounds := []Correction{{Pair: 1, Shift: Point{d("0.1"), d("-0.2")}}, {Pair: 2, Shift: Point{d("5"), d("5")}, Turn: d("1")},
		{Pair: 1, Shift: Point{d("0.05"), d("0")}, Turn: d("0.25")}}
	before := Point{a.Second.X, a.Second.Y}
	for _, c := range []struct {
		pair       int
		x, y, turn string
		rounds     int
	}{{1, "0.15", "-0.2", "0.25", 2}, {2, "5", "5", "1", 1}} {
		out := a.Corrected(c.pair, rounds)
		by := Point{d(c.x), d(c.y)}
		if moved := (Point{out.Second.X, out.Second.Y}).Sub(before); !moved.Equal(by) {
			t.Errorf("pair %d: second zero moved by %s, want %s", c.pair, moved, by)
		}
		if moved := (Point{out.NominalZero.X, out.NominalZero.Y}).Sub(Point{a.NominalZero.X, a.NominalZero.Y}); !moved.Equal(by) {
			t.Errorf("pair %d: nominal zero moved by %s, want %s", c.pair, moved, by)
		}
		if !out.BackTurn.Equal(d(c.turn)) || !out.Second.Z.Equal(*a.Second.Z) {
			t.Errorf("pair %d: turned by %s at Z%s, want %s at Z%s", c.pair, out.BackTurn, out.Second.Z, c.turn, a.Second.Z)
		}
		last := out.Facts[len(out.Facts)-1]
		is, ok := last.Is.(Corrected)
		if !ok || is.Rounds != c.rounds || !is.X.Equal(by.X) || !is.Y.Equal(by.Y) || !is.Turn.Equal(d(c.turn)) {
			t.Errorf("pair %d: last fact %+v", c.pair, is)
		}
		if warns := last.Level == LevelWarning; warns != (c.pair == 2) || warns != is.Limit.Equal(d("5")) {
			t.Errorf("pair %d: %s, over %s", c.pair, last.Level, is.Limit)
		}
	}
	if !before.Equal(Point{a.Second.X, a.Second.Y}) || !a.BackTurn.IsZero() {
		t.Errorf("the answer that was corrected changed: %+v", a.Second)
	}
	if out := a.Corrected(3, rounds); out != a {
		t.Error("a pair without rounds has another answer")
	}
}
