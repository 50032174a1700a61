package cut

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// What is taken for meant, and what isn't. The blank is 12 mm thick, 100 x 60, turned like a
// page, the cutters are flat, 6 (1), 4 (5) and 10 (6) mm, and a drill of 3 mm (7); depths are
// from each side's own top, so that what two cuts pass each other by is their sum less 12
// (derived).
func TestWhatIsTakenForMeant(t *testing.T) {
	join := func(a ...[]Segment) (out []Segment) {
		for _, s := range a {
			out = append(out, s...)
		}
		return out
	}
	seg := func(tool int, x0, y0, x1, y1, z float64) []Segment {
		return with(tool, []Segment{line(1, x0, y0, z, x1, y1, z)})
	}
	// tray clears a rectangle, given by the cutter's way.
	tray := func(tool int, x0, y0, x1, y1, z float64) (out []Segment) {
		for y := y0; y <= y1; y += 3 {
			out = append(out, seg(tool, x0, y, x1, y, z)...)
		}
		return append(out, with(tool, rect(1, x0, y0, x1, y1, z))...)
	}
	// round clears a disc of radius r for the cutter's middle.
	round := func(tool int, x, y, r, z float64) (out []Segment) {
		for n := 2.0; n < r+2; n += 2 {
			at := min(n, r)
			out = append(out, bore(1, x, y, at, z)...)
		}
		return with(tool, out)
	}
	pilots := func(tool int, z float64) (out []Segment) {
		for n := range 8 {
			out = append(out, with(tool, hole(1, 25+float64(n%4)*15, 20+float64(n/4)*20, z))...)
		}
		return out
	}
	outline := func(tool int, by, z float64) []Segment { return with(tool, rect(3, 20-by, 12-by, 80+by, 48+by, z)) }
	lead := func(tool int, by, z float64) []Segment { return seg(tool, 50, 12-by-9, 50, 12-by, z) }
	// lifted goes around as tabbed does, and leaves the tabs out.
	lifted := func(tool int, x0, y0, x1, y1, z float64) (out []Segment) {
		for _, s := range tabbed(x0, y0, x1, y1, z, z) {
			if math.Abs(s.To[0]-s.From[0]) != 12 {
				out = append(out, s)
			}
		}
		return with(tool, out)
	}
	thin := func(q *Request) { q.Nominal = 12; q.T = 11.2 }
	for _, c := range []struct {
		name                       string
		face, back                 []Segment
		edit                       func(q *Request)
		codes                      string
		kind                       string // of what is recognised or declared
		outlines, openings, broken int
	}{
		// A blind hole that breaks into what the other side cut.
		{"pilots in a tray", pilots(5, -6.5), tray(1, 20, 15, 80, 45, -6), nil, "broken-through", "", 0, 8, 8},
		{"pilots in a tray, drilled", pilots(7, -7.5), tray(1, 20, 15, 80, 45, -6), nil, "broken-through", "", 0, 8, 8},
		{"a bored hole over a tray", bore(1, 40, 30, 3, -6.6), tray(1, 20, 15, 80, 45, -6), nil, "broken-through", "", 0, 1, 1},
		{"a plunge over a pocket", hole(1, 40, 24, -7), tray(1, 35, 20, 50, 30, -6), nil, "broken-through", "", 0, 1, 1},
		{"a drill over a groove", hole(1, 50, 30, -7), seg(1, 20, 30, 80, 30, -6), nil, "broken-through", "", 0, 1, 1},
		{"a drill over a groove's end", hole(1, 80, 30, -7), seg(1, 20, 30, 80, 30, -6), nil, "broken-through", "", 0, 1, 1},
		{"a drill over both ends of a groove", join(hole(1, 80, 30, -7), hole(1, 50, 30, -7)), seg(1, 50, 30, 80, 30, -6), nil, "broken-through", "", 0, 2, 2},
		{"a drill over an outline groove", hole(1, 50, 12, -7), outline(1, 0, -6), nil, "broken-through", "", 0, 1, 1},
		{"a drill over its corner", hole(1, 20, 12, -7), outline(1, 0, -6), nil, "broken-through", "", 0, 1, 1},
		{"a slot along a longer groove", seg(1, 40, 30, 60, 30, -7), seg(1, 20, 30, 80, 30, -6), nil, "broken-through", "", 0, 1, 1},
		{"borders that share a stretch of a side", rect(3, 20, 12, 60, 48, -6.5), rect(3, 40, 12, 80, 30, -6.5), nil, "broken-through", "", 0, 2, 2},
		// A hole in the middle of a round tray.
		{"a pilot in the middle of a round tray, 0.4 over", with(5, hole(1, 40, 30, -6.4)), round(1, 40, 30, 12, -6), nil, "broken-through", "", 0, 1, 1},
		{"a pilot in the middle of a round tray, 0.6 over", with(5, hole(1, 40, 30, -6.6)), round(1, 40, 30, 12, -6), nil, "", "stepped", 0, 1, 0},
		{"the same with the drill, whose point is 0.9 high", with(7, hole(1, 40, 30, -7.3)), round(1, 40, 30, 12, -6), nil, "broken-through", "", 0, 1, 1},
		{"the same with the drill, deeper", with(7, hole(1, 40, 30, -7.6)), round(1, 40, 30, 12, -6), nil, "", "stepped", 0, 1, 0},
		{"a pilot beside the middle of a round tray", with(5, hole(1, 43, 30, -6.6)), round(1, 40, 30, 12, -6), nil, "broken-through", "", 0, 1, 1},
		{"a counterbore and its hole", hole(1, 40, 30, -12.3), bore(1, 40, 30, 2, -4), nil, "", "hole", 0, 1, 0},
		{"a counterbore and its hole from the other side", hole(1, 40, 30, -8.6), bore(1, 40, 30, 2, -4), nil, "", "stepped", 0, 1, 0},
		// Outlines.
		{"an outline with other cutters, leads and tabs", join(lead(1, 3, -6.3), outline(1, 3, -6.3)),
			join(lead(6, 5, -6.3), with(6, tabbed(15, 7, 85, 53, -6.3, -3))), nil, "", "groove", 1, 0, 0},
		{"the same, the back 0.4 off", join(lead(1, 3, -6.3), outline(1, 3, -6.3)),
			join(lead(6, 5, -6.3), with(6, tabbed(15.4, 7, 85.4, 53, -6.3, -3))), nil, "through-step", "groove", 1, 0, 0},
		{"the same within the budget", join(lead(1, 3, -6.3), outline(1, 3, -6.3)),
			join(lead(6, 5, -6.3), with(6, tabbed(15.04, 7, 85.04, 53, -6.3, -3))), nil, "", "groove", 1, 0, 0},
		{"an outline with tabs that the back is lifted over", outline(1, 3, -6.3), join(lead(6, 5, -6.3), lifted(6, 15, 7, 85, 53, -6.3)), nil, "", "groove", 1, 0, 0},
		{"an outline of one side with tabs that it is lifted over", lifted(1, 20, 12, 80, 48, -12.3), nil, nil, "", "groove", 1, 0, 0},
		{"an outline 0.4 over", outline(1, 3, -6.2), outline(1, 3, -6.2), nil, "broken-through", "", 1, 0, 1},
		{"an outline 0.4 over, which is enough", outline(1, 3, -6.2), outline(1, 3, -6.2), func(q *Request) { v := 0.4; q.Breakthrough = &v }, "", "groove", 1, 0, 0},
		{"two border grooves that meet in a blank thinner than nominal", outline(1, 3, -5.9), outline(1, 3, -5.9), thin, "broken-through", "", 1, 0, 1},
		{"two border grooves in a thin blank, from the bed on both sides", outline(1, 3, -5.9), outline(1, 3, -5.9), func(q *Request) {
			thin(q)
			q.FaceLevel, q.BackLevel = Bed, Bed
			for _, list := range [2][]Segment{q.Face.Segments, q.Back.Segments} {
				for i := range list {
					list[i].From[2] += 11.2
					list[i].To[2] += 11.2
				}
			}
		}, "", "groove", 1, 0, 0}, // a thicker one would leave less
		{"an outline in a measured blank", outline(1, 3, -6.3), outline(1, 3, -6.3), thin, "", "groove", 1, 0, 0},
		{"an outline of one side with tabs", tabbed(20, 12, 80, 48, -12.3, -8), nil, nil, "", "groove", 1, 0, 0},
		{"a vee that comes out", with(8, outline(1, 0, -12.3)), nil, nil, "broken-through vee-over-cone", "", 1, 0, 1},
		{"a ball that comes out", with(2, hole(1, 40, 30, -12.3)), nil, nil, "broken-through", "", 0, 1, 1},
		// Floors that are gone.
		{"a window pocketed from both sides with two cutters", tray(1, 40, 20, 60, 35, -6.5), tray(5, 39, 19, 61, 36, -6.5), nil, "broken-through", "", 0, 1, 1},
		{"the same, declared by place", tray(1, 40, 20, 60, 35, -6.5), tray(5, 39, 19, 61, 36, -6.5), func(q *Request) { q.Through = [][2]float64{{50, 30}} }, "", "declared", 0, 1, 0},
		{"the same, declared by number", tray(1, 40, 20, 60, 35, -6.5), tray(5, 39, 19, 61, 36, -6.5), func(q *Request) { q.Count = &Count{0, 1} }, "", "declared", 0, 1, 0},
		{"a slot around the corner with two cutters", join(seg(1, 30, 20, 60, 20, -6.5), seg(1, 60, 20, 60, 40, -6.5)),
			with(5, rect(1, 29, 19, 61, 21, -6.5)), nil, "broken-through", "", 0, 1, 1},
		{"a pocket too deep", tray(1, 40, 20, 60, 35, -12.2), nil, nil, "broken-through", "", 0, 1, 1},
		{"two round pockets back to back", tray(1, 40, 20, 60, 35, -6.5), tray(1, 40, 20, 60, 35, -6.5), nil, "broken-through", "", 0, 1, 1},
		// Slots and holes.
		{"a slot through by the bed depth", seg(1, 30, 30, 60, 30, -12.5), nil, nil, "", "groove", 0, 1, 0},
		{"two slots in line, 10 mm apart", join(seg(1, 15, 30, 25, 30, -12.3), seg(1, 41, 30, 51, 30, -12.3)), nil, nil, "", "groove groove", 0, 2, 0},
		{"two slots in line, 20 mm apart", join(seg(1, 15, 30, 25, 30, -12.3), seg(1, 51, 30, 61, 30, -12.3)), nil, nil, "", "groove groove", 0, 2, 0},
		{"two slots in line, 33 mm apart", join(seg(1, 15, 30, 25, 30, -12.3), seg(1, 64, 30, 74, 30, -12.3)), nil, nil, "", "groove groove", 0, 2, 0},
		{"two slots in line, 39 mm apart", join(seg(1, 15, 30, 25, 30, -12.3), seg(1, 70, 30, 80, 30, -12.3)), nil, nil, "", "groove groove", 0, 2, 0},
		{"a row of slots across the blank, tabs between them", join(seg(1, 50, -3, 50, 10, -12.3), seg(1, 50, 26, 50, 34, -12.3), seg(1, 50, 50, 50, 63, -12.3)), nil, nil, "", "groove groove groove", 1, 0, 0},
		{"an outline of one side with tabs, a pocket on the other", tabbed(20, 12, 80, 48, -12.3, -8), seg(1, 45, 30, 55, 30, -3), nil, "", "groove", 1, 0, 0},
		{"an outline of one side that it is lifted over, a pocket on the other", lifted(1, 20, 12, 80, 48, -12.3), seg(1, 45, 30, 55, 30, -3), nil, "", "groove", 1, 0, 0},
		{"a slot from both sides", seg(1, 30, 30, 60, 30, -6.3), seg(1, 30, 30, 60, 30, -6.3), nil, "", "groove", 0, 1, 0},
		{"a hole from both sides", hole(1, 30, 30, -6.3), hole(1, 30, 30, -6.3), nil, "", "hole", 0, 1, 0},
		{"a hole of 18 mm bored from both sides", round(1, 40, 30, 6, -6.3), round(1, 40, 30, 6, -6.3), nil, "", "hole", 0, 1, 0},
		{"a hole of 18 mm bored from one side", round(1, 40, 30, 6, -12.3), nil, nil, "", "hole", 0, 1, 0},
		{"a hole drilled through", with(7, hole(1, 40, 30, -13)), nil, func(q *Request) { v := 1.5; q.BedDepth = &v }, "", "hole", 0, 1, 0},
		{"a drill whose point alone comes out", with(7, hole(1, 40, 30, -12.4)), nil, nil, "broken-through", "", 0, 1, 1},
		{"a hole in a thin blank that misses the nominal one", hole(1, 40, 30, -11.6), nil, thin, "broken-through", "", 0, 1, 1},
		// Numbers.
		{"as many as declared", join(outline(1, 3, -12.3), hole(1, 40, 30, -12.3), hole(1, 60, 30, -12.3)), nil, func(q *Request) { q.Count = &Count{1, 2} }, "", "groove hole hole", 1, 2, 0},
		{"one more than declared", join(outline(1, 3, -12.3), hole(1, 40, 30, -12.3), hole(1, 60, 30, -12.3)), nil, func(q *Request) { q.Count = &Count{1, 1} }, "through-count", "groove", 1, 2, 0},
		{"pilots in a tray beside a hole that is declared", join(pilots(5, -6.5), hole(1, 90, 30, -12.3)), tray(1, 20, 15, 80, 45, -6), func(q *Request) { q.Count = &Count{0, 1} }, "broken-through through-count", "hole", 0, 9, 8},
		{"a declared place where nothing goes through", hole(1, 40, 30, -11), nil, func(q *Request) { q.Through = [][2]float64{{40, 30}} }, "through-short", "", 0, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := plain()
			q.HeldAll = true
			q.Tools = append(q.Tools, Tool{Number: 5, Shape: Flat, Diameter: 4}, Tool{Number: 6, Shape: Flat, Diameter: 10},
				Tool{Number: 7, Shape: Drill, Diameter: 3, Angle: 118}, Tool{Number: 8, Shape: Vee, Diameter: 6, Angle: 90})
			number := func(list []Segment) []Segment {
				list = append([]Segment{}, list...)
				for i := range list {
					list[i].Line = i + 1
				}
				return list
			}
			q.Face.Segments, q.Back.Segments = number(c.face), number(turnedOver(c.back))
			if c.edit != nil {
				c.edit(&q)
			}
			r, err := Check(q)
			if err != nil {
				t.Fatal(err)
			}
			alike(t, c.name, q, r)
			if got := codes(r); got != c.codes {
				t.Errorf("found %q, want %q: %+v", got, c.codes, r.Findings)
			}
			var kinds []string
			for _, p := range r.Through {
				kinds = append(kinds, p.Kind)
			}
			if got := strings.Join(kinds, " "); c.kind == "" && got != "" || !strings.HasPrefix(got, c.kind) {
				t.Errorf("recognised %q, want %q", got, c.kind)
			}
			if r.Outlines != c.outlines || r.Openings != c.openings || len(r.BrokenThrough) != c.broken {
				t.Errorf("%d outlines, %d openings, %d broken through; want %d, %d, %d", r.Outlines, r.Openings, len(r.BrokenThrough), c.outlines, c.openings, c.broken)
			}
		})
	}
}

// Where fewer go through than declared, the deepest cut that doesn't is named, with what it
// leaves of 12 mm; where more do, or nothing is cut, no place is.
func TestTooFewNamesTheDeepest(t *testing.T) {
	outline, bore := rect(1, 20, 12, 80, 48, -11.6), hole(1, 50, 30, -4)
	for _, c := range []struct {
		name string
		face []Segment
		left float64
		line int
	}{
		{"an outline that ends high", append(bore, outline...), 0.4, len(bore) + 1},
		{"nothing cut", nil, 0, 0},
		{"two through", append(rect(1, 20, 12, 80, 48, -12.3), rect(1, 30, 20, 70, 40, -12.3)...), 0, 0},
	} {
		q := plain()
		q.HeldAll, q.Count = true, &Count{Outlines: 1}
		for i, s := range c.face {
			s.Line = i + 1
			q.Face.Segments = append(q.Face.Segments, s)
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(r.Findings, func(f Finding) bool { return f.Code() == "through-count" })
		if i < 0 {
			t.Fatalf("%s: %q", c.name, codes(r))
		}
		n := r.Findings[i].(*OutlineCount).Number
		if math.Abs(n.Left-c.left) > 1e-5 || n.Placed != (c.left > 0) || n.FaceLine < c.line || n.FaceLine > 0 && c.line == 0 {
			t.Errorf("%s: %+v, want %g left on line %d or after", c.name, n, c.left, c.line)
		}
	}
}
