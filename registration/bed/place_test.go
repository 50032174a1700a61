package bed

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func n(v int) decimal.Decimal { return decimal.NewFromInt(int64(v)) }

func at(x, y int) registration.Point { return registration.Point{X: n(x), Y: n(y)} }

func rect(x, y, w, h int) Rect { return Rect{X: n(x), Y: n(y), W: n(w), H: n(h)} }

// router is a machine with 800 x 600 of travel, X 0..800, Y 0..600, Z -100..0.
func router() *Machine {
	return &Machine{X: Range{n(0), n(800)}, Y: Range{n(0), n(600)}, Z: Range{n(-100), n(0)}, G10: true, G53: true}
}

// markers asks for stations of 120 x 80 row markers.
func markers(pairs int) Request {
	return Request{Job: "row markers", Pairs: pairs, Flip: registration.FlipY, Gap: n(30),
		Blank: registration.Blank{W: n(120), H: n(80), T: n(12)}}
}

func corners(l *Layout) (s []string) {
	for _, st := range l.Stations {
		turned := ""
		if st.Turned {
			turned = " turned"
		}
		s = append(s, fmt.Sprintf("%d %s %s %s,%s%s", st.Pair, st.Side, st.Offset, st.Corner.X, st.Corner.Y, turned))
	}
	return s
}

// Each row's layout was worked out by hand from the sizes (derived).
func TestPlace(t *testing.T) {
	wide := Reach{Left: n(5), Right: n(5), Near: n(5), Far: n(5)}
	rows := []struct {
		name    string
		machine func(*Machine)
		ask     func(*Request)
		want    []string
	}{
		{"one pair in the home corner", nil, nil,
			[]string{"1 face G54 0,0", "1 back G55 150,0"}},
		{"two pairs: the second beyond the first in Y, since 80+30 is less than 2*(120+30)", nil,
			func(q *Request) { q.Pairs = 2 },
			[]string{"1 face G54 0,0", "1 back G55 150,0", "2 face G56 0,110", "2 back G57 150,110"}},
		{"max is three pairs of six offsets", nil,
			func(q *Request) { q.Pairs = 0 },
			[]string{"1 face G54 0,0", "1 back G55 150,0", "2 face G56 0,110", "2 back G57 150,110", "3 face G58 0,220", "3 back G59 150,220"}},
		{"flip x stands the pair along Y", nil,
			func(q *Request) { q.Flip = registration.FlipX },
			[]string{"1 face G54 0,0", "1 back G55 0,110"}},
		{"fixture margins keep off the bed's edge and off each other", nil,
			func(q *Request) { q.Margin = Reach{Left: n(10), Right: n(20), Near: n(15), Far: n(15)} },
			[]string{"1 face G54 10,15", "1 back G55 190,15"}},
		{"moves beyond the blank keep off the travel's edge, the cutter beside them off the other station", nil,
			func(q *Request) { q.Back = Program{Reach: &wide, Radius: n(3)} },
			[]string{"1 face G54 0,5", "1 back G55 158,5"}},
		{"a back that reaches out on one side only lies on the other side of the face", nil,
			func(q *Request) { q.Back = Program{Reach: &Reach{Left: n(40)}} },
			[]string{"1 face G54 190,0", "1 back G55 40,0"}},
		{"home at the far right", func(m *Machine) { m.Home = &registration.Point{X: n(800), Y: n(600)} }, nil,
			[]string{"1 face G54 530,520", "1 back G55 680,520"}},
		{"taken offsets are left out and their places kept clear by the gap",
			func(m *Machine) {
				r := rect(0, 0, 100, 600)
				m.InUse = []InUse{{Offset: "G54", For: "vice", Rect: &r}, {Offset: "G56"}}
			}, nil,
			[]string{"1 face G55 130,0", "1 back G57 280,0"}},
		{"a no-go needs no gap", nil,
			func(q *Request) { q.NoGo = []Rect{rect(0, 0, 100, 600)} },
			[]string{"1 face G54 100,0", "1 back G55 250,0"}},
		{"a post too near for a station moves both beyond it", nil,
			func(q *Request) { q.NoGo = []Rect{rect(100, 0, 10, 600)} },
			[]string{"1 face G54 110,0", "1 back G55 260,0"}},
		{"a thin post in the gap is in nobody's way", nil,
			func(q *Request) { q.NoGo = []Rect{rect(130, 0, 10, 600)} },
			[]string{"1 face G54 0,0", "1 back G55 150,0"}},
		{"a post in the middle of a small bed stands between face and back",
			func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(400), n(100) },
			func(q *Request) { q.NoGo = []Rect{rect(200, 0, 30, 100)} },
			[]string{"1 face G54 80,0", "1 back G55 230,0"}},
		{"turned only where that gets more pairs in",
			func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(100), n(300) },
			func(q *Request) { q.AllowTurn = true },
			[]string{"1 face G54 0,0 turned", "1 back G55 0,150 turned"}},
		{"not turned where it fits as it is", nil,
			func(q *Request) { q.AllowTurn = true },
			[]string{"1 face G54 0,0", "1 back G55 150,0"}},
		{"wanted offsets for the first pair", nil,
			func(q *Request) { q.Pairs, q.Face.Offset, q.Back.Offset = 2, "G59", "G54" },
			[]string{"1 face G59 0,0", "1 back G54 150,0", "2 face G55 0,110", "2 back G56 150,110"}},
		{"a pair that the locators fix stays where it is", nil,
			func(q *Request) { q.Pairs, q.Given = 2, &Given{Face: at(50, 60), Back: at(400, 60)} },
			[]string{"1 face G54 50,60", "1 back G55 400,60", "2 face G56 0,170", "2 back G57 150,170"}},
		{"an offset of the job itself is its own again",
			func(m *Machine) {
				r := rect(0, 0, 120, 80)
				m.InUse = []InUse{{Offset: "G54", Job: "row markers", Rect: &r}}
			}, nil,
			[]string{"1 face G54 0,0", "1 back G55 150,0"}},
		{"nine offsets hold four pairs", func(m *Machine) { m.Extended, m.X.Greatest = true, n(300) },
			func(q *Request) { q.Pairs = 0 },
			[]string{"1 face G54 0,0", "1 back G55 150,0", "2 face G56 0,110", "2 back G57 150,110",
				"3 face G58 0,220", "3 back G59 150,220", "4 face G59.1 0,330", "4 back G59.2 150,330"}},
		{"a bed that begins elsewhere than the travel", func(m *Machine) { b := rect(20, 30, 700, 500); m.Bed = &b }, nil,
			[]string{"1 face G54 20,30", "1 back G55 170,30"}},
		{"exact decimals", nil, func(q *Request) { q.Gap, q.Blank.W = d("12.3456789"), d("0.1") },
			[]string{"1 face G54 0,0", "1 back G55 12.4456789,0"}},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			m, q := router(), markers(1)
			if r.machine != nil {
				r.machine(m)
			}
			if r.ask != nil {
				r.ask(&q)
			}
			l, err := Place(m, q)
			if err != nil {
				t.Fatal(err)
			}
			if got := corners(l); !slices.Equal(got, r.want) {
				t.Errorf("got  %q\nwant %q", got, r.want)
			}
			if !l.Proved {
				t.Error("not proved")
			}
		})
	}
}

// A station turned by 90 degrees counter-clockwise: the blank's point (u, v) lies
// at (H-v, u), what reached right reaches far (derived).
func TestPlaceTurned(t *testing.T) {
	m := router()
	m.X.Greatest, m.Y.Greatest = n(150), n(400)
	q := markers(1)
	q.AllowTurn = true
	q.Face = Program{Zero: at(10, 20), Reach: &Reach{Left: n(1), Right: n(2), Near: n(3), Far: n(4)}, Radius: n(5)}
	l, err := Place(m, q)
	if err != nil {
		t.Fatal(err)
	}
	// Left of the turned blank is its far side (4), which keeps it off the travel's
	// edge. Near of it is its left side (1, cutter 5), far its right side (2, cutter
	// 5): the back lies nearer, at 120 + 30 + 1 + 5.
	f := l.Stations[0]
	if !f.Turned || f.Corner.X.String() != "4" || f.Corner.Y.String() != "156" {
		t.Errorf("face at %s,%s turned %v, want 4,156 turned", f.Corner.X, f.Corner.Y, f.Turned)
	}
	if f.Zero.X.String() != "64" || f.Zero.Y.String() != "166" { // 4 + 80 - 20, 156 + 10
		t.Errorf("zero at %s,%s, want 64,166", f.Zero.X, f.Zero.Y)
	}
	for name, pair := range map[string][2]Rect{
		"blank":    {f.Blank, rect(4, 156, 80, 120)},
		"reached":  {f.Reached, rect(0, 155, 87, 123)},
		"occupied": {f.Occupied, rect(-5, 150, 97, 133)},
	} {
		if pair[0].String() != pair[1].String() {
			t.Errorf("%s %s, want %s", name, pair[0], pair[1])
		}
	}
}

func TestPlaceMixedUnits(t *testing.T) {
	m := router()
	q := Request{Unit: transform.Inch, Pairs: 1, Flip: registration.FlipY, Blank: registration.Blank{W: n(4), H: n(3), T: n(1)}, Gap: n(1)}
	l, err := Place(m, q)
	if err != nil {
		t.Fatal(err)
	}
	// One inch is 25.4 mm by definition (1959): 5 in from corner to corner.
	if got := l.Stations[1].Corner.X; l.Unit != transform.MM || !got.Equal(d("127")) {
		t.Errorf("back corner at X%s %s, want X127 mm", got, l.Unit)
	}
	m.Unit = transform.Inch
	if l, err = Place(m, q); err != nil || l.Unit != transform.Inch || l.Stations[1].Corner.X.String() != "5" {
		t.Errorf("%v %v, want X5 in", l, err)
	}
}

// Messages for machines that can't be, one row a fault.
func TestMachineMessages(t *testing.T) {
	r0 := rect(0, 0, 0, 5)
	minus := -3
	rows := []struct {
		spoil func(*Machine)
		want  string
	}{
		{func(m *Machine) { m.X = Range{n(800), n(0)} },
			"travel.x: travel from 800 to 0, expected a least value below the greatest one; hint: give the machine coordinates at both ends of the axis"},
		{func(m *Machine) { m.Z = Range{} },
			"travel.z: travel from 0 to 0, expected a least value below the greatest one; hint: give the machine coordinates at both ends of the axis"},
		{func(m *Machine) { m.Y.Greatest = n(2000000) },
			"travel.y: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { m.Y.Greatest = d("1.0123456789") },
			"travel.y: a length with more than 9 decimals, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { m.Bed = &r0 }, "bed: a bed of 0 x 5, expected two sizes above 0"},
		{func(m *Machine) { v := n(5); m.Table = &v },
			"table: a table at Z5, expected at most the top of the travel, Z0; hint: give the machine Z at which the bare spindle nose would meet the table"},
		{func(m *Machine) { v := n(0); m.Rapid[1] = &v }, "rapid.y: a rapid rate of 0, expected a rate above 0"},
		{func(m *Machine) { v := n(-1); m.Acceleration[2] = &v }, "acceleration.z: an acceleration of -1, expected a value above 0"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G60"}} },
			`offset 1: offset "G60", expected one of G54, G55, G56, G57, G58, G59, G59.1, G59.2, G59.3`},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G59.1"}} },
			"offset.G59.1: an offset beyond G59, expected G54 to G59; hint: if the control has G59.1 to G59.3, say extended = true"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G55"}, {Offset: "G55"}} },
			"offset.G55: the offset a second time, expected each offset once; hint: an offset can hold one zero only"},
		{func(m *Machine) { v := n(900); m.InUse = []InUse{{Offset: "G55", X: &v}} },
			"offset.G55.zero: a zero at X900, expected X inside the travel, 0 to 800; hint: zeros are machine coordinates"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G55", Rect: &r0}} },
			"offset.G55.rectangle: a rectangle of 0 x 5, expected two sizes above 0"},
		{func(m *Machine) { v := n(0); m.InUse = []InUse{{Offset: "G55", StickOut: &v}} },
			"offset.G55.stick-out: a stick-out of 0, expected a length above 0"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G55", Tool: &minus}} },
			"offset.G55.tool: tool -3, expected a tool number of 0 or more"},
	}
	for _, r := range rows {
		m := router()
		r.spoil(m)
		err := m.Validate()
		if err == nil || err.Error() != r.want {
			t.Errorf("got  %v\nwant %s", err, r.want)
		}
		var e *registration.Error
		if errors.As(err, &e) && e.No {
			t.Errorf("%s: says no to a bad machine file", r.want)
		}
	}
	if err := router().Validate(); err != nil {
		t.Error(err)
	}
}

// Messages for requests that are wrong, and for those whose answer is no.
func TestPlaceMessages(t *testing.T) {
	tight := func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(300), n(200) }
	rows := []struct {
		machine func(*Machine)
		ask     func(*Request)
		no      bool
		want    string
	}{
		{nil, func(q *Request) { q.Flip = 0 }, false, "--flip: no flip, expected x or y"},
		{nil, func(q *Request) { q.Pairs = -1 }, false, "--pairs: -1 pairs, expected 1 or more, or max"},
		{nil, func(q *Request) { q.Blank.H = n(0) }, false, "--stock: a blank of 120 x 0, expected two sizes above 0"},
		{nil, func(q *Request) { q.Gap = n(-1) }, false, "--gap: a gap of -1, expected 0 or more"},
		{nil, func(q *Request) { q.Gap = d("0.00000000001") }, false,
			"--gap: a length with more than 9 decimals, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Margin.Near = n(-2) }, false, "margin: a fixture margin of -2, expected 0 or more"},
		{nil, func(q *Request) { q.Face.Radius = n(-2) }, false, "--tool: a cutter of negative diameter, expected a diameter of 0 or more"},
		{nil, func(q *Request) { q.NoGo = []Rect{rect(1, 2, -3, 4)} }, false, "--no-go: a rectangle of -3 x 4, expected two sizes above 0"},
		{nil, func(q *Request) { q.Face.Reach = &Reach{Left: n(-200)} }, false,
			"program: a reach whose right end lies left of its left end, or far of near, expected least before greatest"},
		{nil, func(q *Request) { q.Taken = []InUse{{Offset: "G99"}} }, false,
			`--taken: offset "G99", expected one of G54, G55, G56, G57, G58, G59, G59.1, G59.2, G59.3`},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G54", For: "vice"}} }, func(q *Request) { q.Face.Offset = "G54" }, false,
			"--offset: G54 is taken for vice, expected a free offset; hint: free: G55, G56, G57, G58, G59"},
		{nil, func(q *Request) { q.Back.Offset, q.Taken = "G55", []InUse{{Offset: "G55"}} }, false,
			"--back-offset: G55 is taken, expected a free offset; hint: free: G54, G56, G57, G58, G59"},
		{nil, func(q *Request) { q.Face.Offset, q.Back.Offset = "G55", "G55" }, false,
			"--back-offset: G55 for the face and the back, expected two different offsets; hint: leave one out: the first free one is taken"},
		{nil, func(q *Request) { q.Back.Offset = "G59.2" }, false,
			`--back-offset: offset "G59.2", expected one that the machine has, G54 to G59; hint: G59.1 to G59.3 need extended = true in the machine file`},
		{nil, func(q *Request) { q.Pairs = 4 }, true,
			"--pairs: 4 pairs don't fit: 6 offsets of 6 free, each pair takes two, expected 2 more; hint: the most that fit: 3 pairs; a control with G59.1 to G59.3 has nine offsets in all (extended = true), beyond that an extended control is needed"},
		{func(m *Machine) {
			for _, o := range []string{"G54", "G55", "G56", "G57", "G58"} {
				m.InUse = append(m.InUse, InUse{Offset: o})
			}
		}, func(q *Request) { q.Pairs = 0 }, true,
			"--pairs: not one pair fits: 1 offset of 6 free, each pair takes two, expected 1 more; hint: the most that fit: 0 pairs; a control with G59.1 to G59.3 has nine offsets in all (extended = true), beyond that an extended control is needed"},
		// 2 rows of 80 and a gap of 30 are 190 of the 200; 3 rows need 300. A second
		// pair in the row needs 4*120 + 3*30 = 570.
		{tight, func(q *Request) { q.Pairs = 3 }, true,
			"--pairs: 3 pairs don't fit, expected 270 more travel in X or 100 more travel in Y; hint: the most that fit: 2 pairs"},
		{func(m *Machine) { tight(m); b := rect(0, 0, 300, 200); m.Bed = &b }, func(q *Request) { q.Pairs = 3 }, true,
			"--pairs: 3 pairs don't fit, expected 270 more bed and travel in X or 100 more bed and travel in Y; hint: the most that fit: 2 pairs"},
		{func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(269), n(80) }, nil, true,
			"--pairs: not one pair fits, expected 1 more travel in X; hint: the most that fit: 0 pairs"},
		{func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(100), n(300) }, nil, true,
			"--pairs: not one pair fits, expected 170 more travel in X; hint: the most that fit: 0 pairs; with --allow-turn 1 pair fit"},
		{func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(50), n(50) }, nil, true,
			"--pairs: not one pair fits, expected a larger bed in X and in Y, or fewer things on it; hint: the most that fit: 0 pairs"},
		{nil, func(q *Request) {
			z := n(-90)
			q.Back.Z, q.Back.Depths = &z, &Depths{Least: d("-12.5"), Greatest: n(5)}
		}, true, "travel.z: the back program's lowest move at machine Z-102.5, expected at least Z-100; hint: 2.5 too low: raise the work, or use a tool with less stick-out"},
		{nil, func(q *Request) {
			z := n(-10)
			q.Face.Z, q.Face.Depths = &z, &Depths{Greatest: n(25)}
		}, true, "travel.z: the face program's highest move at machine Z15, expected at most Z0; hint: 15 too high: lower the work, or the program's safe height"},
		{nil, func(q *Request) { q.Given = &Given{Face: at(700, 0), Back: at(0, 0)} }, true,
			"--at: blank and fixture of the face station reach X820, expected the bed, to X800; hint: move it 20 left"},
		{nil, func(q *Request) { q.Given = &Given{Face: at(0, 0), Back: at(100, 0)} }, true,
			"--back-offset: face and back station overlap: 0,0,120x80 and 100,0,120x80, expected two stations apart, or one and the same place; hint: move the back's locators"},
		{nil, func(q *Request) {
			q.NoGo = []Rect{rect(10, 10, 5, 5)}
			q.Given = &Given{Face: at(0, 0), Back: at(150, 0)}
		}, true, "--at: the face station occupies 0,0,120x80, expected clear of the no-go rectangle 10,10,5x5"},
	}
	for _, r := range rows {
		m, q := router(), markers(1)
		if r.machine != nil {
			r.machine(m)
		}
		if r.ask != nil {
			r.ask(&q)
		}
		_, err := Place(m, q)
		if err == nil || err.Error() != r.want {
			t.Errorf("got  %v\nwant %s", err, r.want)
			continue
		}
		var e *registration.Error
		if !errors.As(err, &e) || e.No != r.no {
			t.Errorf("%s: answer no %v, want %v", r.want, !r.no, r.no)
		}
	}
}

func TestReachOf(t *testing.T) {
	// Moves from (-3, -3) to (123, 83) about a 120 x 80 blank with its zero in the
	// middle read (-63, -43) to (63, 43) (derived).
	r := ReachOf(at(-63, -43), at(63, 43), at(60, 40), n(120), n(80))
	if s := fmt.Sprint(r.Left, r.Right, r.Near, r.Far); s != "3 3 3 3" {
		t.Errorf("got %s, want 3 3 3 3", s)
	}
}

// small draws a bed of at most 12 x 7 with even blanks, so that every best place
// is whole.
func small(rng *rand.Rand) (*Machine, Request) {
	m := router()
	m.X, m.Y = Range{n(0), n(6 + rng.IntN(7))}, Range{n(0), n(3 + rng.IntN(5))}
	if rng.IntN(3) == 0 {
		m.Home = &registration.Point{X: n(rng.IntN(15)), Y: n(rng.IntN(12))}
	}
	q := Request{Pairs: 0, Flip: registration.Flip(1 + rng.IntN(2)), AllowTurn: rng.IntN(2) == 0, Gap: n(rng.IntN(2)),
		Blank: registration.Blank{W: n(2 + 2*rng.IntN(2)), H: n(2 + 2*rng.IntN(2))}}
	if rng.IntN(2) == 0 {
		q.Margin = Reach{Left: n(rng.IntN(2)), Near: n(rng.IntN(2))}
	}
	if rng.IntN(2) == 0 {
		q.Back = Program{Reach: &Reach{Left: n(rng.IntN(2)), Right: n(rng.IntN(3) - 1), Far: n(rng.IntN(2))}, Radius: n(rng.IntN(2))}
	}
	for range rng.IntN(3) {
		r := rect(rng.IntN(12), rng.IntN(9), 1+rng.IntN(3), 1+rng.IntN(3))
		if rng.IntN(2) == 0 {
			q.NoGo = append(q.NoGo, r)
		} else {
			q.Taken = append(q.Taken, InUse{Offset: []string{"G58", "G59", "G57"}[len(q.Taken)], Rect: &r})
		}
	}
	return m, q
}

// grow gives the rectangle of a blank of w x h at a corner with a reach around it.
func grow(x, y, w, h int, r Reach) (x0, y0, x1, y1 int) {
	i := func(d decimal.Decimal) int { return int(d.IntPart()) }
	return x - i(r.Left), y - i(r.Near), x + w + i(r.Right), y + h + i(r.Far)
}

// brute tries every whole place of every pair: a second way to the answer that
// shares nothing with the search but the meaning of the words.
func brute(m *Machine, q Request) (pairs, turned, between, home int) {
	type rc struct{ x0, y0, x1, y1 int }
	type cand struct {
		r                 [2]rc
		turned, sep, home int
	}
	i := func(d decimal.Decimal) int { return int(d.IntPart()) }
	rot := func(r Reach) Reach { return Reach{Left: r.Far, Right: r.Near, Near: r.Left, Far: r.Right} }
	apart := func(a, b rc, g int) bool {
		return a.x1+g <= b.x0 || b.x1+g <= a.x0 || a.y1+g <= b.y0 || b.y1+g <= a.y0
	}
	g, X, Y := i(q.Gap), i(m.X.Greatest), i(m.Y.Greatest)
	hx, hy := 0, 0
	if m.Home != nil {
		hx, hy = i(m.Home.X), i(m.Home.Y)
	}
	abs := func(v int) int { return max(v, -v) }
	station := func(side, turn, x, y int) (rc, int, bool) {
		w, h := i(q.Blank.W), i(q.Blank.H)
		p := []Program{q.Face, q.Back}[side]
		margin, mv, over := q.Margin, Reach{}, Reach{}
		if p.Reach != nil {
			mv = *p.Reach
			over = Reach{Left: mv.Left.Add(p.Radius), Right: mv.Right.Add(p.Radius), Near: mv.Near.Add(p.Radius), Far: mv.Far.Add(p.Radius)}
		}
		if turn == 1 {
			w, h, margin, mv, over = h, w, rot(margin), rot(mv), rot(over)
		}
		// Fixture on the bed; blank and moves in the travel, which is the same here.
		bx0, by0, bx1, by1 := grow(x, y, w, h, margin)
		mx0, my0, mx1, my1 := grow(x, y, w, h, mv)
		if min(bx0, mx0) < 0 || min(by0, my0) < 0 || max(bx1, mx1) > X || max(by1, my1) > Y {
			return rc{}, 0, false
		}
		ox0, oy0, ox1, oy1 := grow(x, y, w, h, over)
		r := rc{min(bx0, ox0), min(by0, oy0), max(bx1, ox1), max(by1, oy1)}
		for _, o := range q.NoGo {
			if !apart(r, rc{i(o.X), i(o.Y), i(o.Right()), i(o.Far())}, 0) {
				return rc{}, 0, false
			}
		}
		for _, u := range q.Taken {
			if o := u.Rect; !apart(r, rc{i(o.X), i(o.Y), i(o.Right()), i(o.Far())}, g) {
				return rc{}, 0, false
			}
		}
		return r, abs(x+w/2-hx) + abs(y+h/2-hy), true
	}
	var all []cand
	for turn := range 2 {
		if turn == 1 && !q.AllowTurn {
			continue
		}
		alongX := (q.Flip == registration.FlipY) == (turn == 0)
		for x := 0; x <= X; x++ {
			for y := 0; y <= Y; y++ {
				f, fh, ok := station(0, turn, x, y)
				if !ok {
					continue
				}
				for v := 0; v <= max(X, Y); v++ {
					bx, by := v, y
					if !alongX {
						bx, by = x, v
					}
					b, bh, ok := station(1, turn, bx, by)
					if ok && apart(f, b, g) {
						all = append(all, cand{[2]rc{f, b}, turn, abs(bx-x) + abs(by-y), fh + bh})
					}
				}
			}
		}
	}
	cap := (6 - len(q.Taken)) / 2
	var walk func(from, count, turn, sep, hm int, chosen []cand)
	better := func(count, turn, sep, hm int) bool {
		for _, c := range [][2]int{{-count, -pairs}, {turn, turned}, {sep, between}, {hm, home}} {
			if c[0] != c[1] {
				return c[0] < c[1]
			}
		}
		return false
	}
	walk = func(from, count, turn, sep, hm int, chosen []cand) {
		if better(count, turn, sep, hm) {
			pairs, turned, between, home = count, turn, sep, hm
		}
		if count == cap {
			return
		}
	next:
		for k := from; k < len(all); k++ {
			for _, c := range chosen {
				for _, a := range c.r {
					for _, b := range all[k].r {
						if !apart(a, b, g) {
							continue next
						}
					}
				}
			}
			walk(k+1, count+1, turn+all[k].turned, sep+all[k].sep, hm+all[k].home, append(chosen[:count:count], all[k]))
		}
	}
	walk(0, 0, 0, 0, 0, nil)
	return pairs, turned, between, home
}

func TestBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	var seen [4]int
	for i := range 150 {
		m, q := small(rng)
		pairs, turned, between, home := brute(m, q)
		seen[pairs]++
		l, err := Place(m, q)
		if pairs == 0 {
			var no *NoFit
			if !errors.As(err, &no) || no.Fits != 0 {
				t.Fatalf("bed %d: got %v, %v, want no fit\n%+v", i, l, err, q)
			}
			continue
		}
		if err != nil {
			t.Fatalf("bed %d: %v, want %d pairs", i, err, pairs)
		}
		got := 0
		for _, s := range l.Stations {
			got += b2i(s.Turned)
		}
		if l.Pairs != pairs || got != 2*turned || !l.Between.Equal(n(between)) || !l.FromHome.Equal(n(home)) {
			t.Fatalf("bed %d: got %d pairs, %d turned stations, %s between, %s from home; brute force %d, %d, %d, %d\n%+v\n%v",
				i, l.Pairs, got, l.Between, l.FromHome, pairs, 2*turned, between, home, q, corners(l))
		}
	}
	for k, v := range seen {
		if v == 0 {
			t.Errorf("no bed with %d pairs was drawn", k)
		}
	}
	t.Log(seen)
}

// What is missing is exact: with so much more it fits, with a little less not.
func TestShort(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	checked := 0
	for range 300 {
		m, q := small(rng)
		q.Pairs = 2
		_, err := Place(m, q)
		var no *NoFit
		if !errors.As(err, &no) || no.Offsets > 0 {
			continue
		}
		for axis, more := range []*decimal.Decimal{no.X, no.Y} {
			if more == nil {
				continue
			}
			checked++
			for _, less := range []decimal.Decimal{{}, d("0.001")} {
				g := *m
				r := []*Range{&g.X, &g.Y}[axis]
				r.Greatest = r.Greatest.Add(*more).Sub(less)
				if _, err := Place(&g, q); (err == nil) != less.IsZero() {
					t.Fatalf("%v\n%s more in axis %d less %s: %v\n%+v", no, more, axis, less, err, q)
				}
			}
		}
	}
	if checked < 50 {
		t.Errorf("only %d checked", checked)
	}
}

// Random beds: stations never overlap, leave bed or travel, enter a no-go or
// taken rectangle, or get a taken offset.
func TestRandomBeds(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 26))
	placed, cut := 0, 0
	for i := range 10_000 {
		m, q := drawBed(rng)
		l, err := placeIn(m, q, 200_000)
		if err != nil {
			continue
		}
		placed++
		cut += b2i(!l.Proved)
		if err := wrong(m, q, l); err != nil {
			t.Fatalf("bed %d: %v\n%+v\n%+v\n%q", i, err, m, q, corners(l))
		}
	}
	if placed < 5000 {
		t.Errorf("only %d of 10000 beds held a pair", placed)
	}
	t.Logf("%d placed, %d cut short", placed, cut)
}

// drawBed draws a bed with decimals, obstacles and offsets in use.
func drawBed(rng *rand.Rand) (*Machine, Request) {
	f := func(lo, hi float64) decimal.Decimal {
		return decimal.NewFromFloat(lo + rng.Float64()*(hi-lo)).Round(int32(rng.IntN(4)))
	}
	m := router()
	m.X, m.Y, m.Extended = Range{f(-50, 0), f(200, 1200)}, Range{f(-50, 0), f(150, 900)}, rng.IntN(3) == 0
	if rng.IntN(2) == 0 {
		b := Rect{X: f(0, 40), Y: f(0, 40), W: f(200, 1000), H: f(150, 800)}
		m.Bed = &b
	}
	for _, name := range OffsetNames(m.Extended) {
		if rng.IntN(4) == 0 {
			u := InUse{Offset: name}
			if rng.IntN(2) == 0 {
				r := Rect{X: f(0, 800), Y: f(0, 600), W: f(20, 200), H: f(20, 200)}
				u.Rect = &r
			}
			m.InUse = append(m.InUse, u)
		}
	}
	q := Request{Pairs: rng.IntN(3), Flip: registration.Flip(1 + rng.IntN(2)), Gap: f(0, 40), AllowTurn: rng.IntN(3) == 0,
		Blank:  registration.Blank{W: f(20, 200), H: f(20, 200)},
		Margin: Reach{Left: f(0, 20), Right: f(0, 20), Near: f(0, 20), Far: f(0, 20)},
		Face:   Program{Zero: registration.Point{X: f(0, 20), Y: f(0, 20)}, Reach: &Reach{Left: f(-10, 10), Right: f(-10, 10), Near: f(-10, 10), Far: f(-10, 10)}, Radius: f(0, 6)},
		Back:   Program{Reach: &Reach{Left: f(-10, 10), Right: f(-10, 10), Near: f(-10, 10), Far: f(-10, 10)}, Radius: f(0, 6)}}
	for range rng.IntN(3) {
		q.NoGo = append(q.NoGo, Rect{X: f(0, 800), Y: f(0, 600), W: f(10, 150), H: f(10, 150)})
	}
	return m, q
}

// wrong checks a layout against the words of the contract, from the corners alone.
func wrong(m *Machine, q Request, l *Layout) error {
	bedRect := Rect{X: m.X.Least, Y: m.Y.Least, W: m.X.Greatest.Sub(m.X.Least), H: m.Y.Greatest.Sub(m.Y.Least)}
	travel := bedRect
	if m.Bed != nil {
		bedRect = *m.Bed
	}
	used := map[string]bool{}
	for _, u := range m.InUse {
		used[u.Offset] = true
	}
	var occupied []Rect
	for i, s := range l.Stations {
		if used[s.Offset] {
			return fmt.Errorf("offset %s is taken or given twice", s.Offset)
		}
		used[s.Offset] = true
		p := []Program{q.Face, q.Back}[i%2]
		r, mg, zero, w, h := *p.Reach, q.Margin, p.Zero, q.Blank.W, q.Blank.H
		if s.Turned {
			r = Reach{Left: r.Far, Right: r.Near, Near: r.Left, Far: r.Right}
			mg = Reach{Left: mg.Far, Right: mg.Near, Near: mg.Left, Far: mg.Right}
			zero = registration.Point{X: h.Sub(zero.Y), Y: zero.X}
			w, h = h, w
		}
		around := func(r Reach, more decimal.Decimal) Rect {
			return Rect{X: s.Corner.X.Sub(r.Left).Sub(more), Y: s.Corner.Y.Sub(r.Near).Sub(more),
				W: w.Add(r.Left).Add(r.Right).Add(more).Add(more), H: h.Add(r.Near).Add(r.Far).Add(more).Add(more)}
		}
		blank, body, moves, swept := around(Reach{}, decimal.Zero), around(mg, decimal.Zero), around(r, decimal.Zero), around(r, p.Radius)
		switch {
		case !bedRect.Holds(body):
			return fmt.Errorf("station %d off the bed: %s", i, body)
		case !travel.Holds(moves) || !travel.Holds(blank):
			return fmt.Errorf("station %d out of the travel: %s", i, moves)
		case !s.Zero.X.Equal(s.Corner.X.Add(zero.X)) || !s.Zero.Y.Equal(s.Corner.Y.Add(zero.Y)):
			return fmt.Errorf("station %d has its zero at %s,%s", i, s.Zero.X, s.Zero.Y)
		case s.Turned && !q.AllowTurn:
			return fmt.Errorf("station %d is turned", i)
		}
		for _, mine := range []Rect{body, swept} {
			for _, o := range q.NoGo {
				if mine.Overlaps(o) {
					return fmt.Errorf("station %d enters no-go %s", i, o)
				}
			}
			for _, u := range m.InUse {
				if u.Rect != nil && mine.Overlaps(u.Rect.Grow(q.Gap)) {
					return fmt.Errorf("station %d within the gap of %s", i, u.Rect)
				}
			}
			for j, o := range occupied {
				if j/2 != i && mine.Overlaps(o.Grow(q.Gap)) {
					return fmt.Errorf("station %d within the gap of another, %s and %s", i, mine, o)
				}
			}
			occupied = append(occupied, mine)
		}
		if i%2 == 1 {
			f := l.Stations[i-1]
			alongX := (q.Flip == registration.FlipY) != s.Turned
			if alongX && !f.Corner.Y.Equal(s.Corner.Y) || !alongX && !f.Corner.X.Equal(s.Corner.X) || f.Turned != s.Turned {
				return fmt.Errorf("pair %d doesn't turn like a page", s.Pair)
			}
		}
	}
	if q.Pairs > 0 && l.Pairs != q.Pairs {
		return fmt.Errorf("%d pairs, asked %d", l.Pairs, q.Pairs)
	}
	return nil
}

// Common practice: a control keeps six work offsets, G54 to G59, and one with an
// extended set nine; G10 L2 numbers them P1 to P9 (NISTIR 6556, 3.5.5 and 3.5.13).
func TestOffsets(t *testing.T) {
	if got := OffsetNames(false); len(got) != 6 || got[0] != "G54" || got[5] != "G59" {
		t.Errorf("six offsets: %v", got)
	}
	for i, name := range OffsetNames(true) {
		if p, ok := OffsetNumber(name); !ok || p != i+1 {
			t.Errorf("%s is P%d", name, p)
		}
	}
	for name, code := range map[string]int{"G54": 540, "G59": 590, "G59.3": 593, "G60": 0, "": 0} {
		if OffsetCode(name) != code {
			t.Errorf("%q: %d, want %d", name, OffsetCode(name), code)
		}
	}
	m := router()
	m.InUse = []InUse{{Offset: "G54"}, {Offset: "G57", Job: "plates"}}
	if got := m.Free("plates", "G59"); !slices.Equal(got, []string{"G55", "G56", "G57", "G58"}) {
		t.Errorf("free: %v", got)
	}
}

func TestHeights(t *testing.T) {
	m := router()
	if m.ZeroZ(n(12), n(40)) != nil {
		t.Error("a height without a table")
	}
	table := n(-150)
	m.Table = &table
	// Table at -150 for the bare nose, 40 of tool, 12 of blank: the tip meets the
	// blank's top with the nose at -98 (derived).
	if z := m.ZeroZ(n(12), n(40)); !z.Equal(n(-98)) {
		t.Errorf("zero at Z%s", z)
	}
	if z, err := m.ClearZ(n(60), n(50), n(5)); err != nil || !z.Equal(n(-35)) {
		t.Errorf("clear at Z%s, %v", z, err)
	}
	if _, err := m.ClearZ(n(100), n(50), n(5)); err == nil || err.Error() !=
		"clear height: a clear height of Z5, expected at most the top of the travel, Z0; hint: the longest tool can't pass over the highest thing on the bed by 5: 5 too low" {
		t.Error(err)
	}
}

func ExamplePlace() {
	v := rect(0, 0, 200, 600)
	m := &Machine{
		X: Range{n(0), n(800)}, Y: Range{n(0), n(600)}, Z: Range{n(-100), n(0)},
		InUse: []InUse{{Offset: "G54", For: "vice", Rect: &v}},
	}
	l, err := Place(m, Request{Pairs: 1, Flip: registration.FlipY, Gap: n(40), Blank: registration.Blank{W: n(120), H: n(80), T: n(12)}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range l.Stations {
		fmt.Println(s.Side, s.Offset, s.Zero.X, s.Zero.Y)
	}
	// Output:
	// face G55 240 0
	// back G56 400 0
}

func BenchmarkPlaceFourPairs(b *testing.B) {
	m, q := router(), markers(0)
	m.Extended = true
	for b.Loop() {
		if _, err := Place(m, q); err != nil {
			b.Fatal(err)
		}
	}
}
