package cycle

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// plate is a program of one tool, to be changed line by line.
const plate = "G21 G90 G17\nT1 M6\nS1000 M3\nG43 H1 G0 Z5\nX1 Y2\nG1 Z-1 F90\nX9\nG0 Z5\nM5\nM30\n"

// TestLines: how a block stands in the merged program that stood so in its own. Block numbers go,
// and with them the blanks behind them; what is put in front of a word stands behind the slash
// (NISTIR 6556, 3.1: a block is a slash, N, then words).
func TestLines(t *testing.T) {
	for _, c := range []struct{ name, old, new, has, hasNot string }{
		{"N with a tab behind it", "X9\n", "N70\tX9\n", "\nX9\n", "\t"},
		{"N alone behind a slash", "X9\n", "/N70\nX9\n", "\nX9\n", "/"},
		{"N behind a numbered slash", "X9\n", "/2 N70 X9\nX8\n", "/2 X9\n", "N70"},
		{"switched off in the block of the last move", "G0 Z5\nM5\n", "G0 Z5 M5\n", "\nG0 Z5 M5\nG90 G80\n", ""},
		{"a cycle kept over a change", "X9\nG0 Z5\n", "G0 Z5\nG83 X1 Z-5 R2 Q1\nG81 X5 Z-3 R1\nX6\nT2 M6\nS900 M3\nG43 H2\nX7\nG80\n", "\nG81 R1 Z-3 X7\n", "R1 Z-3 Q1"},
		{"the same cycle with other words", "X9\nG0 Z5\n", "G0 Z5\nG81 X1 Z-5 R2\nG81 X5 Z-3 R1\nT2 M6\nS900 M3\nG43 H2\nX7\nG80\n", "\nG81 R1 Z-3 X7\n", "Z-5 X7"},
		{"a deleted first block", "X9\nG0 Z5\n", "X9\nG0 Z5\nG1 Z-1\nT1 M6\nS900 M3\n/2 X8\nX7\nG0 Z5\n", "\n/2G1  X8\n", "X8G1"},
	} {
		text := strings.Replace(plate, c.old, c.new, 1)
		r, err := Merge(one(text, plate))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := string(r.First.Text); !strings.Contains(got, c.has) || c.hasNot != "" && strings.Contains(got, c.hasNot) {
			t.Errorf("%s:\n%s", c.name, got)
		}
	}
}

// TestLineEnds: a face with CR LF has merged programs with CR LF throughout.
func TestLineEnds(t *testing.T) {
	o := one(strings.ReplaceAll(plate, "\n", "\r\n"), plate)
	for _, text := range texts(merge(t, o)) {
		if n := strings.Count(text, "\n"); n < 10 || strings.Count(text, "\r\n") != n {
			t.Errorf("%q", text)
		}
	}
}

// TestSides: what each side says of itself holds there alone, and what can't be is refused.
func TestSides(t *testing.T) {
	arc := strings.Replace(plate, "X9\n", "G2 X3 Y2 I1 J0\nG1 X9\n", 1)
	absolute := strings.Replace(strings.Replace(arc, "I1 J0", "I2 J2", 1), "G17", "G17 G90.1", 1)
	for _, pair := range [][2]string{{absolute, arc}, {arc, absolute}} {
		o := one(pair[0], pair[1])
		r := merge(t, o)
		sameCuts(t, o, r)
		if got := string(r.Steady.Text); !strings.Contains(got, "G91.1\n") || !strings.Contains(got, "G90.1\n") {
			t.Errorf("centre modes:\n%s", got)
		}
	}
	for _, c := range []struct{ name, face, want string }{
		{"motion behind the closing %", "%\n" + strings.Replace(plate, "M30\n", "%\nG0 X99\n", 1), "face.nc:12:4: motion behind the end of the program"},
		// A plunge with the spindle stopped, wherever it is.
		{"a plunge at the right", strings.Replace(strings.Replace(plate, "S1000 M3\n", "", 1), "X1 Y2\nG1 Z-1 F90\nX9", "X50 Y2\nG1 Z-1 F90\nS1000 M3\nX9", 1), "face.nc:5:1: a cut with the spindle stopped"},
		{"a plunge at the left", strings.Replace(strings.Replace(plate, "S1000 M3\n", "", 1), "X1 Y2\nG1 Z-1 F90\nX9", "X-50 Y2\nG1 Z-1 F90\nS1000 M3\nX9", 1), "face.nc:5:1: a cut with the spindle stopped"},
	} {
		if _, err := Merge(one(c.face, plate)); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	// A program that was written from another one is spoken of by that one's lines.
	o := one(strings.Replace(plate, "X9\n", "G92 X9\n", 1), plate)
	o.Face.From, o.Face.Lines = "drawn.nc", func(line int) int { return 10 * line }
	if _, err := Merge(o); err == nil || !strings.HasPrefix(err.Error(), "drawn.nc:70:1: G92") {
		t.Errorf("%v", err)
	}
}

// TestWays: each way across the bed, with the places by hand from the zeros: G54 at 100, 50 and
// G55 at 300, 50.
func TestWays(t *testing.T) {
	o := one(strings.Replace(plate, "G0 Z5\nM5", "G0 Z5\nG53 G0 X7 Y8\nX1 Y2\nM5", 1), plate)
	o.Ways = true
	zero := func(x string) (s Station) {
		s.ZeroX, s.ZeroY, s.ZeroZ = d(x), d("50"), d("-80")
		return s
	}
	for i, s := range []*Station{&o.Pairs[0].Face, &o.Pairs[0].Back} {
		offset := s.Offset
		*s = zero([]string{"100", "300"}[i])
		s.Offset = offset
	}
	o.Park, o.Change = &Place{X: dec("0"), Y: dec("400"), Unit: transform.MM}, &Place{X: dec("10"), Y: dec("390"), Unit: transform.MM}
	var got []string
	for _, w := range merge(t, o).Ways {
		if w.Program != 1 {
			continue
		}
		show := func(p [2]decimal.Decimal) string { return p[0].String() + "," + p[1].String() }
		line := show(w.From) + " to " + show(w.At) + " " + w.To
		if !w.Known {
			line = "unknown to " + w.To
		}
		if !w.Clear {
			line += ", low"
		}
		got = append(got, line)
	}
	const want = `
0,400 to 10,390 the tool change
10,390 to 101,52 G54
109,52 to 7,8 a place in machine coordinates, low
7,8 to 101,52 G54, low
101,52 to 301,52 G55
309,52 to 0,400 the place to park`
	if strings.Join(got, "\n") != want[1:] {
		t.Errorf("%s", strings.Join(got, "\n"))
	}
	// Two spots lie over each other where both are known in the same axes, and the same.
	at := func(x, y *decimal.Decimal) spot { return spotOf(transform.MM, x, y) }
	for _, c := range []struct {
		a, b        spot
		over, known bool
	}{
		{at(d("1"), d("2")), at(d("1"), d("2")), true, true}, {at(d("1"), d("2")), at(d("1"), d("3")), false, true}, {at(d("1"), d("2")), at(d("3"), d("2")), false, true},
		{at(d("1"), nil), at(d("1"), nil), true, false}, {at(d("1"), nil), at(d("1"), d("0")), false, false}, {at(nil, d("1")), at(d("0"), d("1")), false, false},
	} {
		if c.a.over(c.b) != c.over || c.b.over(c.a) != c.over || c.a.known() != c.known {
			t.Errorf("%v and %v: over %v, known %v", c.a, c.b, c.a.over(c.b), c.a.known())
		}
	}
}
