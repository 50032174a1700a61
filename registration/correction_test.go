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

// At a pair that is turned a shift is told and made along the machine's axes; the answer in
// the frame that is turned with it moves by the same way seen from there, and both programs
// are turned on by the rounds'. The way and the turn are carried by the library's matrix.
func TestCorrectedTurned(t *testing.T) {
	q := board()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	for k := range Quarter(4) {
		s, err := a.At(Station{Offset: "G54", Turn: k, Zero: Position{X: d("200"), Y: d("100")}}, Station{Offset: "G55", Turn: k, Corner: Point{d("400"), d("60")}})
		if err != nil {
			t.Fatal(err)
		}
		out := s.Corrected(1, []Correction{{Pair: 1, Shift: Point{d("0.3"), d("-0.1")}, Turn: d("0.2")}, {Pair: 1, Shift: Point{d("-0.1"), d("0.2")}, Turn: d("0.05")}})
		if way := out.Second.At().Sub(s.Second.At()); way.String() != "0.2,0.1" {
			t.Errorf("%d quarters: the zero moved by %s", k, way)
		}
		if own := out.Own().Second.At(); !near(out.Second.At(), rotated(k, own)) {
			t.Errorf("%d quarters: the zero at %s, in its own frame at %s", k, out.Second.At(), own)
		}
		if want := k.Degrees().Add(d("0.25")); !out.BackTurn.Equal(want) || !out.Own().BackTurn.Equal(d("0.25")) || !s.BackTurn.Equal(k.Degrees()) {
			t.Errorf("%d quarters: turned by %s, in its own frame %s, want %s", k, out.BackTurn, out.Own().BackTurn, want)
		}
	}
}

// Without a budget a zero that is corrected by more than 5 mm, 0.2 in or a quarter of the
// smaller side is told (common practice); by that itself it isn't. 3 by 4 is 5 long.
func TestPlausible(t *testing.T) {
	for _, c := range []struct {
		unit  transform.Unit
		size  Blank
		by    Point
		limit string // "" for none passed
	}{
		{transform.MM, Blank{d("140"), d("90"), d("19")}, Point{d("3"), d("-4")}, ""},
		{transform.MM, Blank{d("140"), d("90"), d("19")}, Point{d("3"), d("-4.001")}, "5"},
		{transform.MM, Blank{d("140"), d("12"), d("19")}, Point{d("3"), d("0")}, ""},
		{transform.MM, Blank{d("140"), d("12"), d("19")}, Point{d("3"), d("0.1")}, "3"},
		{transform.MM, Blank{d("12"), d("140"), d("19")}, Point{d("0"), d("-3.1")}, "3"},
		{transform.Inch, Blank{d("5"), d("4"), d("0.75")}, Point{d("0.12"), d("0.16")}, ""},
		{transform.Inch, Blank{d("5"), d("4"), d("0.75")}, Point{d("0.12"), d("0.161")}, "0.2"},
		{transform.Inch, Blank{d("5"), d("0.5"), d("0.75")}, Point{d("0.13"), d("0")}, "0.125"},
	} {
		q := board()
		q.Unit, q.Stock = c.unit, &c.size
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		out := a.Corrected(1, []Correction{{Pair: 1, Shift: c.by}})
		last := out.Facts[len(out.Facts)-1]
		limit := ""
		if last.Level == LevelWarning {
			limit = last.Is.(Corrected).Limit.String()
		}
		if limit != c.limit {
			t.Errorf("%s by %s: over %q, want %q", c.size, c.by, limit, c.limit)
		}
	}
}
