package cut

import "testing"

// helix bores a hole about (50, 30) with radius r for the cutter's middle, in whole turns of
// the given pitch down to z.
func helix(r, pitch, z float64) []Segment {
	var out []Segment
	turns := int(-z / pitch)
	for n := range turns {
		from := [3]float64{50 + r, 30, z + float64(turns-n)*pitch}
		to := [3]float64{50 + r, 30, z + float64(turns-n-1)*pitch}
		out = append(out, Circular(n+1, 1, from, to, [2]float64{50, 30}, true))
	}
	return out
}

// At the start of its last turn the cutter is a pitch less 0.3 mm over the bed of the 12 mm
// blank when it ends 0.3 mm below it; the grid sees the ledge a cell or two farther on, up to
// a tenth of the turn (derived).
func TestHelixWithoutLevelTurn(t *testing.T) {
	level := func(segs []Segment) []Segment {
		at := segs[len(segs)-1].To
		return append(segs, Circular(99, 1, at, at, [2]float64{50, 30}, true))
	}
	chords := func(segs []Segment) (out []Segment) {
		for _, s := range segs {
			from, g := s.From, s.arc()
			for n := 1; n <= 48; n++ {
				to := s.at(g, float64(n)/48)
				out = append(out, Straight(s.Line*100+n, 1, from, to))
				from = to
			}
		}
		return out
	}
	for _, c := range []struct {
		name  string
		face  []Segment
		pitch float64 // 0 for no finding
	}{
		{"1 mm a turn", helix(2, 1, -12.3), 1},
		{"4 mm a turn", helix(2, 4, -12.3), 4},
		{"as wide as it can be in one", helix(2.9, 1, -12.3), 1},
		{"in chords", chords(helix(2, 1, -12.3)), 1},
		{"with a level turn", level(helix(2, 1, -12.3)), 0},
		{"in chords with a level turn", level(chords(helix(2, 1, -12.3))), 0},
		{"a whole turn below the bed side", helix(2, 0.3, -12.35), 0},
		{"down a slope along a slot and back", []Segment{line(1, 40, 30, 0, 60, 30, -12.3), line(2, 60, 30, -12.3, 40, 30, -12.3)}, 0},
		{"blind", helix(2, 1, -8), 0},
	} {
		q := plain()
		q.Face.Segments = c.face
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if c.pitch == 0 {
			if !r.OK() {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
			continue
		}
		f, ok := alone[*LedgeLeft](t, c.name, r)
		if ok && (f.FaceLine == 0 || f.Height > c.pitch-0.3 || f.Height < 0.9*c.pitch-0.3) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}
