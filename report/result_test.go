package report

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/registration/landed"
	"flipcalc/report/words"
)

// solved answers the marker's question with the registration room itself.
func solved(t *testing.T, change func(q *registration.Question)) *registration.Answer {
	t.Helper()
	q := markerAnswer().Question
	if change != nil {
		change(&q)
	}
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What the tests of this package take for granted about the marker is what the
// registration room answers.
func TestMarkerIsAsSolved(t *testing.T) {
	got, want := solved(t, nil), markerAnswer()
	var a, b bytes.Buffer
	got.Facts, want.Facts = nil, nil
	for i := range got.LayUps {
		got.LayUps[i].Miss, got.LayUps[i].Shift = decimal.Zero, registration.Point{}
	}
	if err := OriginJSON(&a, got); err != nil {
		t.Fatal(err)
	}
	if err := OriginJSON(&b, want); err != nil {
		t.Fatal(err)
	}
	if a.String() != b.String() {
		t.Errorf("solved:\n%s\ntaken for granted:\n%s", a.String(), b.String())
	}
}

func TestBudgetInWords(t *testing.T) {
	a := solved(t, nil)
	r, err := budget.For(a, budget.Options{Tolerances: budget.Tolerances{}, Wood: "beech"})
	if err != nil {
		t.Fatal(err)
	}
	b := BudgetOf(r, a.Question)
	sum := Estimate(0)
	for _, term := range b.Terms {
		sum += term.Worst
		if term.Name == term.Code && term.Code != "" {
			t.Errorf("term %q has no words", term.Code)
		}
	}
	// The worst case is the sum of its terms.
	if math.Abs(float64(sum-b.Worst)) > 1e-9 || b.Worst <= 0 {
		t.Errorf("terms sum to %g, worst case %g", sum, b.Worst)
	}
	if b.Dominant == "" || b.Halve == "" {
		t.Error("no word on what dominates")
	}
	for _, tol := range budget.All() {
		if words.Term(tol.Name, a.Question) == tol.Name {
			t.Errorf("tolerance %q has no words", tol.Name)
		}
	}
	s := Setup{Answer: a, Budget: b}
	var out bytes.Buffer
	if err := Terminal(&out, s, Options{}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "expanded uncertainty, k = 2") {
		t.Error("the likely figure isn't named for what it is")
	}
}

// A back that lies 0.3 to the right and 0.1 too near everywhere: the zero moves
// by the opposite.
func TestCorrectionInWords(t *testing.T) {
	a := solved(t, nil)
	m := []landed.Measurement{{Off: pt("0.3", "-0.1"), At: ptp("10", "10")}, {Off: pt("0.3", "-0.1"), At: ptp("110", "70")}}
	c, err := landed.Correct(a, m, landed.Options{})
	if err != nil {
		t.Fatal(err)
	}
	l := LandedOf(a, m, c, Start{From: "reckoned"}, true, false)
	if l.After == nil || l.After.X.String() != "99.7" || l.After.Y.String() != "50.1" {
		t.Errorf("corrected to %v, want X99.7 Y50.1", l.After)
	}
	var out bytes.Buffer
	if err := Terminal(&out, Setup{Answer: a, Landed: l}, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"X99.7 Y50.1", "X-0.3 Y0.1", "Corrected zero"} {
		if !strings.Contains(out.String(), w) {
			t.Errorf("no %q in\n%s", w, out.String())
		}
	}
	// Turned by about half a degree: a cure is offered in words.
	m[1].Off = pt("-0.7", "0.9")
	if c, err = landed.Correct(a, m, landed.Options{}); err != nil {
		t.Fatal(err)
	}
	if l = LandedOf(a, m, c, Start{From: "reckoned"}, true, false); l.Turn == nil || !strings.Contains(l.Ways[len(l.Ways)-2].Do, "dowel") ||
		l.Best != len(l.Ways)-1 || !strings.HasPrefix(l.Ways[l.Best].Do, "turn the back programs by -0.") {
		t.Errorf("turn %v, ways %+v", l.Turn, l.Ways)
	}
}

// The mean of 0.1, 0.1 and 0 has no end: people read it to 0.001 mm or 0.0001 in,
// the least that controls commonly show (common practice), JSON has every digit.
func TestCorrectionIsRoundedForPeople(t *testing.T) {
	for _, test := range []struct {
		unit             transform.Unit
		zero, by, digits string
	}{
		{transform.MM, "G55: X99.933 Y50", "X-0.067 Y0", "99.93333333"},
		{transform.Inch, "G55: X99.9333 Y50", "X-0.0667 Y0", "99.93333333"},
	} {
		a := solved(t, func(q *registration.Question) { q.Unit, q.Fit, q.Hole = test.unit, "", nil })
		m := []landed.Measurement{{Off: pt("0.1", "0")}, {Off: pt("0.1", "0")}, {Off: pt("0", "0")}}
		c, err := landed.Correct(a, m, landed.Options{})
		if err != nil {
			t.Fatal(err)
		}
		l := LandedOf(a, m, c, Start{From: "reckoned"}, true, false)
		var out, machine bytes.Buffer
		if err := Terminal(&out, Setup{Unit: test.unit, Landed: l}, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := CorrectJSON(&machine, *l, test.unit); err != nil {
			t.Fatal(err)
		}
		for _, w := range []string{test.zero + " (machine", test.by + "\n"} {
			if !strings.Contains(out.String(), w) {
				t.Errorf("no %q in\n%s", w, out.String())
			}
		}
		if strings.Contains(out.String(), "33333") || strings.Contains(out.String(), "66666") || !strings.Contains(machine.String(), test.digits) {
			t.Errorf("%s\n%s", out.String(), machine.String())
		}
	}
}

// Two grooves, 7 mm deep in a 12 mm blank cross and meet by 2 mm; the report names the place
// in the face program's coordinates and both lines.
func TestCheckInWords(t *testing.T) {
	a := solved(t, nil)
	m := a.Transform
	face := "G21 G90 G54\nT1 M6\nS10000 M3\nG0 X30 Y40 Z5\nG1 Z-7 F200\nG1 X40\nG0 Z5\nM30\n"
	back := "G21 G90 G55\nT1 M6\nS10000 M3\nG0 X85 Y25 Z5\nG1 Z-7 F200\nG1 Y55\nG0 Z5\nM30\n"
	r, err := cut.Check(cut.Request{W: 120, H: 80, T: 12, Map: m, Tools: []cut.Tool{{Number: 1, Shape: cut.Flat, Diameter: 6}},
		Face: cut.Program{Name: "face.nc", Read: strings.NewReader(face)}, Back: cut.Program{Name: "back.nc", Read: strings.NewReader(back)},
		Web: 2, Cell: 0.25, Travel: &cut.Travel{Least: [3]float64{0, 0, -90}, Greatest: [3]float64{600, 400, 0}},
		Zeros: [2]*cut.Zero{{X: 100, Y: 50, Z: -30, ZKnown: true}, {X: 100, Y: 50, Z: -30, ZKnown: true}}})
	if err != nil {
		t.Fatal(err)
	}
	s := Setup{Answer: a}
	s.SetCheck(r, dp("2"))
	if s.Check.OK() || len(s.Check.Findings) == 0 {
		t.Fatal("two cuts that meet were found clean")
	}
	for _, f := range s.Check.Findings {
		if f.Text == "" || f.Do == "" || strings.Contains(f.Text, "?") {
			t.Errorf("%s: %q, do %q", f.Code, f.Text, f.Do)
		}
	}
	var b bytes.Buffer
	if err := CheckJSON(&b, *s.Check, transform.MM, ""); err != nil {
		t.Fatal(err)
	}
	checkPaths(t, decode(t, b.Bytes()), map[string]any{"ok": false, "travel.ok": true})
	if len(s.Check.Travel) != 6 {
		t.Errorf("%d axes of travel, want 3 at each of two stations", len(s.Check.Travel))
	}
	for _, write := range []func() error{func() error { return PicturePNG(&b, s) }, func() error { return PictureSVG(&b, s) }} {
		if err := write(); err != nil {
			t.Error(err)
		}
	}
	// In inches the same web is 25.4 times less.
	in := Setup{Answer: a, Unit: transform.Inch}
	in.SetCheck(r, nil)
	for name, pair := range map[string][2]float64{
		"cell":    {float64(in.Check.Cell * 25.4), float64(s.Check.Cell)},
		"overlap": {float64(in.Check.Islands[0].Overlap * 25.4), float64(s.Check.Islands[0].Overlap)},
		"area":    {float64(in.Check.Islands[0].Area * 25.4 * 25.4), float64(s.Check.Islands[0].Area)},
		"place":   {float64(in.Check.Findings[0].X * 25.4), float64(s.Check.Findings[0].X)},
		"travel":  {float64(in.Check.Travel[0].Low * 25.4), float64(s.Check.Travel[0].Low)},
		"map":     {float64(in.Drawings.Web.V[0]) * 25.4, float64(s.Drawings.Web.V[0])},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-5 || pair[1] == 0 {
			t.Errorf("%s: %g from inches, %g in mm", name, pair[0], pair[1])
		}
	}
}

// A remedy names the keys of a job file that bring it about, and the place where it
// takes one, from the blank's near-left corner: the zero is at X10 Y5 of it here.
func TestRemediesNameTheirKeys(t *testing.T) {
	r := &cut.Result{Grid: &cut.Grid{Cell: 0.1}, FaceZero: [2]float64{10, 5}}
	at := cut.Where{Placed: true, Spot: cut.Spot{X: 20, Y: 15}}
	for _, c := range []struct {
		is   cut.Finding
		want string
	}{
		{&cut.BrokenThrough{Where: at}, `through = ["30,20"]`}, {&cut.PartLoose{Where: at}, `held = ["30,20"]`}, {&cut.PinCut{Where: at}, "pin-height"},
		{&cut.NoGoEntered{Where: at}, "no-go"}, {&cut.BedCut{Where: at}, "bed-depth"}, {&cut.WebThin{Thin: cut.Thin{Where: at}}, "stock"},
		{&cut.ShankInStock{Where: at}, "flute"}, {&cut.EdgeMachined{Where: at}, "back-stop"},
	} {
		r.Findings = []cut.Finding{c.is}
		if got := (&Setup{}).found(r, nil); !strings.Contains(got.Findings[0].Do, c.want) {
			t.Errorf("%T: %q lacks %q", c.is, got.Findings[0].Do, c.want)
		}
	}
}

// A layout in millimetres of a job in inches keeps its own unit on the bed.
func TestBedKeepsItsUnit(t *testing.T) {
	s := Setup{Unit: transform.Inch}
	m := &bed.Machine{Name: "router", Unit: transform.Inch, X: bed.Range{Greatest: d("24")}, Y: bed.Range{Greatest: d("16")}, Z: bed.Range{Least: d("-4")}}
	s.SetBed(&bed.Layout{Unit: transform.MM, Pairs: 1, Stations: []bed.Station{{Pair: 1, Side: bed.BackSide, Offset: "G55", Turn: 1,
		Zero: registration.Position{X: d("10"), Y: d("20")}, Corner: pt("10", "20"), Blank: bed.Rect{X: d("10"), Y: d("20"), W: d("80"), H: d("120")}}}}, m)
	if got := s.Machine.Greatest[0].String(); got != "609.6" {
		t.Errorf("24 in of travel is shown as %s mm, want 609.6", got)
	}
	var b bytes.Buffer
	if err := StationsJSON(&b, s); err != nil {
		t.Fatal(err)
	}
	checkPaths(t, decode(t, b.Bytes()), map[string]any{"units": "mm", "stations.0.side": "back", "stations.0.turned": true, "stations.0.w": 80, "stations.0.p": 2, "stations.0.zero.z": nil})
}

// Wood moves across the grain (Wood Handbook, chapter 4); a locator's error is
// named by the axis along which it acts.
func TestBudgetTermsNameTheirAxis(t *testing.T) {
	for _, test := range []struct {
		term budget.Term
		want string
	}{
		{budget.Term{Name: budget.Wood, Axis: "x"}, " across the grain, along Y"},
		{budget.Term{Name: budget.Wood, Axis: "y"}, " across the grain, along X"},
		{budget.Term{Name: budget.Locator, Axis: "x"}, ", along X"},
		{budget.Term{Name: budget.Locator, Axis: "y"}, ", along Y"},
		{budget.Term{Name: budget.Locator}, ""},
		{budget.Term{Name: budget.Seating, Axis: "fence"}, ", the fence"},
	} {
		if got := words.TermAxis(test.term); got != test.want {
			t.Errorf("%s %s: %q, want %q", test.term.Name, test.term.Axis, got, test.want)
		}
	}
	// A blank of 120 x 80 has its grain along X, so its width moves along Y.
	a := solved(t, nil)
	r, err := budget.For(a, budget.Options{Wood: "beech"})
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range BudgetOf(r, a.Question).Terms {
		if strings.HasPrefix(term.Name, "movement of the wood") && (term.X != 0 || term.Y == 0 || !strings.HasSuffix(term.Name, "along Y")) {
			t.Errorf("%q moves X%g Y%g", term.Name, term.X, term.Y)
		}
	}
}
