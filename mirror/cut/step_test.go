package cut

import (
	"math"
	"testing"
)

// turnedOver gives segments written in the face's frame as a back program has them, where
// a blank 100 mm wide is turned like a page.
func turnedOver(segs []Segment) []Segment {
	out := append([]Segment{}, segs...)
	for i := range out {
		s := &out[i]
		s.From[0], s.To[0], s.Centre[0] = 100-s.From[0], 100-s.To[0], 100-s.Centre[0]
		s.CCW = !s.CCW
	}
	return out
}

// tabbed goes around a rectangle as rect does, and lifts to tab over 12 mm in the middle of
// both long sides.
func tabbed(x0, y0, x1, y1, z, tab float64) []Segment {
	m := (x0 + x1) / 2
	out := rect(3, x0, y0, x1, y1, z)
	bridge := func(i int, y, d float64) []Segment {
		s := out[i]
		a, b := s.From[0], s.To[0]
		return []Segment{line(s.Line, a, y, z, m-d, y, z), line(s.Line, m-d, y, tab, m+d, y, tab), line(s.Line, m+d, y, z, b, y, z)}
	}
	near, far := bridge(0, y0, 6), bridge(2, y1, -6)
	return append(append(append(near, out[1]), far...), out[3])
}

func hole(n int, x, y, z float64) []Segment { return []Segment{line(n, x, y, 2, x, y, z)} }

// bore mills a hole in one level turn of radius r for the cutter's middle.
func bore(n int, x, y, r, z float64) []Segment {
	at := [3]float64{x + r, y, z}
	return []Segment{line(n, x+r, y, 2, x+r, y, z), Circular(n+1, 1, at, at, [2]float64{x, y}, true)}
}

func with(tool int, segs []Segment) []Segment {
	for i := range segs {
		segs[i].Tool = tool
	}
	return segs
}

// What one side makes through alone is compared with what the other cuts along the same
// walls. The blank is 12 mm thick, the cutter 6 mm; the step is the shift (derived).
// A recess that stands back evenly, from one piece or from the waste, is meant.
func TestLedges(t *testing.T) {
	const deep = -12.3
	join := func(a ...[]Segment) (out []Segment) {
		for _, s := range a {
			out = append(out, s...)
		}
		return out
	}
	outline := func(dx, by, z float64) []Segment { return rect(3, 20-by+dx, 12-by, 80+by+dx, 48+by, z) }
	for _, c := range []struct {
		name       string
		face, back []Segment
		step       float64 // 0 for none
		within     float64
	}{
		{"hole drilled again, 1 mm off", hole(1, 30, 30, deep), hole(1, 31, 30, -5), 1, 0.02},
		{"hole finished from the back, 1 mm off", hole(1, 30, 30, -5), hole(1, 30, 31, deep), 1, 0.02},
		{"hole drilled again", hole(1, 30, 30, deep), hole(1, 30, 30, -5), 0, 0},
		{"hole drilled through twice, 0.3 mm off", hole(1, 30, 30, deep), hole(1, 30.3, 30, deep), 0.3, 0.01},
		{"bore milled again, 1 mm off", bore(1, 30, 30, 5, deep), bore(1, 31, 30, 5, -6), 1, 0.02},
		{"counterbore", hole(1, 30, 30, deep), bore(1, 30, 30, 1, -4), 0, 0},
		{"counterbore 0.4 mm off", hole(1, 30, 30, deep), bore(1, 30.4, 30, 1, -4), 0.4, 0.02},
		{"outline finished from the back, 1 mm off", outline(0, 0, -5), outline(1, 0, deep), 1, 1e-6},
		{"outline finished from the back", outline(0, 0, -5), outline(0, 0, deep), 0, 0},
		{"gone over from the back, 1 mm off", tabbed(20, 12, 80, 48, deep, -8), outline(1, 0, -5), 1, 1e-6},
		{"gone over from the back with tabs", tabbed(20, 12, 80, 48, deep, -8), tabbed(20, 12, 80, 48, -5, -2), 0, 0},
		{"0.3 mm left on for finishing", outline(0, 0.3, -5), outline(0, 0, deep), 0, 0},
		{"a rebate 1.5 mm wide", outline(0, 0, deep), outline(0, -1.5, -3), 0, 0},
		{"roughed and finished on the face", join(outline(0, 0.5, -6), outline(0, 0, -6)), outline(0, 0, deep), 0, 0},
		{"roughed and finished on the back", outline(0, 0, -6), join(outline(0, 0.5, -11.8), outline(0, 0, deep)), 0, 0},
		{"a 10 mm cutter along the part's edge", with(3, outline(0, 2, -5)), outline(0, 0, deep), 0, 0},
		{"a 10 mm cutter along the part's edge, 0.5 mm off", with(3, outline(0.5, 2, -5)), outline(0, 0, deep), 0.5, 1e-6},
		{"a 10 mm cutter on a 6 mm cutter's way, within reach", with(4, outline(0, 0, -5)), outline(0, 0, deep), 0.5, 1e-6},
		{"ramped in", join([]Segment{line(1, 40, 12, 0, 70, 12, -5), line(2, 70, 12, -5, 40, 12, -5)}, outline(0, 0, -5)), outline(0, 0, deep), 0, 0},
		{"led in on an arc", join([]Segment{Circular(1, 1, [3]float64{46, 6, -5}, [3]float64{50, 12, -5}, [2]float64{50, 8}, false)}, outline(0, 0, -5)), outline(0, 0, deep), 0, 0},
		{"slot gone over, 0.6 mm off", []Segment{line(1, 30, 30, deep, 60, 30, deep)}, []Segment{line(1, 30, 30.6, -5, 60, 30.6, -5)}, 0.6, 0.01},
		{"slot with a wider channel over it", []Segment{line(1, 30, 30, deep, 60, 30, deep)}, with(4, []Segment{line(1, 30, 30, -5, 60, 30, -5)}), 0, 0},
		{"scored first, 1 mm off", outline(0, 0, -0.8), outline(1, 0, deep), 1, 0.3},
		{"scored first", outline(0, 0, -0.8), outline(0, 0, deep), 0, 0},
		{"a groove across", []Segment{line(1, -5, 30, -4, 105, 30, -4)}, outline(0, 0, deep), 0, 0},
		{"a groove beside one side", []Segment{line(1, 20, 13, -4, 80, 13, -4)}, outline(0, 0, deep), 0, 0},
	} {
		q := plain()
		q.HeldAll = true
		q.Tools = append(q.Tools, Tool{Number: 3, Shape: Flat, Diameter: 10}, Tool{Number: 4, Shape: Flat, Diameter: 7})
		for i := range c.face {
			c.face[i].Line += 10 * i
		}
		for i := range c.back {
			c.back[i].Line += 10 * i
		}
		q.Face.Segments, q.Back.Segments = c.face, turnedOver(c.back)
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		for _, f := range r.Findings {
			f, ok := f.(*WallStep)
			if !ok {
				t.Errorf("%s: %+v", c.name, r.Findings)
				continue
			}
			if got = f.Step; f.FaceLine == 0 || f.BackLine == 0 {
				t.Errorf("%s: lines %d and %d", c.name, f.FaceLine, f.BackLine)
			}
		}
		if len(r.Findings) > 1 || math.Abs(got-c.step) > c.within+1e-9 {
			t.Errorf("%s: step %g, want %g within %g; %d findings", c.name, got, c.step, c.within, len(r.Findings))
		}
		if c.step > 0 && (len(r.Through) == 0 || r.Through[0].Step != got) {
			t.Errorf("%s: %+v", c.name, r.Through)
		}
	}
}

// Bores of two sizes about one centre that meet are a stepped hole; off each other they are
// told with how far.
func TestSteppedHole(t *testing.T) {
	for _, c := range []struct {
		name   string
		r, off float64
		kind   string
	}{
		{"10 mm over 6 mm", 2, 0, "stepped"},
		{"7 mm over 6 mm", 0.5, 0, "stepped"},
		{"10 mm over 6 mm, 0.3 mm off", 2, 0.3, "stepped"},
		{"7 mm over 6 mm, 0.3 mm off", 0.5, 0.3, "stepped"},
	} {
		q := plain()
		q.Face.Segments, q.Back.Segments = hole(1, 20, 20, -7.5), turnedOver(bore(1, 20+c.off, 20, c.r, -5))
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Through) != 1 || r.Through[0].Kind != c.kind {
			t.Errorf("%s: %+v", c.name, r.Through)
			continue
		}
		near(t, c.name, r.Through[0].Step, c.off, 0.02)
		if told := len(r.Findings) == 1 && len(of[*BoresApart](r)) == 1; told != (c.off > 0) || !told && len(r.Findings) > 0 {
			t.Errorf("%s: %+v", c.name, r.Findings)
		}
	}
}
