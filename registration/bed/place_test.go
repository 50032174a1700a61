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
	"flipcalc/testdata/draws"
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
		if st.Turn != 0 {
			turned = " turned " + st.Turn.Degrees().String()
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
		{"the back stands beyond the face as long as that costs no pair", nil,
			func(q *Request) { q.Back = Program{Reach: &Reach{Left: n(40)}} },
			[]string{"1 face G54 0,0", "1 back G55 190,0"}},
		{"the face stands beyond the back where both fit only so",
			func(m *Machine) { b := rect(0, 0, 300, 100); m.X, m.Bed = Range{n(-40), n(300)}, &b },
			func(q *Request) { q.Back = Program{Reach: &Reach{Left: n(40)}} },
			[]string{"1 face G54 150,0", "1 back G55 0,0"}},
		{"two long blanks one behind the other", func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(600), n(400) },
			func(q *Request) { q.Blank.W, q.Blank.H = n(300), n(60) },
			[]string{"1 face G54 0,0", "1 back G55 0,90"}},
		{"three pairs of them", func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(640), n(400) },
			func(q *Request) { q.Blank.W, q.Blank.H, q.Pairs = n(300), n(60), 3 },
			[]string{"1 face G54 0,0", "1 back G55 330,0", "2 face G56 0,90", "2 back G57 330,90", "3 face G58 0,180", "3 back G59 330,180"}},
		{"a cutter without a program goes along the blank's edges", nil,
			func(q *Request) {
				q.Face.Radius, q.Back.Radius, q.NoGo = n(3), n(3), []Area{{Rect: rect(0, 0, 10, 600)}}
			},
			[]string{"1 face G54 13,0", "1 back G55 169,0"}},
		{"room to touch off the left and the near edge inside the travel", nil,
			func(q *Request) { q.Touch = Reach{Left: d("3.1"), Near: d("3.1")} },
			[]string{"1 face G54 4,4", "1 back G55 154,4"}},
		{"home at the far right", func(m *Machine) { m.Home = &registration.Point{X: n(800), Y: n(600)} }, nil,
			[]string{"1 face G54 530,520", "1 back G55 680,520"}},
		{"taken offsets are left out and their places kept clear by the gap",
			func(m *Machine) {
				r := rect(0, 0, 100, 600)
				m.InUse = []InUse{{Offset: "G54", For: "vice", Rect: &r}, {Offset: "G56"}}
			}, nil,
			[]string{"1 face G55 130,0", "1 back G57 280,0"}},
		{"a no-go needs no gap", nil,
			func(q *Request) { q.NoGo = []Area{{Rect: rect(0, 0, 100, 600)}} },
			[]string{"1 face G54 100,0", "1 back G55 250,0"}},
		{"a post too near for a station moves both beyond it", nil,
			func(q *Request) { q.NoGo = []Area{{Rect: rect(100, 0, 10, 600)}} },
			[]string{"1 face G54 110,0", "1 back G55 260,0"}},
		{"a thin post in the gap is in nobody's way", nil,
			func(q *Request) { q.NoGo = []Area{{Rect: rect(130, 0, 10, 600)}} },
			[]string{"1 face G54 0,0", "1 back G55 150,0"}},
		{"a post in the middle of a small bed stands between face and back",
			func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(400), n(100) },
			func(q *Request) { q.NoGo = []Area{{Rect: rect(200, 0, 30, 100)}} },
			[]string{"1 face G54 80,0", "1 back G55 230,0"}},
		{"turned only where that gets more pairs in",
			func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(100), n(300) },
			func(q *Request) { q.AllowTurn = true },
			[]string{"1 face G54 0,0 turned 90", "1 back G55 0,150 turned 90"}},
		{"not turned where it fits as it is", nil,
			func(q *Request) { q.AllowTurn = true },
			[]string{"1 face G54 0,0", "1 back G55 150,0"}},
		{"wanted offsets for the first pair", nil,
			func(q *Request) { q.Pairs, q.Face.Offset, q.Back.Offset = 2, "G59", "G54" },
			[]string{"1 face G59 0,0", "1 back G54 150,0", "2 face G55 0,110", "2 back G56 150,110"}},
		{"a pair that the locators fix stays where it is", nil,
			func(q *Request) { q.Pairs, q.Given = 2, &Given{Face: at(50, 60), Back: at(400, 60)} },
			[]string{"1 face G54 50,60", "1 back G55 400,60", "2 face G56 0,170", "2 back G57 150,170"}},
		{"and alone where no other fits beside it", func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(300), n(150) },
			func(q *Request) { q.Pairs, q.Given = 0, &Given{Face: at(20, 60), Back: at(170, 60)} },
			[]string{"1 face G54 20,60", "1 back G55 170,60"}},
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
		{"whole millimetres", func(m *Machine) { m.X.Least, m.Y.Least = d("-0.7"), d("0.000001") },
			func(q *Request) { q.Gap, q.Blank.W = d("12.3456789"), d("0.1") },
			[]string{"1 face G54 0,1", "1 back G55 13,1"}},
		{"sixteenths of an inch on a bed in millimetres", func(m *Machine) { m.X.Least = d("0.1") },
			func(q *Request) { q.Unit, q.Gap, q.Blank.W, q.Blank.H = transform.Inch, d("1"), d("4.01"), d("3") },
			// 1/16 in is 1.5875 mm; 5.01 in beyond it is 5 2/16 in in whole sixteenths
			[]string{"1 face G54 1.5875,0", "1 back G55 130.175,0"}},
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
		})
	}
}

// A station turned by 90 degrees counter-clockwise: the blank's point (u, v) lies
// at (H-v, u), what reached right reaches far (derived).
func TestPlaceTurned(t *testing.T) {
	m := router()
	m.X.Greatest, m.Y.Greatest = n(100), n(400)
	q := markers(1)
	q.AllowTurn = true
	q.Face = Program{Zero: at(10, 20), Reach: &Reach{Left: n(1), Right: n(2), Near: n(3), Far: n(4)}, Radius: n(5)}
	l, err := Place(m, q)
	if err != nil {
		t.Fatal(err)
	}
	// Left of the turned blank is its far side (4), near of it its left side (1); both
	// keep it off the travel's edge.
	f := l.Stations[0]
	if f.Turn != 1 || f.Corner.X.String() != "4" || f.Corner.Y.String() != "1" {
		t.Errorf("face at %s,%s turned by %d quarters, want 4,1 by 1", f.Corner.X, f.Corner.Y, f.Turn)
	}
	if f.Zero.X.String() != "64" || f.Zero.Y.String() != "11" { // 4 + 80 - 20, 1 + 10
		t.Errorf("zero at %s,%s, want 64,11", f.Zero.X, f.Zero.Y)
	}
	for name, pair := range map[string][2]Rect{
		"blank":    {f.Blank, rect(4, 1, 80, 120)},
		"reached":  {f.Reached, rect(0, 0, 87, 123)},
		"occupied": {f.Occupied, rect(-5, -5, 97, 133)},
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
		{func(m *Machine) { r := rect(0, 0, 10000000, 5); m.Bed = &r }, "bed: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { v := d("1e7"); m.Table = &v }, "table: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { m.Home = &registration.Point{Y: d("1e-10")} }, "home: a length with more than 9 decimals, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { m.Park = &registration.Point{X: n(900)} },
			"park: a place to park at X900, expected X inside the travel, 0 to 800; hint: it is in machine coordinates"},
		{func(m *Machine) { m.G53, m.Park = false, &registration.Point{} },
			"park: a place to park on a control without G53, expected g53 = true, or no place to park; hint: the way there is written in machine coordinates"},
		{func(m *Machine) { m.Change = &registration.Point{Y: n(-5)} },
			"tool-change: a tool change at Y-5, expected Y inside the travel, 0 to 600; hint: it is in machine coordinates"},
		{func(m *Machine) { v := d("1e8"); m.Rapid[0] = &v }, "rapid.x: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { v := d("1e8"); m.InUse = []InUse{{Offset: "G55", Z: &v}} },
			"offset 1.zero: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { v := d("1e-10"); m.InUse = []InUse{{Offset: "G55", StickOut: &v}} },
			"offset 1.stick-out: a length with more than 9 decimals, expected at most 1000000 with at most 9 decimals"},
		{func(m *Machine) { v := n(0); m.Rapid[1] = &v }, "rapid.y: a rapid rate of 0, expected a rate above 0"},
		{func(m *Machine) { v := n(-1); m.Acceleration[2] = &v }, "acceleration.z: an acceleration of -1, expected a value above 0"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G60"}} },
			`offset 1.name: offset "G60", expected one of G54, G55, G56, G57, G58, G59, G59.1, G59.2, G59.3`},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G59.1"}} },
			"offset 1.name: an offset beyond G59, expected G54 to G59; hint: if the control has G59.1 to G59.3, say extended = true"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G55"}, {Offset: "G55"}} },
			"offset 2.name: G55 a second time, expected each offset once; hint: an offset can hold one zero only"},
		{func(m *Machine) { v := n(900); m.InUse = []InUse{{Offset: "G55", X: &v}} },
			"offset 1.zero: a zero at X900, expected X inside the travel, 0 to 800; hint: zeros are machine coordinates"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G55", Rect: &r0}} },
			"offset 1.rectangle: a rectangle of 0 x 5, expected two sizes above 0"},
		{func(m *Machine) { v := n(0); m.InUse = []InUse{{Offset: "G55", StickOut: &v}} },
			"offset 1.stick-out: a stick-out of 0, expected a length above 0"},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G55", Tool: &minus}} },
			"offset 1.tool: tool -3, expected a tool number of 0 or more"},
	}
	for _, r := range rows {
		m := router()
		r.spoil(m)
		faults := m.Faults()
		if len(faults) == 0 || faults[0].Error() != r.want {
			t.Errorf("got  %v\nwant %s", faults, r.want)
		}
		for _, e := range faults {
			if e.No {
				t.Errorf("%s: says no to a bad machine file", r.want)
			}
		}
	}
	if faults := router().Faults(); len(faults) > 0 {
		t.Error(faults)
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
		{nil, func(q *Request) { q.Flip = 0 }, false, "flip: no flip, expected x or y"},
		{nil, func(q *Request) { q.Pairs = -1 }, false, "pairs: -1 pairs, expected 1 or more, or max"},
		{nil, func(q *Request) { q.Blank.H = n(0) }, false, "stock: a blank of 120 x 0, expected two sizes above 0"},
		{nil, func(q *Request) { q.Gap = n(-1) }, false, "gap: a gap of -1, expected 0 or more"},
		{nil, func(q *Request) { q.Gap = d("0.00000000001") }, false,
			"gap: a length with more than 9 decimals, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Gap = d("1e7") }, false, "gap: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Blank.W = d("1e300") }, false, "stock: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Blank.W = d("-120") }, false, "stock: a blank of -120 x 80, expected two sizes above 0"},
		{nil, func(q *Request) { q.Margin.Far = d("1e7") }, false, "fixture: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Touch.Left = d("1e-12") }, false, "touch-off: a length with more than 9 decimals, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Face.Zero.Y = d("-1e7") }, false, "zero: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Back.Zero.X = d("1e7") }, false, "back-zero: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Back.Radius = d("1e7") }, false, "tool: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Back.Reach = &Reach{Far: d("1e7")} }, false, "the back's program: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.NoGo = []Area{{Rect: rect(0, 0, 5, 5)}, {Rect: rect(10000000, 2, 3, 4)}} }, false,
			"no-go: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { h := n(0); q.NoGo = []Area{{Rect: rect(1, 2, 3, 4), Height: &h}} }, false,
			"no-go: a height of 0, expected above 0, or none; hint: without one nothing passes over it"},
		{nil, func(q *Request) { q.Given = &Given{Face: at(0, 10000000)} }, false, "at: a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{nil, func(q *Request) { q.Face.Reach = &Reach{Near: n(-50), Far: n(-50)} }, false,
			"program: a reach whose right end lies left of its left end, or far of near, expected least before greatest"},
		{nil, func(q *Request) { r := rect(0, 0, 4, 0); q.Taken = []InUse{{Offset: "G55", Rect: &r}} }, false, "taken: a rectangle of 4 x 0, expected two sizes above 0"},
		{nil, func(q *Request) { q.Face.Offset = "G53" }, false, `offset: offset "G53", expected G54 to G59, or G59.1 to G59.3`},
		{nil, func(q *Request) { q.Margin.Near = n(-2) }, false, "fixture: a fixture margin of -2, expected 0 or more"},
		{nil, func(q *Request) { q.Face.Radius = n(-2) }, false, "tool: a cutter of negative diameter, expected a diameter of 0 or more"},
		{nil, func(q *Request) { q.NoGo = []Area{{Rect: rect(1, 2, -3, 4)}} }, false, "no-go: a rectangle of -3 x 4, expected two sizes above 0"},
		{nil, func(q *Request) { q.NoGo = []Area{{Rect: rect(1, 2, 3, -4)}} }, false, "no-go: a rectangle of 3 x -4, expected two sizes above 0"},
		{nil, func(q *Request) { q.NoGo = []Area{{Rect: rect(1, 2, 3, 0)}} }, false, "no-go: a rectangle of 3 x 0, expected two sizes above 0"},
		{nil, func(q *Request) { q.Back.Reach = &Reach{Near: n(-81)} }, false,
			"program: a reach whose right end lies left of its left end, or far of near, expected least before greatest"},
		{nil, func(q *Request) { q.Back.Reach = &Reach{Right: n(-121)} }, false,
			"program: a reach whose right end lies left of its left end, or far of near, expected least before greatest"},
		{nil, func(q *Request) { q.Face.Reach = &Reach{Left: n(-200)} }, false,
			"program: a reach whose right end lies left of its left end, or far of near, expected least before greatest"},
		{nil, func(q *Request) { q.Taken = []InUse{{Offset: "G99"}} }, false,
			`taken: offset "G99", expected one of G54, G55, G56, G57, G58, G59, G59.1, G59.2, G59.3`},
		{func(m *Machine) { m.InUse = []InUse{{Offset: "G54", For: "vice"}} }, func(q *Request) { q.Face.Offset = "G54" }, false,
			"offset: G54 is taken for vice, expected a free offset; hint: free: G55, G56, G57, G58, G59"},
		{nil, func(q *Request) { q.Back.Offset, q.Taken = "G55", []InUse{{Offset: "G55"}} }, false,
			"back-offset: G55 is taken, expected a free offset; hint: free: G54, G56, G57, G58, G59"},
		{nil, func(q *Request) { q.Face.Offset, q.Back.Offset = "G55", "G55" }, false,
			"back-offset: G55 for the face and the back, expected two different offsets; hint: leave one out: the first free one is taken"},
		{nil, func(q *Request) { q.Back.Offset = "G59.2" }, false,
			"back-offset: G59.2 is an offset that not every control has, expected G54 to G59; hint: if the control has G59.1 to G59.3: extended = true in the machine file"},
		{nil, func(q *Request) { q.Pairs = 4 }, true,
			"pairs: 4 pairs don't fit: 6 offsets of 6 free, each pair takes two, expected 2 more; hint: the most that fit: 3 pairs; where the control has G59.1 to G59.3, say extended = true: nine in all"},
		{func(m *Machine) {
			for _, o := range []string{"G54", "G55", "G56", "G57", "G58"} {
				m.InUse = append(m.InUse, InUse{Offset: o})
			}
		}, func(q *Request) { q.Pairs = 0 }, true,
			"pairs: not one pair fits: 1 offset of 6 free, each pair takes two, expected 1 more; hint: where the control has G59.1 to G59.3, say extended = true: nine in all"},
		// 2 rows of 80 and a gap of 30 are 190 of the 200; 3 rows need 300, and 3 columns
		// 3*120 + 2*30 = 420.
		{tight, func(q *Request) { q.Pairs = 3 }, true,
			"pairs: 3 pairs don't fit, expected 120 more travel in X or 100 more travel in Y; hint: the most that fit: 2 pairs"},
		{func(m *Machine) { tight(m); b := rect(0, 0, 300, 200); m.Bed = &b }, func(q *Request) { q.Pairs = 3 }, true,
			"pairs: 3 pairs don't fit, expected 120 more bed and travel in X or 100 more bed and travel in Y; hint: the most that fit: 2 pairs"},
		{func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(269), n(80) }, nil, true,
			"pairs: not one pair fits, expected 1 more travel in X or 110 more travel in Y"},
		{func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(100), n(300) }, nil, true,
			"pairs: not one pair fits, expected 20 more travel in X; hint: ‹allow-turn true› makes room for 1 pair"},
		{func(m *Machine) { m.X.Greatest, m.Y.Greatest = n(50), n(50) }, nil, true,
			"pairs: not one pair fits, expected a larger bed in X and in Y, or fewer things on it"},
		{nil, func(q *Request) {
			z := n(-90)
			q.Back.Z, q.Back.Depths = &z, &Depths{Least: d("-12.5"), Greatest: n(5)}
		}, true, "travel.z: the back program's lowest move at machine Z-102.5, expected at least Z-100; hint: 2.5 too low: raise the work, or use a tool with less stick-out"},
		{nil, func(q *Request) {
			z := n(-10)
			q.Face.Z, q.Face.Depths = &z, &Depths{Greatest: n(25)}
		}, true, "travel.z: the face program's highest move at machine Z15, expected at most Z0; hint: 15 too high: lower the work, or the program's safe height"},
		{nil, func(q *Request) {
			z := n(-90)
			q.ZGiven, q.Back.Z, q.Back.Depths = true, &z, &Depths{Least: d("-12.5"), Greatest: n(5)}
		}, true, "at: the back program's lowest move at machine Z-102.5, its zero at Z-90, expected at least Z-100; hint: 2.5 too low: correct the Z of ‹at›, raise the work, or use a tool with less stick-out"},
		{nil, func(q *Request) {
			z := n(-10)
			q.ZGiven, q.Face.Z, q.Face.Depths = true, &z, &Depths{Greatest: n(25)}
		}, true, "at: the face program's highest move at machine Z15, its zero at Z-10, expected at most Z0; hint: 15 too high: correct the Z of ‹at›, lower the work, or the program's safe height"},
		{nil, func(q *Request) { q.Given = &Given{Face: at(700, 0), Back: at(0, 0)} }, true,
			"at: blank and fixture of the face station reach X820, expected the bed, to X800; hint: move it 20 left"},
		{nil, func(q *Request) { q.Given = &Given{Face: at(-400, 0), Back: at(0, 0)} }, true,
			"at: blank and fixture of the face station reach X-400, expected the bed, from X0; hint: move it 400 right; if X runs below 0, give its least and greatest in a machine file"},
		{nil, func(q *Request) { q.Given = &Given{Face: at(0, 0), Back: at(100, 0)} }, true,
			"back-offset: face and back station overlap: 0,0,120x80 and 100,0,120x80, expected two stations apart, or one and the same place; hint: move the back's locators, or say pairs = 0 where one blank is turned over in place"},
		{nil, func(q *Request) {
			h := n(0)
			q.NoGo = []Area{{rect(1, 2, 3, 4), &h}}
		}, false, "no-go: a height of 0, expected above 0, or none; hint: without one nothing passes over it"},
		{nil, func(q *Request) {
			q.NoGo = []Area{{Rect: rect(10, 10, 5, 5)}}
			q.Given = &Given{Face: at(0, 0), Back: at(150, 0)}
		}, true, "at: the face station occupies 0,0,120x80, expected clear of the no-go rectangle 10,10,5x5"},
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

// What is missing is exact: with so much more it fits, with a little less not.
func TestShort(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rng := rand.New(rand.NewPCG(3, 5))
	checked := 0
	for range draws.Of(300) {
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
	if checked < draws.Of(50) {
		t.Errorf("only %d checked", checked)
	}
}

// What belongs to another job, or is said to be taken, isn't free.
func TestFree(t *testing.T) {
	m := router()
	m.InUse = []InUse{{Offset: "G54"}, {Offset: "G57", Job: "plates"}}
	if got := m.Free("plates", InUse{Offset: "G59"}); !slices.Equal(got, []string{"G55", "G56", "G57", "G58"}) {
		t.Errorf("free: %v", got)
	}
}

func TestHeights(t *testing.T) {
	m := router()
	table := n(-150)
	m.Table = &table
	if z, err := m.ClearZ(n(60), n(50), n(5)); err != nil || !z.Equal(n(-35)) {
		t.Errorf("clear at Z%s, %v", z, err)
	}
	if _, err := m.ClearZ(n(100), n(50), n(5)); err == nil || err.Error() !=
		"clear: a clear height of Z5, expected at most the top of the travel, Z0; hint: 5 too low for the longest tool, 5 over the highest thing: a shorter tool, or lower clamps" {
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

// TestManyAreas places two pairs between 300 areas. The time is the processor's, so that
// others on the machine don't count.
func TestManyAreas(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	m := router()
	m.X.Greatest, m.Y.Greatest = n(3000), n(2000)
	for _, fits := range []bool{true, false} {
		rng := rand.New(rand.NewPCG(1, 2))
		q := markers(2)
		for i := range 300 {
			x, y := rng.IntN(2970), rng.IntN(1970)
			if !fits { // in rows and columns, with less than a marker between them
				x, y = i%20*150+rng.IntN(5), i/20*134+rng.IntN(5)
			}
			q.NoGo = append(q.NoGo, Area{Rect: rect(x, y, 60+rng.IntN(22), 60+rng.IntN(22))})
		}
		_, err := Place(m, q)
		if (err == nil) != fits {
			t.Errorf("room between them %v: %v", fits, err)
		}
	}
}

// A blank of 120 x 80 with its corner at X10 Y500 has its point at 30, 20 at X40 Y520;
// turned by 90 degrees counter-clockwise it lies 80 x 120, and the point is 80 - 20 from
// the left and 30 from the near edge: X70 Y530. By 180 it is 120 - 30 and 80 - 20 from them,
// by 270 20 and 120 - 30 (derived by hand).
func TestPlaceOfAPoint(t *testing.T) {
	d := decimal.RequireFromString
	point := registration.Point{X: d("30"), Y: d("20")}
	for _, c := range []struct {
		turned     registration.Quarter
		w, h, want string
	}{{0, "120", "80", "40,520"}, {1, "80", "120", "70,530"}, {2, "120", "80", "100,560"}, {3, "80", "120", "30,590"}} {
		s := Station{Corner: registration.Point{X: d("10"), Y: d("500")}, Turn: c.turned, Blank: Rect{W: d(c.w), H: d(c.h)}}
		if got := s.Place(point).String(); got != c.want {
			t.Errorf("turned %v: at %s, want %s", c.turned, got, c.want)
		}
	}
}
