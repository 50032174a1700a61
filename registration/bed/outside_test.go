package bed

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Table at -140, seat 2, a tool 40 out: the seating plane lies at Z-98 and the top of a
// blank of 19 at Z-79 (derived).
func TestDoubts(t *testing.T) {
	d := decimal.RequireFromString
	ptr := func(s string) *decimal.Decimal { v := d(s); return &v }
	m := &Machine{Unit: transform.MM, Table: ptr("-140")}
	for _, c := range []struct {
		name, z string
		level   registration.ZZero
		stick   *decimal.Decimal
		want    string
	}{
		{"the top", "-79", registration.Top, ptr("40"), ""},
		{"half the thickness above it", "-69.5", registration.Top, ptr("40"), ""},
		{"more than that", "-69.4", registration.Top, ptr("40"), "-79"},
		{"the seating plane for the top", "-98", registration.Top, ptr("40"), "-79 other"},
		{"neither", "-108.5", registration.Top, ptr("40"), "-79"},
		{"the level without the tool", "-119", registration.Top, ptr("40"), "-79"},
		// A tool as long as the blank is thick: the seating plane is the more likely slip.
		{"either", "-119", registration.Top, ptr("19"), "-100 other"},
		{"the seating plane", "-98", registration.Bed, ptr("40"), ""},
		{"the top for the seating plane", "-79", registration.Bed, ptr("40"), "-98 other"},
		{"no tool: the nose on the top", "-119", registration.Top, nil, ""},
		{"no tool: the nose in the blank", "-119.1", registration.Top, nil, "-119 least"},
	} {
		a := &registration.Answer{Used: registration.Blank{T: d("18")}, Question: registration.Question{ZZero: c.level, Seat: d("2"), Skimmed: d("1"),
			At: &registration.Position{Z: ptr(c.z)}}}
		got := ""
		if f := m.Doubts(a, c.stick); f != nil {
			got = f.Expected.String()
			if f.Other {
				got += " other"
			}
			if f.Least {
				got += " least"
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	m.Table = nil
	if f := m.Doubts(&registration.Answer{Question: registration.Question{At: &registration.Position{Z: ptr("1")}}}, nil); f != nil {
		t.Errorf("without a table: %+v", f)
	}
}

func TestOutside(t *testing.T) {
	d := decimal.RequireFromString
	z := func(s string) *decimal.Decimal { v := d(s); return &v }
	m := &Machine{Unit: transform.MM, X: Range{d("0"), d("300")}, Y: Range{d("0"), d("200")}, Z: Range{d("-100"), d("0")}}
	for _, c := range []struct {
		name         string
		unit         transform.Unit
		faceX, backX string
		faceZ        string
		want         string
	}{
		{"inside, ends included", transform.MM, "0", "300", "-100", ""},
		{"beyond the right end", transform.MM, "300.001", "10", "-1", "face X 300.001;"},
		{"below the travel", transform.MM, "10", "10", "-300", "face Z -300;back Z -300;"},
		{"the back left of the travel", transform.MM, "10", "-0.5", "-1", "back X -0.5;"},
		{"in inches", transform.Inch, "11.8", "12", "-1", "back X 304.8;"},
	} {
		a := &registration.Answer{Question: registration.Question{Unit: c.unit, At: &registration.Position{X: d(c.faceX), Y: d("1"), Z: z(c.faceZ)}},
			Second: &registration.SecondZero{Machine: true, X: d(c.backX), Y: d("1")}}
		got := ""
		for _, o := range m.Outside(a, nil) {
			got += fmt.Sprintf("%s %s %s;", o.Side, o.Axis, o.At)
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The blank of 120 x 80 that lies with its near-left corner at X250 Y60 ends at X370
// Y140; about the far-right corner it starts at X130 Y-20 (derived).
func TestOutsideBlank(t *testing.T) {
	d := decimal.RequireFromString
	at := func(x, y string) registration.Point { return registration.Point{X: d(x), Y: d(y)} }
	m := &Machine{Unit: transform.MM, X: Range{d("0"), d("300")}, Y: Range{d("0"), d("200")}, Z: Range{d("-100"), d("0")}}
	for _, c := range []struct {
		name  string
		zero  registration.Point
		x, y  string
		back  registration.Point
		backX string
		want  string
	}{
		{"the far end beyond", at("0", "0"), "250", "60", at("100", "60"), "100", "face blank X 370;"},
		{"both ends of the travel touched", at("0", "0"), "180", "120", at("0", "0"), "0", ""},
		{"the near end beyond", at("120", "80"), "250", "60", at("100", "60"), "100", "face blank Y -20;"},
		{"the back's end beyond", at("0", "0"), "100", "60", at("181", "60"), "181", "back blank X 301;"},
		{"the zero tells it", at("0", "0"), "310", "60", at("100", "60"), "100", "face zero X 310;"},
	} {
		a := &registration.Answer{Used: registration.Blank{W: d("120"), H: d("80"), T: d("12")}, FaceZero: c.zero, BackCorner: &c.back,
			FaceCorner: at(d(c.x).Sub(c.zero.X).String(), d(c.y).Sub(c.zero.Y).String()),
			Question:   registration.Question{At: &registration.Position{X: d(c.x), Y: d(c.y)}},
			Second:     &registration.SecondZero{Machine: true, X: d(c.backX), Y: d("60")}}
		got := ""
		for _, o := range m.Outside(a, nil) {
			got += fmt.Sprintf("%s %s %s %s;", o.Side, o.What, o.Axis, o.At)
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Table at -140 and a blank of 12: its top lies at Z-128 without a tool, beyond the travel
// to -110, and with 40 of tool on it the spindle reads Z-88 (derived). What is stored is
// one or the other by what the programs do with lengths, and nothing where that isn't said.
func TestLevels(t *testing.T) {
	d := decimal.RequireFromString
	ptr := func(s string) *decimal.Decimal {
		if s == "" {
			return nil
		}
		v := d(s)
		return &v
	}
	text := func(z *decimal.Decimal) string {
		if z == nil {
			return ""
		}
		return z.String()
	}
	m := &Machine{Unit: transform.MM, X: Range{d("0"), d("300")}, Y: Range{d("0"), d("200")}, Z: Range{d("-110"), d("0")}, Table: ptr("-140")}
	bare := *m
	bare.Table = nil
	for _, c := range []struct {
		name             string
		m                *Machine
		lengths          registration.Lengths
		at, stick        string
		stored, reading  string
		outside, doubted int
	}{
		{"no lengths: the tool is in it", m, registration.LengthsTool, "", "40", "-88", "-88", 0, 0},
		{"no lengths, Z given", m, registration.LengthsTool, "-87", "40", "-87", "-87", 0, 0},
		{"no lengths, the bare level given", m, registration.LengthsTool, "-128", "40", "-128", "-128", 1, 1},
		{"no lengths, nothing known", &bare, registration.LengthsTool, "", "40", "", "", 0, 0},
		{"lengths called, nothing said", m, registration.LengthsCalled, "", "40", "", "-88", 0, 0},
		{"lengths called, a Z that may be either", m, registration.LengthsCalled, "-128", "40", "", "-88", 0, 0},
		{"lengths called, table not known", &bare, registration.LengthsCalled, "-88", "40", "", "", 0, 0},
		{"whole lengths", m, registration.LengthsWhole, "", "40", "-128", "-88", 0, 0},
		{"whole lengths, too short a tool", m, registration.LengthsWhole, "", "15", "-128", "-113", 1, 0},
		{"whole lengths, Z given", m, registration.LengthsWhole, "-127", "40", "-127", "-87", 0, 0},
		{"whole lengths, no stick-out", m, registration.LengthsWhole, "-128", "", "-128", "", 0, 0},
		{"whole lengths, the tool reckoned in", m, registration.LengthsWhole, "-88", "40", "-88", "-48", 0, 1},
	} {
		a := &registration.Answer{Used: registration.Blank{T: d("12")}, Question: registration.Question{ZZero: registration.Top, Lengths: c.lengths, At: &registration.Position{Z: ptr(c.at)}}}
		stored, reading := c.m.Levels(a, ptr(c.stick))
		if text(stored) != c.stored || text(reading) != c.reading {
			t.Errorf("%s: stored %q, read %q, want %q, %q", c.name, text(stored), text(reading), c.stored, c.reading)
		}
		if out := c.m.Outside(a, ptr(c.stick)); len(out) != c.outside {
			t.Errorf("%s: outside %v", c.name, out)
		}
		if doubt := c.m.Doubts(a, ptr(c.stick)); (doubt != nil) != (c.doubted == 1) {
			t.Errorf("%s: doubt %+v", c.name, doubt)
		}
	}
}

func TestUnder(t *testing.T) {
	d := decimal.RequireFromString
	vise := Rect{d("580"), d("280"), d("150"), d("150")}
	own := Rect{d("0"), d("0"), d("50"), d("50")}
	m := &Machine{Unit: transform.MM, InUse: []InUse{{Offset: "G57"}, {Offset: "G54", Rect: &vise}, {Offset: "G55", Job: "plates", Rect: &own}}}
	at := func(x, y string) registration.Point { return registration.Point{X: d(x), Y: d(y)} }
	for _, c := range []struct {
		name string
		at   registration.Point
		w, h string
		u    transform.Unit
		want bool
	}{
		{"on it", at("590", "290"), "300", "180", transform.MM, true},
		{"touching its left side", at("280", "290"), "300", "180", transform.MM, false},
		{"a hair over its left side", at("280.001", "290"), "300", "180", transform.MM, true},
		{"in inches", at("20", "10"), "3", "3", transform.Inch, true}, // X 508 to 584.2, Y 254 to 330.2
		{"on the job's own station", at("0", "0"), "50", "50", transform.MM, false},
		{"short of it in inches", at("19", "10"), "3", "3", transform.Inch, false},
	} {
		if got := m.Under("plates", outline(c.at, d(c.w), d(c.h)), c.u); (got != nil) != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// A blank of 120 x 80 in the corner of the travel, and one that ends 19.9 short of its
// far end (derived).
func TestTight(t *testing.T) {
	d := decimal.RequireFromString
	m := &Machine{Unit: transform.MM, X: Range{d("-10"), d("590")}, Y: Range{d("0"), d("400")}}
	blank := func(x, y string) Station {
		return Station{Blank: Rect{X: d(x), Y: d(y), W: d("120"), H: d("80")}}
	}
	for _, c := range []struct {
		name string
		at   []Station
		want string
	}{
		{"in the corner", []Station{blank("30", "50"), blank("-10", "0")}, "left 0;near 0;"},
		{"room enough", []Station{blank("10", "20"), blank("450", "300")}, ""},
		{"a hair less", []Station{blank("9.9", "20"), blank("450.1", "300.1")}, "left 19.9;right 19.9;far 19.9;"},
	} {
		got := ""
		for _, s := range (&Layout{Unit: transform.MM, Stations: c.at}).Tight(m) {
			got += s.Side + " " + s.Left.String() + ";"
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A pair a quarter turned: the blank of 120 x 80 lies 80 along X and 120 along Y, its zero, the
// far left corner of its own, at the near left as it lies (on a sketch).
func TestOutsideTurned(t *testing.T) {
	m := &Machine{Unit: transform.MM, X: Range{n(0), n(300)}, Y: Range{n(0), n(200)}, Z: Range{n(-100), n(0)}}
	for _, c := range []struct{ face, back registration.Point }{
		{at(220, 80), at(0, 0)}, {at(221, 80), at(0, 0)}, {at(220, 81), at(0, 0)}, {at(0, 0), at(230, 90)},
	} {
		a := &registration.Answer{FaceTurn: 1, Used: registration.Blank{W: n(120), H: n(80), T: n(12)}, FaceCorner: c.face, BackCorner: &c.back,
			Question: registration.Question{At: &registration.Position{X: c.face.X, Y: c.face.Y}},
			Second:   &registration.SecondZero{Machine: true, X: c.back.X, Y: c.back.Y}}
		got := ""
		for _, o := range m.Outside(a, nil) {
			got += fmt.Sprintf("%s %s %s %s;", o.Side, o.What, o.Axis, o.At)
		}
		want := map[string]string{"220,80": "", "221,80": "face blank X 301;", "220,81": "face blank Y 201;", "0,0": "back blank X 310;back blank Y 210;"}[c.face.String()]
		if got != want {
			t.Errorf("at %s and %s: %q, want %q", c.face, c.back, got, want)
		}
	}
}

// Between units: 20 mm of room for clamps are 0.7874 in and a hair, and a travel of 508 mm is
// 20 in; a table at Z-140 mm is at -5.5118 in, over which 2 of tool, 1/4 of seat, 1/2 of blank
// and 1/16 that the face takes off it.
func TestBetweenUnits(t *testing.T) {
	m := &Machine{Unit: transform.MM, X: Range{n(0), n(508)}, Y: Range{n(0), n(508)}}
	for _, c := range []struct{ x, y, want string }{
		{"0.7875", "1", ""}, {"0.7874", "1", "left 0.7874;"}, {"14.2125", "14.2125", ""}, {"14.2127", "14.25", "right 0.7873;far 0.75;"},
	} {
		got := ""
		for _, s := range (&Layout{Unit: transform.Inch, Stations: []Station{{Blank: Rect{d(c.x), d(c.y), n(5), n(5)}}}}).Tight(m) {
			got += s.Side + " " + s.Left.String() + ";"
		}
		if got != c.want {
			t.Errorf("at %s,%s: %q, want %q", c.x, c.y, got, c.want)
		}
	}
	table := n(-140)
	m.Table = &table
	for level, want := range map[registration.ZZero]string{registration.Top: "-2.6993", registration.Bed: "-3.2618"} {
		a := &registration.Answer{Used: registration.Blank{T: d("0.5")},
			Question: registration.Question{Unit: transform.Inch, ZZero: level, Seat: d("0.25"), Skimmed: d("0.0625")}}
		if z, ok := m.FaceLevel(a, n(2)); !ok || z.String() != want {
			t.Errorf("%v: %s, want %s", level, z, want)
		}
	}
	// A machine in inches: a vise from 20 to 24 in, which is X 508 to 609.6.
	in := &Machine{Unit: transform.Inch, InUse: []InUse{{Offset: "G54", Rect: &Rect{n(20), n(0), n(4), n(4)}}}}
	for x, want := range map[string]bool{"388": false, "388.1": true, "609.6": false, "609.5": true} {
		if got := in.Under("", outline(registration.Point{X: d(x)}, n(120), n(80)), transform.MM); (got != nil) != want {
			t.Errorf("a blank of 120 at X%s: %v", x, got)
		}
	}
}

// A touched blank of 120 x 80 that lies end for end, or a quarter turned, from its corner: from
// X300 Y180 back to X180 Y100 or to X220, on a travel of 310 by 190, and off it from X100 Y60.
func TestOutsideTouched(t *testing.T) {
	m := &Machine{Unit: transform.MM, X: Range{n(0), n(310)}, Y: Range{n(0), n(301)}, Z: Range{n(-100), n(0)}}
	for touches, want := range map[string]string{
		"110,10@290,170 10,10@190,170": "",
		"110,10@90,50 10,10@-10,50":    "back blank X -20;back blank Y -20;",
		"110,10@290,190 10,10@290,290": "",                  // from X220 Y180, 80 by 120, to Y300
		"110,10@60,190 10,10@60,290":   "back blank X -10;", // to X-10
		"110,10@290,193 10,10@290,293": "back blank Y 303;",
	} {
		q := registration.Question{Stock: &registration.Blank{W: n(120), H: n(80), T: n(12)}, Flip: registration.FlipY, Register: registration.Touched}
		for _, s := range strings.Fields(touches) {
			spot, err := registration.ParseSpot(s, transform.MM)
			if err != nil {
				t.Fatal(err)
			}
			q.Touched = append(q.Touched, spot)
		}
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, o := range m.Outside(a, nil) {
			got += fmt.Sprintf("%s %s %s %s;", o.Side, o.What, o.Axis, o.At)
		}
		if got != want {
			t.Errorf("%s, corner at %s: %q, want %q", touches, a.BackCorner, got, want)
		}
	}
}

// outline is that of a blank that lies straight.
func outline(corner registration.Point, w, h decimal.Decimal) [4]registration.Point {
	return (&registration.Answer{FaceCorner: corner, Used: registration.Blank{W: w, H: h}}).Outline(false)
}

// A blank of 50 by 25, turned by 3-4-5 (cosine 0.8, sine 0.6) about 0,0: its corners are 0 0, 40 30,
// -15 20 and 25 50. A square of 10 beside its near side lies over it where its far-left corner x, y
// lies farther than 0.8 y - 0.6 x = 0 across that side.
func TestMeetsATurnedBlank(t *testing.T) {
	turned := [4]registration.Point{{}, {X: n(40), Y: n(30)}, {X: n(-15), Y: n(20)}, {X: n(25), Y: n(50)}}
	for _, c := range []struct {
		x, y string
		want bool
	}{
		{"20", "5", false}, {"20", "5.01", true}, {"19.99", "5", true},
		{"40", "25", false}, {"30", "30", true}, {"-25", "25", false}, {"-24", "14", true}, {"0", "10", true}, {"-14", "0", true}, {"-20", "0", false}, {"30", "45", false},
	} {
		r := Rect{X: d(c.x), Y: d(c.y), W: n(10), H: n(10)}
		if r.Meets(turned) != c.want {
			t.Errorf("at %s %s: %v", c.x, c.y, !c.want)
		}
	}
}
