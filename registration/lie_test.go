package registration

import (
	"math"
	"strings"
	"testing"
)

// What an error of the blank's size does where an edge is touched for the back. The face
// program cuts by its zero, which the maker found on the piece: what it cut lies off the
// touched edge by the share of the error that is between that edge and the zero. So all of it
// where the zero stands at the opposite edge, half from the middle, none at the edge itself.
// Turned like a page (flip y) the left edge was the right one, by flip x the near one the far.
func TestSizeByZero(t *testing.T) {
	size := d("0.2")
	for _, c := range []struct {
		flip   Flip
		zero   string
		edges  string
		dx, dy float64
	}{
		{FlipY, "near-left", "near near left", 0.2, 0},
		{FlipY, "near-right", "near near left", 0, 0},
		{FlipY, "far-left", "near near left", 0.2, 0.2},
		{FlipY, "far-right", "near near left", 0, 0.2},
		{FlipY, "center", "near near left", 0.1, 0.1},
		{FlipY, "", "near near left", 0.2, 0}, // a place from the near-left corner
		{FlipY, "near-left", "far far right", 0, 0.2},
		{FlipY, "far-right", "far far right", 0.2, 0},
		{FlipX, "near-left", "near near left", 0, 0.2},
		{FlipX, "near-right", "near near left", 0.2, 0.2},
		{FlipX, "far-left", "near near left", 0, 0},
		{FlipX, "far-right", "near near left", 0.2, 0},
		{FlipX, "far-right", "far far right", 0, 0.2},
		{FlipX, "center", "left left far", 0.1, 0.1},
	} {
		q := marked()
		q.Flip, q.Zero, q.Slack, q.TurnLimit = c.flip, Zero{Name: c.zero}, &Slack{Size: size}, nil
		if c.zero == "" {
			q.Zero = Zero{At: &Point{d("30"), d("30")}}
		}
		n := map[string]int{}
		for _, name := range strings.Fields(c.edges) {
			q.Touched = append(q.Touched, touches(map[string][]string{
				"near": {"near@10,-5", "near@110,-5"}, "far": {"far@10,85", "far@110,85"}, "left": {"left@-5,10", "left@-5,70"}, "right": {"right@125,40"},
			}[name][n[name]])...)
			n[name]++
		}
		l, err := q.Lie(*q.Stock)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		dx, dy, turn := 0.0, 0.0, 0.0
		for _, k := range l.Causes {
			dx, dy, turn = dx+math.Abs(k.DX), dy+math.Abs(k.DY), turn+math.Abs(k.Turn)
		}
		if math.Abs(dx-c.dx) > 1e-12 || math.Abs(dy-c.dy) > 1e-12 || turn > 1e-12 {
			t.Errorf("flip %s, %s by %s: %g and %g, turned %g, want %g and %g", c.flip, c.zero, c.edges, dx, dy, turn, c.dx, c.dy)
		}
	}
}

// How much of a displacement over the turned blank the touches don't take out, worked by hand:
// what they see they follow as one shift and one turn, s each of length or of angle.
func TestUnfixed(t *testing.T) {
	const s = 0.001
	along := func(x, y float64) (float64, float64) { return s * x, 0 }
	up := func(x, y float64) (float64, float64) { return 0, s * y }
	lean := func(x, y float64) (float64, float64) { return s * y, 0 }
	climb := func(x, y float64) (float64, float64) { return 0, s * x }
	edges := "near@10,-5 near@110,-5 left@-5,40"
	for _, c := range []struct {
		name, touches string
		shift         func(x, y float64) (float64, float64)
		dx, dy        float64 // at the far-right corner, 120,80
	}{
		{"a shift", edges, func(x, y float64) (float64, float64) { return 0.3, -0.2 }, 0, 0},
		{"a turn", edges, func(x, y float64) (float64, float64) { return -s * y, s * x }, 0, 0},
		{"longer along X, held at the left edge", edges, along, 120 * s, 0},
		{"longer along Y, held at the near edge", edges, up, 0, 80 * s},
		{"leaning along X: the left edge follows at 40", edges, lean, 40 * s, 0},
		// The near edge turns by s about its left end; the left touch at 40 goes back by 40 s.
		{"climbing along X: a turn, against the left touch", edges, climb, 40 * s, 0},
		// Both ends: the middle is held.
		{"longer along X, held at both ends", edges + " right@125,40", along, 60 * s, 0},
		{"longer along Y, near edge twice and far once", edges + " far@60,85", up, 0, 80 * s * 2 / 3},
		// Two holes, 10 and 110 from the left as it now lies, both 20 up: their middle at 60,20.
		{"longer along X, on two holes", "110,20@10,20 10,20@110,20", along, 60 * s, 0},
		{"longer along Y, on two holes", "110,20@10,20 10,20@110,20", up, 0, 60 * s},
		{"leaning along X, on two holes beside each other", "110,20@10,20 10,20@110,20", lean, 60 * s, 0},
		// One above the other, at 20 and 60: what leans there is a turn by -s about 60,40.
		{"leaning along X, on two holes one above the other", "60,20@60,20 60,60@60,60", lean, 0, 60 * s},
	} {
		q := marked()
		q.Slack, q.TurnLimit, q.Touched = nil, nil, touches(strings.Fields(c.touches)...)
		l, err := q.Lie(*q.Stock)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if dx, dy := l.Unfixed(c.shift, 120, 80); math.Abs(dx-c.dx) > 1e-12 || math.Abs(dy-c.dy) > 1e-12 {
			t.Errorf("%s: %g and %g are left, want %g and %g", c.name, dx, dy, c.dx, c.dy)
		}
	}
}

// Which lay-up a pattern of holes shows, by looking at it: end for end where half a turn
// brings it onto itself, the other side where a mirror does, wherever its line runs.
func TestBlindPatterns(t *testing.T) {
	for _, c := range []struct {
		name      string
		holes     string
		side, end bool
	}{
		{"two holes", "20,10 100,70", true, true},
		{"an L with unequal legs", "10,10 100,10 10,70", false, false},
		{"an L with equal legs mirrors about its middle", "10,10 70,10 10,70", true, false},
		{"an isosceles triangle on its side", "10,40 100,20 100,60", true, false},
		{"a rectangle", "10,10 110,10 110,70 10,70", true, true},
		{"a slanted parallelogram", "10,10 80,10 110,70 40,70", false, true},
		{"a rhombus", "60,10 100,40 60,70 20,40", true, true},
		{"a kite", "60,10 100,30 60,70 20,30", true, false},
		{"three in a row, unevenly", "10,40 30,40 100,40", true, false},
		{"three in a row, evenly", "20,40 60,40 100,40", true, true},
		{"an S of five", "10,10 60,10 60,40 60,70 110,70", false, true},
		// Twice touch and feature, 0.14: a tip 0.06 off the mirror line, and one 0.6 off.
		{"all but isosceles", "10,40.06 100,20 100,60", true, false},
		{"not isosceles", "10,40.6 100,20 100,60", false, false},
	} {
		q := marked()
		for _, h := range strings.Fields(c.holes) {
			p, err := ParsePoint(h, q.Unit)
			if err != nil {
				t.Fatal(err)
			}
			// Turned like a page, the blank lies at X100 Y50.
			q.Touched = append(q.Touched, Spot{Hole: p, At: Point{d("220").Sub(p.X), p.Y.Add(d("50"))}})
		}
		l, err := q.Lie(*q.Stock)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if l.BlindSide != c.side || l.BlindEnd != c.end || !l.Turn.IsZero() {
			t.Errorf("%s: side %v, end %v, turned %s, want %v and %v", c.name, l.BlindSide, l.BlindEnd, l.Turn, c.side, c.end)
		}
	}
}

// An edge is touched along its length and half a finder beyond its ends, where the finder's
// round still meets the corner: a blank of 120 by 80 at X0 Y0, a finder of 10.
func TestTouchAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		last string
		want bool
	}{
		{"near@125,-5", true}, {"near@125.01,-5", false}, {"near@-5.01,-5", false}, {"near@-5,-5", true},
		{"left@-5,85", true}, {"left@-5,85.01", false}, {"right@125,-5", true}, {"right@125,-5.01", false}, {"far@-5.01,85", false},
	} {
		q := marked()
		q.TurnLimit, q.Touched = nil, touches("near@10,-5", "near@60,-5", "left@-5,40", c.last)
		if _, err := q.Lie(*q.Stock); (err == nil) != c.want {
			t.Errorf("%s: taken %v, %v", c.last, err == nil, err)
		}
	}
}

// Where a touched blank of 120 by 80 lies, on a sketch, its own near-left corner at X330 Y190:
// as it is to the right and beyond it, end for end to the left and nearer, a quarter turned
// 80 to the left. By 3-4-5 (cosine 0.8, sine 0.6) its corners lie at 0 and 96 less 48 along X.
// With the face up it lay from X200 Y100 to X320 Y180.
func TestWhereItLies(t *testing.T) {
	for _, c := range []struct {
		name, touches string
		want          string
		overlies      bool
	}{
		{"straight", "face=110,10@340,200 face=10,10@440,200", "330,190 120 80", false},
		{"end for end", "face=110,10@320,180 face=10,10@220,180", "210,110 120 80", true},
		{"a quarter turned", "face=110,10@320,200 face=10,10@320,300", "250,190 80 120", false},
		{"a quarter turned, over the face's place", "face=110,10@300,100 face=10,10@300,200", "230,90 80 120", true},
		{"end for end, beside it", "face=110,10@190,180 face=10,10@90,180", "80,110 120 80", false},
		{"by 3-4-5", "face=110,10@332,204 face=10,10@412,264 face=110,60@302,244", "282,190 144 136", false},
	} {
		q := marked()
		q.TurnLimit, q.At, q.Touched = nil, &Position{X: d("200"), Y: d("100")}, touches(strings.Fields(c.touches)...)
		a, err := Solve(q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		corner, x, y := a.BackLies()
		if got := corner.String() + " " + x.String() + " " + y.String(); got != c.want || a.Overlies() != c.overlies {
			t.Errorf("%s: %s, over the face's place %v; want %s, %v", c.name, got, a.Overlies(), c.want, c.overlies)
		}
	}
}
