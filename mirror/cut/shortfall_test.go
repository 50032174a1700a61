package cut

import "testing"

// disc is a circle of 33 mm about the middle of a 64 x 64 mm blank, cut by two plunges and
// turns that start 1 mm beside the blank, as an outline does that leaves the corners.
func disc(n int, x, z float64) []Segment {
	var out []Segment
	from := 2.0
	for i, to := range [2]float64{z / 2, z} {
		at := [3]float64{x, 32, to}
		out = append(out, line(n+2*i, x, 32, from, x, 32, to), Circular(n+2*i+1, 1, at, at, [2]float64{32, 32}, false))
		from = to
	}
	return out
}

// What is left of a through cut that starts beside the blank is no web, though both sides start there: the ring groove
// 2 mm deep in 15 mm is the least (derived). The plunge cuts through at X62.5 Y30.5.
func TestThroughCutFromBesideTheBlank(t *testing.T) {
	q := Request{W: 64, H: 64, T: 15, Cell: 0.2, Map: turned("y", 64, 64), Web: 2, HeldAll: true, Misalignment: 0.3,
		Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}}}
	ring := [3]float64{52, 32, -2}
	q.Face.Segments = append([]Segment{Circular(1, 1, ring, ring, [2]float64{32, 32}, true)}, disc(2, 65, -8)...)
	q.Back.Segments = disc(2, -1, -7.5)
	r, err := Check(q)
	if err != nil || !r.OK() {
		t.Fatalf("%v %+v", err, r.Findings)
	}
	near(t, "web", r.Web.Min, 13, 1e-5)
	near(t, "web at worst", r.WorstWeb.Min, 13, 1e-5)
}

// A closed groove that both sides follow and that leaves less than the web asked for is a through
// cut that falls short; what else is too thin, one side's outline too, is told as a web. (Derived
// from the thickness and the depths.)
func TestGrooveThatFallsShort(t *testing.T) {
	ring := func(z float64) []Segment { return rect(3, 20, 10, 80, 50, z) }
	for _, c := range []struct {
		name       string
		face, back []Segment
		want       []string
		side       Side
		left       float64
	}{
		{"outline of the face", ring(-11.3), nil, []string{"web-thin"}, Both, 0.7},
		{"outline of the back", nil, ring(-11.3), []string{"web-thin"}, Both, 0.7},
		{"outline of both", ring(-6), ring(-5.3), []string{"through-short"}, Both, 0.7},
		{"groove from edge to edge", []Segment{line(3, -5, 30, -11.3, 105, 30, -11.3)}, nil, []string{"web-thin"}, Both, 0.7},
		{"web kept under a ring", ring(-10), nil, nil, Both, 0},
		{"outline of both and a pocket too deep", append(ring(-6), line(9, 40, 30, -11, 60, 30, -11)), ring(-5.3), []string{"through-short", "web-thin"}, Both, 0.7},
	} {
		q := plain()
		q.Web, q.Face.Segments, q.Back.Segments = 2, c.face, c.back
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, c.name, q, r)
		ok := len(r.Findings) == len(c.want)
		for i := 0; ok && i < len(c.want); i++ {
			ok = r.Findings[i].Code() == c.want[i]
		}
		if !ok {
			t.Errorf("%s: want %s, got %+v", c.name, c.want, r.Findings)
			continue
		}
		if len(c.want) == 0 {
			continue
		}
		if f := r.Findings[0].At(); f.Side != c.side {
			t.Errorf("%s: side %s, want %s", c.name, f.Side, c.side)
		}
		near(t, c.name, figure(r.Findings[0]), c.left, 1e-5)
		near(t, c.name+", least web", r.Web.Min, c.left, 1e-5)
		if len(c.want) == 2 {
			near(t, c.name+", web", figure(r.Findings[1]), 1, 1e-5)
		}
	}
}

// Cuts from both sides that meet by less than the thickness may be off leave the rest at
// worst; cuts with nothing to spare are noted. The blank is 12 mm thick (derived).
func TestCutsThatBarelyMeet(t *testing.T) {
	ring := func(z float64) []Segment { return rect(3, 20, 12, 80, 48, z) }
	for _, c := range []struct {
		name       string
		face, back []Segment
		tol        float64
		want       string
		left       float64
		n          int
	}{
		{"0.1 mm over, 0.5 mm off", ring(-6), ring(-6.1), 0.5, "through-short-at-tolerance", 0.4, 1},
		{"exactly, 0.5 mm off", ring(-6), ring(-6), 0.5, "through-short-at-tolerance", 0.5, 1},
		{"0.5 mm over, 0.5 mm off", ring(-6), ring(-6.5), 0.5, "", 0, 0},
		{"0.1 mm over", ring(-6), ring(-6.1), 0, "", 0, 0},
		{"exactly", ring(-6), ring(-6), 0, "through-just-meets", 0, 1},
		{"a quarter of it less deep", ring(-6), append(rect(4, 20, 12, 80, 48, -6.6)[1:], line(9, 20, 12, -6.1, 80, 12, -6.1)), 0.5, "through-short-at-tolerance", 0.4, 1},
		{"two holes", append(hole(1, 20, 20, -6), hole(2, 40, 20, -6)...), append(hole(1, 20, 20, -6.2), hole(2, 40, 20, -6.1)...), 0.5, "through-short-at-tolerance", 0.4, 2},
		{"from one side, exactly", hole(1, 20, 20, -12), nil, 0, "through-just-meets", 0, 1},
		{"from one side, 0.2 mm over", hole(1, 20, 20, -12.2), nil, 0.5, "", 0, 0},
	} {
		q := plain()
		q.HeldAll, q.ThicknessTol = true, c.tol
		q.Through = [][2]float64{{20, 20}, {40, 20}}[:max(1, c.n)] // declared, though they hardly meet
		q.Face.Segments, q.Back.Segments = c.face, turnedOver(c.back)
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		var told []Finding
		for _, f := range r.Findings {
			if f.Code() != "web-thin-at-tolerance" {
				told = append(told, f)
			}
		}
		if c.want == "" {
			if len(told) > 0 {
				t.Errorf("%s: %+v", c.name, told)
			}
			continue
		}
		if len(told) != 1 || told[0].Code() != c.want || told[0].At().Count != c.n {
			t.Errorf("%s: %+v", c.name, told)
			continue
		}
		near(t, c.name, figure(told[0]), c.left, 1e-5)
	}
}
