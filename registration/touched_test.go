package registration

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
)

// about is the rotation matrix about axis 0 (X), 1 (Y) or 2 (Z), by the right-hand rule.
func about(axis int, angle float64) *mat.Dense {
	m := mat.NewDense(3, 3, nil)
	i, j := (axis+1)%3, (axis+2)%3
	sin, cos := math.Sincos(angle)
	m.Set(axis, axis, 1)
	m.Set(i, i, cos)
	m.Set(j, j, cos)
	m.Set(i, j, -sin)
	m.Set(j, i, sin)
	return m
}

// thrown is a blank in space: turned over by half a turn about Y or X, turned on the bed,
// and moved. It knows nothing of near-left corners or transforms.
type thrown struct {
	turn *mat.Dense
	x, y float64
}

func throw(f Flip, turn, x, y float64) thrown {
	axis := 1
	if f == FlipX {
		axis = 0
	}
	var m mat.Dense
	m.Mul(about(2, turn), about(axis, math.Pi))
	return thrown{&m, x, y}
}

// lands gives the machine place of a point of the blank, from its near-left corner with
// the face up.
func (t thrown) lands(u, v float64) (x, y float64) {
	var p mat.VecDense
	p.MulVec(t.turn, mat.NewVecDense(3, []float64{u, v, 0}))
	return p.AtVec(0) + t.x, p.AtVec(1) + t.y
}

func spotAt(x, y float64) Point {
	return Point{decimal.NewFromFloat(x).Round(9), decimal.NewFromFloat(y).Round(9)}
}

// A blank is thrown on the bed anywhere, its holes and edges touched with errors up to
// their slack, and the back program, mirrored and turned about the second zero, cuts
// points that must meet those which the face cut. What is missing may not exceed what the
// answer's causes explain, and where nothing is off, what rounding explains.
func TestThrownBlank(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 7))
	worst, edged, refused := 0.0, 0, 0
	for draw := range 1000 {
		noisy := draw%2 == 0
		W, H := math.Round(60+r.Float64()*300), math.Round(50+r.Float64()*200)
		flip := []Flip{FlipX, FlipY}[r.IntN(2)]
		q := Question{Stock: &Blank{decimal.NewFromFloat(W), decimal.NewFromFloat(H), d("12")}, Flip: flip, Register: Touched,
			Zero: Zero{Name: zeroNames[r.IntN(len(zeroNames))].name}, Finder: ptr("6"), Slack: &Slack{}, TurnLimit: ptr("0.5")}
		if noisy {
			q.Slack = &Slack{Touch: d("0.02"), Feature: d("0.05"), Size: d("0.2"), Corner: 0.1 / 300}
		}
		amount := func(limit decimal.Decimal) float64 { return (2*r.Float64() - 1) * limit.InexactFloat64() }
		// The blank as it really is.
		w, h := W+amount(q.Slack.Size), H+amount(q.Slack.Size)
		zero := q.Zero.on(*q.Stock)
		a := vectorOf(zero)
		real := vector{a.x / W * w, a.y / H * h} // the face zero on it

		edges := r.IntN(3) // 0: holes alone, 1: edges alone, 2: both
		turn := (2*r.Float64() - 1) * math.Pi
		if edges > 0 {
			turn *= 0.24
			edged++
		}
		blank := throw(flip, turn, r.Float64()*900-100, r.Float64()*600-100)
		if edges != 1 {
			for range 2 + r.IntN(4) {
				s := Spot{Cut: r.IntN(2) == 0, Hole: Point{decimal.NewFromFloat(r.Float64() * W).Round(2), decimal.NewFromFloat(r.Float64() * H).Round(2)}}
				p := vectorOf(s.Hole)
				if s.Cut {
					s.Hole = s.Hole.Sub(zero)
					p = p.minus(a).plus(real)
				} else {
					p = p.plus(vector{amount(q.Slack.Feature), amount(q.Slack.Feature)})
				}
				x, y := blank.lands(p.x, p.y)
				s.At = spotAt(x+amount(q.Slack.Touch), y+amount(q.Slack.Touch))
				q.Touched = append(q.Touched, s)
			}
		}
		if edges > 0 {
			skew := map[Side]float64{}
			for _, side := range []Side{Near, Far, Left, Right} {
				skew[side] = (2*r.Float64() - 1) * q.Slack.Corner
			}
			list := []Side{Near, Near, Left}
			if r.IntN(2) == 0 {
				list = []Side{Right, Far, Right}
			}
			for range r.IntN(3) {
				list = append(list, []Side{Near, Far, Left, Right}[r.IntN(4)])
			}
			count := map[Side]int{}
			for _, side := range list {
				// The edge with the face up, and a place on it; a turn about its middle.
				face := flip.Turned(side)
				share := 0.1 + 0.8*float64(count[side]%2) + 0.1*(r.Float64()-0.5)
				count[side]++
				along, u, v := share-0.5, share*w, share*h
				off := amount(q.Slack.Feature) + amount(q.Slack.Touch) - 3
				switch face {
				case Left:
					u = 0 + off + along*h*skew[side]
				case Right:
					u = w - off + along*h*skew[side]
				case Near:
					v = 0 + off + along*w*skew[side]
				case Far:
					v = h - off + along*w*skew[side]
				}
				x, y := blank.lands(u, v)
				q.Touched = append(q.Touched, Spot{Edge: side, At: spotAt(x, y)})
			}
		}
		got, err := Solve(q)
		if err != nil {
			var f *Error
			if errors.As(err, &f) && strings.Contains(f.Found, "the turn is known to") {
				refused++
				continue
			}
			t.Fatalf("draw %d: %v\n%v", draw, err, q.Touched)
		}
		theta := got.Lie.Turn.InexactFloat64() * math.Pi / 180
		for range 3 {
			face := vector{r.Float64()*W - a.x, r.Float64()*H - a.y} // by the face program
			x, y := blank.lands(face.x+real.x, face.y+real.y)
			back := mat.NewVecDense(3, []float64{
				float64(got.Transform.X.Sign)*face.x + got.Transform.X.Offset.InexactFloat64(),
				float64(got.Transform.Y.Sign)*face.y + got.Transform.Y.Offset.InexactFloat64(), 0})
			var p mat.VecDense
			p.MulVec(about(2, theta), back)
			miss := math.Hypot(p.AtVec(0)+got.Second.X.InexactFloat64()-x, p.AtVec(1)+got.Second.Y.InexactFloat64()-y)
			// Rounding: half of 0.00001 degrees over the blank's diagonal, half of 0.0001 mm
			// along X and Y; 1e-6 for what second order adds to causes of under 0.01 radians
			// squared times a diagonal of 0.5 m times the square of the causes' turns.
			s := flip.TurnedPoint(Point{decimal.NewFromFloat(face.x + a.x), decimal.NewFromFloat(face.y + a.y)}, *q.Stock)
			limit := 0.5e-5*math.Pi/180*math.Hypot(W, H) + 1e-4/math.Sqrt2 + 1e-6
			turns := 0.0
			for _, c := range got.Lie.Causes {
				dx, dy := c.At(s.X.InexactFloat64(), s.Y.InexactFloat64())
				limit += math.Hypot(dx, dy)
				turns += math.Abs(c.Turn)
			}
			limit += turns * turns * math.Hypot(W, H) * 4
			if miss > limit {
				t.Errorf("draw %d (%d edges): missed by %.6f, explained %.6f; turn %s error %s\n%v", draw, edges, miss, limit, got.Lie.Turn, got.Lie.Error, q.Touched)
			}
			worst = max(worst, miss/limit)
		}
	}
	t.Logf("worst %.2f of what is explained; %d draws with edges, %d refused", worst, edged, refused)
	if refused > 150 {
		t.Errorf("%d of 1000 refused", refused)
	}
}

// marked is a row marker that lies anywhere, with three holes which the face program made.
func marked() Question {
	return Question{
		Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Register: Touched, Finder: ptr("10"),
		Slack: &Slack{Touch: d("0.02"), Feature: d("0.05"), Size: d("0.2"), Corner: 0.1 / 300}, TurnLimit: ptr("0.2"),
	}
}

func touches(list ...string) (out []Spot) {
	for _, s := range list {
		t, err := ParseSpot(s, transform.MM)
		if err != nil {
			panic(err)
		}
		out = append(out, t)
	}
	return out
}

// Turned by 3-4-5: cos 0.8, sin 0.6, about 36.87 degrees; the corner at 100,50. Worked by
// hand: a hole at u, v lies from the new corner at 120-u, v.
func TestTouchedByHand(t *testing.T) {
	q := marked()
	q.BackZero = Zero{Name: "far-right"}
	// 110,10: s' 10,10 lands at 100+8-6, 50+6+8. 20,10: s' 100,10 at 100+80-6, 50+60+8.
	// 20,70: s' 100,70 at 100+80-42, 50+60+56.
	q.Touched = touches("face=110,10@102,64", "face=20,10@174,118", "face=20,70@138,166")
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	// The far-right corner, 120,80, at 100+96-48, 50+72+64.
	if a.Second.X.String() != "148" || a.Second.Y.String() != "186" || !a.Machine || a.BackCorner.String() != "100,50" {
		t.Errorf("second zero %v, corner %v", a.Second, a.BackCorner)
	}
	if got := a.Lie.Turn.String(); got != "36.8699" { // atan 0.75 in degrees is 36.869898
		t.Errorf("turn %s", got)
	}
	if a.Lie.BlindSide || a.Lie.BlindEnd {
		t.Errorf("%+v", a.Lie)
	}
}

func TestTouchedEdgesAlone(t *testing.T) {
	q := marked()
	// Square on the bed at 200,100: two touches on the near edge, one on the left one.
	q.Touched = touches("near@210,95", "near@310,95", "left@195,140")
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	if !a.Lie.Turn.IsZero() || a.Second.X.String() != "200" || a.Second.Y.String() != "100" || !a.Lie.BlindSide || !a.Lie.BlindEnd {
		t.Errorf("second zero %v, %+v", a.Second, a.Lie)
	}
	// The turn's limit by hand: two touches 100 apart, each off by touch 0.02 and feature
	// 0.05 to opposite sides, and the edge out of square by 0.1/300.
	want := (2*0.07/100 + 0.1/300) * 180 / math.Pi
	if got := a.Lie.Error.InexactFloat64(); math.Abs(got-want) > 1e-4 {
		t.Errorf("turn known to %v, by hand %v", got, want)
	}
}

// What is left over grows the turn's limit. Four holes of a rectangle of 90 by 60, each read
// 0.03 off along X and Y, so that neither shift nor turn takes anything out: by hand
// s^2 = 8 0.03^2 / 5, the turn's share sqrt(1 / (4 (45^2 + 30^2))), k = 2. The errors assumed,
// 0.02 each, come to 4 (45 + 30) 0.02 / 11700 only, and explain up to 0.036 at each.
func TestTurnSeen(t *testing.T) {
	q := marked()
	q.Slack = &Slack{Touch: d("0.02")}
	q.Touched = touches("face=110,10@110.03,60.03", "face=20,10@199.97,59.97", "face=20,70@200.03,120.03", "face=110,70@109.97,119.97")
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	want := 2 * math.Sqrt(8*0.03*0.03/5/11700) * 180 / math.Pi
	if got := a.Lie.Error.InexactFloat64(); math.Abs(got-want) > 1e-5 || !a.Lie.Turn.IsZero() {
		t.Errorf("turned %s, known to %v, by hand %v", a.Lie.Turn, got, want)
	}
}

// The same pattern, turned end for end: the second zero stands where the corner now lies.
func TestEndForEnd(t *testing.T) {
	q := marked()
	// Corner at 300,200; s' goes the other way on both axes.
	q.Touched = touches("face=110,10@290,190", "face=20,10@200,190", "face=20,70@200,130")
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	if a.Lie.Turn.String() != "180" || a.Second.X.String() != "300" || a.Second.Y.String() != "200" || !slicesHas(a.Facts, "end-for-end") {
		t.Errorf("turn %s, second zero %v, facts %v", a.Lie.Turn, a.Second, a.Facts)
	}
}

func slicesHas(facts []Fact, code string) bool {
	for _, f := range facts {
		if f.Code() == code {
			return true
		}
	}
	return false
}

// A back program that was mirrored for the nominal size needs a zero of its own, turned
// with the blank: both land on the same place.
func TestTouchedNominalZero(t *testing.T) {
	q := marked()
	q.Measured = &Blank{d("121"), d("80"), d("12")}
	q.Touched = touches("face=110,10@102,64", "face=20,10@174,118", "face=20,70@138,166")
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	// The transforms differ by 1 along X, turned: 0.8, 0.6.
	dx, dy := a.NominalZero.X.Sub(a.Second.X), a.NominalZero.Y.Sub(a.Second.Y)
	if dx.String() != "0.8" || dy.String() != "0.6" {
		t.Errorf("moved by %s, %s", dx, dy)
	}
}

func TestTouchedRefusals(t *testing.T) {
	for _, c := range []struct {
		touches string
		change  func(q *Question)
		no      bool
		want    string
	}{
		{"", nil, false, "touched: missing, expected U,V@X,Y or face=X,Y@X,Y for a hole's centre, or near, far, left or right@X,Y for an edge; hint: edges alone do: two touches on one, one on the next"},
		{"60,10@100,100", nil, false, "touched: nothing fixes the blank's turn, expected two holes' centres, or two touches on one edge and one on the next; hint: touch an edge at a second place, far from the first, or another hole's centre"},
		{"60,10@100,100 60,10@100,100.01", nil, false, "touched: nothing fixes the blank's turn, expected two holes' centres, or two touches on one edge and one on the next; hint: touch an edge at a second place, far from the first, or another hole's centre"},
		{"near@10,0 near@90,0", nil, false, "touched: nothing fixes the blank along X, expected two holes' centres, or two touches on one edge and one on the next; hint: touch the left or right edge too"},
		{"left@0,10 right@130,50", nil, false, "touched: nothing fixes the blank along Y, expected two holes' centres, or two touches on one edge and one on the next; hint: touch the near or far edge too"},
		{"near@50,0 left@0,50", nil, false, "touched: nothing fixes the blank's turn, expected two holes' centres, or two touches on one edge and one on the next; hint: touch an edge at a second place, far from the first, or another hole's centre"},
		{"130,10@100,100", nil, false, "touched: touch 1: a hole at 130,10 is outside the blank of 120 by 80, expected X 0 to 120, Y 0 to 80; hint: from the near-left corner, face up"},
		{"face=70,10@100,100", func(q *Question) { q.Zero = Zero{Name: "center"} }, false, "touched: touch 1: a hole at 130,50 is outside the blank of 120 by 80, expected X 0 to 120, Y 0 to 80; hint: from the near-left corner, face up"},
		{"near@10,0", func(q *Question) { q.Finder = nil }, false, "finder: missing, and touch 1 is of an edge, expected the diameter of the finder"},
		{"near@10,0", func(q *Question) { q.Finder = ptr("0") }, false, "finder: 0, expected a diameter greater than 0"},
		{"near@10,95 near@60,95 left@-5,140", func(q *Question) { q.TurnLimit = ptr("0.1") }, false, "touched: the turn is known to 0.18 degrees only, expected ‹turn-limit›, 0.1 degrees, or less; hint: touch the near edge too, near its right end"},
		{"20,10@100,0 22,10@98,0", nil, false, "touched: the turn is known to 4.011 degrees only, expected ‹turn-limit›, 0.2 degrees, or less; hint: touch the near edge too, near its left end"},
		{"face=110,10@10,10 face=20,10@10,100 near@50,0", nil, false, "touched: edges, and a blank turned by 99.1 degrees, expected less than 45 degrees with edges; hint: turn the blank nearer to square, or touch holes alone"},
		{"near@10,95 near@110,95 left@-5,640", nil, false, "touched: touch 3, left@-5,640, is beyond the ends of the left edge, expected a place on that edge; hint: look for a slip in a coordinate, or for another edge"},
		// The right edge stands at 322 less 5: W 122. The last hole but one lies 3 too far.
		{"near@210,95 near@310,95 left@195,140 right@327,140", nil, true, "touched: touch 3, left, disagrees with the others: 1 mm is left over, expected at most 0.1701 mm from the errors of touches; hint: the edges make W 122: measure, give ‹measured›, or touch again; for rougher touches ‹tolerance + touch=…›"},
		{"face=110,10@110,60 face=20,10@200,60 face=20,70@200,120 face=110,60@113,110", nil, true, "touched: touch 4, face=110,60, disagrees with the others: 2.1294 mm is left over, expected at most 0.0477 mm from the errors of touches; hint: touch it again, and look for a slip in a coordinate; for rougher touches ‹tolerance + touch=…›"},
		// The right edge stands at 320.3 less 5: W 120.3, which says nothing of the turn.
		{"near@210,95 near@310,95 left@195,140 right@325.3,140", nil, false, "touched: the turn is known to 0.344 degrees only, expected ‹turn-limit›, 0.2 degrees, or less; hint: the edges make W 120.3: measure, give ‹measured›, or touch again"},
		// Both sizes are larger by 0.3.
		{"near@210,95 near@310,95 far@260,185.3 left@195,140 right@325.3,140", nil, false, "touched: the turn is known to 0.372 degrees only, expected ‹turn-limit›, 0.2 degrees, or less; hint: the edges make W 120.3 and H 80.3: measure, give ‹measured›, or touch again"},
		// Two holes, 100 apart, touched 95 apart: half of it is left over at each.
		{"face=10,10@110,10 face=110,10@15,10", nil, true, "touched: touch 2, face=110,10, disagrees with the others: 2.5 mm is left over, expected at most 0.0201 mm from the errors of touches; hint: touch it again, and look for a slip in a coordinate; for rougher touches ‹tolerance + touch=…›"},
		// Holes at 10,10, 100,10 and 100,60 of a blank that still has its face up.
		{"face=10,10@110,60 face=100,10@200,60 face=100,60@200,110", nil, true, "touched: the holes fit a blank that was not turned over, expected the back up; hint: look which side is up; if it is the back, check which hole each touch names, and that no X and Y are exchanged"},
	} {
		q := marked()
		q.Touched = touches(strings.Fields(c.touches)...)
		if c.change != nil {
			c.change(&q)
		}
		_, err := Solve(q)
		var f *Error
		if !errors.As(err, &f) {
			t.Errorf("%s: %v", c.touches, err)
			continue
		}
		if f.Error() != c.want || f.No != c.no {
			t.Errorf("%s:\n got %s\nwant %s", c.touches, f, c.want)
		}
	}
}

func TestParseSpot(t *testing.T) {
	for _, s := range []string{"20,40@155.3,87", "face=-5,3@1,2", "near@10,0", "20,40"} {
		if got, err := ParseSpot(s, transform.MM); err != nil || got.String() != s {
			t.Errorf("%s: %v, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "up@1,2", "20@1,2", "20,40@1", "face=1@2,3", "near@", "near@1,x"} {
		if _, err := ParseSpot(s, transform.MM); err == nil {
			t.Errorf("%q: taken", s)
		}
	}
}

func ExampleSolve_touched() {
	q := marked()
	q.Touched = touches("face=110,10@102,64", "face=20,10@174,118", "face=20,70@138,166")
	a, err := Solve(q)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Second.X, a.Second.Y, "turned by", a.Lie.Turn)
	// Output: 100 50 turned by 36.8699
}

// The near edge touched at 10 and 110 shows a turn of 0.1 over 100, within what touches can
// tell, so that the program isn't turned. What is left in the part turns it about the middle
// of the touches: 60 along the near edge, 40 along the left one; the spindle stood 5 outside
// them, which leaves 0.005. The corner 120,80 lies 60 and 40 from there (by the lever).
func TestTurnLeftIn(t *testing.T) {
	b := Blank{d("120"), d("80"), d("12")}
	q := Question{Stock: &b, Flip: FlipY, Register: Touched, Finder: ptr("10"),
		Slack: &Slack{Touch: d("0.1"), Feature: d("0.1"), Size: d("0.2"), Corner: 0.001}}
	for _, s := range []string{"near@210,95", "near@310,95.1", "left@195,140"} {
		spot, err := ParseSpot(s, transform.MM)
		if err != nil {
			t.Fatal(err)
		}
		q.Touched = append(q.Touched, spot)
	}
	l, err := q.Lie(b)
	if err != nil || !l.Turn.IsZero() {
		t.Fatalf("%+v, %v", l, err)
	}
	c := l.Causes[len(l.Causes)-1]
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 0.0051 {
			t.Errorf("%s: %.4f, want %.4f", what, got, want)
		}
	}
	dx, dy := c.At(60, 40)
	near("middle along X", dx, 0)
	near("middle along Y", dy, 0)
	dx, dy = c.At(120, 80)
	near("corner along X", dx, -0.04)
	near("corner along Y", dy, 0.06)
	if c.Name != CauseTurn || math.Abs(c.Turn-0.001) > 1e-6 {
		t.Errorf("%+v", c)
	}
}

// Opposite edges show the blank's size: 120.3 along X and 79.8 along Y, between axes that
// stood half of 10 outside (derived). One is farther off than touches explain.
func TestSizeImplied(t *testing.T) {
	b := Blank{d("120"), d("80"), d("12")}
	q := Question{Stock: &b, Flip: FlipY, Register: Touched, Finder: ptr("10"),
		Slack: &Slack{Touch: d("0.02"), Feature: d("0.05"), Size: d("0.1"), Corner: 0.002}}
	for _, s := range []string{"near@210,95", "near@310,95", "left@195,110", "right@325.3,110", "far@260,184.8"} {
		spot, err := ParseSpot(s, transform.MM)
		if err != nil {
			t.Fatal(err)
		}
		q.Touched = append(q.Touched, spot)
	}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range a.Facts {
		if f.Code() == "size-implied" {
			got = append(got, f.Level+" "+strings.Join(fact.Values(f.Is), " "))
		}
	}
	if s := strings.Join(got, ", "); s != "warning W 120.3 120, note H 79.8 80" {
		t.Error(s)
	}
}
