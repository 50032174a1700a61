package mirror

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/fact"

	"github.com/shopspring/decimal"
)

const (
	rapidDown = "its way down is a rapid, which its other end mustn't get"
	fastDown  = "its way down is faster than its cuts, which its other end mustn't get"
	fromAside = "it starts outside the blank, and its other end lies inside"
	lowTo     = "the rapid to it doesn't surely run above the work"
	lowAfter  = "the rapid after it doesn't surely run above the work"
)

// TestWays: an open chain is reversed only where the tool may go down at its other end
// and the rapids that get another end run above the work. The blank reaches from 0, 0 to
// 100, 100, with its top at Z0 where that is known. A tool that can't cut over its centre
// must not plunge, and none may meet stock at rapid: common practice.
func TestWays(t *testing.T) {
	const aside, plunge, up = "G0 X10 Y10\n", "Z2\nG1 Z-4 F50\n", "G0 Z5\n"
	for _, c := range []struct {
		name, in     string
		top, blank   bool
		opened, from int // how many, the first one's line
		left         []string
	}{
		{"a feed down", aside + plunge + "X50 F500\n" + up, true, true, 1, 4, nil},
		{"a rapid down beside the blank", "G0 X-10 Y10\nG0 Z-4\nG1 X50 F500\n" + up, true, false, 0, 0, []string{"6 6 " + rapidDown}},
		{"a rapid to just above the depth", aside + "Z-3.9\nG1 Z-4 F50\nX50 F500\n" + up, true, false, 0, 0, []string{"7 7 " + rapidDown}},
		{"a rapid to the top", aside + "Z0\nG1 Z-4 F50\nX50 F500\n" + up, true, false, 0, 0, []string{"7 7 " + rapidDown}},
		{"a rapid down, the top not known", aside + plunge + "X50 F500\n" + up, false, true, 0, 0, []string{"7 7 " + rapidDown}},
		{"a rapid down after G92", "G92 Z5\nG0 Z5\n" + aside + plunge + "X50 F500\n" + up, true, false, 0, 0, []string{"9 9 the rapid to it doesn't surely run above the work"}},
		{"a rapid down in a second offset", "G54\nG55\nG0 Z5\n" + aside + plunge + "X50 F500\n" + up, true, false, 0, 0, []string{"10 10 the rapid to it doesn't surely run above the work"}},
		{"a rapid down to a loop", aside + "Z-4\nG1 X50 F500\nX10\n" + up, true, true, 0, 0, nil},
		{"a fast feed down", "G0 X-10 Y10\nZ2\nG1 Z-4 F3000\nX50 F500\n" + up, true, false, 0, 0, []string{"7 7 " + fastDown}},
		{"a feed down faster than one of the cuts", aside + "Z2\nG1 Z-4 F200\nX50 F500\nX60 F199\n" + up, true, true, 0, 0, []string{"7 8 " + fastDown}},
		{"a feed down as fast as the cuts", aside + "Z2\nG1 Z-4 F500\nX50\n" + up, true, true, 1, 4, nil},
		{"a fast feed that ends above the work", aside + "G1 Z1 F3000\nZ-4 F200\nX50\n" + up, true, true, 1, 4, nil},
		{"a fast feed, the top not known", aside + "G1 Z1 F3000\nZ-4 F200\nX50\n" + up, false, true, 0, 0, []string{"7 7 " + fastDown}},
		{"from beside the blank into it", "G0 X-10 Y10\n" + plunge + "X50 F500\n" + up, true, true, 0, 0, []string{"7 7 " + fromAside}},
		{"from the blank's edge into it", "G0 X0 Y10\n" + plunge + "X50 F500\n" + up, true, true, 0, 0, []string{"7 7 " + fromAside}},
		{"from beside the blank, its size not known", "G0 X-10 Y10\n" + plunge + "X50 F500\n" + up, true, false, 1, 4, nil},
		{"across the blank", "G0 X-10 Y10\n" + plunge + "X110 F500\n" + up, true, true, 1, 4, nil},
		{"out of the blank", "G0 X50 Y10\n" + plunge + "X110 F500\n" + up, true, true, 1, 4, nil},
		{"beyond its far edge", "G0 X50 Y110\n" + plunge + "Y50 F500\n" + up, true, true, 0, 0, []string{"7 7 " + fromAside}},
		{"a low rapid to it", "Z-1\n" + aside + "G1 Z-4 F50\nX50 F500\nG0 Z-1\nX0 Y0 Z5\n", true, true, 0, 0, []string{"7 7 " + lowAfter}},
		{"low rapids before and after loops", aside + plunge + "X50 F500\nX10\nG0 Z-1\nX30 Y10\nG1 Z-4\nY40\nG0 Z-1\nX20 Y20 Z5\n", true, true, 0, 0, []string{"12 12 " + lowAfter}},
		{"a low rapid to the last one", aside + plunge + "X50 F500\nX10\nG0 Z-1\nX30 Y10\nG1 Z-4\nY40\nG0 Z-1\n", true, true, 0, 0, []string{"12 12 " + lowTo}},
		{"cuts in air", aside + "G1 Z0.5 F50\nX50\nY50\nZ0\nX0\nG0 Z5\n", true, true, 0, 0, nil},
		{"cuts in air, the top not known", aside + "G1 Z0.5 F50\nX50\n" + up, false, true, 1, 4, nil},
		{"cuts in air before the end, behind a chain that is left", aside + plunge + "X50 F500\n" + up + "Y20\nG1 X60\n", true, true, 0, 0, []string{"7 7 the rapid after it doesn't give both X and Y"}},
		{"cuts before the end", aside + plunge + "X50 F500\n", true, true, 0, 0, []string{"7 7 no way up at its end"}},
		{"two of them", aside + plunge + "X50 F500\n" + up + "X10 Y20\n" + plunge + "X50 F500\n" + up, true, true, 2, 4, nil},
	} {
		o := Options{Map: flipY("100"), ReverseCuts: true}
		if c.top {
			o.Top = &decimal.Zero
		}
		if hundred := decimal.New(100, 0); c.blank {
			o.Blank = &[2][2]decimal.Decimal{{}, {hundred, hundred}}
		}
		var out bytes.Buffer
		r, err := Mirror(strings.NewReader(reverseStart+c.in+"M30\n"), &out, o)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var left, noted []string
		for _, l := range r.Left {
			left = append(left, fmt.Sprintf("%d %d %s", l.First, l.Last, l.Why))
		}
		for _, n := range r.Notes {
			if fact.Code(n.Is) == "other-end" {
				noted = append(noted, fmt.Sprintf("%d %s", n.Line, fact.Values(n.Is)))
			}
		}
		var want []string
		if c.opened > 0 {
			want = []string{fmt.Sprintf("%d [%d]", c.from, c.opened)}
		}
		if int(r.Opened) != c.opened || fmt.Sprint(noted) != fmt.Sprint(want) || fmt.Sprint(left) != fmt.Sprint(c.left) {
			t.Errorf("%s: %d open, noted %q, left %q; want %d, %q, %q\n%s", c.name, r.Opened, noted, left, c.opened, want, c.left, out.String())
		}
	}
}

// TestWaysInOtherUnits: the blank is known in mm, the program is in inches, and the map
// moves Z: its top lies at 25.4 mm, 1 in, in the program, at 0 in the mirror.
func TestWaysInOtherUnits(t *testing.T) {
	o := Options{Map: flipY("100"), ReverseCuts: true}
	top := decimal.New(254, -1)
	o.Top, o.Map.Z.Offset = &top, top.Neg()
	for z, want := range map[string]int64{"1.01": 1, "1": 0} {
		in := "G20 G90 G94 G17\nM3 S9000\nG0 Z2\nX1 Y1\nZ" + z + "\nG1 Z0.9 F5\nX2\nG0 Z2\nM30\n"
		r, err := Mirror(strings.NewReader(in), &bytes.Buffer{}, o)
		if err != nil || r.Opened != want {
			t.Errorf("down to %s: %v, %d open, want %d", z, err, r.Opened, want)
		}
	}
}
