package cut

import "testing"

// The face has a slot 6 deep along Y20 in 10 of wood. The back follows it over X15..45,
// 4.3 deep, which is through, and crosses it at X70. What is left at the crossing is a
// web like any other: 10 - 6 - 3.95 = 0.05, derived. Where the back passes a tab of the
// slot instead, 10 - 6 - 2 = 2 high and 14 - 6 = 8 long, the tab is none.
func TestWebBeyondAThroughCut(t *testing.T) {
	q := func() Request {
		q := Request{W: 100, H: 60, T: 10, Web: 3, HeldAll: true, Map: turned("y", 100, 60), Through: [][2]float64{{17, 20}},
			Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}}}
		return q
	}
	at := func(x, y, z float64) [3]float64 { return [3]float64{100 - x, y, z} } // of the back
	for _, c := range []struct {
		name       string
		face, back []Segment
		web        float64
		want       string
	}{
		{
			"a slot crossed beside its through part",
			[]Segment{Straight(3, 1, [3]float64{15, 20, -6}, [3]float64{85, 20, -6})},
			[]Segment{
				Straight(5, 1, at(15, 20, -4.3), at(45, 20, -4.3)),
				Straight(8, 1, at(70, 10, -3.95), at(70, 40, -3.95)),
			},
			0.05, "web-thin",
		},
		{
			"the same crossed 42 beyond on one long line that is through at both ends",
			[]Segment{Straight(3, 1, [3]float64{5, 20, -6}, [3]float64{95, 20, -6})},
			[]Segment{
				Straight(5, 1, at(5, 20, -4.3), at(20, 20, -4.3)),
				Straight(6, 1, at(80, 20, -4.3), at(95, 20, -4.3)),
				Straight(8, 1, at(50, 10, -3.95), at(50, 40, -3.95)),
			},
			0.05, "web-thin",
		},
		{
			"the same crossed where 35 are left between the two ends",
			[]Segment{Straight(3, 1, [3]float64{5, 20, -6}, [3]float64{95, 20, -6})},
			[]Segment{
				Straight(5, 1, at(5, 20, -4.3), at(45, 20, -4.3)),
				Straight(6, 1, at(80, 20, -4.3), at(95, 20, -4.3)),
				Straight(8, 1, at(62, 10, -3.95), at(62, 40, -3.95)),
			},
			0.05, "web-thin",
		},
		{
			"a tab",
			[]Segment{Straight(3, 1, [3]float64{5, 20, -6}, [3]float64{95, 20, -6})},
			[]Segment{
				Straight(5, 1, at(5, 20, -4.3), at(40, 20, -4.3)),
				Straight(6, 1, at(40, 20, -4.3), at(40, 20, -2)),
				Straight(7, 1, at(40, 20, -2), at(54, 20, -2)),
				Straight(8, 1, at(54, 20, -2), at(54, 20, -4.3)),
				Straight(9, 1, at(54, 20, -4.3), at(95, 20, -4.3)),
			},
			4, "", // only the face's groove beyond the back's end, of which nothing is left
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := q()
			q.Face.Segments, q.Back.Segments = c.face, c.back
			if len(c.back) > 2 {
				q.Through = append(q.Through, [2]float64{83, 20}) // the other end
			}
			r, err := Check(q)
			if err != nil {
				t.Fatal(err)
			}
			if got := codes(r); got != c.want {
				t.Errorf("findings %s, want %s", got, c.want)
			}
			if c.want != "" {
				near(t, "web", r.Web.Min, c.web, 1e-5)
			} else if r.Web.Any && r.Web.Min < 3 {
				t.Errorf("the tab counts as web: %+v", r.Web)
			}
		})
	}
}

// The place on the way that lies nearest, derived: on a quarter from (10, 0) to (0, 10)
// about the origin a place at 30 degrees is a third of the way.
func TestShareOfTheWay(t *testing.T) {
	p := Tool{Shape: Flat, Diameter: 2}.profile()
	line := newStraight(p, 1, [3]float64{0, 0, -1}, [3]float64{10, 0, -1})
	arc := newArc(p, 1, 0, 0, -1, 10, 0, 1.5707963267948966)
	for _, c := range []struct {
		k          *stroke
		x, y, want float64
	}{
		{&line, 2.5, 7, 0.25}, {&line, -3, 1, 0}, {&line, 12, 1, 1},
		{&arc, 8.660254037844387, 5, 1.0 / 3}, {&arc, 5, -1, 0}, {&arc, -1, 5, 1},
	} {
		near(t, "share", c.k.share(c.x, c.y), c.want, 1e-12)
	}
}
